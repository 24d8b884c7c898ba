"""The day as paths: places side by side, time downwards, one thread a person, tied where hands meet at a task."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from moveplan.network.task import Kind
from moveplan.outputs.agenda import Agenda, Line
from moveplan.outputs.figures.numbers import Box, broken, lowered, number_box
from moveplan.outputs.figures.scale import Mark, Scale, around
from moveplan.outputs.outlook import Outlook
from moveplan.times import Interval

_AXIS, _GAP, _FOOT = 50, 6.0, 14
"""Room for the hours, between places, and at the foot. Chosen. [px]"""
_HEAD = 134.0
"""Room for the name of a place and, below it, upright, the names of people. [px]"""
_SLOT, _NARROW_SLOT, _LEAST_LANE = 32.0, 14.0, 58.0
"""Room of one person with a number of three figures and without, and the narrowest place. Chosen. [px]"""
_WIDEST = 364.0
"""People of a wider picture are shared out among several: on 360 px its numbers, 12 px, are 11 px high then. [px]"""
_PX_PER_MIN = 1.1
"""Scale of the day's lines. Chosen. [px/min]"""
_MARGIN_MIN = 15
"""Empty time at both ends of the picture. Chosen. [min]"""
_BESIDE_PX = 5.0
"""How far right of a thread the number of a task stands. Chosen. [px]"""
_LONGEST_NAME = 12
"""Longest first word that stands for a title in the picture. [character]"""
_TURN_PX, _TIE_PX = 5.0, 3.5
"""Height over which a line turns from one row to the next, and that a tie and what is above it takes. [px]"""


@dataclass(frozen=True, slots=True)
class Lane:
    """A place, or a vehicle on the road.

    Parameters
    ----------
    kind, id : str
        ``place`` or ``vehicle``, and its id.
    x, width, slot : float
        Left edge, width, and what one person takes of it. [px]
    """

    kind: str
    id: str
    x: float
    width: float
    slot: float


@dataclass(frozen=True, slots=True)
class Knot:
    """One task: a stretch on the thread of each who works on it, and a tie between them.

    Parameters
    ----------
    span : Interval
        The stretch of work, UTC. [min]
    xs : tuple of float
        Threads of its people, from left to right. [px]
    y, height : float
        Where it begins, and how long it takes. [px]
    number : Box
        What its number takes.
    """

    line: Line
    span: Interval
    xs: tuple[float, ...]
    y: float
    height: float
    number: Box


@dataclass(frozen=True, slots=True)
class Thread:
    """One person through the day.

    Parameters
    ----------
    person, sign : str
        Id, and a short name that no other has.
    path : str
        The way through the places, as SVG writes it.
    heads : tuple of float
        Where the name stands over each place that the person comes to. [px]
    work_min : int
        Minutes of work. [min]
    """

    person: str
    sign: str
    path: str
    heads: tuple[float, ...]
    work_min: int


@dataclass(frozen=True, slots=True)
class DayPicture:
    """One day of some people, of all where there is room for them.

    Parameters
    ----------
    day : date
        The local day.
    scale : Scale
        Time. [min]
    lanes : tuple of Lane
        In the order in which they are come to.
    threads : tuple of Thread
        One a person.
    knots : tuple of Knot
        Tasks in order of start.
    hours : tuple of Mark
        Full hours. [px]
    hour_lines : str
        Their lines as SVG writes them, broken where a number stands.
    width, height : float
        Of the picture. [px]
    """

    day: date
    scale: Scale
    lanes: tuple[Lane, ...]
    threads: tuple[Thread, ...]
    knots: tuple[Knot, ...]
    hours: tuple[Mark, ...]
    hour_lines: str
    width: float
    height: float


def moving_days(agenda: Agenda) -> tuple[date, ...]:
    """List the days whose tasks are tied together; without such, the day with the most tasks."""
    tied = sorted({line.day for line in agenda.lines if line.task.day})
    if tied or not agenda.lines:
        return tuple(tied)
    days = [line.day for line in agenda.lines if line.placement.people]
    return (max(sorted(set(days)), key=days.count),) if days else ()


def day_pictures(outlook: Outlook, agenda: Agenda) -> tuple[DayPicture, ...]:
    """Draw the moving days."""
    return tuple(picture for day in moving_days(agenda) for picture in _pictures(outlook, agenda, day))


