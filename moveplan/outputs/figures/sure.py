"""How sure: the chance of being there by each date, and of each animal group staying within its safe time."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.outputs.figures.scale import Mark
from moveplan.outputs.outlook import Outlook
from moveplan.risk.summary import Percentiles

_WIDTH, _LEFT, _RIGHT = 560.0, 12.0, 12.0
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
    outline : str
        The water's edge as SVG writes it: level between two known chances, because no more is known. [-]
    """

    name: str
    steps: tuple[Step, ...]
    outline: str


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
        Length of the bar. [px]
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
    width, floor, full_bar : float
        Width of a rise, height of its floor, length of a full bar. [px]
    """

    rises: tuple[Rise, ...]
    bars: tuple[SafeBar, ...]
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
    milestones = {"ready": risk.ready, "settled": risk.settled, "finish": risk.finish}
    rises = tuple(_rise(name, found) for name, found in milestones.items() if found is not None)
    names = {route.livestock: route.name for route in outlook.project.routes}
    accepted = outlook.project.plan.safe_time_risk
    bars = tuple(
        SafeBar(names.get(key, key), 1 - share, round(_BAR * (1 - share), 1), share <= accepted)
        for key, share in risk.over_limit
    )
    return Sure(rises, bars, _WIDTH, _FLOOR, _BAR)


def _rise(name: str, found: Percentiles) -> Rise:
    moments = (found.p10, found.p50, found.p80, found.p95)
    spread = max(found.p95 - found.p10, 1)
    steps = tuple(
        Step(
            chance,
            Mark(round(_LEFT + (_WIDTH - _LEFT - _RIGHT) * (moment - found.p10) / spread, 1), moment),
            round(_FLOOR - _FULL * chance, 1),
        )
        for chance, moment in zip(_CHANCES, moments, strict=True)
    )
    edge = " ".join(f"H{step.mark.y} V{step.y}" for step in steps)
    return Rise(name, steps, f"M{_LEFT} {_FLOOR} {edge} H{_WIDTH} V{_FLOOR} Z")
