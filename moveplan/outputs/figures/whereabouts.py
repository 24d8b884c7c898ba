"""Where every animal is: places side by side, time downwards, ribbons that thin as safe time is used."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from moveplan.outputs.figures.ribbons import Lane, Piece, Ribbon, Whereabouts
from moveplan.outputs.figures.scale import BOLD_PX, CHARACTER_PX, FITS, Scale, around
from moveplan.outputs.livestock import DatedRoute, DatedStop, Stay, dated_routes
from moveplan.outputs.outlook import Outlook
from moveplan.times import Interval
from moveplan.units import show_duration, show_within

_AXIS, _HEAD, _GAP, _PAD, _FOOT = 48.0, 34.0, 4.0, 3.0, 10.0
"""Room for the hours, at the head, between places, within them, and at the foot. Chosen. [px]"""
_SLOT, _HOME_SLOT, _LEAST_HOME, _FULL = 15.0, 6.0, 3.0, 12.0
"""Room of one ribbon with a line of text on it, of one without, its least, and the width of the widest. [px]"""
_ROUNDED = 0.2
"""What rounding to tenths may add to a picture. [px]"""
_ENDS_PX = 15.0
"""Room at the ends of the text on a ribbon. Chosen. [px]"""
_MARGIN_MIN = 45
"""Empty time at both ends of a stretch. Chosen. [min]"""
_APART_MIN = 720
"""Time without work from which on stretches are drawn apart: half a day. Chosen. [min]"""


def letter(number: int) -> str:
    """Give the sign of the group with a number, counted from 0.

    Examples
    --------
    >>> letter(0), letter(25), letter(26)
    ('A', 'Z', 'AA')
    """
    first, last = divmod(number, 26)
    return (letter(first - 1) if first else "") + chr(ord("A") + last)


def whereabouts(outlook: Outlook) -> tuple[Whereabouts, ...]:
    """Draw the days on which animals are in closed containers.

    Returns
    -------
    tuple of Whereabouts
        One a moving day, in order.
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
    """Places across, time down, which ribbons come to each place, and the safe time of the scarcest group [min].

    A ribbon has ``slot`` to itself in containers and ``home_slot`` at home, less than usual where a small screen would
    not show all places else; ribbons at home give way first, as no text stands on them. [px, px]
    """

    scale: Scale
    lanes: tuple[Lane, ...]
    there: tuple[tuple[int, ...], ...]
    scarcest: float
    slot: float
    home_slot: float

    def middle(self, stop: DatedStop, number: int) -> float:
        """Middle line of a ribbon in the lane of a stop."""
        key = _key(stop)
        lane = next(lane for lane in self.lanes if (lane.where, lane.system) == key)
        ribbons = self.there[lane.number - 1]
        slot = (lane.width - 2 * _PAD) / len(ribbons)
        return round(lane.x + _PAD + (ribbons.index(number) + 0.5) * slot, 1)

    def width(self, left: float) -> float:
        """Width of a ribbon with so many minutes left: full while these are more than the scarcest begin with."""
        share = min(max(left, 0.0) / self.scarcest, 1.0) if self.scarcest else 1.0
        return round(self.full * share, 2)

    @property
    def full(self) -> float:
        """Width of the widest ribbon. [px]."""
        return round(_FULL * self.slot / _SLOT, 2)


Members = tuple[tuple[str, DatedRoute], ...]


def _picture(
    outlook: Outlook, span: Interval, routes: tuple[DatedRoute, ...], signs: dict[str, str]
) -> Whereabouts:
    shown = [dated for dated in routes if any(stay.span.overlaps(span) for stay in dated.stays)]
    bundles = _bundles(shown, span, signs)
    grid = _grid(shown, bundles, Scale(span, 1.0, _HEAD))
    ribbons = tuple(_ribbon(members, at, grid) for at, members in enumerate(bundles))
    return Whereabouts(
        grid.scale,
        grid.lanes,
        ribbons,
        grid.scale.hours(outlook.project.plan.zone),
        round(grid.lanes[-1].x + grid.lanes[-1].width + _GAP, 1),
        grid.scale.bottom + _FOOT,
    )


def _bundles(shown: list[DatedRoute], span: Interval, signs: dict[str, str]) -> list[Members]:
    """Put groups that are in the same places at the same times together."""
    found: dict[object, list[tuple[str, DatedRoute]]] = {}
    for dated in shown:
        way = tuple((_key(stop), stop.span) for stop in _within(dated, span))
        found.setdefault(way, []).append((signs[dated.route.livestock], dated))
    return [tuple(sorted(members, key=lambda one: _least(one[1], span))) for members in found.values()]


def _within(dated: DatedRoute, span: Interval) -> list[DatedStop]:
    return [stop for stop in dated.stops if stop.span.overlaps(span)]


def _least(dated: DatedRoute, span: Interval) -> float:
    """Low end of its shortest safe time in a span; endless where nothing limits it. [min]."""
    lows = (stay.safe.estimate.low for stay in dated.stays if stay.span.overlaps(span))
    return min(lows, default=math.inf)


def _key(stop: DatedStop) -> tuple[str, str]:
    return stop.where, "" if stop.safe is not None else stop.container


