"""The independent check of drives against what everybody does where; shares no code with what lists them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import Protocol

from moveplan.errors import Fault
from moveplan.firm.values import Firm
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Schedule
from moveplan.times import to_local


class Driven(Protocol):
    """A drive: hours in UTC [min], sites, a vehicle or none, who drives and who rides along."""

    @property
    def start(self) -> int: ...  # noqa: D102 - said above
    @property
    def finish(self) -> int: ...  # noqa: D102 - said above
    @property
    def origin(self) -> str: ...  # noqa: D102 - said above
    @property
    def destination(self) -> str: ...  # noqa: D102 - said above
    @property
    def vehicle(self) -> str: ...  # noqa: D102 - said above
    @property
    def driver(self) -> str: ...  # noqa: D102 - said above
    @property
    def along(self) -> tuple[str, ...]: ...  # noqa: D102 - said above


Minutes = Mapping[tuple[str, str], tuple[int, float]]
"""Drives by pair of sites, the base being an empty text. [min], [km]"""
Schedules = Mapping[str, tuple[Project, Schedule]]


def drives_kept(
    firm: Firm, ways: Minutes, drives: Iterable[Driven], schedules: Schedules
) -> tuple[Fault, ...]:
    """Check that each vehicle is on one drive at a time with somebody who drives, and that everybody gets about.

    Days that have begun are left out: by then people have got about as they could.

    Parameters
    ----------
    firm : Firm
        Its people and vehicles.
    ways : Mapping
        Minutes and kilometres between sites: what is no minute apart is one place. [min], [km]
    drives : iterable of Driven
        All drives, as they are told to everybody.
    schedules : Mapping of str to (Project, Schedule)
        Each job as it was scheduled.
    """
    today = to_local(firm.now, firm.zone).date()
    rows = [one for one in drives if to_local(one.start, firm.zone).date() > today]
    may = {one.id for one in firm.people if one.helper.drives}
    faults = [
        Fault("firm-may-not-drive", (one.driver or one.vehicle, _day(firm, one)))
        for one in rows
        if one.driver not in may
    ]
    for vehicle in firm.vehicles:
        own = [one for one in rows if one.vehicle == vehicle.id]
        faults += _about(firm, ways, vehicle.id, own, ())
        faults += (
            Fault(
                "firm-seat-short", (vehicle.id, _day(firm, one)), (1 + len(one.along), vehicle.vehicle.seats)
            )
            for one in own
            if 1 + len(one.along) > vehicle.vehicle.seats
        )
    for who in firm.people:
        own = [one for one in rows if who.id in (one.driver, *one.along)]
        there = [row for row in _places(schedules, who.id) if to_local(row[0], firm.zone).date() > today]
        faults += _about(firm, ways, who.id, own, there)
    return tuple(faults)


def _day(firm: Firm, one: Driven) -> str:
    return str(to_local(one.start, firm.zone).date())


def _places(schedules: Schedules, who: str) -> Iterator[tuple[int, int, str, str]]:
    """Say where somebody works: start, finish, site and job; what is done on the way or at a desk has no place."""
    for job, (project, schedule) in schedules.items():
        tasks = {task.id: task for task in project.network.tasks}
        for placed in schedule.placements:
            task = tasks[placed.task]
            for n, piece in enumerate(placed.segments):
                crew = placed.segment_people[n] if placed.segment_people else placed.people
                drives = task.place_after not in (None, "", task.place)
                if who in crew and task.place and piece.finish > piece.start and not drives:
                    yield piece.start, piece.finish, f"{job}.{task.place}", job


def _about(
    firm: Firm, ways: Minutes, who: str, drives: Iterable[Driven], there: Iterable[tuple[int, int, str, str]]
) -> Iterator[Fault]:
    """Follow each day of somebody, or of a vehicle, from the base by drives to every place and back."""
    days: dict[date, list[tuple[int, int, int, str, str, str]]] = defaultdict(list)
    for one in drives:
        row = (one.start, 1, one.finish, one.origin, one.destination, "")
        days[to_local(one.start, firm.zone).date()].append(row)
    for start, finish, site, job in there:
        days[to_local(start, firm.zone).date()].append((start, 0, finish, site, site, job))
    for day, rows in sorted(days.items()):
        here, free = "", 0
        for start, moves, finish, begins, ends, job in sorted(rows):
            if begins != here and ways[here, begins][0] > 0:
                yield Fault("firm-not-there", (who, str(day), here, begins, job), (start,))
            elif moves and start < free:
                yield Fault("firm-drives-twice", (who, str(day)), (start, free))
            here, free = ends, max(finish, free) if not moves else finish
        if here and ways[here, ""][0] > 0:
            yield Fault("firm-not-home", (who, str(day), here))
