"""What a record may name: tasks, people, vehicles, groups of animals and systems, and the zone of its times."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from zoneinfo import ZoneInfo

from moveplan.errors import PlanFileError, Problem
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.waters.gates import Gate
from moveplan.near import near_names
from moveplan.network.task import Kind
from moveplan.times import to_minutes
from moveplan.units import Measure, QuantityError, quoted


@dataclass(frozen=True, slots=True)
class KnownTask:
    """What has to be known of a task to log it.

    Parameters
    ----------
    title : str
        What to print.
    kind : Kind
        Work, wait, travel or hold point.
    times : int
        How often recurring care happens.
    gates : tuple of Gate
        What a hold point asks for.
    """

    title: str
    kind: Kind
    times: int = 1
    gates: tuple[Gate, ...] = ()


@dataclass(frozen=True, slots=True)
class Known:
    """Everything a record may name.

    Parameters
    ----------
    tasks : Mapping of str to KnownTask
        By id.
    people, vehicles, groups, systems : Mapping of str to str
        Names by id.
    zone : ZoneInfo
        Of times without an offset.
    snapshot : Snapshot or None
        The schedule in force, whose order is guarded; None: none was accepted.
    places : Mapping of str to str
        Names by id.
    """

    tasks: Mapping[str, KnownTask]
    people: Mapping[str, str]
    vehicles: Mapping[str, str]
    groups: Mapping[str, str]
    systems: Mapping[str, str]
    zone: ZoneInfo
    snapshot: Snapshot | None = None
    places: Mapping[str, str] = field(default_factory=dict)

    def task(self, task_id: str) -> KnownTask:
        """Find a task; refuses one that does not exist, with the nearest names."""
        if task_id not in self.tasks:
            raise _unknown(f"there is no task {quoted(task_id)}", _nearest(task_id, self.tasks))
        return self.tasks[task_id]

    def said(self, task_id: str) -> str:
        """Give a task as people name it: its number on the run sheets, and its title."""
        planned = self.snapshot.task(task_id) if self.snapshot else None
        if planned is not None:
            return planned.said
        return f"“{self.tasks[task_id].title}”" if task_id in self.tasks else task_id

    def typed(self, task_id: str) -> str:
        """Give what is written of a task in a command: its number where it has one."""
        planned = self.snapshot.task(task_id) if self.snapshot else None
        return str(planned.number) if planned is not None and planned.number else task_id

    def named(self, kind: str, name: str) -> str:
        """Check the id of a person, vehicle, group or system.

        Parameters
        ----------
        kind : str
            ``people``, ``vehicles``, ``groups`` or ``systems``.
        name : str
            The id.
        """
        known: Mapping[str, str] = getattr(self, kind)
        if name not in known:
            words = {
                "people": "person",
                "vehicles": "vehicle",
                "groups": "group of animals",
                "systems": "system",
            }
            raise _unknown(f"there is no {words[kind]} {quoted(name)}", _nearest(name, known))
        return name

    @property
    def containers(self) -> list[str]:
        """Numbers of all containers with animals."""
        stays = self.snapshot.stays if self.snapshot else ()
        return sorted({number for stay in stays for number, _ in stay.containers})

    @property
    def numbers(self) -> list[str]:
        """Numbers of all containers that have a label, those of new water too."""
        labels = self.snapshot.labels if self.snapshot else ()
        return sorted({*self.containers, *(number for number, _ in labels if number)})

    def container(self, number: str) -> str:
        """Check the number of a container."""
        if number not in self.containers:
            raise _unknown(
                f"there is no container {quoted(number)} with animals", _nearest(number, self.containers)
            )
        return number

    def joined(self, other: Known) -> Known:
        """Know what another knows as well; what both know is as this one knows it."""
        return Known(
            {**other.tasks, **self.tasks},
            {**other.people, **self.people},
            {**other.vehicles, **self.vehicles},
            {**other.groups, **self.groups},
            {**other.systems, **self.systems},
            self.zone,
            self.snapshot,
            {**other.places, **self.places},
        )


class UnknownNameError(PlanFileError):
    """Something was named that does not exist."""


def _unknown(message: str, remedy: str) -> UnknownNameError:
    return UnknownNameError((Problem(message, "", remedy),))


def refused(message: str, remedy: str) -> PlanFileError:
    """Refuse what was written on the command line."""
    return PlanFileError((Problem(message, "", remedy),))


def _nearest(name: str, known: Iterable[str]) -> str:
    names = list(known)
    near = near_names(name, names)
    if near:
        return f"did you mean {' or '.join(near)}?"
    return f"there are {', '.join(names[:12])}" if names else "the plan has none"


def known_of(snapshot: Snapshot) -> Known:
    """Tell what the accepted schedule knows."""
    return Known(
        {task.id: KnownTask(task.title, task.kind, task.times, task.gates) for task in snapshot.tasks},
        snapshot.people,
        snapshot.vehicles,
        snapshot.groups,
        snapshot.systems,
        ZoneInfo(snapshot.zone),
        snapshot,
        snapshot.premises.places if snapshot.premises else {},
    )


def moment_in(text: str, zone: ZoneInfo) -> int:
    """Read a moment; without an offset it is in the plan's zone.

    >>> moment_in("2027-03-13 08:00", ZoneInfo("Europe/Dublin"))
    30082080
    """
    try:
        moment = datetime.fromisoformat(text.strip())
        if len(text.strip()) <= 10 or not 2000 <= moment.year < 2200:  # a day alone says no hour
            raise ValueError
        return to_minutes(moment if moment.tzinfo else moment.replace(tzinfo=zone))
    except (ValueError, OverflowError):
        raise refused(
            f"{quoted(text)} is not a day with a time", 'write it like "2027-03-13 08:00"'
        ) from None


def day_in(text: str) -> date:
    """Read a day.

    >>> day_in("2027-03-13")
    datetime.date(2027, 3, 13)
    """
    try:
        if len(text.strip()) != 10:
            raise ValueError
        return date.fromisoformat(text.strip())
    except ValueError:
        raise refused(f"{quoted(text)} is not a day", 'write it like "2027-03-13"') from None


def days_in(text: str) -> tuple[date, date]:
    """Read a day, or the first and last of some days.

    >>> days_in("2027-02-13 to 2027-02-14")
    (datetime.date(2027, 2, 13), datetime.date(2027, 2, 14))
    """
    first, _, last = text.partition(" to ")
    begin, end = day_in(first), day_in(last or first)
    if end < begin:
        raise refused(f"{quoted(text)} ends before it begins", f'write "{end} to {begin}"')
    return begin, end


def shift_in(text: str) -> int:
    """Read by how many days all dates move.

    >>> shift_in("+14 days"), shift_in("-1 day"), shift_in("2 weeks")
    (14, -1, 14)
    """
    found = re.fullmatch(r"([+-]?)\s*([0-9]{1,3})\s*(day|week)s?", text.strip().casefold())
    if found is None or not int(found[2]):
        raise refused(f"{quoted(text)} is no number of days", 'write it like "+14 days"')
    days = int(found[2]) * (7 if found[3] == "week" else 1)
    return -days if found[1] == "-" else days


def minutes_in(text: str) -> int:
    """Read how long something took.

    >>> minutes_in("1 h 30 min")
    90
    """
    try:
        return round(Measure("min", 0, 525_600, "50 min").read(text))
    except QuantityError as error:
        raise refused(error.message, error.remedy) from None
