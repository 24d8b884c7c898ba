"""Ammonia and nitrite of a filter, days downwards: while a new one ripens, and after its rock was moved."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from moveplan.estimate import Estimate
from moveplan.journal.records import Reading
from moveplan.journal.waters.ripening import BEGINS, ENDS, RIPENS
from moveplan.outputs.agenda import Agenda, Line
from moveplan.outputs.figures.scale import CHARACTER_PX, FITS, Mark, Scale
from moveplan.outputs.outlook import Outlook
from moveplan.plan.systems import System
from moveplan.practice.under_way.story import cycles_of
from moveplan.quantities.keeping.cycle import Curve, Cycle, Dip, cycle_of, dip_after
from moveplan.quantities.keeping.filter_load import ammonia_load
from moveplan.quantities.keeping.gates import nitrogen_gates
from moveplan.quantities.policy import Policy
from moveplan.times import MINUTES_A_DAY, Interval

_AXIS, _TOP, _FOOT, _RIGHT = 68.0, 34.0, 48.0, 120.0
"""Room around the picture: for dates, at the head, at the foot, and on the right. Chosen. [px]"""
_ACROSS = FITS - _AXIS - _RIGHT
"""Width of the picture without its axis. [px]"""
_TICK_PX = 5 * CHARACTER_PX
"""Least room from the figure of one mark of the axis to the next. [px]"""
_TALLEST, _PX_PER_DAY = 640.0, 20.0
"""Greatest height, and the scale where it is not reached. Chosen. [px, px/d]"""
_TICKS = (0.0, 0.1, 0.25, 0.5, 1.0, 2.0, 5.0)
"""Marks of the axis; those that fit are drawn. [mg N/l]"""


@dataclass(frozen=True, slots=True)
class Trace:
    """One substance.

    Parameters
    ----------
    what : str
        ``ammonia`` or ``nitrite``.
    points : tuple of (float, float)
        From left to right the concentration, downwards the day. [px]
    gate, x_gate : float
        Limit, and where it is drawn. [mg N/l, px]
    band : tuple of (float, float)
        Around what lies between the low and the high end; empty where the model gives none. [px]
    """

    what: Literal["ammonia", "nitrite"]
    points: tuple[tuple[float, float], ...]
    gate: float
    x_gate: float
    band: tuple[tuple[float, float], ...]

    @property
    def path(self) -> str:
        """The line as SVG writes it."""
        return "M" + "L".join(f"{x:g} {y:g}" for x, y in self.points)

    @property
    def crest(self) -> tuple[float, float]:
        """Where it is highest. [px]."""
        return max(self.points)


@dataclass(frozen=True, slots=True)
class Dot:
    """One reading.

    Parameters
    ----------
    reading : Reading
        What was measured.
    x, y : float
        Where it is drawn. [px]
    """

    reading: Reading
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class FilterPicture:
    """One filter.

    Parameters
    ----------
    system : str
        Its name.
    found : Cycle or Dip
        What the model says.
    scale : Scale
        Time. [min]
    traces : tuple of Trace
        Ammonia and nitrite.
    dots : tuple of Dot
        Readings so far.
    hold : Line or None
        The hold point that ends a cycle.
    early, late : int or None
        When a cycle may be done at the earliest and at the latest, UTC. [min]
    days : tuple of Mark
        Local midnights worth a name. [px]
    ticks : tuple of (float, float)
        Concentrations worth a name, and where. [mg N/l, px]
    left, right, width, height : float
        Where concentrations begin and end, and the size of the picture. [px]
    """

    system: str
    found: Cycle | Dip
    scale: Scale
    traces: tuple[Trace, ...]
    dots: tuple[Dot, ...]
    hold: Line | None
    early: int | None
    late: int | None
    days: tuple[Mark, ...]
    ticks: tuple[tuple[float, float], ...]
    left: float
    right: float
    width: float
    height: float


def filter_pictures(outlook: Outlook, agenda: Agenda) -> tuple[FilterPicture, ...]:
    """Draw every filter that ripens, and every one whose rock is moved."""
    return (*_cycles(outlook, agenda), *_dips(outlook, agenda))


def _cycles(outlook: Outlook, agenda: Agenda) -> Iterator[FilterPicture]:
    plan = outlook.project.plan
    for system, facts in cycles_of(plan, {line.task.id for line in agenda.lines}).items():
        dosed, hold = agenda.line(f"{BEGINS}-{system}"), agenda.line(f"{ENDS}-{system}")
        if dosed is None or agenda.line(f"{RIPENS}-{system}") is None:
            continue
        found = cycle_of(facts["seeding"], facts["temperature_c"], nitrogen_gates(plan, system))
        start = dosed.placement.finish
        ends = (start + round(found.time.low), start + round(found.time.high))
        yield _picture(outlook, plan.system(system), facts["water"], found, start, hold, ends)


def _dips(outlook: Outlook, agenda: Agenda) -> Iterator[FilterPicture]:
    plan = outlook.project.plan
    litres = {name: value.likely for name, value in outlook.project.quantities}
    for system in plan.systems:
        out, back = agenda.line(f"rock-out-{system.id}"), agenda.line(f"rock-in-{system.id}")
        water = litres.get(f"{system.id}: water", 0.0)
        animals = [(group, group.count) for group in plan.livestock if group.system == system.id]
        if out is None or back is None or not water or not animals:
            continue
        start = back.placement.finish
        load = ammonia_load(system, animals, Policy(plan.policy), feed=False).likely / water
        gates = nitrogen_gates(plan, system.id)
        found = dip_after(round(load, 3), system.temperature_c, (start - out.placement.start) / 60, gates)
        yield _picture(outlook, system, system.id, found, start, None, None)


def _picture(
    outlook: Outlook,
    system: System,
    water: str,
    found: Cycle | Dip,
    start: int,
    hold: Line | None,
    ends: tuple[int, int] | None,
) -> FilterPicture:
    curve, limits = found.curve, nitrogen_gates(outlook.project.plan, system.id)
    readings = [one for one in outlook.readings if one.what in ("ammonia", "nitrite")]
    own = [one for one in readings if one.system in ("", water)]
    last = max(
        start + round(curve.day[-1] * MINUTES_A_DAY), hold.placement.finish if hold else 0, *(ends or (0,))
    )
    span = Interval(start, last)
    per_day = min(_PX_PER_DAY, _TALLEST * MINUTES_A_DAY / span.minutes)
    scale = Scale(span, per_day / MINUTES_A_DAY, _TOP)
    gates = limits.ammonia, limits.nitrite
    shown = [one for one in own if span.start <= one.at <= span.finish]
    peaks = (found.ammonia, found.nitrite) if isinstance(found, Dip) else ()
    most = 1.1 * max(
        *curve.ammonia, *curve.nitrite, *gates, *(peak.high for peak in peaks), *(one.value for one in shown)
    )

    def x(value: float) -> float:
        return round(_AXIS + _ACROSS * value / most, 1)

    return FilterPicture(
        system.name,
        found,
        scale,
        tuple(_traces(curve, gates, peaks, scale, x_of=x)),
        tuple(Dot(one, x(one.value), scale.y(one.at)) for one in shown),
        hold,
        ends[0] if ends else None,
        ends[1] if ends else None,
        scale.mondays(outlook.project.plan.zone),
        tuple(_ticks(most, x)),
        _AXIS,
        _AXIS + _ACROSS,
        FITS,
        round(scale.bottom + _FOOT, 1),
    )


def _ticks(most: float, x_of: Callable[[float], float]) -> Iterator[tuple[float, float]]:
    """Choose marks of the axis from the left, each with room for its figure."""
    free = 0.0
    for value in _TICKS:
        if value < most and x_of(value) >= free:
            yield value, x_of(value)
            free = x_of(value) + _TICK_PX


def _traces(
    curve: Curve,
    gates: tuple[float, float],
    peaks: tuple[Estimate, ...],
    scale: Scale,
    x_of: Callable[[float], float],
) -> Iterator[Trace]:
    moments = [scale.span.start + round(day * MINUTES_A_DAY) for day in curve.day]
    kinds: tuple[Literal["ammonia", "nitrite"], ...] = ("ammonia", "nitrite")
    for what, line, gate, peak in zip(
        kinds, (curve.ammonia, curve.nitrite), gates, peaks or (None, None), strict=True
    ):
        points = tuple((x_of(value), scale.y(at)) for value, at in zip(line, moments, strict=True))
        low, high = (
            tuple((x_of(value * end / peak.likely), y) for value, (_, y) in zip(line, points, strict=True))
            if peak and peak.likely
            else ()
            for end in ((peak.low, peak.high) if peak else (0.0, 0.0))
        )
        yield Trace(what, points, gate, x_of(gate), (*low[::4], *high[::-4]))
