"""What can be written into a journal: one frozen value a record."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """What all records share.

    Parameters
    ----------
    at : int
        When it happened, UTC. [min]
    """

    at: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted(Record):
    """The plan was accepted, with the schedule that was accepted.

    Parameters
    ----------
    schedule : Mapping of str to object
        As :func:`moveplan.journal.file.snapshot.snapshot_data` wrote it; read only where it is needed.
    reason : str
        Why it was accepted although it is unsafe; empty where it is not.
    """

    schedule: Mapping[str, Any] = field(repr=False)
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun(Record):
    """A task was begun.

    Parameters
    ----------
    task : str
        Id of the task.
    but : tuple of str
        Ids of what was to come before it and was not done; ``vehicle:van`` and the like for what has failed,
        ``wait:go-or-no-go:158`` for a least gap after it that had so many minutes to go.
    reason : str
        Why it was begun although a hold point before it was not met; empty where all were.
    """

    task: str
    but: tuple[str, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Done(Record):
    """A task is done.

    Parameters
    ----------
    task : str
        Id of the task.
    took_min : int or None
        How long it really took; None: from beginning to end, or not known. [min]
    time : int or None
        Which time of recurring care, from 1 on; None: all of the task.
    but, reason : tuple of str, str
        As in :class:`Begun`.
    """

    task: str
    took_min: int | None = None
    time: int | None = None
    but: tuple[str, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dropped(Record):
    """A task will not be done.

    Parameters
    ----------
    task, reason : str
        Id of the task, and why.
    """

    task: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Met(Record):
    """A hold point was met and signed.

    Parameters
    ----------
    task : str
        Id of the hold point.
    by : str
        Who signed.
    reason : str
        Why it was signed although a limit was not shown to be kept; empty where all were.
    lacking : tuple of str
        The limits that were not shown to be kept, in words.
    but : tuple of str
        Ids of what was to come before it and was not done; ``vehicle:van`` and the like for what has failed.
    """

    task: str
    by: str
    reason: str = ""
    lacking: tuple[str, ...] = ()
    but: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading(Record):
    """Something was measured.

    Parameters
    ----------
    what : str
        ``temperature``, ``salinity``, ``ammonia``, ``nitrite``, ``nitrate``, ``ph``, ``alkalinity``,
        ``oxygen``.
    value : float
        In the unit that the program keeps it in.
    said : str
        As it was written.
    system : str
        Id of the system; empty: the plan has one only.
    container : str
        Number of the container it was read in, which is no water of a system; empty: in none.
    """

    what: str
    value: float
    unit: str
    said: str
    system: str = ""
    container: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedMoment(Record):
    """A moment that others set has changed.

    Parameters
    ----------
    what : str
        ``access-from``, ``keys-back`` or ``earliest-start``, as under ``dates:`` of the plan.
    to : int
        The new moment, UTC. [min]
    """

    what: str
    to: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedDay(Record):
    """A day that others set has changed.

    Parameters
    ----------
    what : str
        ``move-day`` or ``fall-back-day``, as under ``dates:`` of the plan.
    day : date
        The new day.
    """

    what: str
    day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedDates(Record):
    """All dates of the move went along by so many days: moving day, fall-back, keys and hire.

    Parameters
    ----------
    days : int
        How many days later; negative: earlier. [day]
    """

    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Out(Record):
    """Somebody is not there on some days.

    Parameters
    ----------
    person : str
        Id of the person.
    first, last : date
        Local days, both included.
    """

    person: str
    first: date
    last: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Back(Record):
    """Somebody is there after all on some days, whatever was said before.

    Parameters
    ----------
    person, first, last : str, date, date
        As in :class:`Out`.
    """

    person: str
    first: date
    last: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Vehicle(Record):
    """A vehicle is another than the plan says.

    Parameters
    ----------
    vehicle : str
        Id of the vehicle.
    payload_kg : float or None
        What it may carry now; None: as before. [kg]
    since, until : int or None
        When it may be used, UTC; None: as before. [min]
    """

    vehicle: str
    payload_kg: float | None = None
    since: int | None = None
    until: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted(Record):
    """There are more or fewer animals of a group than the plan says.

    Parameters
    ----------
    group : str
        Id of the group.
    change : int
        How many came; negative: how many were lost.
    reason : str
        Why, as far as is known.
    container : str
        Number of the container they were in; empty: in none, or not known.
    """

    group: str
    change: int
    reason: str = ""
    container: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lid(Record):
    """Something was done to the lids of a group's containers, or of one container by its number.

    Parameters
    ----------
    group : str
        Id of the group; empty: the container says it.
    container : str
        Number of the container; empty: all of the group.
    """

    group: str = ""
    container: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shut(Lid):
    """They were closed.

    Parameters
    ----------
    but, reason : tuple of str, str
        As in :class:`Begun`, of the task that fills them.
    """

    but: tuple[str, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened(Lid):
    """They were opened."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tended(Record):
    """Something was done at a container whose lid stays as it is.

    Parameters
    ----------
    container : str
        Its number.
    what : str
        ``topped-up``, ``air-on``, ``air-off`` or ``moved``.
    where : str
        Where it was moved to; empty: it was not.
    """

    container: str
    what: str
    where: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spent(Record):
    """Money was spent.

    Parameters
    ----------
    amount : str
        A decimal number in the plan's currency.
    """

    amount: str
    item: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Note(Record):
    """Something worth keeping.

    Parameters
    ----------
    text : str
        The words.
    trouble, container : str
        What goes wrong, one of ``TROUBLES``, and the number of the container where it does; empty: nothing, or in
        none.
    """

    text: str
    trouble: str = ""
    container: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Undo(Record):
    """An earlier record does not count; undoing an undo makes it count again.

    Parameters
    ----------
    line : int
        Line of that record in the journal.
    """

    line: int


@dataclass(frozen=True, slots=True)
class Entry:
    """A record where it stands.

    Parameters
    ----------
    line : int
        Line of the file, from 1 on; it never changes, because nothing is ever taken out.
    record : Record
        What it says.
    source : str
        Where it was merged from; empty: written by hand. Nothing is merged twice.
    """

    line: int
    record: Record
    source: str = ""
