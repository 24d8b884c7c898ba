"""The choice of days against an enumeration that shares no code with it, on small firms at random."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import combinations, product

import pytest

from moveplan.firm.days.choose import can_be, chosen, contradicting
from moveplan.firm.days.question import Answer, DayStatus, Hand, Question, Sent, Wanted, Wheels
from moveplan.firm.placing.asking import as_told
from moveplan.firm.placing.hearts import Heart

FIRST = date(2027, 5, 3)
HOUR = 60


def firm(seed: int) -> Question:
    """Make up a firm of three jobs on four days."""
    draw = random.Random(seed)
    days = [FIRST + timedelta(days=n) for n in range(4)]
    hands = tuple(
        Hand(
            f"p{n}",
            leads=n < 2,
            drives=draw.random() < 0.7,
            rest_min=11 * HOUR,
            away=frozenset(day for day in days if draw.random() < 0.15),
        )
        for n in range(4)
    )
    wheels = (Wheels("v0"), Wheels("v1", frozenset({draw.choice(days)})))
    wanted = tuple(_wanted(draw, n, days) for n in range(3))
    return Question(wanted, hands, wheels, {"tubs": 10}, (60.0, 120.0))


def _wanted(draw: random.Random, n: int, days: list[date]) -> Wanted:
    leaves = draw.choice((6, 7, 8)) * HOUR
    heart = Heart(
        f"j{n}",
        draw.choice((2, 3)),
        1,
        leaves,
        leaves + draw.choice((9, 12, 15)) * HOUR,
        (("tubs", draw.randint(3, 7), -12 * HOUR, draw.choice((24, 48)) * HOUR),),
        ((-1, float(draw.randint(40, 110))),),
    )
    own = tuple(day for day in days if draw.random() < 0.8) or (days[0],)
    wish = draw.choice((None, draw.choice(days)))
    return Wanted(heart, own, wish, priority=draw.choice((1.0, 2.0)))


def every_choice(question: Question) -> Iterator[dict[str, Sent | None]]:
    """Enumerate each way to give each job a day, a crew and a vehicle, or none."""
    rows = []
    for one in question.wanted:
        options: list[Sent | None] = [None]
        for day in one.days:
            for crew in combinations([hand.id for hand in question.hands], one.heart.crew):
                options += [Sent(one.job, day, crew, (wheels.id,)) for wheels in question.wheels]
        rows.append(options)
    for several in product(*rows):
        yield {one.job: sent for one, sent in zip(question.wanted, several, strict=True)}


def at(day: date, minute: int) -> int:
    return (day - FIRST).days * 24 * HOUR + minute


def wrong_alone(question: Question, one: Wanted, sent: Sent) -> bool:
    hands = {hand.id: hand for hand in question.hands}
    crew = [hands[name] for name in sent.crew]
    away = {wheels.id: wheels.away for wheels in question.wheels}
    return (
        not any(hand.leads for hand in crew)
        or sum(hand.drives for hand in crew) < one.heart.vehicles
        or any(sent.day in hand.away for hand in crew)
        or any(sent.day in away[name] for name in sent.vehicles)
    )


def wrong_together(question: Question, several: list[tuple[Wanted, Sent]]) -> bool:
    for (one, first), (two, second) in combinations(several, 2):
        spans = [
            (at(sent.day, wanted.heart.leaves_min), at(sent.day, wanted.heart.home_min))
            for wanted, sent in ((one, first), (two, second))
        ]
        rest = 11 * HOUR if set(first.crew) & set(second.crew) else 0
        shared = rest or set(first.vehicles) & set(second.vehicles)
        if shared and spans[0][0] < spans[1][1] + rest and spans[1][0] < spans[0][1] + rest:
            return True
    return tubs_short(question, several) or water_short(question, several)


def tubs_short(question: Question, several: list[tuple[Wanted, Sent]]) -> bool:
    rows = [
        (at(sent.day, start), at(sent.day, finish), count)
        for wanted, sent in several
        for _, count, start, finish in wanted.heart.gear
    ]
    return any(
        sum(count for start, finish, count in rows if start <= moment < finish) > question.gear["tubs"]
        for moment, _, _ in rows
    )


def water_short(question: Question, several: list[tuple[Wanted, Sent]]) -> bool:
    assert question.water is not None
    rate, stock = question.water
    kept = stock
    for n in range(-2, 5):
        day = FIRST + timedelta(days=n)
        for wanted, sent in several:
            stock -= sum(
                litres for offset, litres in wanted.heart.water if sent.day + timedelta(days=offset) == day
            )
        if stock < 0:
            return True
        stock = min(kept, stock + rate)
    return False


def least(question: Question) -> int:
    """Find the least cost of all choices that break nothing."""
    best = 10**12
    wanted = {one.job: one for one in question.wanted}
    for choice in every_choice(question):
        cost = sum(wanted[job].cost(sent.day if sent else None) for job, sent in choice.items())
        if cost >= best:
            continue
        several = [(wanted[job], sent) for job, sent in choice.items() if sent]
        if any(wrong_alone(question, *row) for row in several) or wrong_together(question, several):
            continue
        best = cost
    return best


def breaks(question: Question, answer: Answer) -> bool:
    wanted = {one.job: one for one in question.wanted}
    several = [(wanted[sent.job], sent) for sent in answer.sent]
    return any(wrong_alone(question, *row) for row in several) or wrong_together(question, several)


@pytest.mark.parametrize("seed", range(12))
def test_exact_choice_costs_as_little_as_the_best_of_all(seed: int) -> None:
    question = firm(seed)
    exact = chosen(question, engine="exact")
    assert exact.status is DayStatus.OPTIMAL
    assert (exact.cost, exact.bound, exact.gap) == (least(question), exact.cost, 0.0)
    assert not breaks(question, exact)


@pytest.mark.parametrize("seed", range(12))
def test_choice_without_a_solver_breaks_nothing_and_claims_no_bound(seed: int) -> None:
    question = firm(seed)
    serial = chosen(question, engine="serial")
    assert serial.bound is None
    assert not breaks(question, serial)
    assert serial.cost >= chosen(question, engine="exact").cost


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("engine", ["serial", "exact"])
def test_crews_that_were_told_go_again_and_never_twice_or_where_somebody_is_away(
    seed: int, engine: str
) -> None:
    """What was told is made up so that crews cross: every job with the same people on its first day."""
    question = firm(seed)
    same = tuple(hand.id for hand in question.hands[:2])
    told = Answer(
        DayStatus.FEASIBLE, tuple(Sent(one.job, one.days[0], same, ("v0",)) for one in question.wanted)
    )
    held = as_told(question, told, held=True)
    answer = chosen(held, engine=engine)
    several = [(one, sent) for one in question.wanted if (sent := answer.of(one.job))]
    assert several
    assert not wrong_together(question, several)
    away = {hand.id: hand.away for hand in question.hands}
    assert not any(sent.day in away[who] for _, sent in several for who in sent.crew)
    best = chosen(question, engine="exact")
    again = chosen(as_told(question, best, held=True), engine=engine)
    assert {one.job: set(one.crew) for one in again.sent} == {one.job: set(one.crew) for one in best.sent}


def test_a_person_less_never_costs_less() -> None:
    question = firm(3)
    fewer = Question(question.wanted, question.hands[:-1], question.wheels, question.gear, question.water)
    assert chosen(fewer, engine="exact").cost >= chosen(question, engine="exact").cost


def test_two_promises_that_need_the_same_van_contradict_each_other_and_no_third_is_named() -> None:
    heart = Heart("a", 2, 1, 6 * HOUR, 18 * HOUR)
    day = (FIRST,)
    hands = tuple(Hand(f"p{n}", leads=True, drives=True, rest_min=0) for n in range(6))
    wanted = tuple(
        Wanted(Heart(job, 2, 1, heart.leaves_min, heart.home_min), days, days[0], promised=True)
        for job, days in (("a", day), ("b", day), ("c", (FIRST + timedelta(days=2),)))
    )
    question = Question(wanted, hands, (Wheels("van"),), {})
    assert chosen(question, engine="exact").status is DayStatus.INFEASIBLE
    assert contradicting(question) == ("a", "b")


@pytest.mark.parametrize("seed", range(12))
def test_promises_can_be_kept_exactly_where_an_enumeration_keeps_them(seed: int) -> None:
    """Two of three jobs are promised on days made up; the third may be left out."""
    question = firm(seed)
    wanted = tuple(replace(one, promised=n < 2, days=one.days[:1]) for n, one in enumerate(question.wanted))
    asked = replace(question, wanted=wanted)
    jobs = {one.job: one for one in wanted}
    several = (
        [(jobs[job], sent) for job, sent in choice.items() if sent]
        for choice in every_choice(asked)
        if all(choice[one.job] for one in wanted if one.promised)
    )
    kept = any(
        not any(wrong_alone(asked, *row) for row in rows) and not wrong_together(asked, rows)
        for rows in several
    )
    assert can_be(asked, engine="exact") is kept
    assert kept or not can_be(asked, engine="serial")
