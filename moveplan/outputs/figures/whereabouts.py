"""Where every animal is: places side by side, time downwards, ribbons that thin as safe time is used."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from moveplan.outputs.figures.scale import Mark, Scale, around, in_lines
from moveplan.outputs.livestock import DatedRoute, DatedStop, Stay, dated_routes
from moveplan.outputs.outlook import Outlook
from moveplan.times import Interval

_AXIS, _HEAD, _GAP, _FOOT = 76, 68.0, 8, 16
_LINE_PX, _CHARACTER_PX, _MOST_LINES = 16.0, 8.2, 8
_WIDEST_SLOT, _NARROWEST_SLOT = 18.0, 11.5
_LEAST_LANE, _ROOM = 112.0, 940.0
_SHARE = 0.75
_MARGIN_MIN = 45
_APART_MIN = 720


@dataclass(frozen=True, slots=True)
class Lane:
    """One place; animals in containers and in a filtered system of one place have a lane each.

    Parameters
    ----------
    where, system : str
        The place, and the filtered system in it; no system: in closed containers. [-]
    x, width : float
        Left edge and width. [px]
    """

    where: str
    system: str
    x: float
    width: float


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of ribbon in one lane.

    Parameters
    ----------
    x : float
        Middle line. [px]
    y0, y1 : float
        From arriving to leaving. [px]
    w0, w1 : float
        Width there: the share of safe time that is left. [px]
    closed : bool
        Whether it is in an unfiltered container. [-]
    over : bool
        Whether it is past the low end of its safe time. [-]
    """

    x: float
    y0: float
    y1: float
    w0: float
    w1: float
    closed: bool
    over: bool = False

    @property
    def points(self) -> str:
        """Corners of the stretch as SVG writes them."""
        corners = (
            (self.x - self.w0 / 2, self.y0),
            (self.x + self.w0 / 2, self.y0),
            (self.x + self.w1 / 2, self.y1),
            (self.x - self.w1 / 2, self.y1),
        )
        return " ".join(f"{round(x, 1):g},{round(y, 1):g}" for x, y in corners)


@dataclass(frozen=True, slots=True)
class Ribbon:
    """One group of animals.

    Parameters
    ----------
    letter : str
        Its sign in the picture. [-]
    dated : DatedRoute
        The group and its way. [-]
    pieces : tuple of Piece
        In order of time. [-]
    moves : tuple of (float, float, float)
        Height, from and to of each change of place. [px]
    """

    letter: str
    dated: DatedRoute
    pieces: tuple[Piece, ...]
    moves: tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """One picture.

    Parameters
    ----------
    scale : Scale
        Time. [min]
    lanes : tuple of Lane
        From left to right. [-]
    ribbons : tuple of Ribbon
        In the order of the groups. [-]
    hours : tuple of Mark
        Full hours. [px]
    width, height : float
        Of the picture. [px]
    """

    scale: Scale
    lanes: tuple[Lane, ...]
    ribbons: tuple[Ribbon, ...]
    hours: tuple[Mark, ...]
    width: float
    height: float


def letter(number: int) -> str:
    """Give the sign of the group with a number, counted from 0.

    Parameters
    ----------
    number : int
        Number of the group. [-]

    Examples
    --------
    >>> letter(0), letter(25), letter(26)
    ('A', 'Z', 'AA')
    """
    first, last = divmod(number, 26)
    return (letter(first - 1) if first else "") + chr(ord("A") + last)


def whereabouts(outlook: Outlook) -> tuple[Whereabouts, ...]:
    """Draw the days on which animals are in closed containers.

    Parameters
    ----------
    outlook : Outlook
        What was found. [-]

    Returns
    -------
    tuple of Whereabouts
        One a moving day, in order. [-]
    """
    routes = dated_routes(outlook)
    signs = {dated.route.livestock: letter(number) for number, dated in enumerate(routes)}
    return tuple(_picture(outlook, span, routes, signs) for span in _days(routes))


def _days(routes: Iterable[DatedRoute]) -> Iterator[Interval]:
    """Join stays that are less than half a day apart into one picture."""
    spans = sorted(stay.span for dated in routes for stay in dated.stays)
    joined: list[Interval] = []
    for span in spans:
        if joined and span.start - joined[-1].finish < _APART_MIN:
            joined[-1] = Interval(joined[-1].start, max(joined[-1].finish, span.finish))
        else:
            joined.append(span)
    return (around([span], _MARGIN_MIN) for span in joined)


