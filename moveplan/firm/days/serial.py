"""Days, crews and vehicles without a solver: promised jobs first, then each on the nearest day that does; no bound."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from itertools import combinations

from moveplan.firm.days.question import A_CALL, Answer, DayStatus, Hand, Question, Sent, Wanted, Wheels
from moveplan.times import MINUTES_A_DAY


def chosen_serially(question: Question) -> Answer:
    """Choose days one job after the other, then exchange where a job was left out."""
    order = sorted(question.wanted, key=lambda one: (not one.promised, len(one.days), -one.priority, one.job))
    best = _in_order(question, order)
    for left in best.left:
        first = [one for one in order if one.job == left]
        promised = [one for one in order if one.promised]
        rest = [one for one in order if not one.promised and one.job != left]
        other = _in_order(question, [*promised, *(one for one in first if not one.promised), *rest])
        best = min((best, other), key=lambda one: one.cost)
    broken = {one.job for one in question.wanted if one.promised}.intersection(best.left)
    return replace(best, status=DayStatus.UNKNOWN) if broken else best


def _in_order(question: Question, order: Iterable[Wanted]) -> Answer:
    sent: list[tuple[Wanted, Sent]] = []
    cost = 0
    for one in order:
        found = _first_that_does(question, one, sent)
        cost += one.cost(found.day if found else None)
        if one.before and found is not None:
            cost += A_CALL * sum(who not in one.before for who in found.crew)
        if found is not None:
            sent.append((one, found))
    by_job = {one.job: found for one, found in sent}
    jobs = [one.job for one in question.wanted]
    return Answer(
        DayStatus.FEASIBLE,
        tuple(by_job[job] for job in jobs if job in by_job),
        tuple(job for job in jobs if job not in by_job),
        cost,
    )


def _first_that_does(question: Question, one: Wanted, sent: list[tuple[Wanted, Sent]]) -> Sent | None:
    for day in sorted(question.days(one), key=lambda day: (one.cost(day), day)):
        if not (_gear_does(question, one, day, sent) and _water_does(question, one, day, sent)):
            continue
        free = {hand.id for hand in question.hands if _is_free(hand, one, day, sent)}
        there = {wheels.id for wheels in _free_wheels(question, one, day, sent)}
        crew = one.crew if one.crew and (one.stands or free >= set(one.crew)) else None
        vehicles = one.vehicles if one.vehicles and (one.stands or there >= set(one.vehicles)) else None
        crew = crew or next(_crews(question, one, day, sent), None)
        vehicles = vehicles or _wheels(question, one, day, sent)
        if crew is not None and vehicles is not None:
            return Sent(one.job, day, crew, vehicles)
    return None


def _at(day: date, minute: int) -> int:
    return day.toordinal() * MINUTES_A_DAY + minute


def _crews(
    question: Question, one: Wanted, day: date, sent: list[tuple[Wanted, Sent]]
) -> Iterator[tuple[str, ...]]:
    free = [hand for hand in question.hands if _is_free(hand, one, day, sent)]
    busy = {hand.id: sum(hand.id in other.crew for _, other in sent) for hand in free}
    free.sort(key=lambda hand: (hand.id not in one.before, hand.leads, busy[hand.id], hand.id))
    for crew in combinations(free, one.heart.crew):
        if any(hand.leads for hand in crew) and sum(hand.drives for hand in crew) >= one.heart.vehicles:
            yield tuple(hand.id for hand in question.hands if hand in crew)


def _is_free(hand: Hand, one: Wanted, day: date, sent: list[tuple[Wanted, Sent]]) -> bool:
    begin = _at(day, one.heart.leaves_min)
    end = _at(day, one.heart.home_min) + hand.rest_min
    return day not in hand.away and all(
        _at(other.day, wanted.heart.home_min) + hand.rest_min <= begin
        or end <= _at(other.day, wanted.heart.leaves_min)
        for wanted, other in sent
        if hand.id in other.crew
    )


def _wheels(
    question: Question, one: Wanted, day: date, sent: list[tuple[Wanted, Sent]]
) -> tuple[str, ...] | None:
    free = [wheels.id for wheels in _free_wheels(question, one, day, sent)]
    return tuple(free[: one.heart.vehicles]) if len(free) >= one.heart.vehicles else None


def _free_wheels(
    question: Question, one: Wanted, day: date, sent: list[tuple[Wanted, Sent]]
) -> Iterator[Wheels]:
    begin, end = _at(day, one.heart.leaves_min), _at(day, one.heart.home_min)
    for wheels in question.wheels:
        if day not in wheels.away and all(
            _at(other.day, wanted.heart.home_min) <= begin or end <= _at(other.day, wanted.heart.leaves_min)
            for wanted, other in sent
            if wheels.id in other.vehicles
        ):
            yield wheels


def _gear_does(question: Question, one: Wanted, day: date, sent: list[tuple[Wanted, Sent]]) -> bool:
    rows = [
        (gear, count, _at(other, start), _at(other, finish))
        for wanted, other in (*((wanted, placed.day) for wanted, placed in sent), (one, day))
        for gear, count, start, finish in wanted.heart.gear
    ]
    return all(
        sum(row[1] for row in rows if row[0] == gear and row[2] <= moment < row[3]) <= question.gear[gear]
        for gear, _, moment, _ in rows
        if gear in question.gear
    )


def _water_does(question: Question, one: Wanted, day: date, sent: list[tuple[Wanted, Sent]]) -> bool:
    if question.water is None:
        return True
    rate, kept = question.water
    fetched: dict[int, float] = {}
    for wanted, other in (*((wanted, placed.day) for wanted, placed in sent), (one, day)):
        for offset, litres in wanted.heart.water:
            at = other.toordinal() + offset
            fetched[at] = fetched.get(at, 0.0) + litres
    stock, before = kept, min(fetched, default=0)
    for at in sorted(fetched):
        stock = min(kept, stock + rate * (at - before)) - fetched[at]
        before = at
        if stock < 0:
            return False
    return True
