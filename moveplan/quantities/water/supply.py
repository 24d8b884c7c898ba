"""Where purified water comes from: made as far as the unit can in time, the rest bought; and where it is made."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import timedelta

from moveplan.errors import Problem
from moveplan.plan.move import Plan
from moveplan.quantities.course import Leg
from moveplan.quantities.water.amounts import flow_of, making_of
from moveplan.times import MINUTES_A_DAY, local_day
from moveplan.units import show_rate, show_volume

BEFORE_DAYS = 3.0
"""From now until the unit runs: its filters are looked at, storage is washed; assumed. [day]"""
AFTER_DAYS = 4.0
"""From the last purified water to the moving day: warming, mixing, standing, trimming; assumed. [day]"""
RIPENS_DAYS = 40.0
"""From filling a tank that ripens to the moving day; as is usual. [day]"""
LEAST_BOUGHT_L = 20.0
"""Less is not worth a way to the shop: the unit runs on; assumed. [l]"""


@dataclass(frozen=True, slots=True)
class Supply:
    """Purified water of a leg.

    Parameters
    ----------
    made_l, bought_l : float
        By the unit of the plan, and from a shop. [l]
    flow_l_day : float
        What the unit makes. [l/day]
    days, needed_days : float
        That there are for making it, and that all of it would take. [day]
    """

    made_l: float
    bought_l: float
    flow_l_day: float
    days: float
    needed_days: float


def supply_of(plan: Plan, leg: Leg, purified_l: float, place: str) -> Supply:
    """Share purified water out: what the unit makes in time, and what is bought.

    Parameters
    ----------
    plan : Plan
        Its unit and its dates.
    leg : Leg
        The day for which it is.
    purified_l : float
        All of it. [l]
    place : str
        Id of the place where it is made.
    """
    flow = 24 * flow_of(making_of(plan))
    if flow <= 0:
        return Supply(0.0, purified_l, 0.0, 0.0, 0.0)
    needed = purified_l / flow
    if not leg.days:
        return Supply(purified_l, 0.0, flow, math.inf, needed)
    home = place != leg.origin and any(shift.before.moves_to == place for shift in leg.shifts)
    opened = plan.dates.access_from if plan.dates and home else None
    first = max(plan.now, opened or plan.now)
    after = AFTER_DAYS + (RIPENS_DAYS if leg.ripens else 0.0)
    whole = (local_day(leg.days[-1], plan.zone).start - first) / MINUTES_A_DAY
    days = max(whole - after - BEFORE_DAYS, 0.0)
    made = min(purified_l, flow * days)
    if purified_l - made < LEAST_BOUGHT_L:
        made = purified_l
    return Supply(made, purified_l - made, flow, days, needed)


def short_of(plan: Plan, leg: Leg, supply: Supply, purified_l: float) -> tuple[Problem, ...]:
    """Say what the unit cannot make in time and is bought, and what would spare that."""
    if supply.flow_l_day <= 0 or supply.bought_l <= 0:
        return ()
    late = math.ceil(supply.needed_days - supply.days)
    would_do = leg.days[-1] + timedelta(days=late)
    rate = making_of(plan).rate_l_day
    enough = rate * supply.needed_days / supply.days if supply.days >= 1 else 0.0
    second = f'a second unit ("rate: {show_rate(enough, plan.units)}" together), ' if enough else ""
    return (
        Problem(
            f"{show_volume(purified_l, plan.units)} of purified water at "
            f"{show_volume(supply.flow_l_day, plan.units)} a day take {supply.needed_days:.0f} days; there are "
            f"{supply.days:.0f}: {show_volume(supply.bought_l, plan.units)} are bought and fetched",
            plan.where("water-making.rate"),
            f"{second}more old water (water-kept under systems), or a move day from {would_do.isoformat()} would "
            'spare it; salt water that a shop mixes does as well: write "water-making.ready-mixed: yes"',
        ),
    )
