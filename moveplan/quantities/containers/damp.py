"""How long rock and filter media breathe, drained and damp, in the air that a lid shuts in with them."""

from __future__ import annotations

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.systems import System
from moveplan.quantities.containers.tubs import MEDIA_KG, WATER_KG_L, Tubs
from moveplan.science.carrying.loads import rock_displacement_l
from moveplan.science.filter.oxygen_demand import ROCK_RATES_MG_KG_H, damp_time_h, media_oxygen_use_mg_h

DYING_OFF = 3.0
"""What dies on rock out of the tank can triple its use of oxygen within a day; assumed. [-]"""
MEDIA_ACTIVITY = (1.0, 0.5, 0.3)
"""Use of media over that in the running tank: as before, and once nothing is fed; assumed. [-]"""
MOST_H = 24.0
"""Beyond a day it is cold, rot and drying that end it, and not oxygen; common practice, no source. [h]"""


def rock_breathes(tubs: Tubs, system: System) -> Estimate:
    """How long the air over the rock in one tub lasts.

    Parameters
    ----------
    tubs : Tubs
        Those of the system.
    system : System
        Where the rock comes from.

    Returns
    -------
    Estimate
        Until half of the oxygen in the air is used, and a day at most. [h]
    """
    dry_kg = system.rock_kg / max(tubs.rock, 1)
    pores_l = max(tubs.rock_kg - dry_kg, 0.0) / WATER_KG_L
    air_l = max(tubs.volume_l - tubs.rock_l - float(rock_displacement_l(dry_kg)) - pores_l, 0.0)
    low, likely, high = ROCK_RATES_MG_KG_H
    uses = tuple(dry_kg * rate for rate in (DYING_OFF * high, likely, low))
    basis = (
        f"{dry_kg:.0f} kg of rock (dry mass) under {air_l:.0f} l of air at {low:g} to {high:g} mg of oxygen "
        f"a kilogram and hour, three times that where something dies off"
    )
    return _lasts(air_l, uses, system, basis)


def media_breathe(tubs: Tubs, system: System, load_mg_n_day: float) -> Estimate:
    """How long the air over the filter media in one tub lasts.

    Parameters
    ----------
    tubs : Tubs
        Those of the system.
    system : System
        Where they come from.
    load_mg_n_day : float
        Ammonia that the filter takes up in the running tank, as nitrogen. [mg N/day]

    Returns
    -------
    Estimate
        Until half of the oxygen in the air is used, and a day at most. [h]
    """
    air_l = max(tubs.volume_l - tubs.media_l - MEDIA_KG / WATER_KG_L, 0.0)
    uses = tuple(
        float(media_oxygen_use_mg_h(load_mg_n_day / 24 / max(tubs.media, 1), activity_share=share))
        for share in MEDIA_ACTIVITY
    )
    basis = f"media that took up {load_mg_n_day:.0f} mg N a day, under {air_l:.0f} l of air"
    return _lasts(air_l, uses, system, basis)


def _lasts(air_l: float, uses_mg_h: tuple[float, ...], system: System, basis: str) -> Estimate:
    """Low, likely and high from the greatest use to the least."""
    low, likely, high = (
        min(float(damp_time_h(air_l, use, system.temperature_c, system.salinity_psu)), MOST_H)
        for use in uses_mg_h
    )
    source = "Collins et al. (2002), ICES J. Mar. Sci. 59, S94"
    return Estimate(low, likely, high, "h", basis, Provenance.COMPUTED, source)
