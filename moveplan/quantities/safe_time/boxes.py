"""A container in its surroundings: what it is made of, what it goes through, and the air that it stands in."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.plan.places import Place
from moveplan.plan.systems import System
from moveplan.quantities.freight.sizes import bag_area_m2, box_side_m, tub_size_m
from moveplan.science.gas.dissolved import pressure_at_altitude_kpa
from moveplan.science.heat.vehicle_air import vehicle_airs
from moveplan.science.water.carbonate import alkalinity_mmol_kg_from_dkh
from moveplan.science.water.ph import carbon_dioxide_of_ph_uatm

BARE, WRAPPED, COVERED, INSULATED = "tub", "tub-wrapped", "tub-blanket", "polystyrene-40"
"""Walls of a bare container, of one in 10 mm of foam, of one under a moving blanket, and of an insulated box."""


@dataclass(frozen=True, slots=True)
class Journey:
    """Hours that a container is closed, in the order in which they come.

    Parameters
    ----------
    before_h, road_h, after_h : float
        In the room before loading, at the doors and on the road, and in the room afterwards. [h]
    filled_h : float
        In the room with its water, before the animals come and it is closed. [h]
    """

    before_h: float
    road_h: float
    after_h: float
    filled_h: float = 0.0

    @property
    def total_h(self) -> float:
        """From closing to opening. [h]."""
        return self.before_h + self.road_h + self.after_h


@dataclass(frozen=True, slots=True)
class LoadSpace:
    """The air in a load space, at worst.

    Parameters
    ----------
    name : str
        Of the vehicle.
    low_c, high_c : float
        On the way. [°C]
    rise_k, rise_constant_h : float
        How far it rises above the air on the way where it stands closed in the sun, and how fast. [K], [h]
    """

    name: str
    low_c: float
    high_c: float
    rise_k: float
    rise_constant_h: float


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What containers stand in from catching to release.

    Parameters
    ----------
    temperature_c, salinity_psu : float
        Of the water when packed. [°C],
    rooms_low_c, rooms_high_c : tuple of (float, float)
        Coldest and warmest air in the room before and after the way. [°C]
    load_spaces : tuple of LoadSpace
        Of every vehicle that may carry it; none where nothing is driven.
    pressure_kpa : float
        Least air pressure on the way, by altitude. [kPa]
    battery_h : float
        How long a battery pump runs. [h]
    alkalinity_mmol_kg, carbon_dioxide_uatm : float
        Of the water when packed. [mmol/kg], [µatm]
    """

    temperature_c: float
    salinity_psu: float
    rooms_low_c: tuple[float, float]
    rooms_high_c: tuple[float, float]
    load_spaces: tuple[LoadSpace, ...]
    pressure_kpa: float
    battery_h: float
    alkalinity_mmol_kg: float = 2.3
    carbon_dioxide_uatm: float = 400.0


@dataclass(frozen=True, slots=True)
class Box:
    """One container with animals.

    Parameters
    ----------
    kind : str
        ``tub``, ``pail``, ``box`` or ``bag``.
    volume_l, water_l : float
        Full volume, and the water in it; the rest is gas. [l]
    journey : Journey
        Hours that it is closed.
    stones : int
        Air stones of a battery pump that run in it; 0: none.
    oxygen : bool
        Of a bag: whether its gas is pure oxygen; of an open container: whether oxygen bubbles beside the air.
    wrapped : bool
        Whether it is wrapped in foam.
    heater_w : float
        Power of a heater with a thermostat that runs in it in the rooms; 0: none. [W]
    neighbours : int
        How many bags stand in one insulated box and keep each other warm.
    insulated : bool
        Whether it stands in an insulated box.
    changed : bool
        Whether half of its water is changed at a stop half way along the road.
    covered : bool
        Whether it stands under a moving blanket, as water for a tank does.
    """

    kind: str
    volume_l: float
    water_l: float
    journey: Journey
    stones: int = 0
    oxygen: bool = False
    wrapped: bool = False
    heater_w: float = 0.0
    neighbours: int = 1
    insulated: bool = False
    changed: bool = False
    covered: bool = False

    @property
    def aerated(self) -> bool:
        """Whether air bubbles through it."""
        return self.stones > 0

    @property
    def fed(self) -> bool:
        """Whether oxygen from a cylinder runs into it as long as it is closed."""
        return self.oxygen and self.aerated

    @property
    def gas_l(self) -> float:
        """Gas above the water. [l]."""
        return self.volume_l - self.water_l

    @property
    def wall(self) -> str:
        """Name of its wall, in the table of walls."""
        if self.insulated:
            return INSULATED
        if self.covered:
            return COVERED
        return WRAPPED if self.wrapped else BARE

    @property
    def floor_m2(self) -> float:
        """Surface of its water. [m²]."""
        if self.kind == "bag":
            return bag_area_m2(self.volume_l)
        length, width, _ = tub_size_m(self.volume_l)
        return length * width

    @property
    def depth_m(self) -> float:
        """Depth of its water. [m]."""
        return self.water_l / 1000 / self.floor_m2

    @property
    def area_m2(self) -> float:
        """Area that loses heat: floor, lid, and walls up to the water; of a box of bags all of the box. [m²]."""
        if self.kind == "bag":
            return 6 * box_side_m(self.volume_l * self.neighbours) ** 2
        length, width, _ = tub_size_m(self.volume_l)
        return 2 * length * width + 2 * (length + width) * self.depth_m

    @property
    def warm_l(self) -> float:
        """Water that cools together. [l]."""
        return self.water_l * self.neighbours


def surroundings_of(
    plan: Plan, places: tuple[Place, Place], system: System, battery_h: float
) -> Surroundings:
    """Read what containers stand in between two places.

    Parameters
    ----------
    plan : Plan
        Its vehicles.
    places : tuple of (Place, Place)
        Where the way begins and ends; the same where nothing is driven.
    system : System
        Its water: temperature, salinity, pH and alkalinity.
    battery_h : float
        How long a battery pump runs. [h]
    """
    warm_c, salinity = system.temperature_c, system.salinity_psu
    alkalinity = float(alkalinity_mmol_kg_from_dkh(system.alkalinity_dkh, warm_c, salinity))
    drives = places[0].id != places[1].id
    return Surroundings(
        warm_c,
        salinity,
        (places[0].room_temperature_c, places[1].room_temperature_c),
        (places[0].room_high_c, places[1].room_high_c),
        tuple(map(load_space_of, plan.vehicles)) if drives else (),
        min(float(pressure_at_altitude_kpa(place.altitude_m)) for place in places),
        battery_h,
        alkalinity,
        carbon_dioxide_of_ph_uatm(system.ph_nbs, alkalinity, warm_c, salinity),
    )


def load_space_of(vehicle: Vehicle) -> LoadSpace:
    """Read the air of a load space, and what the sun does to it where it stands closed."""
    sun = vehicle_airs()["car-sun"]  # the one that was measured; a load space without windows gets less warm
    in_sun = vehicle.parked == "sun" and vehicle.load_space_air != "cooled"
    return LoadSpace(
        vehicle.name,
        vehicle.air_temperature_c,
        vehicle.air_high_c,
        sun.rise_k[2] if in_sun else 0.0,
        sun.rise_constant_h,
    )
