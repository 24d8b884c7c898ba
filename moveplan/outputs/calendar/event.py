"""What stands in the calendar, before it is written: events and to-dos as values checked at the door.

They know nothing of iCalendar's spelling; ``write.py`` does. What a reader would choke on (an end that is not
after its start, a UID of the wrong form) is refused here: hardly any reader says so, nor does the library.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from zoneinfo import ZoneInfo

from moveplan.network.link import Relation
from moveplan.network.task import State

_UID = re.compile(r"[A-Za-z0-9-]{1,254}")


class Status(StrEnum):
    """STATUS of an event, RFC 5545, section 3.8.1.11."""

    TENTATIVE = "TENTATIVE"
    CONFIRMED = "CONFIRMED"


@dataclass(frozen=True, slots=True)
class Timed:
    """A stretch between two instants.

    Parameters
    ----------
    start, end : int
        UTC, ``start < end``. [min]
    zone : ZoneInfo
        In whose wall-clock time it is to be written.
    """

    start: int
    end: int
    zone: ZoneInfo

    def __post_init__(self) -> None:
        if not self.start < self.end:
            msg = f"an event must end after its start, not run from {self.start} to {self.end}"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class Days:
    """Whole days.

    Parameters
    ----------
    first, after : date
        The first day, and the day after the last.
    """

    first: date
    after: date

    def __post_init__(self) -> None:
        if not self.first < self.after:
            msg = f"a span of days must end after its first day, not run from {self.first} to {self.after}"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class Words:
    """What people read.

    Parameters
    ----------
    title : str
        One line.
    notes : str
        Any number of lines; empty: none.
    location : str
        One line; empty: none.
    category : str
        One line; empty: none.
    """

    title: str
    notes: str = ""
    location: str = ""
    category: str = ""

    def __post_init__(self) -> None:
        if not self.title:
            msg = "an event needs a title"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class Alarm:
    """One reminder, before the start of a timed event.

    Parameters
    ----------
    uid : str
        UID of the alarm itself.
    before_min : int
        How long before, 0 or more. [min]
    """

    uid: str
    before_min: int

    def __post_init__(self) -> None:
        _check_uid(self.uid)
        if self.before_min < 0:
            msg = f"an alarm must not come after the start ({self.before_min} min)"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class Successor:
    """A link to an event that waits for this one.

    Parameters
    ----------
    uid : str
        UID of the event that waits.
    relation : Relation
        Which ends the gap is measured between.
    gap_min : int
        Least gap, negative for a lead. [min]
    """

    uid: str
    relation: Relation
    gap_min: int

    def __post_init__(self) -> None:
        _check_uid(self.uid)


@dataclass(frozen=True, slots=True)
class Daily:
    """An event that comes back on the days after its first.

    Parameters
    ----------
    count : int
        Days from the first to the last, those without it included.
    without : tuple of date
        Days between them on which there is nothing to do.
    """

    count: int
    without: tuple[date, ...] = ()

    def __post_init__(self) -> None:
        if not len(self.without) < self.count:
            msg = f"an event that comes back needs a day on which it does ({self.count} days)"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One event.

    Parameters
    ----------
    key : str
        What it is of the plan, such as ``drain-display/1``.
    uid : str
        Made from the key.
    when : Timed or Days
        When it takes place.
    words : Words
        What people read.
    status : Status
        Whether the date is firm.
    busy : bool
        Whether it takes somebody's time; whole days never do.
    private : bool
        Whether others who see the calendar are kept from it.
    alarm : Alarm or None
        Only on timed events.
    successors : tuple of Successor
        Links, in order.
    daily : Daily or None
        On which days it comes back; None: once only.
    """

    key: str
    uid: str
    when: Timed | Days
    words: Words
    status: Status = Status.CONFIRMED
    busy: bool = False
    private: bool = False
    alarm: Alarm | None = None
    successors: tuple[Successor, ...] = ()
    daily: Daily | None = None

    def __post_init__(self) -> None:
        _check_uid(self.uid)
        if isinstance(self.when, Days) and self.daily:
            msg = f"{self.key}: whole days do not come back day by day"
            raise ValueError(msg)
        if isinstance(self.when, Days) and (self.busy or self.alarm):
            msg = f"{self.key}: whole days neither block time nor ring"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDo:
    """One to-do, with a due date and no start.

    Parameters
    ----------
    key, uid : str
        As of an event.
    due : date
        The last working day.
    words : Words
        What people read.
    state : State
        How far it is.
    completed : int or None
        When it was done, UTC; only with COMPLETED. [min]
    private : bool
        As of an event.
    """

    key: str
    uid: str
    due: date
    words: Words
    state: State = State.NEEDS_ACTION
    completed: int | None = None
    private: bool = False

    def __post_init__(self) -> None:
        _check_uid(self.uid)
        if (self.completed is not None) != (self.state is State.COMPLETED):
            msg = f"{self.key}: a time of completion goes with COMPLETED and with nothing else"
            raise ValueError(msg)


def _check_uid(uid: str) -> None:
    if not _UID.fullmatch(uid):
        msg = f"{uid!r} is no UID: letters, digits and hyphens, fewer than 255"
        raise ValueError(msg)
