"""How much water a system holds, and what everything weighs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.systems import System, Tank
from moveplan.science.carrying.loads import (
    floor_pressure_kpa,
    rock_displacement_l,
    tank_inner_volume_l,
    tank_mass_kg,
)
from moveplan.science.water.salt import seawater_mass_kg
from moveplan.units import show_number, show_rounded

GLASS_KG_M3 = 2500.0
"""Float glass, EN 572-1, recalled. [kg/m³]"""
ACRYLIC_KG_M3 = 1190.0
"""Cast acrylic, handbook value, recalled. [kg/m³]"""
SKELETON_KG_M3 = (2781.0, 2830.0, 2873.0)
"""Micro-density of coral skeleton, Bucher, Harriott and Roberts (1998), JEMBE 228, 117-136. [kg/m³]"""
SAND_GRAIN_KG_M3 = 2935.0
"""Aragonite, Bucher, Harriott and Roberts (1998). [kg/m³]"""
SOAKED_ROCK = (1.25, 1.36, 1.50)
"""Soaked over dry mass of reef rock at porosities 0.4, 0.5 and 0.6 (range of the same paper: 0.33 to 0.70). [-]"""
WET_SAND = (1.2, 1.3, 1.4)
"""Drained wet over dry mass of aragonite sand; common practice, no source. [-]"""
FLOOR_SOURCE = "EN 1991-1-1:2002, category A, and ASCE 7, both recalled"


@dataclass(frozen=True, slots=True)
class Volumes:
    """Water of a system.

    Parameters
    ----------
    tank, sump, displaced, total : Estimate
        Water in the tank, in the sump, pushed aside by rock and sand, and all of it. [l]
    """

    tank: Estimate
    sump: Estimate
    displaced: Estimate
    total: Estimate


@dataclass(frozen=True, slots=True)
class Masses:
    """What a system weighs.

    Parameters
    ----------
    tank, stand, rock, rock_wet, sand, sand_wet, water, full : Estimate
        Empty tank, stand, dry and soaked rock, dry and drained sand, water, and all of it. [kg]
    floor : Estimate
        Pressure under the footprint, running. [kPa]
    """

    tank: Estimate
    stand: Estimate
    rock: Estimate
    rock_wet: Estimate
    sand: Estimate
    sand_wet: Estimate
    water: Estimate
    full: Estimate
    floor: Estimate


def brim_l(system: System) -> float:
    """Water that an empty tank holds up to its rim. [l]."""
    tank = system.tank
    return tank_inner_volume_l(tank.length_m, tank.width_m, tank.height_m, tank.wall_m, tank.base_m)


def volumes(system: System, provenance: Provenance, sump_known: Provenance = Provenance.GIVEN) -> Volumes:
    """Work out the water of a system.

    Parameters
    ----------
    provenance : Provenance
        Whether rock and sand were given or assumed.
    sump_known : Provenance
        Whether the water in the sump was given or assumed.
    """
    tank = system.tank
    gross_l = 1000 * tank.inner_area_m2 * tank.water_height_m
    displaced = _displaced(system, provenance)
    in_tank = Estimate(
        max(gross_l - displaced.high, 0.0),
        max(gross_l - displaced.likely, 0.0),
        max(gross_l - displaced.low, 0.0),
        "l",
        f"{gross_l:.0f} l between the panes up to {show_number(round(100 * tank.water_height_m, 2))} cm "
        f"(brim {brim_l(system):.0f} l), "
        f"less {show_rounded(displaced.likely)} l of rock and sand",
        Provenance.COMPUTED,
        "geometry",
        (("displaced", displaced),),
    )
    sump = Estimate(system.sump_l, system.sump_l, system.sump_l, "l", "sump while running", sump_known)
    total = Estimate(
        in_tank.low + sump.low,
        in_tank.likely + sump.likely,
        in_tank.high + sump.high,
        "l",
        f"{in_tank.likely:.0f} l in the tank and {sump.likely:.0f} l in the sump",
        Provenance.COMPUTED,
        "geometry",
        (("tank", in_tank), ("sump", sump)),
    )
    return Volumes(in_tank, sump, displaced, total)


def _displaced(system: System, provenance: Provenance) -> Estimate:
    low, likely, high = (
        rock_displacement_l(system.rock_kg, density) + 1000 * system.sand_kg / SAND_GRAIN_KG_M3
        for density in reversed(SKELETON_KG_M3)
    )
    return Estimate(
        low,
        likely,
        high,
        "l",
        f"{show_number(round(system.rock_kg, 3))} kg of dry rock at {SKELETON_KG_M3[1]:.0f} kg/m³ and "
        f"{show_number(round(system.sand_kg, 3))} kg of sand at {SAND_GRAIN_KG_M3:.0f} kg/m³",
        Provenance.COMPUTED if provenance is Provenance.GIVEN else Provenance.ASSUMED,
        "Bucher, Harriott and Roberts (1998), J. Exp. Mar. Biol. Ecol. 228, 117-136",
    )


def empty_tank_kg(tank: Tank) -> Estimate:
    """Mass of an empty tank, from its panes. [kg]."""
    density = ACRYLIC_KG_M3 if tank.material == "acrylic" else GLASS_KG_M3
    mass = tank_mass_kg(tank.length_m, tank.width_m, tank.height_m, tank.wall_m, tank.base_m, density)
    return Estimate(
        mass,
        mass,
        1.15 * mass,
        "kg",
        f"panes of {show_number(1000 * tank.wall_m)} mm {tank.material}, base {show_number(1000 * tank.base_m)} mm; "
        "high: braces and overflow box add 15 % (assumed)",
        Provenance.COMPUTED,
        "EN 572-1 density of float glass, recalled"
        if tank.material == "glass"
        else "handbook density, recalled",
    )


def masses(system: System, water: Volumes) -> Masses:
    """Work out what a system weighs, part by part.

    Parameters
    ----------
    water : Volumes
        Its water. [l]
    """
    tank = empty_tank_kg(system.tank)
    stand = _given(system.stand_kg, "stand")
    rock = _given(system.rock_kg, "dry rock")
    sand = _given(system.sand_kg, "dry sand")
    rock_wet = _times(rock, SOAKED_ROCK, "soaked", "porosity range of Bucher, Harriott and Roberts (1998)")
    sand_wet = _times(sand, WET_SAND, "drained wet", "common practice, no source")
    low, likely, high = (
        float(seawater_mass_kg(litres, system.temperature_c, system.salinity_psu))
        for litres in (water.total.low, water.total.likely, water.total.high)
    )
    in_system = Estimate(low, likely, high, "kg", "water at its density", Provenance.COMPUTED, "TEOS-10")
    parts = {
        "empty tank": tank,
        "stand": stand,
        "soaked rock": rock_wet,
        "wet sand": sand_wet,
        "water": in_system,
    }
    full = _sum(parts)
    return Masses(tank, stand, rock, rock_wet, sand, sand_wet, in_system, full, _floor(system.tank, full))


def _floor(tank: Tank, full: Estimate) -> Estimate:
    low, likely, high = (
        float(floor_pressure_kpa(mass, tank.length_m, tank.width_m))
        for mass in (full.low, full.likely, full.high)
    )
    return Estimate(
        low,
        likely,
        high,
        "kPa",
        f"{full.likely:.0f} kg on {show_number(tank.length_m)} m × {show_number(tank.width_m)} m",
        Provenance.COMPUTED,
        FLOOR_SOURCE,
        (("mass", full),),
    )


def _given(value: float, what: str) -> Estimate:
    return Estimate(value, value, value, "kg", what, Provenance.GIVEN)


def _times(dry: Estimate, factors: tuple[float, float, float], state: str, source: str) -> Estimate:
    low, likely, high = (factor * dry.likely for factor in factors)
    return Estimate(
        low,
        likely,
        high,
        "kg",
        f"{show_number(round(dry.likely, 3))} kg of {dry.basis} × {factors[1]} {state}",
        Provenance.COMPUTED,
        source,
    )


def _sum(parts: Mapping[str, Estimate]) -> Estimate:
    return Estimate(
        sum(part.low for part in parts.values()),
        sum(part.likely for part in parts.values()),
        sum(part.high for part in parts.values()),
        "kg",
        " + ".join(f"{part.likely:.0f} kg {name}" for name, part in parts.items()),
        Provenance.COMPUTED,
        "",
        tuple(parts.items()),
    )
