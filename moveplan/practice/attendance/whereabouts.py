"""Where each person is, from the first to the last task of each day."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from moveplan.network.task import Kind, Task
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Schedule
from moveplan.times import to_local


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of a task that somebody does on a moving day.

    Parameters
    ----------
    since, until : int
        UTC. [min]
    once : bool
        Whether it is the whole of the task: no time of recurring care, no part of work that pauses.
    """

    task: Task
    since: int
    until: int
    once: bool

    @property
    def ends_at(self) -> str:
        """Id of the place where it ends; empty: anywhere."""
        return self.task.place_after or self.task.place


def days_of(
    project: Project, schedule: Schedule, *, whole: bool = False
) -> Mapping[tuple[str, str], tuple[Piece, ...]]:
    """List what each person does on each moving day, in order.

    Parameters
    ----------
    project : Project
        With its tasks.
    whole : bool
        Whether what is tied to no moving day counts where it is done on one, as a vehicle that goes back in the
        evening.

    Returns
    -------
    Mapping of (str, str) to tuple of Piece
        By person and local day; breaks are among them.
    """
    found = {
        key: tuple(piece for piece in rows if piece.task.day or whole)
        for key, rows in work_of(project, schedule).items()
    }
    return {key: rows for key, rows in found.items() if any(row.task.day for row in rows)}


def work_of(project: Project, schedule: Schedule) -> Mapping[tuple[str, str], tuple[Piece, ...]]:
    """List what each person does on each day, by person and local day, in order."""
    tasks = {task.id: task for task in project.network.tasks}
    found: dict[tuple[str, str], list[Piece]] = {}
    for one in schedule.placements:
        once = len(one.segments) == 1
        for at, segment in enumerate(one.segments):
            day = to_local(segment.start, project.plan.zone).date().isoformat()
            for person in one.segment_people[at] if at < len(one.segment_people) else one.people:
                piece = Piece(tasks[one.task], segment.start, segment.finish, once)
                found.setdefault((person, day), []).append(piece)
    return {key: tuple(sorted(rows, key=lambda row: (row.since, row.until))) for key, rows in found.items()}


def stays_of(pieces: tuple[Piece, ...]) -> Iterator[tuple[str, int, int]]:
    """Say where one person is: place, from, until; on the way somewhere in between, nowhere.

    Parameters
    ----------
    pieces : tuple of Piece
        Of one person on one day, in order.
    """
    here, since, until = "", 0, 0
    for piece in pieces:
        place = piece.task.place or here
        if place != here:
            if here:
                yield here, since, until
            here, since = place, piece.since
        if piece.task.kind is Kind.TRAVEL and piece.task.place_after:
            yield here, since, piece.since
            here, since = piece.task.place_after, piece.until
        until = piece.until
    if here:
        yield here, since, until
