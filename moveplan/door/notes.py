"""Checks that what a move asks of people beyond what it should is said: long days and ways, seats, animals left alone.

It reads ids, hours and ways of animals, minute by minute, and shares no code with what finds and words these things.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from moveplan.errors import Fault
from moveplan.network.task import Kind, Task
from moveplan.practice.project import Project, Stop
from moveplan.quantities.policy import Policy
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import to_local

STEP_MIN, LEFT_MIN = 5, 20
"""Presence is looked at so often, and animals that are alone for so long have been left. [min]"""
LONG_WAY_MIN = 120
"""Nobody drives so far between two pieces of work without being told. [min]"""
_Rows = list[tuple[Task, Placement]]


def people_told(project: Project, schedule: Schedule) -> tuple[Fault, ...]:
    """Check that every long day, missing seat and time in which animals are alone stands among the notes.

    Parameters
    ----------
    project : Project
        With its notes.
    """
    if not schedule.placements or not project.way:
        return ()
    tasks = {task.id: task for task in project.network.tasks if task.day}
    rows = [(tasks[one.task], one) for one in schedule.placements if one.task in tasks]
    return (
        *_long(project, rows, schedule),
        *_standing(project, rows),
        *_left(project, rows),
        *_far(project, schedule),
    )


def _said(project: Project, code: str, about: str) -> bool:
    return any(note[:2] == (code, about) for note in project.day_notes)


def _long(project: Project, rows: _Rows, schedule: Schedule) -> Iterator[Fault]:
    most = 60 * Policy(project.plan.policy)["longest_day"]
    moving = _days(project, (one for _, one in rows))
    for (person, day), (since, until) in _days(project, schedule.placements).items():
        if (person, day) in moving and until - since > most and not _said(project, "long-day", person):
            yield Fault("long-day-unsaid", (person,), (until - since, most))


def _days(project: Project, placed: Iterable[Placement]) -> Mapping[tuple[str, str], tuple[int, int]]:
    found: dict[tuple[str, str], tuple[int, int]] = {}
    for one in placed:
        for at, piece in enumerate(one.segments):
            for person in one.segment_people[at] if at < len(one.segment_people) else one.people:
                key = person, to_local(piece.start, project.plan.zone).date().isoformat()
                since, until = found.get(key, (piece.start, piece.finish))
                found[key] = min(since, piece.start), max(until, piece.finish)
    return found


def _standing(project: Project, rows: _Rows) -> Iterator[Fault]:
    """Find more people on the way than there are seats in what drives that way, where nobody is named."""
    seats = {vehicle.id: vehicle.seats for vehicle in project.plan.vehicles}
    for _, drive in ((task, one) for task, one in rows if task.kind is Kind.TRAVEL):
        free = sum(seats.get(vehicle, 0) for vehicle in drive.vehicles) - len(drive.people)
        if free < 0:
            yield Fault("too-many-aboard", tuple(drive.people), (len(drive.people), free), (drive.task,))
    for tag, *way in {
        (task.day, task.place, task.place_after) for task, _ in rows if task.kind is Kind.TRAVEL
    }:
        own = [row for row in rows if row[0].day == tag]
        drives = [one for task, one in own if [task.place, task.place_after] == way]
        room = sum(sum(seats.get(one, 0) for one in drive.vehicles) for drive in drives)
        went = _went(own, (way[0], way[1]))
        named = sum(_said(project, "no-seat", person) for person in went)
        if len(went) - named > room:
            yield Fault("too-many-aboard", tuple(sorted(went)), (len(went), room), (drives[0].task,))


def _went(rows: _Rows, way: tuple[str, str]) -> set[str]:
    """Give who is at work at the first place of a way, and later at the second."""
    first = {(person, one.start) for task, one in rows if task.place == way[0] for person in one.people}
    last = {(person, one.start) for task, one in rows if task.place == way[1] for person in one.people}
    return {person for person, begun in first for other, then in last if other == person and then > begun}


def _left(project: Project, rows: _Rows) -> Iterator[Fault]:
    names = {place.name: place.id for place in project.plan.places}
    placed = {one.task: (one.start, one.finish) for _, one in rows}
    there = _presence(rows)
    for place in names.values():
        waits = [
            span
            for route in project.routes
            for stop in route.stops
            if names.get(stop.where) == place and (span := _span(stop, placed))
        ]
        moments = sorted(
            {at for since, until in waits for at in range(since, until, STEP_MIN) if at >= project.plan.now}
        )
        run = 0
        for before, at in zip([None, *moments], moments, strict=False):
            alone = not any(since <= at < until for since, until in there.get(place, ()))
            run = (run + STEP_MIN if before == at - STEP_MIN else STEP_MIN) if alone else 0
            if run > LEFT_MIN and not _said(project, "alone", place):
                yield Fault("animals-alone-unsaid", (place,), (at,))
                break


def _span(stop: Stop, placed: Mapping[str, tuple[int, int]]) -> tuple[int, int] | None:
    """When animals are in containers at a stop; None outside the moving days."""
    since, until = stop.since, stop.until
    if stop.safe is None or not since or not until or since.task not in placed or until.task not in placed:
        return None
    first, last = (placed[one.task][one.edge == "finish"] for one in (since, until))
    return (first, last) if last - first < 24 * 60 else None


def _presence(rows: _Rows) -> Mapping[str, list[tuple[int, int]]]:
    """When somebody is in a place: from one task there to the next of the same person there."""
    found: dict[str, list[tuple[int, int]]] = {}
    for person in {person for _, one in rows for person in one.people}:
        own = sorted(
            ((one.start, one.finish, task) for task, one in rows if person in one.people),
            key=lambda row: row[:2],
        )
        here, until = "", 0
        for start, finish, task in own:
            place = task.place or here
            begin = until if place == here and until else start
            if place:
                found.setdefault(place, []).append((begin, finish))
            here, until = task.place_after or place, finish
    return found


def _far(project: Project, schedule: Schedule) -> Iterator[Fault]:
    """Find who is at work in one place and next in another that is far, where nobody is told of the way."""
    tasks = {task.id: task for task in project.network.tasks}
    ways = {
        (one, other): minutes
        for a, b, minutes in project.scheduling.drives
        for one, other in ((a, b), (b, a))
    }
    went: dict[str, list[tuple[int, int, Task]]] = {}
    for one in schedule.placements:
        for at, piece in enumerate(one.segments):
            for person in one.segment_people[at] if at < len(one.segment_people) else one.people:
                went.setdefault(person, []).append((piece.start, piece.finish, tasks[one.task]))
    for person, rows in went.items():
        rows.sort(key=lambda row: row[:2])
        placed = [task for _, _, task in rows if task.place]
        for before, after in pairwise(placed):
            way_min = ways.get((before.place_after or before.place, after.place), 0)
            if way_min >= LONG_WAY_MIN and not (after.day and after.day == before.day):
                if not _said(project, "journey", person):
                    yield Fault("journey-unsaid", (person,), (way_min,))
                break
