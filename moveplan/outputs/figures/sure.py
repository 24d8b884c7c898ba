"""How sure: the chance of being there by each date, and of each animal group staying within its safe time."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from zoneinfo import ZoneInfo

from moveplan.outputs.figures.scale import labels_across
from moveplan.outputs.outlook import Outlook
from moveplan.risk.summary import Percentiles
from moveplan.times import MINUTES_A_DAY, minute_of_day

_BAR = 300.0
"""Width of a bar that stands for all of it. [px]"""
_CHANCES = (0.1, 0.5, 0.8, 0.95)
"""Chances that are told of each milestone, as the quantiles are. [-]"""


@dataclass(frozen=True, slots=True)
class Strip:
    """When the runs reach one milestone, from 0 at the left end of the strip to 100 at its right one.

    Parameters
    ----------
    name : str
        ``ready``, ``settled`` or ``finish``.
    cells : tuple of (float, float)
        Left end and width of each twentieth of the runs that is drawn, the first left out. [%]
    later : int
        Twentieths of the runs that come after the strip: the last one, and those of another day.
    found : Percentiles
        What it shows.
    steps : tuple of (float, int)
        Chance, and the moment by which it is reached: at one, five, eight and nine and a half in ten. [-, min]
    planned, promised : tuple of (float, int) or None
        Where the plan and the promise stand, and when that is; None: there is none. [%, min]
    ticks : tuple of (float, int)
        Places of the labels, and when that is. [%, min]
    by_days : bool
        Whether the labels are days rather than hours.
    """

    name: str
    cells: tuple[tuple[float, float], ...]
    later: int
    found: Percentiles
    steps: tuple[tuple[float, int], ...]
    planned: tuple[float, int] | None
    promised: tuple[float, int] | None
    ticks: tuple[tuple[float, int], ...]
    by_days: bool


@dataclass(frozen=True, slots=True)
class SafeBar:
    """One animal group.

    Parameters
    ----------
    name : str
        What to print.
    chance : float
        Share of runs in which it stays within its safe time.
    width : float
        Length of the bar: the share of the accepted risk that is used up, the whole bar where it is more. [px]
    accepted : bool
        Whether the plan accepts the rest.
    """

    name: str
    chance: float
    width: float
    accepted: bool


@dataclass(frozen=True, slots=True)
class Sure:
    """The picture.

    Parameters
    ----------
    bars : tuple of SafeBar
        Animal groups.
    full_bar : float
        Length of a full bar. [px]
    """

    strips: tuple[Strip, ...]
    bars: tuple[SafeBar, ...]
    full_bar: float


def sure(outlook: Outlook) -> Sure | None:
    """Draw what the simulation found.

    Returns
    -------
    Sure or None
        None where nothing was simulated.
    """
    risk = outlook.risk
    if risk is None or not risk.runs:
        return None
    found = {"ready": risk.ready, "settled": risk.settled, "finish": risk.finish}
    planned, promised = outlook.planned(), dict(risk.promise.milestones) if risk.promise else {}
    zone = outlook.project.plan.zone
    strips = tuple(
        _strip(name, dates, planned.get(name), promised.get(name), zone)
        for name, dates in found.items()
        if dates is not None
    )
    names = {route.livestock: route.name for route in outlook.project.routes}
    accepted = outlook.project.plan.safe_time_risk
    bars = tuple(
        SafeBar(names.get(key, key), 1 - share, _bar(share, accepted), share <= accepted)
        for key, share in risk.over_limit
    )
    return Sure(strips, bars, _BAR)


def _bar(share: float, accepted: float) -> float:
    used = min(share / accepted, 1.0) if accepted else float(share > 0)
    return round(_BAR * used, 1)


def _strip(name: str, found: Percentiles, planned: int | None, promised: int | None, zone: ZoneInfo) -> Strip:
    moments = (found.p10, found.p50, found.p80, found.p95)
    edges = found.twentieths or moments
    if found.p80 - found.p50 <= MINUTES_A_DAY:  # another day leaves no room for hours
        edges = tuple(edge for edge in edges if edge <= found.p50 + MINUTES_A_DAY)
    marked = [moment for moment in (planned, promised) if moment is not None]
    first, last = min((edges[0], *marked)), max((edges[-1], *marked))

    def at(moment: int) -> float:
        return round(100 * (moment - first) / max(last - first, 1), 2)

    def mark(moment: int | None) -> tuple[float, int] | None:
        return None if moment is None else (at(moment), moment)

    labels = labels_across(first, last, minute_of_day(first, zone))
    return Strip(
        name,
        tuple((at(one), round(at(other) - at(one), 2)) for one, other in pairwise(edges)),
        len(found.twentieths or moments) + 1 - len(edges),
        found,
        tuple(zip(_CHANCES, moments, strict=True)),
        mark(planned),
        mark(promised),
        tuple((at(moment), moment) for moment in labels),
        labels.step >= MINUTES_A_DAY,
    )
