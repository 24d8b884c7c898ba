"""Who rides in which vehicle: whoever is at one home before a drive and at the other after it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from moveplan.network.task import Kind
from moveplan.practice.attendance.whereabouts import Piece, days_of
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement, Schedule


@dataclass(frozen=True, slots=True)
class Ride:
    """Somebody's way from one home to the other without driving.

    Parameters
    ----------
    drive : str
        Id of the drive that takes them along; empty: no seat is free, they come by other means.
    since, until : int
        When it begins at the earliest and ends at the latest, UTC; of a drive, its own hours. [min]
    origin, destination : str
        Ids of the places.
    """

    person: str
    drive: str
    since: int
    until: int
    origin: str
    destination: str


def rides_of(project: Project, schedule: Schedule) -> tuple[Ride, ...]:
    """Give everybody who changes place a seat, as long as there are seats.

    Parameters
    ----------
    project : Project
        With its vehicles.
    """
    seats = {vehicle.id: vehicle.seats for vehicle in project.plan.vehicles}
    placed = {one.task: one for one in schedule.placements}
    drives = [
        (task, placed[task.id])
        for task in project.network.tasks
        if task.kind is Kind.TRAVEL and task.id in placed and task.vehicles
    ]
    left = {
        one.task: sum(seats.get(vehicle, 0) for vehicle in one.vehicles) - len(one.people)
        for _, one in drives
    }
    rides: list[Ride] = []
    for person, before, after in sorted(_changes(project, schedule), key=lambda row: (row[1].until, row[0])):
        way = (before.ends_at, after.task.place)
        found = next(
            (
                one
                for task, one in drives
                if (task.place, task.place_after) == way
                and _in_time(one, before, after)
                and left[one.task] > 0
            ),
            None,
        )
        if found:
            left[found.task] -= 1
            rides.append(Ride(person, found.task, found.start, found.finish, *way))
        else:
            rides.append(Ride(person, "", before.until, after.since, *way))
    return tuple(rides)


def riders_of(project: Project, schedule: Schedule) -> dict[str, list[str]]:
    """Name who rides along on each drive, by id of the drive.

    Parameters
    ----------
    project : Project
        With its vehicles.
    """
    found: dict[str, list[str]] = {}
    for one in rides_of(project, schedule):
        if one.drive:
            found.setdefault(one.drive, []).append(one.person)
    return found


def _changes(project: Project, schedule: Schedule) -> Iterator[tuple[str, Piece, Piece]]:
    """Find who is at one place, and then at another to which they did not drive."""
    for (person, _), pieces in days_of(project, schedule).items():
        there = [piece for piece in pieces if piece.task.place]
        for before, after in pairwise(there):
            if before.ends_at != after.task.place:
                yield person, before, after


def _in_time(drive: Placement, before: Piece, after: Piece) -> bool:
    return before.until <= drive.start and drive.finish <= after.since
