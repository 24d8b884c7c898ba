"""Where each container stands from its filling to its emptying, by the schedule: rooms and load spaces."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from moveplan.network.task import Task
from moveplan.plan.people import Vehicle
from moveplan.plan.places import Place
from moveplan.practice.drafting.draft import SUFFIXES
from moveplan.practice.ledger.entries import InUse
from moveplan.practice.project import Moment, Project, Route
from moveplan.quantities.freight.freight import Load
from moveplan.scheduling.schedule import Placement, Schedule


@dataclass(frozen=True, slots=True)
class Stretch:
    """A time in one place.

    Parameters
    ----------
    since, until : int
        UTC. [min]
    where : Place or Vehicle
        A room, or a load space.
    """

    since: int
    until: int
    where: Place | Vehicle

    @property
    def powered(self) -> bool:
        """Whether there is power from the wall."""
        return isinstance(self.where, Place) and self.where.has_power


@dataclass(frozen=True, slots=True)
class Standing:
    """One use of a container, dated.

    Parameters
    ----------
    since, until : int
        When the use begins and ends, UTC. [min]
    filled : int
        When water is in it, UTC. [min]
    stretches : tuple of Stretch
        Where it stands from its filling to the end, without a hole.
    """

    use: InUse
    since: int
    until: int
    filled: int
    stretches: tuple[Stretch, ...]


def standings_of(project: Project, schedule: Schedule) -> tuple[Standing, ...]:
    """Date every use of a container whose tasks are in the schedule.

    Parameters
    ----------
    project : Project
        With its ledger.
    schedule : Schedule
        Its schedule; tasks that are done may be missing.
    """
    placed = {one.task: one for one in schedule.placements}
    tasks = {task.id: task for task in project.network.tasks}
    carried: dict[str, list[tuple[str, str]]] = {}
    for load in project.loads:
        subject = _subject(load, tasks)
        for item in load.items:
            if item.number:
                carried.setdefault(item.number, []).append((load.vehicle, subject))
    return tuple(
        _standing(use, placed, tasks, project, carried)
        for use in project.ledger.containers
        if use.from_task in placed and use.until_task in placed
    )


def _standing(
    use: InUse,
    placed: Mapping[str, Placement],
    tasks: Mapping[str, Task],
    project: Project,
    carried: Mapping[str, Sequence[tuple[str, str]]],
) -> Standing:
    first, last = placed[use.from_task], placed[use.until_task]
    filled = first.start if use.from_task == use.until_task else first.finish
    ends = (filled, max(last.finish, filled))
    places = {place.id: place for place in project.plan.places}
    before, after = (
        places.get(tasks[one].place, project.plan.places[0]) for one in (use.from_task, use.until_task)
    )
    vehicles = {vehicle.id: vehicle for vehicle in project.plan.vehicles}
    inside = _box_of(use, project) or use.vessel.number
    road = _road(carried.get(inside, ()), placed, ends)
    rows: list[tuple[int, int, Place | Vehicle]] = (
        [(ends[0], road[0], before), (road[0], road[1], vehicles[road[2]]), (road[1], ends[1], after)]
        if road
        else [(*ends, before)]
    )
    stretches = tuple(Stretch(*row) for row in rows if row[0] < row[1])
    return Standing(use, first.start, last.finish, filled, stretches)


def _box_of(use: InUse, project: Project) -> str:
    """Give the number of the insulated box that a bag is in."""
    own = use.vessel
    return next(
        (
            other.vessel.number
            for other in project.ledger.containers
            if own.kind == "bag" and any(held.id == own.number for held in other.vessel.holds)
        ),
        "",
    )


def _road(
    trips: Iterable[tuple[str, str]], placed: Mapping[str, Placement], ends: tuple[int, int]
) -> tuple[int, int, str] | None:
    """When it is loaded, when it is unloaded, and on which vehicle, of all trips that take its number along."""
    for vehicle, subject in trips:
        load, unload = placed.get(f"load-animals-{subject}"), placed.get(f"unload-animals-{subject}")
        if load and unload and ends[0] <= load.finish <= unload.start <= ends[1]:
            return load.finish, unload.start, vehicle
    return None


def _subject(load: Load, tasks: Iterable[str]) -> str:
    """Give the words in the ids of the tasks of a trip; trips of a vehicle are counted on from leg to leg."""
    vehicle, trip = load.vehicle, load.trip
    for suffix in SUFFIXES:
        unload = re.compile(rf"(?:drive|unload-[a-z]+)-({re.escape(vehicle)}(?:\.\d+)?{suffix})")
        own = len({found[1] for task in tasks if (found := unload.fullmatch(task))})
        if trip <= own:
            return f"{vehicle}{suffix}" if own == 1 else f"{vehicle}.{trip}{suffix}"
        trip -= own
    return ""


Inside = dict[tuple[int, str], tuple[int, int]]
"""When a group of animals is in a container, UTC, by ``id()`` of the use and id of the group. [min]"""


def inside_of(project: Project, schedule: Schedule, standings: Iterable[Standing]) -> Inside:
    """Say when each group of animals is in each of its containers.

    Parameters
    ----------
    project : Project
        With the ways of its animals.
    """
    placed = {one.task: one for one in schedule.placements}
    stays = {route.livestock: _stays(route, placed) for route in project.routes}
    found: Inside = {}
    for one in standings:
        for group in one.use.vessel.livestock:
            spans = [(max(one.filled, since), min(one.until, until)) for since, until in stays.get(group, ())]
            own = [span for span in spans if span[0] < span[1]]
            if own:
                found[id(one.use), group] = own[0]
    return found


def _stays(route: Route, placed: Mapping[str, Placement]) -> list[tuple[int, int]]:
    """List the times in containers, those that touch as one."""
    rows: list[tuple[int, int]] = []
    for stop in route.stops:
        if stop.safe is None or stop.since is None or stop.until is None:
            continue
        if stop.since.task not in placed or stop.until.task not in placed:
            continue
        since, until = (_minute(moment, placed) for moment in (stop.since, stop.until))
        if rows and rows[-1][1] == since:
            rows[-1] = (rows[-1][0], until)
        else:
            rows.append((since, until))
    return rows


def _minute(moment: Moment, placed: Mapping[str, Placement]) -> int:
    placement = placed[moment.task]
    return placement.start if moment.edge == "start" else placement.finish
