"""The day: a column a person and a vehicle, time downwards, each task a block as long as it takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from moveplan.network.task import Kind
from moveplan.outputs.agenda import Agenda, Line
from moveplan.outputs.figures.scale import Mark, Scale, around, in_lines
from moveplan.outputs.outlook import Outlook
from moveplan.times import Interval

_AXIS, _HEAD, _GAP, _FOOT = 76, 44, 8, 12
_COLUMN = 168.0
_PX_PER_MIN = 1.4
_TEXT_PX, _CHARACTER_PX, _LEAST_TEXT_PX = 15.0, 7.2, 11.0
_MARGIN_MIN = 15
_CUT = 9.0


@dataclass(frozen=True, slots=True)
class Block:
    """One task in one column.

    Parameters
    ----------
    line : Line
        The task. [-]
    span : Interval
        The stretch of work, UTC. [min]
    x, y, width, height : float
        Of the block. [px]
    text : tuple of str
        Its title in as many lines as fit. [-]
    """

    line: Line
    span: Interval
    x: float
    y: float
    width: float
    height: float
    text: tuple[str, ...]

    @property
    def outline(self) -> str:
        """Outline with its upper right corner cut off, as SVG writes it."""
        cut = min(_CUT, self.height / 2)
        return (
            f"M{self.x:g} {self.y:g}h{self.width - cut:g}l{cut:g} {cut:g}"
            f"v{self.height - cut:.4g}h{-self.width:g}z"
        )


@dataclass(frozen=True, slots=True)
class Column:
    """One person, one vehicle, or what goes on by itself.

    Parameters
    ----------
    kind : str
        ``person``, ``vehicle`` or ``waiting``. [-]
    id, name : str
        Of the person or vehicle; empty for what waits. [-]
    x, width : float
        Left edge and width. [px]
    blocks : tuple of Block
        In order of time. [-]
    """

    kind: Literal["person", "vehicle", "waiting"]
    id: str
    name: str
    x: float
    width: float
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class DayPicture:
    """One day.

    Parameters
    ----------
    day : date
        The local day. [-]
    scale : Scale
        Time. [min]
    columns : tuple of Column
        People first. [-]
    hours : tuple of Mark
        Full hours. [px]
    width, height : float
        Of the picture. [px]
    """

    day: date
    scale: Scale
    columns: tuple[Column, ...]
    hours: tuple[Mark, ...]
    width: float
    height: float


def moving_days(agenda: Agenda) -> tuple[date, ...]:
    """List the days whose tasks are tied together; without such, the day with the most tasks.

    Parameters
    ----------
    agenda : Agenda
        The tasks. [-]
    """
    tied = sorted({line.day for line in agenda.lines if line.task.day})
    if tied or not agenda.lines:
        return tuple(tied)
    days = [line.day for line in agenda.lines if line.placement.people]
    return (max(sorted(set(days)), key=days.count),) if days else ()


def day_pictures(outlook: Outlook, agenda: Agenda) -> tuple[DayPicture, ...]:
    """Draw the moving days.

    Parameters
    ----------
    outlook : Outlook
        What was found. [-]
    agenda : Agenda
        Its tasks. [-]
    """
    return tuple(_picture(outlook, agenda, day) for day in moving_days(agenda))


def _picture(outlook: Outlook, agenda: Agenda, day: date) -> DayPicture:
    lines = [line for line in agenda.lines if line.day == day and not line.task.repeats]
    manned = [line.placement.segments[0] for line in lines if line.placement.people]
    scale = Scale(around(manned or [lines[0].placement.segments[0]], _MARGIN_MIN), _PX_PER_MIN, _HEAD)
    columns = tuple(_columns(outlook, lines, scale))
    return DayPicture(
        day,
        scale,
        columns,
        scale.hours(outlook.project.plan.zone),
        columns[-1].x + columns[-1].width + _GAP if columns else _AXIS + _GAP,
        scale.bottom + _FOOT,
    )


def _columns(outlook: Outlook, lines: list[Line], scale: Scale) -> Iterator[Column]:
    problem = outlook.project.scheduling
    wanted: list[tuple[Literal["person", "vehicle", "waiting"], str, str, list[Line]]] = [
        *(
            ("person", person.id, person.name, [line for line in lines if person.id in line.placement.people])
            for person in problem.people
        ),
        *(
            ("vehicle", one.id, one.name, [line for line in lines if one.id in line.placement.vehicles])
            for one in problem.vehicles
        ),
        ("waiting", "", "", [line for line in lines if line.task.kind is Kind.WAIT]),
    ]
    used = [row for row in wanted if row[3]]
    for number, (kind, key, name, own) in enumerate(used):
        x = _AXIS + number * (_COLUMN + _GAP)
        yield Column(kind, key, name, x, _COLUMN, tuple(_blocks(own, x, scale)))


def _blocks(lines: Iterable[Line], x: float, scale: Scale) -> Iterator[Block]:
    for line in lines:
        for span in line.placement.segments:
            if span.overlaps(scale.span):
                y = scale.y(span.start)
                height = round(scale.y(span.finish) - y, 1)
                yield Block(line, span, x, y, _COLUMN, height, _text(line, height))


def _text(line: Line, height: float) -> tuple[str, ...]:
    """Write the title where there is room for it, else its number alone, else nothing."""
    rows = in_lines(
        f"{line.number}. {line.task.title}",
        int((_COLUMN - 2 * _GAP) / _CHARACTER_PX),
        int((height - 2) // _TEXT_PX),
    )
    return rows or ((f"{line.number}.",) if height >= _LEAST_TEXT_PX else ())
