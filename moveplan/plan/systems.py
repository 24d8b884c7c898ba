"""Tanks, sumps and what is in them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Tank:
    """An aquarium, outer dimensions.

    Parameters
    ----------
    length_m, width_m, height_m : float
        Outer dimensions. [m]
    wall_m, base_m : float
        Thickness of the sides and of the base. [m]
    material : str
        ``glass`` or ``acrylic``.
    water_height_m : float
        From the inner base to the water line. [m]
    """

    length_m: float
    width_m: float
    height_m: float
    wall_m: float
    base_m: float
    material: str
    water_height_m: float

    @property
    def box_l(self) -> float:
        """Space that it takes up. [l]."""
        return 1000 * self.length_m * self.width_m * self.height_m

    @property
    def inner_area_m2(self) -> float:
        """Area of its water. [m²]."""
        return (self.length_m - 2 * self.wall_m) * (self.width_m - 2 * self.wall_m)


@dataclass(frozen=True, slots=True)
class Equipment:
    """A piece of equipment that matters for the move.

    Parameters
    ----------
    id, name : str
        Identity and what to print.
    kind : str
        ``heater``, ``return-pump``, ``circulation-pump``, ``skimmer``, ``light``, ``top-up``, ``dosing``,
        ``reactor``, ``chiller``, ``controller`` or ``other``.
    power_w : float
        Electrical power of one. [W]
    flow_l_h : float
        Flow of one; 0 where it has none. [l/h]
    mass_kg : float
        Mass of one. [kg]
    """

    id: str
    name: str
    kind: str
    count: int
    power_w: float
    flow_l_h: float
    mass_kg: float


@dataclass(frozen=True, slots=True)
class NewTank:
    """The tank that a system moves into, where it is not the same one.

    Parameters
    ----------
    sump_l : float
        Water in its sump while running. [l]
    stand_kg : float
        Mass of its stand. [kg]
    spot : str
        ``same`` or ``other``, within the place; at a new home always ``other``.
    delivery_days : float
        From order to delivery, likely. [day]
    price : str
        As a plain decimal in the plan's currency; empty where not given.
    rock_kg, sand_kg : float
        Rock and sand bought for it, dry. [kg]
    equipment : tuple of Equipment
        What is bought for it.
    seeding : str
        What brings bacteria in: ``bare``, ``light``, ``rock`` or ``rock-and-media``.
    """

    tank: Tank
    sump_l: float
    stand_kg: float
    spot: str
    delivery_days: float
    price: str
    rock_kg: float
    sand_kg: float
    equipment: tuple[Equipment, ...] = ()
    seeding: str = "rock"


@dataclass(frozen=True, slots=True)
class System:
    """Tank, sump and equipment with one body of water.

    Parameters
    ----------
    id, name : str
        Identity and what to print.
    role : str
        ``display``, ``quarantine``, ``frag`` or ``holding``.
    place : str
        Id of the place where it stands now.
    moves_to : str
        Id of the place where it will stand; the same as ``place`` for a move within the home.
    sump_l : float
        Water in the sump while running. [l]
    stand_kg : float
        Mass of the stand. [kg]
    salinity_psu : float
        Practical salinity.
    temperature_c : float
        Temperature of the water. [°C]
    ph_nbs : float
        pH by a meter on NBS buffers.
    alkalinity_dkh : float
        Alkalinity. [dKH]
    nitrate_mg_l : float
        Nitrate as NO3. [mg/l]
    rock_kg : float
        Live rock, dry mass. [kg]
    sand_kg : float
        Sand, dry mass. [kg]
    sand_depth_m : float
        Depth of the sand. [m]
    old_sand : str
        ``keep``, ``rinse`` or ``replace``.
    water_kept : float or None
        Share of the old water to keep, 0 to 1; None: to be proposed.
    feed_g_per_day : float
        Dry feed. [g/day]
    age_months : float
        How long it has been running. [month]
    equipment : tuple of Equipment
        What runs on it.
    new_tank : NewTank or None
        The tank it moves into; None: the same tank is rebuilt.
    """

    id: str
    name: str
    role: str
    place: str
    moves_to: str
    tank: Tank
    sump_l: float
    stand_kg: float
    salinity_psu: float
    temperature_c: float
    ph_nbs: float
    alkalinity_dkh: float
    nitrate_mg_l: float
    rock_kg: float
    sand_kg: float
    sand_depth_m: float
    old_sand: str
    water_kept: float | None
    feed_g_per_day: float
    age_months: float
    equipment: tuple[Equipment, ...] = ()
    new_tank: NewTank | None = None
