"""What waits for what: boxes in layers, each below everything it waits for, with lines between them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import accumulate

from moveplan.network.link import Link
from moveplan.outputs.agenda import Agenda, Line
from moveplan.outputs.figures.layers import Layers, layered, tracks_of
from moveplan.outputs.figures.scale import in_lines
from moveplan.outputs.outlook import Outlook

_MOST_BOXES = 400
"""Above so many tasks a picture helps nobody; the table of links stays. [-]"""
_LEFT, _TRACK, _TOP = 10.0, 7.0, 12.0
_ROOM, _WIDEST, _BESIDE, _BETWEEN = 940.0, 480.0, 12.0, 20.0
_MOST_IN_A_ROW = 4
_TEXT_PX, _SMALL_TEXT_PX = 15.0, 13.0
_CHARACTER_PX, _BOLD_PX, _SMALL_PX = 6.8, 7.7, 5.8
_PADDING, _MARK = 5.0, 14.0
_MOST_LINES = 3


@dataclass(frozen=True, slots=True)
class Row:
    """One task in words.

    Parameters
    ----------
    line : Line
        The task. [-]
    waits_for : tuple of (int, Link)
        Numbers of the tasks it waits for, with the links. [-]
    """

    line: Line
    waits_for: tuple[tuple[int, Link], ...]

    @property
    def driving(self) -> bool:
        """Whether it belongs to the chain that decides a milestone."""
        return self.line.times is not None and self.line.times.critical

    @property
    def numbers(self) -> tuple[int, ...]:
        """Numbers of the tasks it waits for; one that it must only follow soon enough is none of them."""
        found = {
            number
            for number, link in self.waits_for
            if link.min_gap_min is not None or link.max_gap_min is None
        }
        return tuple(sorted(found))


@dataclass(frozen=True, slots=True)
class Box:
    """One task in the picture.

    Parameters
    ----------
    row : Row
        The task. [-]
    x, y, width, height : float
        Of the box. [px]
    text : tuple of str
        Its title in as many lines as it takes. [-]
    after : str
        Numbers of the tasks it waits for, as many as fit. [-]
    """

    row: Row
    x: float
    y: float
    width: float
    height: float
    text: tuple[str, ...]
    after: str

    @property
    def middle(self) -> float:
        """Middle from left to right. [px]."""
        return float(round(self.x + self.width / 2))


@dataclass(frozen=True, slots=True)
class Thread:
    """One link as it is drawn.

    Parameters
    ----------
    before, after : int
        Numbers of the two tasks. [-]
    path : str
        As SVG writes it: from the foot of one box to the head of the other. [-]
    driving : bool
        Whether both ends belong to the deciding chain. [-]
    """

    before: int
    after: int
    path: str
    driving: bool


@dataclass(frozen=True, slots=True)
class Waiting:
    """The picture, and the table that says the same.

    Parameters
    ----------
    rows : tuple of Row
        Tasks in order of start. [-]
    boxes : tuple of Box
        Tasks in layers; none where there are too many to be read. [-]
    threads : tuple of Thread
        Links that do not follow from others. [-]
    width, height : float
        Size of the picture. [px]
    """

    rows: tuple[Row, ...]
    boxes: tuple[Box, ...]
    threads: tuple[Thread, ...]
    width: float
    height: float


def waiting(outlook: Outlook, agenda: Agenda) -> Waiting | None:
    """Draw the network.

    Parameters
    ----------
    outlook : Outlook
        What was found. [-]
    agenda : Agenda
        Its tasks. [-]

    Returns
    -------
    Waiting or None
        None where there is nothing to draw. [-]
    """
    if not agenda.lines:
        return None
    rows = tuple(_rows(outlook, agenda))
    if len(rows) > _MOST_BOXES:
        return Waiting(rows, (), (), 0.0, 0.0)
    layers = layered(
        (row.line.number for row in rows),
        tuple(_waits(rows)),
        frozenset(row.line.number for row in rows if row.driving),
        _MOST_IN_A_ROW,
    )
    return _drawn(rows, layers)


def _rows(outlook: Outlook, agenda: Agenda) -> Iterator[Row]:
    before: dict[str, list[tuple[int, Link]]] = {line.task.id: [] for line in agenda.lines}
    for link in outlook.project.network.links:
        line = agenda.line(link.before)
        if line is not None and link.after in before:
            before[link.after].append((line.number, link))
    return (Row(line, tuple(before[line.task.id])) for line in agenda.lines)


def _waits(rows: Iterable[Row]) -> Iterator[tuple[int, int]]:
    return ((number, row.line.number) for row in rows for number in row.numbers)


def _drawn(rows: tuple[Row, ...], layers: Layers) -> Waiting:
    at = {number: level for level, numbers in enumerate(layers.rows) for number in numbers}
    tracks = _tracks(layers.links, at)
    left = _LEFT + _TRACK * (max(tracks.values(), default=-1) + 1) + _TRACK
    boxes = tuple(_boxes({row.line.number: row for row in rows}, layers, left))
    by_number = {box.row.line.number: box for box in boxes}
    threads = tuple(
        Thread(
            one,
            other,
            _path(by_number[one], by_number[other], tracks.get(one) if at[other] - at[one] > 1 else None),
            by_number[one].row.driving and by_number[other].row.driving,
        )
        for one, other in layers.links
    )
    width = max(box.x + box.width for box in boxes) + _LEFT
    return Waiting(rows, boxes, threads, round(width, 1), max(box.y + box.height for box in boxes) + _TOP)


def _tracks(links: Iterable[tuple[int, int]], at: Mapping[int, int]) -> dict[int, int]:
    """Give each task whose links pass rows by a track beside the boxes."""
    last: dict[int, int] = {}
    for one, other in links:
        if at[other] - at[one] > 1:
            last[one] = max(last.get(one, 0), at[other])
    order = sorted(last, key=lambda number: (at[number], number))
    return dict(zip(order, tracks_of((at[one], last[one]) for one in order), strict=True))


def _boxes(rows: Mapping[int, Row], layers: Layers, left: float) -> Iterator[Box]:
    y = _TOP
    for numbers in layers.rows:
        count = len(numbers)
        width = float(math.floor(min(_WIDEST, (_ROOM - left - _BESIDE * (count - 1)) / count)))
        made = [_box(rows[number], width) for number in numbers]
        height = max(len(text) for text, _ in made) * _TEXT_PX + 2 * _PADDING + _SMALL_TEXT_PX
        starts = accumulate([width + _BESIDE] * (count - 1), initial=left)
        for number, x, (text, after) in zip(numbers, starts, made, strict=True):
            yield Box(rows[number], round(x, 1), y, width, round(height, 1), text, after)
        y = round(y + height + _BETWEEN, 1)


def _box(row: Row, width: float) -> tuple[tuple[str, ...], str]:
    room = width - 2 * _PADDING - _MARK
    text = in_lines(
        f"{row.line.number}. {row.line.task.title}",
        int(room / (_BOLD_PX if row.driving else _CHARACTER_PX)),
        _MOST_LINES,
    )
    (after,) = in_lines(", ".join(map(str, row.numbers)), int(room / _SMALL_PX) - 18, 1) or ("",)
    return text, after


def _path(one: Box, other: Box, track: int | None) -> str:
    """Draw a line from foot to head: straight on to the next row, or along a track beside the rows."""
    foot, head = round(one.y + one.height, 1), other.y
    if track is None:
        half = round((foot + head) / 2, 1)
        return f"M{one.middle:g} {foot:g}C{one.middle:g} {half:g} {other.middle:g} {half:g} {other.middle:g} {head:g}"
    x, bend = _LEFT + _TRACK * track, 3.0 + 2.0 * (track % 4)
    start, end = one.x + 12 + 3 * (track % 4), other.x + 12 + 3 * (track % 4)
    return f"M{start:g} {foot:g}V{foot + bend:g}H{x:g}V{head - 12 + bend:g}H{end:g}V{head:g}"
