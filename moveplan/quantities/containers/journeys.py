"""How long animals are in containers: as is usual for the work between, until the tasks of the day are known."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

from moveplan.estimate import Estimate
from moveplan.quantities.containers.company import Journeys
from moveplan.quantities.course import Leg
from moveplan.quantities.safe_time.boxes import Journey
from moveplan.quantities.trade_groups import CORALS, FISH

Measured = Mapping[str, Journeys]
"""By id of the group."""
Late = tuple[float, float]
_DOORS_H = 0.5
"""Hours at the doors, beside the drive; assumed. [h]"""
_LATE = 1.3
"""P90 over likely of the hours that animals are in containers; assumed. [-]"""
_BEFORE = ("rock-out", "lower", "catch", "strip", "drain", "sand-out", "tank-off")
_AFTER = ("place", "sand-in", "rock-in", "fill", "warm", "corals-in")
_JOINING = ("rock-in", "corals-in")


_A_QUARTER = 4
"""Journeys are counted in quarters of an hour, upwards: containers are not chosen by minutes. [1/h]"""


def guessed(
    times: Mapping[str, Estimate], drive: Estimate, leg: Leg, *, standing: bool
) -> Callable[[str], Journeys]:
    """Guess how long animals of a trade group are in containers, from the work in between.

    Parameters
    ----------
    times : Mapping of str to Estimate
        Durations of the work on their system, by name. [min]
    drive : Estimate
        One way. [min]
    standing : bool
        Whether the tank that they go into runs already.
    """
    after_h = _hours(times, _JOINING if standing else _AFTER) + 1.0
    road_h = drive.likely / 60 + _DOORS_H if leg.drives else 0.0

    def of(group: str) -> Journeys:
        if leg.in_waves:
            return _journeys(0.5, 0.0, 1.0, 0.3)
        before = _BEFORE if group in CORALS else _BEFORE[2 if group in FISH else 1 :]
        return _journeys(_hours(times, before) + 0.5, road_h, after_h, _hours(times, ("catch",)) + 0.5)

    return of


def _hours(times: Mapping[str, Estimate], names: tuple[str, ...]) -> float:
    return sum(times[name].likely for name in names if name in times) / 60


def _journeys(before_h: float, road_h: float, after_h: float, waiting_h: float) -> Journeys:
    return journeys_of(before_h, road_h, after_h, waiting_h, _LATE)


def journeys_of(
    before_h: float,
    road_h: float,
    after_h: float,
    waiting_h: float,
    late: float,
    apart: Late | None = None,
    filled_h: float = 0.0,
) -> Journeys:
    """State how long a group is in containers, if it travels in one, or waits in one and is then bagged.

    Parameters
    ----------
    before_h, road_h, after_h : float
        In the room before loading, on the road, in the room afterwards. [h]
    waiting_h : float
        Of the first, until it would be bagged. [h]
    late : float
        What delays may add, over the likely hours.
    apart : (float, float) or None
        The same of the wait and of the bag, each for itself: of less work, delays are a larger part.
    filled_h : float
        From filling the first container until animals come, as likely: delays are allowed for from then on. [h]
    """
    waits, bagged = apart or (late, late)
    rest_h = max(before_h - waiting_h, 0.0)
    return Journeys(
        _journey(late, before_h, road_h, after_h, filled_h=filled_h),
        _journey(waits, min(waiting_h, before_h), 0.0, 0.0, filled_h=filled_h),
        _journey(bagged, rest_h, road_h, after_h),
    )


def _journey(late: float, *hours: float, filled_h: float = 0.0) -> Journey:
    """Round hours up, but for those of water that waits: each minute of them is one less after the catch."""
    rounded = (math.ceil(_A_QUARTER * late * one - 1e-9) / _A_QUARTER for one in hours)
    return replace(Journey(*rounded), filled_h=filled_h)
