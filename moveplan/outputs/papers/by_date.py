"""The list as people work through it: before, on and after the moving day, week by week and day by day."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from typing import Literal

from moveplan.outputs.agenda import Agenda, Line, Opening
from moveplan.outputs.figures.day import moving_days
from moveplan.outputs.outlook import Outlook
from moveplan.practice.project import Caution
from moveplan.times import to_local

Kind = Literal["before", "moving", "between", "after", "all"]


@dataclass(frozen=True, slots=True)
class Entry:
    """One task on its day, with the care it calls for.

    Parameters
    ----------
    care : tuple of Caution
        Cautions that no task before it on that day calls for: told in full.
    again : tuple of str
        Ids of those that were told in full earlier on that day.
    """

    line: Line
    care: tuple[Caution, ...]
    again: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Day:
    """One local day.

    Parameters
    ----------
    start : int
        Start of its first task, UTC. [min]
    entries : tuple of Entry
        In order of start.
    openings : tuple of Opening
        Containers that are closed on it.
    recurring : tuple of Line
        Care that began on an earlier day and is due again.
    """

    date: date
    start: int
    entries: tuple[Entry, ...]
    openings: tuple[Opening, ...]
    recurring: tuple[Line, ...]

    @property
    def people(self) -> tuple[str, ...]:
        """Ids of all who are needed on it, in order of their first task."""
        return tuple(dict.fromkeys(key for entry in self.entries for key in entry.line.placement.people))

    @property
    def unpacking(self) -> tuple[str, ...]:
        """How its containers are to be opened, each way once."""
        return tuple(
            dict.fromkeys(text for opening in self.openings if (text := opening.stay.safe.unpacking))
        )


@dataclass(frozen=True, slots=True)
class Week:
    """The days of one week with work in them.

    Parameters
    ----------
    weeks : int
        From the week of the move: before it on the first part of the list, after it on the last. [week]
    days : tuple of Day
        In order.
    """

    weeks: int
    days: tuple[Day, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the list.

    Parameters
    ----------
    key : str
        A name of its own, for links.
    kind : str
        ``before``, ``moving``, ``between`` or ``after``; ``all`` where there is no moving day.
    weeks : tuple of Week
        In order.
    """

    key: str
    kind: Kind
    weeks: tuple[Week, ...]

    @property
    def days(self) -> tuple[Day, ...]:
        """All its days, in order."""
        return tuple(day for week in self.weeks for day in week.days)


def parts_of(outlook: Outlook, agenda: Agenda) -> tuple[Part, ...]:
    """Divide the list at the moving days."""
    tied = moving_days(agenda) if any(line.task.day for line in agenda.lines) else ()
    days = groupby(agenda.lines, key=lambda line: line.day)
    made = [_day(outlook, agenda, day, tuple(lines)) for day, lines in days]
    used: set[str] = set()
    parts: list[Part] = []
    for kind, own in groupby(made, key=lambda day: _kind(day.date, tied)):
        key = kind if kind not in used else f"{kind}-{len(parts)}"
        used.add(key)
        parts.append(Part(key, kind, tuple(_weeks(own, tied, kind))))
    return tuple(parts)


def _kind(day: date, tied: tuple[date, ...]) -> Kind:
    if not tied:
        return "all"
    if day in tied:
        return "moving"
    return "before" if day < tied[0] else "after" if day > tied[-1] else "between"


def _weeks(days: Iterable[Day], tied: tuple[date, ...], kind: Kind) -> Iterator[Week]:
    for monday, own in groupby(days, key=lambda day: _monday(day.date)):
        move = _monday(tied[-1] if kind == "after" else tied[0]) if tied else monday
        yield Week(abs((move - monday).days) // 7, tuple(own))


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def _day(outlook: Outlook, agenda: Agenda, day: date, lines: tuple[Line, ...]) -> Day:
    zone = outlook.project.plan.zone
    return Day(
        day,
        lines[0].placement.start,
        tuple(_entries(outlook, lines)),
        tuple(one for one in agenda.openings if to_local(one.stay.span.start, zone).date() == day),
        tuple(
            line
            for line in agenda.lines
            if line.task.repeats
            and line.day < day
            and any(to_local(span.start, zone).date() == day for span in line.placement.segments)
        ),
    )


def _entries(outlook: Outlook, lines: tuple[Line, ...]) -> Iterator[Entry]:
    texts = {caution.id: caution for caution in outlook.project.cautions}
    told: set[str] = set()
    for line in lines:
        named = [key for key in line.task.cautions if key in texts]
        yield Entry(
            line,
            tuple(texts[key] for key in named if key not in told),
            tuple(key for key in named if key in told),
        )
        told.update(named)
