"""Checks what people were promised, on every finished schedule: who handles animals, who decides, and that all rest.

It reads ids of tasks and the plan's people, and shares no code with what composes crews or breaks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from moveplan.errors import Fault
from moveplan.network.task import Kind, Task
from moveplan.plan.people import Helper
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import Interval, to_local

AT_ANIMALS = (
    "corals-out", "invertebrates-out", "empty-trap", "catch-fish", "seal-fish", "start-drip", "float-fish",
    "start-ramp-corals", "place-corals", "fix-corals", "release-invertebrates", "release-fish", "move-wave",
    "watch-wave", "watch-evening",
)  # fmt: skip
"""Beginnings of the ids of tasks in which hands are at animals."""
KEEPERS = ("agree-", "ask-", "book-", "brief-crew", "go-or-no-go", "no-way-back", "order-", "settle-accounts")
"""Beginnings of the ids of what one person asks, books, decides and signs."""
LONG_DAY_MIN, REST_MIN, PAUSE_MIN = 6 * 60, 30, 15
"""A day with breaks in it, how long they are together, and what counts as one. [min]"""


def people_kept(project: Project, schedule: Schedule) -> tuple[Fault, ...]:
    """Check that only people who care handle animals, that the keeper decides, and that everybody has breaks.

    Parameters
    ----------
    project : Project
        A move; own tasks promise nothing of the kind.
    schedule : Schedule
        Its schedule; without placements nothing is asked.
    """
    if not schedule.placements or not project.way:
        return ()
    own = {task.id for task in project.plan.tasks}
    tasks = {task.id: task for task in project.network.tasks if task.id not in own}
    rows = [(tasks[one.task], one) for one in schedule.placements if one.task in tasks]
    people = {one.id: one for one in project.plan.people}
    return (
        *_wrong_hands(rows, people),
        *_wrong_desk(rows, project),
        *_no_breaks(rows, people),
        *_all_rest(rows, people),
    )


_Rows = Sequence[tuple[Task, Placement]]
_People = Mapping[str, Helper]


def _crew(placement: Placement) -> set[str]:
    return {*placement.people, *(one for crew in placement.segment_people for one in crew)}


def _wrong_hands(rows: _Rows, people: _People) -> Iterator[Fault]:
    for task, placement in rows:
        if task.crew is not None and task.id.startswith(AT_ANIMALS):
            for one in sorted(_crew(placement)):
                if one in people and not people[one].cares:
                    yield Fault("handles-no-animals", (one,), (), (task.id,))


def _wrong_desk(rows: _Rows, project: Project) -> Iterator[Fault]:
    people = project.plan.people
    lead = next((one for one in people if one.lead), people[0] if people else None)
    days = {to_local(placement.start, project.plan.zone).date() for task, placement in rows if task.day}
    days |= set(
        project.plan.dates.move_days if project.plan.dates else ()
    )  # one that is over has no tasks left
    if lead is None or any(one.first <= day <= one.last for one in lead.absences for day in days):
        return
    for task, placement in rows:
        desk = task.crew is not None and task.id.startswith(KEEPERS)
        if desk and _crew(placement) not in ({lead.id}, *({one.id} for one in people if one.client)):
            yield Fault("not-the-keepers", (lead.id, *sorted(_crew(placement))), (), (task.id,))


def _no_breaks(rows: _Rows, people: _People) -> Iterator[Fault]:
    for tag in dict.fromkeys(task.day for task, _ in rows if task.day):
        for one in people:
            day = [(task, piece) for task, piece in _pieces(rows, one) if task.day == tag]
            if not day:
                continue
            begin, end = min(piece.start for _, piece in day), max(piece.finish for _, piece in day)
            rested = _rested_min(day)
            if end - begin > LONG_DAY_MIN and rested < REST_MIN:
                yield Fault("no-break", (one,), (rested, REST_MIN))


def _pieces(rows: _Rows, one: str) -> Iterator[tuple[Task, Interval]]:
    for task, placement in rows:
        if one in placement.people:
            yield from ((task, piece) for piece in placement.segments)


def _rested_min(day: Sequence[tuple[Task, Interval]]) -> int:
    """Add up breaks, and times long enough for one in which there is nothing to do. [min]."""
    breaks = sum(piece.minutes for task, piece in day if task.kind is Kind.REST)
    pieces = sorted(piece for _, piece in day)
    idle = (after.start - before.finish for before, after in pairwise(pieces))
    return breaks + sum(gap for gap in idle if gap >= PAUSE_MIN)


def _all_rest(rows: _Rows, people: _People) -> Iterator[Fault]:
    """Find moments at which all who are there on the day rest at once."""
    for tag in dict.fromkeys(task.day for task, _ in rows if task.day):
        there = {one for task, placement in rows if task.day == tag for one in placement.people}
        rests = [placement for task, placement in rows if task.day == tag and task.kind is Kind.REST]
        for begun in rests:
            at_once = {
                one for rest in rests if rest.start <= begun.start < rest.finish for one in rest.people
            }
            if len(there & set(people)) > 1 and at_once >= there:
                yield Fault("all-rest", tuple(sorted(at_once)), (begun.start,))
                break
