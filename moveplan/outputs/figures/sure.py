"""How sure: the chance of being there by each date, and of each animal group staying within its safe time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from moveplan.outputs.chances import named_chances
from moveplan.outputs.figures.scale import Mark
from moveplan.outputs.outlook import Outlook
from moveplan.risk.summary import Percentiles, RiskSummary

_WIDTH, _LEFT, _RIGHT = 560.0, 52.0, 12.0
_FLOOR, _FULL = 150.0, 120.0
_BAR = 300.0
_CHANCES = (0.1, 0.5, 0.8, 0.95)


@dataclass(frozen=True, slots=True)
class Step:
    """One dated chance.

    Parameters
    ----------
    chance : float
        Share of runs that are there by then. [-]
    mark : Mark
        When; its height is the distance from the left here. [px]
    y : float
        Height of the water. [px]
    """

    chance: float
    mark: Mark
    y: float


@dataclass(frozen=True, slots=True)
class Rise:
    """How the chance of one milestone rises with the date.

    Parameters
    ----------
    name : str
        ``ready``, ``settled`` or ``finish``. [-]
    steps : tuple of Step
        At one, five, eight and nine and a half in ten. [-]
    planned : Mark or None
        When the schedule has it; its height is the distance from the left here. [px]
    outline : str
        The water's edge as SVG writes it: level between two known chances, because no more is known. [-]
    """

    name: str
    steps: tuple[Step, ...]
    planned: Mark | None
    outline: str

    @property
    def ends(self) -> tuple[int, int]:
        """The first and the last moment in the picture, UTC. [min]."""
        moments = [step.mark.moment for step in self.steps] + ([self.planned.moment] if self.planned else [])
        return min(moments), max(moments)


@dataclass(frozen=True, slots=True)
class SafeBar:
    """One animal group.

    Parameters
    ----------
    name : str
        What to print. [-]
    chance : float
        Share of runs in which it stays within its safe time. [-]
    width : float
        Length of the bar: the share of the accepted risk that is used up, the whole bar where it is more. [px]
    accepted : bool
        Whether the plan accepts the rest. [-]
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
    rises : tuple of Rise
        Milestones. [-]
    bars : tuple of SafeBar
        Animal groups. [-]
    others : tuple of (str, float)
        Other chances by name: ``overtime``, ``day-missed``, ``second-hire``, ``keys-back-missed``. [-]
    left, width, floor, full_bar : float
        Where a rise begins, its width, the height of its floor, the length of a full bar. [px]
    """

    rises: tuple[Rise, ...]
    bars: tuple[SafeBar, ...]
    others: tuple[tuple[str, float], ...]
    left: float
    width: float
    floor: float
    full_bar: float


def sure(outlook: Outlook) -> Sure | None:
    """Draw what the simulation found.

    Parameters
    ----------
    outlook : Outlook
        What was found. [-]

    Returns
    -------
    Sure or None
        None where nothing was simulated. [-]
    """
    risk = outlook.risk
    if risk is None or not risk.runs:
        return None
    found = {"ready": risk.ready, "settled": risk.settled, "finish": risk.finish}
    planned = outlook.planned()
    rises = tuple(_rise(name, dates, planned.get(name)) for name, dates in found.items() if dates is not None)
    names = {route.livestock: route.name for route in outlook.project.routes}
    accepted = outlook.project.plan.safe_time_risk
    bars = tuple(
        SafeBar(names.get(key, key), 1 - share, _bar(share, accepted), share <= accepted)
        for key, share in risk.over_limit
    )
    return Sure(rises, bars, tuple(_others(risk)), _LEFT, _WIDTH, _FLOOR, _BAR)


def _bar(share: float, accepted: float) -> float:
    used = min(share / accepted, 1.0) if accepted else float(share > 0)
    return round(_BAR * used, 1)


def _others(risk: RiskSummary) -> Iterator[tuple[str, float]]:
    return ((name, chance) for name, chance in named_chances(risk) if chance is not None)


def _rise(name: str, found: Percentiles, planned: int | None) -> Rise:
    moments = (found.p10, found.p50, found.p80, found.p95)
    known = moments if planned is None else (*moments, planned)
    first, spread = min(known), max(max(known) - min(known), 1)

    def mark(moment: int) -> Mark:
        return Mark(round(_LEFT + (_WIDTH - _LEFT - _RIGHT) * (moment - first) / spread, 1), moment)

    steps = tuple(
        Step(chance, mark(moment), round(_FLOOR - _FULL * chance, 1))
        for chance, moment in zip(_CHANCES, moments, strict=True)
    )
    edge = " ".join(f"H{step.mark.y} V{step.y}" for step in steps)
    outline = f"M{_LEFT} {_FLOOR} {edge} H{_WIDTH} V{_FLOOR} Z"
    return Rise(name, steps, None if planned is None else mark(planned), outline)