@dataclass(frozen=True, slots=True)
class _Grid:
    """Places across, time down, and the room of one ribbon."""

    scale: Scale
    lanes: tuple[Lane, ...]
    slot: float

    @property
    def full(self) -> float:
        """Width of a ribbon whose safe time is untouched."""
        return round(self.slot * _SHARE, 2)

    def middle(self, stop: DatedStop, number: int) -> float:
        """Middle line of a ribbon in the lane of a stop."""
        key = _key(stop)
        left = next(lane.x for lane in self.lanes if (lane.where, lane.system) == key)
        return round(left + _GAP + (number + 0.5) * self.slot, 1)


def _picture(
    outlook: Outlook, span: Interval, routes: tuple[DatedRoute, ...], signs: dict[str, str]
) -> Whereabouts:
    shown = [dated for dated in routes if any(stay.span.overlaps(span) for stay in dated.stays)]
    grid = _grid(shown, Scale(span, 1.0, _HEAD))
    ribbons = tuple(_ribbon(dated, signs[dated.route.livestock], at, grid) for at, dated in enumerate(shown))
    return Whereabouts(
        grid.scale,
        grid.lanes,
        ribbons,
        grid.scale.hours(outlook.project.plan.zone),
        grid.lanes[-1].x + grid.lanes[-1].width + _GAP,
        grid.scale.bottom + _FOOT,
    )


def _key(stop: DatedStop) -> tuple[str, str]:
    return stop.where, "" if stop.safe is not None else stop.container


def _grid(shown: list[DatedRoute], scale: Scale) -> _Grid:
    """Set the places side by side in the order in which the animals come to them."""
    reached: dict[tuple[str, str], tuple[int, int]] = {}
    for dated in shown:
        for step, stop in enumerate(dated.stops):
            if stop.span.overlaps(scale.span):
                first = (step, stop.span.start)
                reached[_key(stop)] = max(reached.get(_key(stop), first), first)
    order = sorted(reached, key=lambda key: reached[key])
    fitting = ((_ROOM - _AXIS) / len(order) - 3 * _GAP) / len(shown)
    slot = round(min(max(fitting, _NARROWEST_SLOT), _WIDEST_SLOT), 1)
    width = max(_LEAST_LANE, len(shown) * slot + 2 * _GAP)
    return _Grid(
        replace(scale, top=max(_HEAD, 10.0 + _LINE_PX * max(_lines(*key, width) for key in order))),
        tuple(
            Lane(where, system, round(_AXIS + number * (width + _GAP), 1), round(width, 1))
            for number, (where, system) in enumerate(order)
        ),
        slot,
    )


def _lines(where: str, system: str, width: float) -> int:
    """How many lines the name of a lane takes; closed containers are named in one or two words."""
    characters = int(width / _CHARACTER_PX)
    return sum(len(in_lines(text, characters, _MOST_LINES)) for text in (where, system or "-"))


def _ribbon(dated: DatedRoute, sign: str, number: int, grid: _Grid) -> Ribbon:
    stops = [stop for stop in dated.stops if stop.span.overlaps(grid.scale.span)]
    pieces = tuple(piece for stop in stops for piece in _pieces(stop, dated, grid.middle(stop, number), grid))
    moves = tuple(
        (grid.scale.y(other.span.start), grid.middle(one, number), grid.middle(other, number))
        for one, other in pairwise(stops)
        if _key(one) != _key(other)
    )
    return Ribbon(sign, dated, pieces, moves)


def _pieces(stop: DatedStop, dated: DatedRoute, x: float, grid: _Grid) -> Iterator[Piece]:
    scale, full = grid.scale, grid.full
    y0, y1 = scale.y(stop.span.start), scale.y(stop.span.finish)
    stay = next((stay for stay in dated.stays if stay.span.overlaps(stop.span)), None)
    if stop.safe is None or stay is None:
        yield Piece(x, y0, y1, full, full, closed=False)
        return
    limit = _limit(stay)
    if stop.span.start < limit:
        end = min(limit, stop.span.finish)
        w0, w1 = (round(full * _left(stay, moment), 2) for moment in (stop.span.start, end))
        yield Piece(x, y0, scale.y(end), w0, w1, closed=True)
    if limit < stop.span.finish:
        begin = scale.y(max(limit, stop.span.start))
        yield Piece(x, begin, y1, full, full, closed=True, over=True)


def _limit(stay: Stay) -> int:
    """Moment at which the low end of the safe time is reached; the end of the stay where there is no limit."""
    low = stay.safe.estimate.low
    return stay.span.start + int(low) if math.isfinite(low) else stay.span.finish


def _left(stay: Stay, moment: int) -> float:
    """Share of the safe time that is left."""
    low = stay.safe.estimate.low
    share = 1 - (moment - stay.span.start) / low if math.isfinite(low) and low > 0 else 1.0
    return max(share, 0.0)
