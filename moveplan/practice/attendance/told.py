"""What a schedule asks of people beyond what it should, in words: nothing of it is left unsaid."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.errors import Problem
from moveplan.practice.attendance.alone import alone_of
from moveplan.practice.attendance.journeys import Journey, journeys_of
from moveplan.practice.attendance.long_days import long_days
from moveplan.practice.attendance.rides import rides_of
from moveplan.practice.project import Project
from moveplan.quantities.policy import Policy
from moveplan.scheduling.schedule import Schedule
from moveplan.times import to_local, told
from moveplan.units import show_duration, show_rounded

Note = tuple[str, str, int]
"""What it is, whom or which place it is about, and when it begins, UTC."""


def notes_of(project: Project, schedule: Schedule) -> tuple[tuple[Note, Problem], ...]:
    """Say whose day is too long, who has no seat, where animals are alone, and who goes a long way beside the move."""
    if not schedule.placements or not project.way:
        return ()
    return (
        *_long(project, schedule),
        *_seatless(project, schedule),
        *_alone(project, schedule),
        *_journeys(project, schedule),
    )


def _long(project: Project, schedule: Schedule) -> Iterator[tuple[Note, Problem]]:
    most_h = Policy(project.plan.policy)["longest_day"]
    for one in long_days(project, schedule):
        name = _name(project, one.person)
        drives = f"; {name} still drives at the end of it, and should not" if one.drives else ""
        yield (
            ("long-day", one.person, one.since),
            Problem(
                f"{name} is there from {_hour(project, one.since)} to {_hour(project, one.until)}, "
                f"{show_duration(one.until - one.since)} with breaks; more than {show_rounded(most_h)} h are too "
                f"long a day{drives}",
                project.plan.where(f"people.{one.person}"),
                "let somebody else begin or end the day, or give another day to what can wait; for employees local "
                "law decides how long a day may be and how long the rest after it is",
            ),
        )


def _seatless(project: Project, schedule: Schedule) -> Iterator[tuple[Note, Problem]]:
    drives = [load for load in project.loads if load.items]
    for one in rides_of(project, schedule) if drives else ():
        if one.drive:
            continue
        name = _name(project, one.person)
        yield (
            ("no-seat", one.person, one.since),
            Problem(
                f"{name} finds no seat from {_place(project, one.origin)} to {_place(project, one.destination)}: free "
                f"at {_hour(project, one.since)}, wanted there at {_hour(project, one.until)}",
                project.plan.where("vehicles"),
                f"let {name} come by other means, or give a vehicle more seats",
            ),
        )


def _alone(project: Project, schedule: Schedule) -> Iterator[tuple[Note, Problem]]:
    for one in alone_of(project, schedule):
        place = _place(project, one.place)
        yield (
            ("alone", one.place, one.since),
            Problem(
                f"animals wait at {place} from {_hour(project, one.since)} to {_hour(project, one.until)}, "
                f"{show_duration(one.until - one.since)}, and nobody is there",
                project.plan.where(f"places.{one.place}"),
                "let somebody stay with them who can ring the others, or ask a neighbour in: lids, air and warmth "
                "are looked at every quarter of an hour",
            ),
        )


def _journeys(project: Project, schedule: Schedule) -> Iterator[tuple[Note, Problem]]:
    found: dict[str, list[Journey]] = {}
    for one in journeys_of(project, schedule):
        found.setdefault(one.person, []).append(one)
    for person, ways in found.items():
        days = "; ".join(
            f"{told(one.arrives, project.plan.zone)} {_place(project, one.destination)}" for one in ways
        )
        yield (
            ("journey", person, ways[0].arrives),
            Problem(
                f"{_name(project, person)} goes from one home to the other beside the move, up to "
                f"{show_duration(max(one.minutes for one in ways))} each way, which no hours of the plan hold, to be "
                f"at work there: {days}",
                project.plan.where(f"people.{person}"),
                "ask somebody who lives there to measure, to take the keys in or to hand them over, and do on one "
                "journey what can be done on one",
            ),
        )


def _name(project: Project, person: str) -> str:
    return next((one.name for one in project.plan.people if one.id == person), person)


def _place(project: Project, place: str) -> str:
    return project.plan.place(place).name


def _hour(project: Project, minute: int) -> str:
    return f"{to_local(minute, project.plan.zone):%H:%M}"
