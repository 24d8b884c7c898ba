"""Visits put together into rounds: whoever is at a client's, or passes by, does what else is due there.

A visit moves between what comes before it and what waits for it, to somebody of the crew who can do it. Searched, one
visit after the other, until none saves a drive any more; no bound is claimed. Moving days never change here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

from moveplan.door import door
from moveplan.firm.day.diaries import days_of, legs_of, worked_min
from moveplan.firm.day.movable import Movable, Visit
from moveplan.firm.day.roads import BASE, Roads, site_of
from moveplan.firm.placing.one_job import Laid
from moveplan.firm.placing.traces import Stop, away_min, trace_of
from moveplan.firm.values import Firm
from moveplan.network.task import Kind
from moveplan.plan.move import Plan
from moveplan.scheduling.schedule import Placement
from moveplan.times import local_day, to_local

PASSES = 4
"""So often every visit is looked at. [-]"""
A_ROUND_MIN, A_DAY_MIN = 30, 2
"""What a round more is worth in minutes of driving, and a day between a visit and when it was due; assumed. [min]"""
LEAST_GAIN_MIN = 5
"""A visit moves for no less. [min]"""
TRIED = 3
"""So many of the best places of a visit are checked in full. [-]"""
GRID_MIN = 5
"""Visits begin on steps of so long. [min]"""
APART_MIN = 90
"""Tasks at one place that lie no farther apart are one visit. [min]"""


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a visit could go, and what that saves."""

    gain_min: int
    who: str
    day: date
    stops: tuple[Stop, ...]


def bundled(firm: Firm, roads: Roads, plans: Mapping[str, Plan], rows: Sequence[Laid]) -> list[Laid]:
    """Put the visits of all jobs into rounds.

    Parameters
    ----------
    rows : sequence of Laid
        All jobs with their schedules.
    """
    desk = _Desk(firm, roads, plans, rows)
    for _ in range(PASSES):
        moved = [desk.moves(visit) for visit in desk.visits()]
        if not any(moved):
            break
    return [desk.result(one) for one in rows]


