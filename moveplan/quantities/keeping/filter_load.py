"""What animals and food put on a filter, and what its surfaces take off again."""

from __future__ import annotations

from collections.abc import Iterable

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.livestock import Livestock
from moveplan.plan.systems import System
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.metabolism import NOTHING, Breathing, breathing
from moveplan.quantities.warming import surface_m2
from moveplan.science.filter.nitrification import ammonia_from_feed_g_n_day, live_rock_removal_mg_n_day
from moveplan.units import show_rounded

PROTEIN = 0.45
"""Protein in dry fish food, by mass; common practice, no source. [-]"""
SURFACE_SPREAD = (0.5, 1.0, 1.5)
"""What ripe glass, sand and media take up, over what is planned with; assumed. [-]"""
SKIMMED = (0.10, 0.20, 0.30)
"""Share of the load that a skimmer takes out before it becomes ammonia; assumed. [-]"""
MEDIA_M2 = 1.0
"""Surface of one reactor's media; assumed. [m²]"""


def animals_load(groups: Iterable[tuple[Livestock, int]], temperature_c: float, policy: Policy) -> Breathing:
    """Add up what animals breathe and give off at rest and fed, in a day's mean.

    Parameters
    ----------
    groups : iterable of (Livestock, int)
        Groups, and how many of each.
    temperature_c : float
        Of the water. [°C]
    policy : Policy
        Stress and quotients.
    """
    total = NOTHING
    fed = policy["ammonia_quotient_fed"] / policy["ammonia_quotient_fasted"]
    calm = policy["stress_calm"] / policy["stress_transport"]
    for group, count in groups:
        kind = group.traits
        one = breathing(group, kind, count, temperature_c, policy)
        ammonia = calm * one.ammonia_mg_n_h * (fed if kind.group == "fish" else 1.0)
        total = total.plus(Breathing(calm * one.oxygen_mg_h, ammonia, one.biomass_g))
    return total


def ammonia_load(
    system: System, groups: Iterable[tuple[Livestock, int]], policy: Policy, feed: bool = True
) -> Estimate:
    """Ammonia that goes into a system in a day, as nitrogen.

    Parameters
    ----------
    system : System
        Its food and temperature count.
    groups : iterable of (Livestock, int)
        Its animals.
    policy : Policy
        Stress and quotients.
    feed : bool
        Whether the food of the plan is given there; otherwise only what the animals give off counts.

    Returns
    -------
    Estimate
        Low: what the animals give off; high: what all food can become; the likely value is the mean. [mg N/day]
    """
    living = 24 * animals_load(groups, system.temperature_c, policy).ammonia_mg_n_h
    food = 1000 * float(ammonia_from_feed_g_n_day(system.feed_g_per_day, PROTEIN)) if feed else 1.5 * living
    low, high = sorted((living, food))
    fed = (
        f"{system.feed_g_per_day:g} g of food a day can become {food:.0f} mg N" if feed else "food as needed"
    )
    return Estimate(
        low,
        (low + high) / 2,
        high,
        "mg N/day",
        f"the animals give off {living:.0f} mg N a day; {fed}",
        Provenance.COMPUTED,
        "Clarke and Johnston (1999) with the quotients of Brett and Zala (1975); Timmons and Ebeling (2013)",
    )


def removal(system: System, policy: Policy, surfaces: float = 1.0) -> Estimate:
    """Ammonia that the ripe surfaces of a system take up in a day, as nitrogen.

    Parameters
    ----------
    system : System
        Its rock, glass, sand and equipment count.
    policy : Policy
        What a square metre takes up.
    surfaces : float
        Share of its glass and sand that is ripe.

    Returns
    -------
    Estimate
        [mg N/day]
    """
    rock = float(live_rock_removal_mg_n_day(system.rock_kg))
    media = sum(item.count for item in system.equipment if item.kind == "reactor") * MEDIA_M2
    sand = system.tank.length_m * system.tank.width_m if system.sand_kg else 0.0
    area = surfaces * (surface_m2(system) + sand) + media
    skims = any(item.kind == "skimmer" for item in system.equipment)
    rates = tuple(spread * policy["removal_by_area"] for spread in SURFACE_SPREAD)
    low, likely, high = (
        (rock + 1000 * rate * area) / (1 - (share if skims else 0.0))
        for rate, share in zip(rates, SKIMMED, strict=True)
    )
    skimmed = "; a skimmer takes a tenth to a third of the load first" if skims else ""
    return Estimate(
        low,
        likely,
        high,
        "mg N/day",
        f"{show_rounded(system.rock_kg)} kg of live rock {rock:.0f} mg N, {area:.1f} m² of glass, sand and media at "
        f"{rates[0]:.3g} to {rates[2]:.3g} g N/m² a day{skimmed}",
        Provenance.COMPUTED,
        "Li et al. (2017), Acta Oceanol. Sin. 36(12), 87-94; Nijhof and Bovendeur (1990), Aquaculture 87, 133-143",
    )
