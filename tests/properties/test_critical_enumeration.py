"""Dates, floats, effects and drivers of tiny schedules under hours against trying all starts.

Crews and the order of people and vehicles are kept as the schedule has them; everything else is tried out minute by
minute. ``FUZZ_CASES=500`` tries so many, others each time, and takes half a minute. A problem that fails is small
as it is drawn; to look for a smaller one takes minutes, each step a search of its own, and is left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from hypothesis import Phase, assume, given, settings

from moveplan.network.link import Link
from moveplan.network.task import Task
from moveplan.scheduling.dates.critical import times
from moveplan.scheduling.dates.order import resource_order
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.scheduling.solve import solve
from tests.properties.hostile import CASES
from tests.properties.test_schedule_enumeration import LENGTH, of_people

END = LENGTH + 6
Span = tuple[int, int]


def _spans(problem: SchedulingProblem, task: Task, crew: Sequence[str], work: int) -> list[Span]:
    """Every start and finish of a task by its crew, minute by minute; after the horizon all are there."""
    hours = [person.available for person in problem.people if person.id in crew]
    there = [
        minute >= LENGTH or all(any(p.start <= minute < p.finish for p in own) for own in hours)
        for minute in range(END + 8)
    ]
    found = []
    for start in range(END):
        if crew and not there[start]:
            continue
        if task.may_pause:
            finish = [minute for minute in range(start, END + 8) if there[minute]][work - 1] + 1
        elif crew and not all(there[start : start + work]):
            continue
        else:
            finish = start + work
        found.append((start, finish))
    return found


def _keeps(links: Sequence[Link], at: dict[str, int], spans: Sequence[Span]) -> bool:
    for link in links:
        gap = (
            spans[at[link.after]][link.relation.to_finish] - spans[at[link.before]][link.relation.from_finish]
        )
        if link.min_gap_min is not None and gap < link.min_gap_min:
            return False
        if link.max_gap_min is not None and gap > link.max_gap_min:
            return False
    return True


class _Tried:
    """All that could be with the crews and the order of a schedule."""

    def __init__(self, problem: SchedulingProblem, schedule: Schedule) -> None:
        self.problem = problem
        self.tasks = problem.network.tasks
        self.at = {task.id: number for number, task in enumerate(self.tasks)}
        self.stands: list[Placement] = [schedule.of(task.id) for task in self.tasks]
        self.links = [*problem.network.links, *(order.link for order in resource_order(problem, schedule))]

    def all(self, longer: str = "") -> list[tuple[Span, ...]]:
        choices = [
            _spans(self.problem, task, stands.people, task.minutes + (task.id == longer))
            for task, stands in zip(self.tasks, self.stands, strict=True)
        ]
        return [spans for spans in product(*choices) if _keeps(self.links, self.at, spans)]

    def alone(self, number: int) -> int:
        """Earliest start of one task with all others where they stand."""
        spans = [(stands.start, stands.finish) for stands in self.stands]
        choices = _spans(
            self.problem, self.tasks[number], self.stands[number].people, self.tasks[number].minutes
        )
        return min(
            span[0]
            for span in choices
            if _keeps(self.links, self.at, [*spans[:number], span, *spans[number + 1 :]])
        )


def _length(spans: Sequence[Span]) -> int:
    return max(finish for _, finish in spans)


def _scheduled(problem: SchedulingProblem) -> tuple[SchedulingProblem, Schedule]:
    """Schedule a problem whose people are there all the time after its horizon, so that work may grow."""
    schedule = solve(problem, Effort(0.05, engine="serial"))
    assume(bool(schedule.placements))
    grown = replace(
        problem,
        horizon=END + 8,
        people=tuple(
            replace(person, available=(*person.available, type(person.available[0])(LENGTH, END + 8)))
            if person.available[-1].finish < LENGTH
            else replace(
                person,
                available=(*person.available[:-1], replace(person.available[-1], finish=END + 8)),
            )
            for person in problem.people
        ),
    )
    return grown, schedule


@settings(max_examples=CASES or 60, deadline=None, phases=(Phase.explicit, Phase.generate))
@given(of_people())
def test_dates_floats_effects_and_drivers_agree_with_trying_all(problem: SchedulingProblem) -> None:
    grown, schedule = _scheduled(problem)
    tried = _Tried(problem, schedule)
    every = tried.all()
    last = max(placement.finish for placement in schedule.placements)
    within = [spans for spans in every if _length(spans) <= last]
    told = times(grown, schedule)
    shortest = min(map(_length, every))
    for number, task in enumerate(tried.tasks):
        row = told[task.id]
        early, late = min(s[number][0] for s in every), max(s[number][0] for s in within)
        assert (row.early_start, row.late_start) == (early, late)
        assert row.total_float_min == late - early
        stays = row.driver.kind not in ("choice", "margin")
        assert stays == (tried.alone(number) == schedule.of(task.id).start)
        if row.total_float_min == 0 and shortest == last:
            longer = tried.all(task.id)
            change = min(map(_length, longer)) - shortest if longer else 0
            assert not longer or row.effect == (change > 0) - (change < 0)