def _grid(shown: list[DatedRoute], bundles: list[Members], scale: Scale) -> _Grid:
    """Set the places side by side in the order in which the animals come to them."""
    reached: dict[tuple[str, str], tuple[int, int]] = {}
    for dated in shown:
        for step, stop in enumerate(dated.stops):
            if stop.span.overlaps(scale.span):
                first = (step, stop.span.start)
                reached[_key(stop)] = max(reached.get(_key(stop), first), first)
    order = sorted(reached, key=lambda key: reached[key])
    there = tuple(tuple(_coming(key, bundles, scale.span)) for key in order)
    room = FITS - _ROUNDED - _AXIS - (_GAP + 2 * _PAD) * len(order)
    at_home, shut_in = (
        sum(len(ribbons) for (_, system), ribbons in zip(order, there, strict=True) if bool(system) is home)
        for home in (True, False)
    )
    left = (room - shut_in * _SLOT) / max(at_home, 1)
    home_slot = min(max(left, _LEAST_HOME), _HOME_SLOT)
    slot = min((room - at_home * home_slot) / max(shut_in, 1), _SLOT)
    needed = [
        2 * _PAD + len(ribbons) * (home_slot if system else slot)
        for (_, system), ribbons in zip(order, there, strict=True)
    ]
    spare = max(room - at_home * home_slot - shut_in * slot, 0.0) / len(order)
    lanes, x = [], _AXIS
    for number, ((where, system), least) in enumerate(zip(order, needed, strict=True), start=1):
        lanes.append(Lane(number, where, system, round(x, 1), round(least + spare, 1)))
        x += least + spare + _GAP
    lows = [low for dated in shown if math.isfinite(low := _least(dated, scale.span))]
    return _Grid(scale, tuple(lanes), there, min(lows, default=0.0), slot, home_slot)


def _coming(key: tuple[str, str], bundles: list[Members], span: Interval) -> Iterator[int]:
    """Give the numbers of the ribbons that come to a place."""
    for number, ((_, dated), *_others) in enumerate(bundles):
        if any(_key(stop) == key for stop in _within(dated, span)):
            yield number


def _ribbon(members: Members, number: int, grid: _Grid) -> Ribbon:
    dated = members[0][1]
    stops = _within(dated, grid.scale.span)
    pieces = [piece for stop in stops for piece in _pieces(stop, dated, grid.middle(stop, number), grid)]
    moves = tuple(
        (grid.scale.y(other.span.start), grid.middle(one, number), grid.middle(other, number))
        for one, other in pairwise(stops)
        if _key(one) != _key(other)
    )
    leaves = tuple(
        (stop.span.finish, stay.safe.estimate.low - (stop.span.finish - stay.span.start))
        for stop, stay in zip(stops, (_stay(stop, dated) for stop in stops), strict=True)
        if stay is not None and math.isfinite(stay.safe.estimate.low)
    )
    named = (
        _named(pieces, members)
        if math.isclose(grid.slot, _SLOT)
        else [replace(piece, left="") for piece in pieces]
    )
    return Ribbon(members, tuple(named), moves, leaves)


def _named(pieces: list[Piece], members: Members) -> list[Piece]:
    """Write all names on the longest piece, or the first of them, letters on others, nothing where it would be cut."""
    longest = max(pieces, key=lambda piece: (piece.closed, _room(piece)))
    letters = "\N{NO-BREAK SPACE}".join(sign for sign, _ in members)
    more = f" +{len(members) - 1}" if members[1:] else ""
    full = ", ".join(f"{sign} {dated.route.name}" for sign, dated in members)
    names = (full, f"{members[0][0]} {members[0][1].route.name}{more}")
    short = (letters, f"{members[0][0]}{more}")
    return [
        replace(piece, name=_fitting((*names, *short) if piece is longest else short, _room(piece)))
        for piece in pieces
    ]


def _fitting(texts: Iterable[str], room: float) -> str:
    return next((text for text in texts if len(text) * CHARACTER_PX <= room), "")


def _room(piece: Piece) -> float:
    """Length on a piece that is left for a name. [px]."""
    return piece.y1 - piece.y0 - _ENDS_PX - BOLD_PX * len(piece.left)


def _stay(stop: DatedStop, dated: DatedRoute) -> Stay | None:
    """Find the stay in a closed container of which a stop is a part."""
    return next((one for one in dated.stays if stop.safe is not None and one.span.overlaps(stop.span)), None)


def _pieces(stop: DatedStop, dated: DatedRoute, x: float, grid: _Grid) -> Iterator[Piece]:
    scale = grid.scale
    y0, y1 = scale.y(stop.span.start), scale.y(stop.span.finish)
    stay = _stay(stop, dated)
    if stay is None:
        home = round(grid.home_slot, 2)
        yield Piece(x, y0, y1, home, home, closed=False)
        return
    limit = _limit(stay)
    if stop.span.start < limit:
        end = min(limit, stop.span.finish)
        w0, w1 = (grid.width(_left(stay, moment)) for moment in (stop.span.start, end))
        left = _short(_left(stay, end), scale.y(end) - y0)
        yield Piece(x, y0, scale.y(end), w0, w1, closed=True, left=left)
    if limit < stop.span.finish:
        begin = scale.y(max(limit, stop.span.start))
        yield Piece(x, begin, y1, grid.full, grid.full, closed=True, over=True)


def _short(left: float, room: float) -> str:
    """Say minutes that are left, in whole hours where there is no room for more."""
    if not math.isfinite(left):
        return ""
    full = show_within(left)
    hours = show_duration(int(left) // 60 * 60) if left >= 2 * 60 else full
    return full if len(full) * BOLD_PX + _ENDS_PX <= room else hours


def _limit(stay: Stay) -> int:
    """Moment at which the low end of the safe time is reached; the end of the stay where there is no limit."""
    low = stay.safe.estimate.low
    return stay.span.start + int(low) if math.isfinite(low) else stay.span.finish


def _left(stay: Stay, moment: int) -> float:
    """Safe time that is left; endless where nothing limits it. [min]."""
    return max(stay.safe.estimate.low - (moment - stay.span.start), 0.0)
