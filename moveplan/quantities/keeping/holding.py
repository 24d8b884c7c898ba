"""A holding system: what it can hold, how much water it needs changed, and who is too many in it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.livestock import Livestock
from moveplan.plan.systems import System
from moveplan.quantities.containers.tubs import SPACING_M
from moveplan.quantities.keeping.filter_load import ammonia_load, removal
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.metabolism import mass_g
from moveplan.quantities.trade_groups import CORALS
from moveplan.science.animals.livestock import SMALL_FISH, endangers

LITRES_A_CM = 2.0
"""Least water for a centimetre of fish: 10 l for a fish of 5 cm; policy. [l/cm]"""
RACKED = 0.8
"""Share of the floor on which corals can be racked; common practice, no source. [-]"""
RACK_DEPTH_M = 0.5
"""Depth of water that gives an assumed holding tank floor enough for its rack; assumed. [m]"""
SOURCE = "holding density and spare volume are policy defaults of the table of limits; common practice"

Groups = tuple[tuple[Livestock, int], ...]


@dataclass(frozen=True, slots=True)
class Holding:
    """A holding system with the animals that are to wait in it.

    Parameters
    ----------
    volume : Estimate
        Its water. [l]
    needed : Estimate
        Water that the fish need. [l]
    rack, rack_needed : float
        Floor for corals, there and needed. [m²]
    load, removal : Estimate
        Ammonia that goes in, and that its surfaces take up, as nitrogen. [mg N/day]
    change : float
        Share of its water to change each day where the surfaces do not keep up.
    too_many : tuple of str
        Ids of groups that would have to go.
    enemies : tuple of (str, str)
        Ids of groups of which the first endangers the second.
    """

    volume: Estimate
    needed: Estimate
    rack: float
    rack_needed: float
    load: Estimate
    removal: Estimate
    change: float
    too_many: tuple[str, ...]
    enemies: tuple[tuple[str, str], ...]


def fish_water_l(groups: Groups, policy: Policy) -> Estimate:
    """Water that fish need in a holding system, by their mass and by their length.

    Parameters
    ----------
    groups : tuple of (Livestock, int)
        Who is to wait; only fish count.
    policy : Policy
        Density and spare volume.

    Returns
    -------
    Estimate
        [l]
    """
    fish = [(group, count) for group, count in groups if group.traits.group == "fish"]
    spare = 1 + policy["holding_spare_volume"]
    masses = [(mass_g(group, group.traits), count) for group, count in fish]
    by_length = LITRES_A_CM * sum(group.size_cm * count for group, count in fish)
    low, likely, high = (
        max(by_length, spare / policy["holding_density"] * sum(getattr(mass, end) * n for mass, n in masses))
        for end in ("low", "likely", "high")
    )
    return Estimate(
        low,
        likely,
        high,
        "l",
        f"{sum(mass.likely * n for mass, n in masses):.0f} g of fish at {policy['holding_density']:g} g/l and "
        f"{policy['holding_spare_volume']:.0%} spare, at least {LITRES_A_CM:g} l a centimetre of fish "
        f"({by_length:.0f} l)",
        Provenance.COMPUTED,
        SOURCE,
    )


def rack_m2(groups: Groups) -> float:
    """Floor that corals need on a rack, so that none touches another. [m²]."""
    corals = [(group, count) for group, count in groups if group.traits.group in CORALS]
    return sum(count * (group.size_cm / 100 + SPACING_M) ** 2 for group, count in corals) / RACKED


def holding_of(system: System, water: Estimate, groups: Groups, policy: Policy) -> Holding:
    """Check a holding system against the animals that are to wait in it.

    Parameters
    ----------
    system : System
        The holding system, with the rock that moves into it.
    water : Estimate
        Its water. [l]
    groups : tuple of (Livestock, int)
        Who is to wait.
    """
    load, taken = ammonia_load(system, groups, policy, feed=False), removal(system, policy, surfaces=0.5)
    rack = system.tank.length_m * system.tank.width_m
    return Holding(
        volume=water,
        needed=fish_water_l(groups, policy),
        rack=rack,
        rack_needed=rack_m2(groups),
        load=load,
        removal=taken,
        change=daily_change(load.likely - taken.low, water.likely, policy["gate_total_ammonia"]),
        too_many=_too_many(groups, water.likely, rack, policy),
        enemies=_enemies(groups),
    )


def daily_change(surplus_mg_n_day: float, litres: float, gate_mg_n_l: float) -> float:
    """Share of the water to change each day, so that total ammonia stays at its gate.

    >>> daily_change(-5.0, 200.0, 0.25), round(daily_change(20.0, 200.0, 0.25), 2)
    (0.0, 0.29)
    """
    if surplus_mg_n_day <= 0:
        return 0.0
    raised = surplus_mg_n_day / litres
    return min(raised / (raised + gate_mg_n_l), 1.0)


def _too_many(groups: Groups, litres: float, rack: float, policy: Policy) -> tuple[str, ...]:
    """Name who would have to go: the heaviest fish, and the widest corals, until the rest has room."""
    gone: list[str] = []

    def left() -> Groups:
        return tuple((group, count) for group, count in groups if group.id not in gone)

    heaviest = sorted(
        (one for one in groups if one[0].traits.group == "fish"),
        key=lambda one: (-one[0].size_cm, one[0].id),
    )
    widest = sorted(
        (one for one in groups if one[0].traits.group in CORALS),
        key=lambda one: (-one[0].size_cm, one[0].id),
    )
    for group, _ in heaviest:
        if fish_water_l(left(), policy).likely > litres:
            gone.append(group.id)
    for group, _ in widest:
        if rack_m2(left()) > rack:
            gone.append(group.id)
    return tuple(gone)


def _enemies(groups: Groups) -> tuple[tuple[str, str], ...]:
    """Pair hunters with what they would hunt; hermits with snails and corals with corals are a matter of room."""
    return tuple(
        (one.id, other.id)
        for one, _ in groups
        for other, _ in groups
        if one is not other
        and (one.temperament == "predator" or SMALL_FISH in one.traits.endangers)
        and endangers(one.traits, one.size_cm, other.traits, other.size_cm)
    )


def volume_for(groups: Groups, policy: Policy) -> float:
    """Volume of a holding system that holds these animals, rounded up to 50 l. [l]."""
    fish = fish_water_l(groups, policy).high
    corals = 1000 * RACK_DEPTH_M * rack_m2(groups)
    return max(math.ceil(max(fish, corals, 100.0) / 50) * 50.0, 100.0)
