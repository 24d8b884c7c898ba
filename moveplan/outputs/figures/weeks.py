"""The weeks: waits as pools beside the axis, recurring care as strings of beads, days of work as labels.

Time runs down; a day with work is as tall as its words need.
"""

from __future__ import annotations

import math
from bisect import bisect
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import accumulate, groupby

from moveplan.network.task import Kind
from moveplan.outputs.agenda import Agenda, Line
from moveplan.outputs.figures.day import moving_days
from moveplan.outputs.figures.scale import BOLD_PX, CHARACTER_PX, FITS, Mark, wrapped
from moveplan.outputs.outlook import Outlook
from moveplan.times import MINUTES_A_DAY, at_local, to_local

_AXIS, _HEAD, _GAP, _FOOT = 66, 40, 6, 20
"""Room for dates, at the head, between columns, and at the foot. Chosen. [px]"""
_COLUMN, _LEAST_LABELS = 18.0, 160.0
"""Room of one column, and the least of the words beside them. Chosen. [px]"""
_TIE, _EDGE = 12.0, 6.0
"""Room between columns and words, and right of the words. Chosen. [px]"""
LINE_PX, APART_PX = 17.0, 3.0
"""Height of a line of words, and room between the words of two days. Chosen. [px]"""
_DATE_PX = 13 * BOLD_PX
"""Room for a day such as "Wed, 31 March" before the words; one with its year has a line of its own. [px]"""
DAY_PX = 12.0
"""Height of a day without work. Chosen. [px]"""
_NUMBER_MIN = math.ceil((3 * BOLD_PX + 4) / DAY_PX) * MINUTES_A_DAY
"""Time above a pool over which its number stands upright, on days without work. [min]"""
_SHORTEST_POOL_MIN = 720
"""Shortest wait that is drawn in the picture of weeks: half a day. Chosen. [min]"""


@dataclass(frozen=True, slots=True)
class Pool:
    """A wait that is long enough to be seen.

    Parameters
    ----------
    x, y, width, height : number
        Of the pool. [px]
    beads : tuple of int
        Heights of single times, where it is recurring care. [px]
    """

    line: Line
    x: float
    y: int
    width: float
    height: int
    beads: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class DayLabel:
    """A day with work.

    Parameters
    ----------
    day : date
        The local day.
    moment : int
        Start of its first task, UTC. [min]
    first : Line
        Its first task.
    more : int
        How many tasks there are beside the first.
    title : tuple of str
        The first task, in lines; the first line stands beside the day and may be empty.
    moving : bool
        Whether it is a moving day.
    """

    day: date
    moment: int
    first: Line
    more: int
    title: tuple[str, ...]
    moving: bool

    @property
    def height(self) -> float:
        """Room that its words need. [px]."""
        return LINE_PX * len(self.title) + APART_PX


@dataclass(frozen=True, slots=True)
class Days:
    """Time down the page, each day as tall as what is said of it.

    Parameters
    ----------
    midnights : tuple of int
        Where local days begin, and where the last of them ends, UTC. [min]
    tops : tuple of float
        Their heights in the picture. [px]
    """

    midnights: tuple[int, ...]
    tops: tuple[float, ...]

    def y(self, moment: int) -> int:
        """Place a moment within its day, to the pixel.

        Parameters
        ----------
        moment : int
            UTC, on one of the days. [min]
        """
        at = min(max(bisect(self.midnights, moment), 1), len(self.midnights) - 1)
        (begin, end), (top, bottom) = self.midnights[at - 1 : at + 1], self.tops[at - 1 : at + 1]
        return round(top + (bottom - top) * (moment - begin) / (end - begin))


@dataclass(frozen=True, slots=True)
class Weeks:
    """The picture.

    Parameters
    ----------
    days : Days
        Time.
    pools : tuple of Pool
        Waits and recurring care.
    labels : tuple of (float, DayLabel)
        Height and words of days with work, in order. [px]
    mondays : tuple of Mark
        Where weeks begin. [px]
    x_labels, width, height : float
        Where labels begin, and the size of the picture. [px]
    """

    days: Days
    pools: tuple[Pool, ...]
    labels: tuple[tuple[float, DayLabel], ...]
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
    zone = outlook.project.plan.zone
    columns = _columns(agenda.lines)
    x_labels = _AXIS + _COLUMN * (max(columns.values(), default=-1) + 1) + _TIE
    width = max(FITS, x_labels + _LEAST_LABELS + _EDGE)
    labels = tuple(_labels(agenda, width - _EDGE - x_labels))
    heights = {label.day: label.height for label in labels}
    first = min(line.placement.start for line in agenda.lines)
    last = max(line.placement.finish for line in agenda.lines)
    dates = [to_local(first, zone).date()]
    while dates[-1] <= to_local(last, zone).date():
        dates.append(dates[-1] + timedelta(days=1))
    days = Days(
        tuple(at_local(day, 0, zone) for day in dates),
        tuple(accumulate((heights.get(day, DAY_PX) for day in dates[:-1]), initial=_HEAD)),
    )
    top_of = dict(zip(dates, days.tops, strict=True))
    return Weeks(
        days,
        tuple(_pool(line, _AXIS + _COLUMN * column, days) for line, column in columns.items()),
        tuple((top_of[label.day], label) for label in labels),
        tuple(
            Mark(top_of[day], at)
            for day, at in zip(dates, days.midnights, strict=True)
            if day.weekday() == 0 and at <= last
        ),
        x_labels,
        width,
        days.tops[-1] + _FOOT,
    )


def _is_pool(line: Line) -> bool:
    long = line.placement.finish - line.placement.start >= _SHORTEST_POOL_MIN
    return line.task.repeats is not None or (line.task.kind is Kind.WAIT and long)


def _columns(lines: Iterable[Line]) -> dict[Line, int]:
    """Set pools that overlap side by side, each in the first column in which its number has room above it too."""
    free_from: list[int] = []
    columns = {}
    for line in filter(_is_pool, lines):
        column = next(
            (at for at, free in enumerate(free_from) if free <= line.placement.start), len(free_from)
        )
        free_from[column : column + 1] = [line.placement.finish + _NUMBER_MIN]
        columns[line] = column
    return columns


def _pool(line: Line, x: float, days: Days) -> Pool:
    y, end = days.y(line.placement.start), days.y(line.placement.finish)
    beads = tuple(days.y(span.start) for span in line.placement.segments) if line.task.repeats else ()
    return Pool(line, x, y, _COLUMN - _GAP, end - y, beads)


def _labels(agenda: Agenda, room: float) -> Iterator[DayLabel]:
    """Wrap the words of each day; the first line leaves room for the date."""
    moving = moving_days(agenda)
    beside = "\N{NO-BREAK SPACE}" * int(_DATE_PX / CHARACTER_PX)
    work = [line for line in agenda.lines if not _is_pool(line)]
    for day, found in groupby(work, key=lambda line: line.day):
        first, *others = found
        more = f" +{len(others)}" if others else ""
        lines = wrapped(f"{beside} {first.task.title}{more}", int(room / CHARACTER_PX))
        title = ("", "") if day in moving else tuple(line.strip() for line in lines)
        yield DayLabel(day, first.placement.start, first, len(others), title, day in moving)
