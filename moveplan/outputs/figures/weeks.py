"""The weeks: waits as pools beside the axis, recurring care as strings of beads, days of work as labels."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from moveplan.network.task import Kind
from moveplan.outputs.agenda import Agenda, Line
from moveplan.outputs.figures.day import moving_days
from moveplan.outputs.figures.scale import Mark, Scale, around, in_lines
from moveplan.outputs.outlook import Outlook
from moveplan.times import MINUTES_A_DAY, Interval

_AXIS, _HEAD, _GAP, _FOOT = 112, 20, 8, 20
"""Room for dates, at the head, between columns, and at the foot. Chosen. [px]"""
_COLUMN, _LABELS = 26.0, 440.0
"""Room of one column, and of the words beside them. Chosen. [px]"""
_LABEL_PX, _LABEL_CHARACTERS = 18.0, 44
"""Height of a line of words, and its greatest length. Chosen. [px, character]"""
_PX_PER_DAY = 16.0
"""Scale of the weeks' picture. Chosen. [px/d]"""
_SHORTEST_POOL_MIN = 720
"""Shortest wait that is drawn in the picture of weeks: half a day. Chosen. [min]"""


@dataclass(frozen=True, slots=True)
class Pool:
    """A wait that is long enough to be seen.

    Parameters
    ----------
    x, y, width, height : float
        Of the pool. [px]
    beads : tuple of float
        Heights of single times, where it is recurring care. [px]
    """

    line: Line
    x: float
    y: float
    width: float
    height: float
    beads: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class DayLabel:
    """A day with work.

    Parameters
    ----------
    moment : int
        Start of its first task, UTC. [min]
    first, last : Line
        Its first and last task.
    more : int
        How many tasks there are beside the first.
    title : str
        The first task, cut to the width.
    y_true, y : float
        Where the day is, and where its label has room. [px]
    moving : bool
        Whether it is a moving day.
    """

    moment: int
    first: Line
    last: Line
    more: int
    title: str
    y_true: float
    y: float
    moving: bool


@dataclass(frozen=True, slots=True)
class Weeks:
    """The picture.

    Parameters
    ----------
    scale : Scale
        Time. [min]
    pools : tuple of Pool
        Waits and recurring care.
    labels : tuple of DayLabel
        Days with work, in order.
    mondays : tuple of Mark
        Where weeks begin. [px]
    x_labels, width, height : float
        Where labels begin, and the size of the picture. [px]
    """

    scale: Scale
    pools: tuple[Pool, ...]
    labels: tuple[DayLabel, ...]
    mondays: tuple[Mark, ...]
    x_labels: float
    width: float
    height: float


def weeks(outlook: Outlook, agenda: Agenda) -> Weeks | None:
    """Draw the whole project.

    Returns
    -------
    Weeks or None
        None where there is nothing to draw.
    """
    if not agenda.lines:
        return None
    whole = around((Interval(line.placement.start, line.placement.finish) for line in agenda.lines), 0)
    scale = Scale(whole, _PX_PER_DAY / MINUTES_A_DAY, _HEAD)
    pools = tuple(_pools(agenda.lines, scale))
    columns = round(max((pool.x for pool in pools), default=_AXIS - _COLUMN) - _AXIS + _COLUMN)
    labels = tuple(_labels(agenda, scale))
    x_labels = _AXIS + columns + 3 * _GAP
    bottom = max([scale.bottom, *(label.y for label in labels)])
    return Weeks(
        scale,
        pools,
        labels,
        scale.mondays(outlook.project.plan.zone),
        x_labels,
        x_labels + _LABELS,
        bottom + _FOOT,
    )


def _is_pool(line: Line) -> bool:
    long = line.placement.finish - line.placement.start >= _SHORTEST_POOL_MIN
    return line.task.repeats is not None or (line.task.kind is Kind.WAIT and long)


def _pools(lines: Iterable[Line], scale: Scale) -> Iterator[Pool]:
    """Set pools that overlap side by side, each in the first column that is free."""
    free_from: list[int] = []
    for line in lines:
        if not _is_pool(line):
            continue
        start, finish = line.placement.start, line.placement.finish
        column = next((at for at, free in enumerate(free_from) if free <= start), len(free_from))
        free_from[column : column + 1] = [finish + MINUTES_A_DAY]
        y = scale.y(start)
        beads = tuple(scale.y(span.start) for span in line.placement.segments) if line.task.repeats else ()
        yield Pool(line, _AXIS + column * _COLUMN, y, _COLUMN - _GAP, round(scale.y(finish) - y, 1), beads)


def _labels(agenda: Agenda, scale: Scale) -> Iterator[DayLabel]:
    moving = moving_days(agenda)
    work = [line for line in agenda.lines if not _is_pool(line)]
    last_y = 0.0
    for day, found in groupby(work, key=lambda line: line.day):
        lines = list(found)
        first = lines[0]
        y_true = scale.y(first.placement.start)
        last_y = max(y_true, last_y + _LABEL_PX)
        (title,) = in_lines(first.task.title, _LABEL_CHARACTERS, 1) or ("",)
        yield DayLabel(
            first.placement.start, first, lines[-1], len(lines) - 1, title, y_true, last_y, day in moving
        )
