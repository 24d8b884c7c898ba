"""How long each piece of work on a system takes, from what has to be handled, pumped, warmed and carried."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.livestock import Livestock
from moveplan.plan.places import Place
from moveplan.plan.supplies import GearItem
from moveplan.plan.systems import Equipment, System
from moveplan.quantities.handling import Handling, together
from moveplan.quantities.pouring import drawing, filling, moving_water
from moveplan.quantities.tubs import Tubs
from moveplan.quantities.volumes import Masses, Volumes, inner_area_m2
from moveplan.science.heat import heating_time_with_loss_h, time_constant_h
from moveplan.science.livestock import Kind
from moveplan.units import show_rounded

CATCH_DEPTH_M = 0.12
"""Depth of water left for catching fish; common practice, no source. [m]"""
LOSS_W_M2_K = 7.14
"""Heat loss through 10 mm glass, ISO 6946 form with handbook conductivity, recalled. [W/(m² K)]"""
SPARE_HEATER_W = 200.0
"""A spare heater that has to be bought; assumed. [W]"""
SPARE_HEATERS = 2
"""Fewest spare heaters on the day; common practice, no source. [-]"""
COLD_ARRIVAL_K = (1.0, 3.0, 5.0)
"""How much cooler the refilled water stands than it should, where all of it was carried; assumed. [K]"""
WARM_THERE_K = (0.5, 1.5, 3.0)
"""The same where new water waits warm beside the tank; assumed. [K]"""
MANY = 12
"""Animals or pieces from which a second pair of hands is worth its way; assumed. [-]"""
CREW = 4
"""People from whom two can be spared for equipment; assumed. [-]"""


@dataclass(frozen=True, slots=True)
class Handled:
    """What has to be handled on a system.

    Parameters
    ----------
    system : System
        The system as it stands now. [-]
    rebuilt : System
        The system as it will stand. [-]
    volumes : Volumes
        Its water, rebuilt. [-]
    masses : Masses
        What it weighs. [-]
    tubs : Tubs
        What carries it. [-]
    groups : tuple of (Livestock, Kind, int)
        Animals that travel, and how many of each. [-]
    containers : int
        Bags and boxes for animals, tubs left out. [-]
    heater_w : float
        Heaters. [W]
    standing : bool
        Whether the tank it goes into already runs. [-]
    carries : tuple of System
        Systems whose tank and stand travel along. [-]
    water_there : bool
        Whether new water waits where it is poured in. [-]
    """

    system: System
    rebuilt: System
    volumes: Volumes
    masses: Masses
    tubs: Tubs
    groups: tuple[tuple[Livestock, Kind, int], ...]
    containers: int
    heater_w: float
    standing: bool = False
    carries: tuple[System, ...] = ()
    water_there: bool = False

    def count(self, *groups: str) -> int:
        """How many animals of the named trade groups travel."""
        return sum(count for _, kind, count in self.groups if kind.group in groups)

    @property
    def pieces(self) -> int:
        """Pieces of equipment."""
        return sum(item.count for item in self.rebuilt.equipment)


CORALS = ("soft-coral", "lps-coral", "sps-coral", "zoanthid", "gorgonian", "sponge", "clam", "anemone")
"""Trade groups that travel submerged in racks."""
FISH = ("fish",)
"""Trade groups that are caught and boxed."""


def side_by_side(pieces: int, able: int) -> int:
    """How many people share out a number of animals: one for a few, else as many as can.

    >>> side_by_side(3, 2), side_by_side(30, 2)
    (1, 2)
    """
    return able if pieces >= MANY else 1


def fitters(pieces: int, carriers: int) -> int:
    """How many people see to pieces of equipment: two where there are many and the crew is large enough.

    >>> fitters(14, 4), fitters(14, 2), fitters(5, 4)
    (2, 1, 1)
    """
    return 2 if carriers >= CREW and pieces >= MANY else 1


def teardown(
    what: Handled, handling: Handling, flow: Estimate, hands: float, carers: int
) -> dict[str, Estimate]:
    """Durations at the old place, by name.

    Parameters
    ----------
    what : Handled
        What has to be handled. [-]
    handling : Handling
        Minutes a piece. [-]
    flow : Estimate
        Flow of moved water. [l/min]
    hands : float
        People who work side by side. [-]
    carers : int
        People who handle animals side by side. [-]
    """
    work = handling.work
    crawling = what.count(*_invertebrates(what))
    old = sum(item.count for item in what.system.equipment)
    area = inner_area_m2(what.system.tank)
    to_catching = max(1000 * area * (what.system.tank.water_height_m - CATCH_DEPTH_M) - what.tubs.kept_l, 0.0)
    rest = 1000 * area * CATCH_DEPTH_M
    return {
        "draw": drawing(what.tubs, handling, flow),
        "corals-out": together(work("job-setup", 1), work("coral-out", what.count(*CORALS), carers)),
        "rock-out": together(work("job-setup", 1), work("rock-out", what.system.rock_kg, hands)),
        "lower": together(work("draw-setup", 1), moving_water(to_catching, flow)),
        "catch": together(work("job-setup", 1), *_catching(what, handling)),
        "invertebrates-out": together(
            work("job-setup", 1), work("invertebrate-out", crawling, side_by_side(crawling, carers))
        ),
        "seal": work("bag", max(what.containers, 1)),
        "strip": work("piece-off", max(old, 3), fitters(old, round(2 * hands))),
        "drain": together(work("draw-setup", 1), moving_water(rest, flow)),
        "sand-out": together(work("job-setup", 1), work("sand-out", what.system.sand_kg, hands)),
        "tank-off": work("tank-off", 1),
    }


def _catching(what: Handled, handling: Handling) -> list[Estimate]:
    return [
        handling.work(f"fish-{kind.catching}", count)
        for _, kind, count in what.groups
        if kind.group in FISH and count
    ]


def _invertebrates(what: Handled) -> tuple[str, ...]:
    return tuple(
        dict.fromkeys(kind.group for _, kind, _ in what.groups if kind.group not in (*CORALS, *FISH))
    )


def rebuild(
    what: Handled, handling: Handling, flow: Estimate, hands: float, carers: int, place: Place
) -> dict[str, Estimate]:
    """Durations at the new place, by name.

    Parameters
    ----------
    what : Handled
        What has to be handled. [-]
    handling : Handling
        Minutes a piece. [-]
    flow : Estimate
        Flow of moved water. [l/min]
    hands : float
        People who work side by side. [-]
    carers : int
        People who handle animals side by side. [-]
    place : Place
        Where it will stand. [-]
    """
    work = handling.work
    rebuilt = what.rebuilt
    return {
        "tank-on": work("tank-on", 1),
        "plumb": work("plumbing", 1 if rebuilt.sump_l else 0.3),
        "sand-in": together(work("job-setup", 1), work("sand-in", rebuilt.sand_kg, hands)),
        "sand-rinse": together(work("job-setup", 1), work("sand-rinse", rebuilt.sand_kg, hands)),
        "rock-in": together(work("job-setup", 1), work("rock-in", rebuilt.rock_kg, hands)),
        "fill": filling(what.volumes.total.likely, what.tubs, handling, flow),
        "connect": work("piece-on", max(what.pieces, 3), fitters(what.pieces, round(2 * hands))),
        "warm": warming(
            rebuilt,
            what.volumes.total.likely,
            what.heater_w,
            place,
            cold_arrival_k(water_there=what.water_there),
        ),
        "corals-in": together(work("job-setup", 1), work("coral-in", what.count(*CORALS), carers)),
    }


def cold_arrival_k(*, water_there: bool) -> tuple[float, float, float]:
    """How much cooler than it should be the refilled water stands: carried there, or waiting warm. [K]."""
    return WARM_THERE_K if water_there else COLD_ARRIVAL_K


def surface_m2(system: System) -> float:
    """Glass and water surface through which a tank loses heat. [m²]."""
    tank = system.tank
    sides = 2 * (tank.length_m + tank.width_m) * tank.water_height_m
    return sides + 2 * tank.length_m * tank.width_m


def heaters_w(equipment: tuple[Equipment, ...], spare: tuple[GearItem, ...], spares_needed: int) -> float:
    """Power of all heaters on the day: the tank's own, the spare ones there are, and those still to be bought.

    Parameters
    ----------
    equipment : tuple of Equipment
        The tank's own. [-]
    spare : tuple of GearItem
        Gear; only heaters count. [-]
    spares_needed : int
        Spare heaters that the day needs. [-]

    Returns
    -------
    float
        [W]
    """
    own = sum(item.count * item.power_w for item in equipment if item.kind == "heater")
    heaters = [item for item in spare if item.kind == "heater"]
    bought = max(spares_needed - sum(item.count for item in heaters), 0)
    return own + sum(item.count * item.power_w for item in heaters) + bought * SPARE_HEATER_W


def warming(
    system: System,
    litres: float,
    heater_w: float,
    place: Place,
    cold_k: tuple[float, float, float] = COLD_ARRIVAL_K,
) -> Estimate:
    """Time to warm a refilled system to its temperature, losses to the room included.

    Parameters
    ----------
    system : System
        The system as it will stand. [-]
    litres : float
        Its water. [l]
    heater_w : float
        Heaters, the spare ones included. [W]
    place : Place
        Where it stands: its coldest room air counts. [-]
    cold_k : tuple of float
        How much cooler than it should be it arrives, at least, likely and at most. [K]
    """
    loss = LOSS_W_M2_K * surface_m2(system)
    target = system.temperature_c
    constant = time_constant_h(litres, loss, target, system.salinity_psu)
    hours = [
        float(
            heating_time_with_loss_h(
                target - cold, target, heater_w, loss, place.room_temperature_c, constant
            )
        )
        for cold in cold_k
    ]
    low, likely, high = (60 * min(hour, 48.0) for hour in hours)
    basis = (
        f"{litres:.0f} l from {target - cold_k[1]:.1f} °C to {target:.1f} °C with {heater_w:.0f} W of heaters, "
        f"losing {loss:.0f} W/K to a room at {show_rounded(place.room_temperature_c)} °C; the water arrives "
        f"{cold_k[0]:g} to {cold_k[2]:g} K too cold (assumed)"
    )
    source = "first-order heating with loss; TEOS-10 heat capacity"
    return Estimate(low, likely, high, "min", basis, Provenance.COMPUTED, source)