def _pictures(outlook: Outlook, agenda: Agenda, day: date) -> Iterator[DayPicture]:
    """Share the people of a day out among as few pictures as are narrow enough, as evenly as can be."""
    lines = [line for line in agenda.lines if line.day == day and not line.task.repeats]
    lines = [line for line in lines if line.placement.people]
    names = {one.id: one.name for one in outlook.project.scheduling.people}
    people = [key for key in names if any(key in line.placement.people for line in lines)]
    signs = _signs({person: names[person] for person in people})
    stays = {person: tuple(_stays(person, lines)) for person in people}
    for count in range(1, len(people) + 1):
        most = -(-len(people) // count)
        shares = [people[at : at + most] for at in range(0, len(people), most)]
        if all(_width(_lanes({one: stays[one] for one in share}, len(share))) <= _WIDEST for share in shares):
            break
    else:
        shares = [[person] for person in people]
    for share in shares:
        yield _picture(outlook, day, lines, {one: stays[one] for one in share}, signs)


def _width(lanes: Iterable[Lane]) -> float:
    *_, last = lanes
    return last.x + last.width + _GAP


def _picture(
    outlook: Outlook,
    day: date,
    lines: list[Line],
    stays: Mapping[str, tuple[Stay, ...]],
    signs: Mapping[str, str],
) -> DayPicture:
    scale = Scale(around([_span(line) for line in lines], _MARGIN_MIN), _PX_PER_MIN, _HEAD)
    people = list(stays)
    lanes = tuple(_lanes(stays, len(people)))
    at = {(lane.kind, lane.id): lane for lane in lanes}
    slots = {person: number + 0.5 for number, person in enumerate(people)}

    def x_of(person: str, where: tuple[str, str]) -> float:
        return round(at[where].x + _GAP / 2 + slots[person] * at[where].slot, 1)

    ways = {person: [(x_of(person, where), span) for where, span, _ in own] for person, own in stays.items()}
    threads = tuple(
        Thread(
            person,
            signs[person],
            _path(scale, ways[person]),
            tuple(dict.fromkeys(x_of(person, where) for where, _, _ in own if where[0] == "place")),
            sum(_span(line).minutes for _, _, line in own if line.task.kind is not Kind.REST),
        )
        for person, own in stays.items()
    )
    where_of = {(person, line.task.id): where for person in people for where, _, line in stays[person]}
    tied = [
        (line, tuple(sorted(x_of(one, where_of[one, line.task.id]) for one in present)))
        for line in lines
        if (present := [one for one in line.placement.people if one in stays])
    ]
    knots = tuple(_knots(scale, tied, [box for way in ways.values() for box in _crossings(scale, way)]))
    hours, width = scale.hours(outlook.project.plan.zone), _width(lanes)
    lines_across = broken((hour.y for hour in hours), (_AXIS - 2, width), [knot.number for knot in knots])
    return DayPicture(
        day, scale, lanes, threads, knots, hours, lines_across, width, round(scale.bottom + _FOOT, 1)
    )


def _span(line: Line) -> Interval:
    return line.placement.segments[0]


Stay = tuple[tuple[str, str], Interval, Line]


def _stays(person: str, lines: Iterable[Line]) -> Iterator[Stay]:
    """Say where a person works, task by task; what may be done anywhere is done where they are."""
    own = [line for line in lines if person in line.placement.people]
    here = next((("place", line.task.place) for line in own if line.task.place), ("place", ""))
    for line in own:
        rides = line.task.kind is Kind.TRAVEL and line.placement.vehicles
        if rides:
            where = ("vehicle", min(line.placement.vehicles))
        else:
            where = ("place", line.task.place) if line.task.place else here
        yield where, _span(line), line
        here = ("place", line.task.place_after or line.task.place) if rides else where


def _lanes(stays: Mapping[str, tuple[Stay, ...]], count: int) -> Iterator[Lane]:
    first: dict[tuple[str, str], int] = {}
    for own in stays.values():
        for where, span, _ in own:
            first[where] = min(first.get(where, span.start), span.start)
    x = float(_AXIS)
    for kind, key in sorted(first, key=lambda where: (first[where], where)):
        slot = _SLOT if kind == "place" else _NARROW_SLOT
        width = max(count * slot + 2 * _GAP, _LEAST_LANE)
        yield Lane(kind, key, round(x, 1), round(width, 1), slot)
        x += width + _GAP


def _path(scale: Scale, stays: list[tuple[float, Interval]]) -> str:
    """Draw the way: down where they are, across shortly before the next task is somewhere else."""
    x, span = stays[0]
    path = f"M{x:g} {scale.y(span.start):g}"
    for across, span in stays[1:]:
        if across != x:
            y = scale.y(span.start)
            path += f"V{y - _TURN_PX:.4g}L{across:g} {y:g}"
            x = across
    return f"{path}V{scale.y(stays[-1][1].finish):g}"


def _crossings(scale: Scale, stays: list[tuple[float, Interval]]) -> Iterator[Box]:
    """Give what a thread takes where it goes across."""
    for (x, _), (across, span) in pairwise(stays):
        if across != x:
            y = scale.y(span.start)
            yield Box(min(x, across), y - _TURN_PX, max(x, across), y)


def _knots(
    scale: Scale, tied: list[tuple[Line, tuple[float, ...]]], crossings: Iterable[Box]
) -> Iterator[Knot]:
    """Put each number beside its thread, lower where a line across or another number stands."""
    starts = [scale.y(_span(line).start) for line, _ in tied]
    taken = [
        *crossings,
        *(Box(xs[0], y, xs[-1], y + _TIE_PX) for y, (_, xs) in zip(starts, tied, strict=True)),
    ]
    for y, (line, xs) in zip(starts, tied, strict=True):
        box = lowered(number_box(line.number, xs[-1] + _BESIDE_PX, y + _TIE_PX), taken)
        taken.append(box)
        yield Knot(line, _span(line), xs, y, round(scale.y(_span(line).finish) - y, 1), box)


def _signs(names: Mapping[str, str]) -> dict[str, str]:
    """Give each person a name that is short enough to stand over a thread: the first word, else a number."""
    first = {key: (name.split() or [""])[0] for key, name in names.items()}
    return {
        key: word
        if word and len(word) <= _LONGEST_NAME and list(first.values()).count(word) == 1
        else str(number)
        for number, (key, word) in enumerate(first.items(), start=1)
    }
