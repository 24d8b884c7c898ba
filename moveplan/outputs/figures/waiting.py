"""What waits for what: one row a task in order of start, arcs from each task to those that wait for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from moveplan.network.link import Link
from moveplan.outputs.agenda import Agenda, Line
from moveplan.outputs.figures.scale import in_lines
from moveplan.outputs.outlook import Outlook

_ROW, _TOP = 24.0, 20.0
_ARCS, _TEXT, _WIDTH = 170.0, 190.0, 660.0
_CHARACTERS, _BOLD_CHARACTERS = 62, 48


@dataclass(frozen=True, slots=True)
class Row:
    """One task.

    Parameters
    ----------
    line : Line
        The task. [-]
    title : str
        Cut to the width. [-]
    y : float
        Middle of the row. [px]
    driving : bool
        Whether it belongs to the chain that decides a milestone. [-]
    waits_for : tuple of (int, Link)
        Numbers of the tasks it waits for, with the links. [-]
    """

    line: Line
    title: str
    y: float
    driving: bool
    waits_for: tuple[tuple[int, Link], ...]


@dataclass(frozen=True, slots=True)
class Arc:
    """One link.

    Parameters
    ----------
    link : Link
        What waits for what, and why. [-]
    path : str
        The arc as SVG writes it. [-]
    driving : bool
        Whether both its ends belong to the deciding chain. [-]
    """

    link: Link
    path: str
    driving: bool


@dataclass(frozen=True, slots=True)
class Waiting:
    """The picture.

    Parameters
    ----------
    rows : tuple of Row
        Tasks in order of start. [-]
    arcs : tuple of Arc
        Links. [-]
    x_marks, x_text, width, height : float
        Where marks and titles stand, and the size of the picture. [px]
    """

    rows: tuple[Row, ...]
    arcs: tuple[Arc, ...]
    x_marks: float
    x_text: float
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
    links = outlook.project.network.links
    before: dict[str, list[tuple[int, Link]]] = {line.task.id: [] for line in agenda.lines}
    for link in links:
        line = agenda.line(link.before)
        if line is not None and link.after in before:
            before[link.after].append((line.number, link))
    rows = {line.task.id: _row(at, line, tuple(before[line.task.id])) for at, line in enumerate(agenda.lines)}
    arcs = tuple(_arcs(links, rows))
    height = _TOP + len(rows) * _ROW
    return Waiting(tuple(rows.values()), arcs, _ARCS, _TEXT, _WIDTH, height)


def _row(at: int, line: Line, waits_for: tuple[tuple[int, Link], ...]) -> Row:
    driving = line.times is not None and line.times.critical
    (title,) = in_lines(line.task.title, _BOLD_CHARACTERS if driving else _CHARACTERS, 1) or ("",)
    return Row(line, title, _TOP + at * _ROW, driving, waits_for)


def _arcs(links: tuple[Link, ...], rows: dict[str, Row]) -> Iterator[Arc]:
    for link in links:
        one, other = rows.get(link.before), rows.get(link.after)
        if one is None or other is None:
            continue
        out = min(_ARCS - 10, 14 + 0.34 * abs(other.y - one.y))
        x = _ARCS - 8
        path = f"M{x:g} {one.y:g} C{x - out:g} {one.y:g} {x - out:g} {other.y:g} {x:g} {other.y:g}"
        yield Arc(link, path, one.driving and other.driving)