class _Desk:
    """All jobs, and everybody's days."""

    def __init__(self, firm: Firm, roads: Roads, plans: Mapping[str, Plan], rows: Sequence[Laid]) -> None:
        self.firm, self.roads = firm, roads
        self.jobs = {one.job: Movable(firm, plans[one.job], one) for one in rows}
        self.diary: dict[str, dict[date, tuple[Stop, ...]]] = {
            who.id: days_of(firm, [stop for one in rows for stop in self._stops(one, who.id)])
            for who in firm.people
        }
        self.due = {
            (one.job, row.task): to_local(row.start, firm.zone).date()
            for one in rows
            for row in one.schedule.placements
        }

    def _stops(self, laid: Laid, who: str) -> Iterator[Stop]:
        """Give moving days whole, and everything else task by task."""
        job = self.jobs[laid.job]
        for stop in laid.trace.people.get(who, ()):
            if stop.moving:
                yield stop
                continue
            for task_id in dict.fromkeys(stop.tasks):
                task, stands = job.tasks[task_id], job.stands[task_id]
                site = site_of(laid.job, task.place)
                for piece in stands.segments:
                    if stop.start <= piece.start and piece.finish <= stop.finish:
                        works = 0 if task.kind in (Kind.REST, Kind.WAIT) else piece.minutes
                        yield Stop(piece.start, piece.finish, laid.job, site, site, works, (task_id,))

    def visits(self) -> list[Visit]:
        """List visits as they stand now, shortest first; they save most."""
        found = []
        for who, days in self.diary.items():
            for day, stops in days.items():
                own: list[Stop] = []
                for stop in stops:
                    if own and not self._goes_on(own[-1], stop):
                        found.append(Visit(own[0].job, who, day, tuple(own)))
                        own = []
                    if not stop.moving and self.jobs[stop.job].loose(stop.tasks[0], self._placed(stop)):
                        own.append(stop)
                if own:
                    found.append(Visit(own[0].job, who, day, tuple(own)))
        return sorted(found, key=lambda one: (one.minutes, one.job, one.day, one.stops[0].tasks))

    def _placed(self, stop: Stop) -> Placement:
        return self.jobs[stop.job].stands[stop.tasks[0]]

    def _goes_on(self, before: Stop, after: Stop) -> bool:
        return (
            (before.job, before.last) == (after.job, after.first)
            and not after.moving
            and after.start - before.finish <= APART_MIN
            and self.jobs[after.job].loose(after.tasks[0], self._placed(after))
        )

    def moves(self, visit: Visit) -> bool:
        """Move a visit to where it saves most, if anywhere; whether it moved."""
        job = self.jobs[visit.job]
        if any(stop not in self.diary[visit.who].get(visit.day, ()) for stop in visit.stops):
            return False
        places = sorted(self._places(job, visit), key=lambda one: (-one.gain_min, one.day, one.who))
        for place in places[:TRIED]:
            schedule = job.with_stops(place.who, place.stops)
            if not door.faults_of(job.project, schedule):
                job.schedule = schedule
                job.stands |= {one.task: one for one in schedule.placements}
                left = self._without(visit)
                self.diary[visit.who][visit.day] = left
                there = self.diary[place.who].get(place.day, ())
                self.diary[place.who][place.day] = tuple(sorted((*there, *place.stops)))
                return True
        if places:
            job.stuck.update(one.tasks[0] for one in visit.stops)
        return False

    def _without(self, visit: Visit) -> tuple[Stop, ...]:
        return tuple(one for one in self.diary[visit.who].get(visit.day, ()) if one not in visit.stops)

    def _places(self, job: Movable, visit: Visit) -> Iterator[_Place]:
        first, last = job.window(visit)
        left = self._without(visit)
        if last < first or self._hurried(left):
            return
        stays = self.diary[visit.who][visit.day]
        saved = self._cost(stays) - self._cost(left) + self._off(visit, visit.day)
        for who in job.able(visit):
            for day in self._days(who, first, last):
                rows = left if (who, day) == (visit.who, visit.day) else self.diary[who].get(day, ())
                starts = (one for one in self._starts(visit, rows) if first <= one <= last)
                for stops in map(visit.at, starts):
                    whole = tuple(sorted((*rows, *stops)))
                    gain = saved - (self._cost(whole) - self._cost(rows)) - self._off(visit, day)
                    if gain >= LEAST_GAIN_MIN and self._fits(job, who, day, stops, whole):
                        yield _Place(gain, who, day, stops)

    def _off(self, visit: Visit, day: date) -> int:
        due = self.due[visit.job, visit.stops[0].tasks[0]]
        return A_DAY_MIN * abs((day - due) // timedelta(days=1))

    def _days(self, who: str, first: int, last: int) -> list[date]:
        low = to_local(first, self.firm.zone).date()
        return [day for day in self.diary[who] if day >= low and local_day(day, self.firm.zone).start <= last]

    def _starts(self, visit: Visit, rows: tuple[Stop, ...]) -> Iterator[int]:
        """Give the moments right after and right before everything else of a day; none on a moving day."""
        for one in rows if not any(one.moving for one in rows) else ():
            after = one.finish + self.roads.minutes(one.last, visit.site)
            before = one.start - self.roads.minutes(visit.site, one.first) - visit.minutes
            yield -(-after // GRID_MIN) * GRID_MIN
            yield before // GRID_MIN * GRID_MIN

    def _fits(
        self, job: Movable, who: str, day: date, stops: tuple[Stop, ...], whole: tuple[Stop, ...]
    ) -> bool:
        """Whether somebody has the hours, the drives and the rest for it."""
        begin, end = stops[0].start, stops[-1].finish
        worker = self.firm.worker(who)
        if not any(one.start <= begin and end <= one.finish for one in job.people[who].available):
            return False
        if self._hurried(whole) or any(self._stays(one, whole[n + 1 :]) for n, one in enumerate(whole)):
            return False
        if worked_min(self.roads, whole) > worker.longest_day_min:
            return False
        around = [self.diary[who].get(day + timedelta(days=n), ()) for n in (-1, 1)]
        leaves, home = self._ends(whole)
        before, after = (self._ends(rows) if rows else None for rows in around)
        return (before is None or leaves - before[1] >= worker.rest_min) and (
            after is None or after[0] - home >= worker.rest_min
        )

    def _stays(self, one: Stop, later: tuple[Stop, ...]) -> bool:
        """Whether somebody would leave a client for others, and be back before going home had been worth it."""
        again = next((two for two in later if two.job == one.job), None)
        gone = again is not None and again is not later[0]
        return bool(again and gone and again.start - one.finish <= away_min(self.roads, one, again))

    def _hurried(self, rows: tuple[Stop, ...]) -> bool:
        """Whether a drive between two stops has too little time; desk work is at the base."""
        return any(
            one.finish + self.roads.minutes(one.last, two.first) > two.start for one, two in pairwise(rows)
        )

    def _ends(self, rows: tuple[Stop, ...]) -> tuple[int, int]:
        leaves = min(one.start - self.roads.minutes(BASE, one.first) for one in rows)
        return leaves, max(one.finish + self.roads.minutes(one.last, BASE) for one in rows)

    def _cost(self, rows: tuple[Stop, ...]) -> int:
        legs = legs_of(self.roads, rows)
        return sum(leg.minutes for leg in legs) + A_ROUND_MIN * sum(leg.origin == BASE for leg in legs)

    def result(self, laid: Laid) -> Laid:
        """Give a job as it stands now."""
        job = self.jobs[laid.job]
        if job.schedule is laid.schedule:
            return laid
        trace = trace_of(self.firm, self.roads, laid.job, laid.project, job.schedule)
        return replace(laid, schedule=job.schedule, trace=trace)
