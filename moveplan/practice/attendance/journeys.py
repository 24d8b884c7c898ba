"""Who goes a long way from one home to the other beside the move: a journey that no task of the plan has hours for."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.practice.attendance.whereabouts import work_of
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Schedule

FAR_MIN = 120
"""A way of so long is a journey of its own, and no errand before or after work; assumed. [min]"""


@dataclass(frozen=True, slots=True)
class Journey:
    """Somebody's way to work in another place.

    Parameters
    ----------
    arrives : int
        When the work there begins, UTC. [min]
    minutes : int
        How long it takes. [min]
    origin, destination : str
        Ids of the places.
    """

    person: str
    arrives: int
    minutes: int
    origin: str
    destination: str


def journeys_of(project: Project, schedule: Schedule) -> tuple[Journey, ...]:
    """Find the long ways between one piece of work and the next that are no drive of the plan, in order of time.

    Parameters
    ----------
    project : Project
        With the minutes between its places.
    """
    found: list[Journey] = []
    last: dict[str, tuple[str, str]] = {}
    for (person, _), pieces in sorted(work_of(project, schedule).items(), key=lambda row: row[1][0].since):
        for piece in pieces:
            here, day = last.get(person, ("", ""))
            with_the_move = piece.task.day != "" and piece.task.day == day
            minutes = project.scheduling.drive_min(here, piece.task.place)
            if minutes >= FAR_MIN and not with_the_move:
                found.append(Journey(person, piece.since, minutes, here, piece.task.place))
            last[person] = piece.ends_at or here, piece.task.day
    return tuple(found)
