"""A kind of container in its surroundings, and how long animals are safe in it."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.quantities.metabolism import Breathing
from moveplan.quantities.policy import Policy
from moveplan.science.cooling import cooling_time_h, u_value_w_m2_k
from moveplan.science.heat import time_constant_h
from moveplan.science.transit import SafeTime as Verdict
from moveplan.science.transit import Stay, TransitLimits, safe_times

AIR = 0.20946
"""Oxygen in dry air by volume; US Standard Atmosphere 1976. [-]"""
PLASTIC_TUB = ((0.003, 0.22),)
"""Wall of a polypropylene tub: thickness [m], conductivity [W/(m K)]; ISO 10456, recalled."""
WRAPPED_TUB = ((0.003, 0.22), (0.010, 0.04))
"""The same, wrapped in 10 mm of closed-cell foam; ISO 10456, recalled."""
INSULATED_BOX = ((0.040, 0.035),)
"""Wall of an expanded polystyrene box; ISO 10456, recalled."""
FACES = (6, 5, 4)
"""Faces of a container that lose heat at the low end, likely and at the high end: it hangs free, it stands on a
floor, it stands beside others too; assumed. [-]"""
End = tuple[float, int]
"""A factor on the breathing, and the faces that lose heat."""


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a container stands in from catching to release.

    Parameters
    ----------
    temperature_c, salinity_psu : float
        Of the water when packed. [°C], [-]
    room_c, vehicle_c : float
        Coldest air in the rooms and in the load space. [°C]
    cold_h : float
        Hours on the road and at the doors, high end. [h]
    needed_h : float
        Hours from catching to release, likely. [h]
    battery_h : float
        How long a battery pump runs. [h]
    """

    temperature_c: float
    salinity_psu: float
    room_c: float
    vehicle_c: float
    cold_h: float
    needed_h: float
    battery_h: float

    @property
    def mean_air_c(self) -> float:
        """Air over the whole stay, weighted by time."""
        share = min(self.cold_h / self.needed_h, 1.0) if self.needed_h else 1.0
        return share * self.vehicle_c + (1 - share) * self.room_c


@dataclass(frozen=True, slots=True)
class Box:
    """One container with animals.

    Parameters
    ----------
    water_l, gas_l : float
        Water, and gas above it. [l]
    aerated : bool
        Whether a battery pump runs in it. [-]
    oxygen : bool
        Whether the gas is pure oxygen. [-]
    insulated : bool
        Whether it is an insulated box. [-]
    wrapped : bool
        Whether it is a tub wrapped in foam mats. [-]
    heated : bool
        Whether a heater runs in it in the rooms, so that only the way is cold. [-]
    neighbours : int
        How many such containers stand in one insulated box and keep each other warm. [-]
    """

    water_l: float
    gas_l: float
    aerated: bool = False
    oxygen: bool = False
    insulated: bool = False
    wrapped: bool = False
    heated: bool = False
    neighbours: int = 1


def _wall(box: Box) -> tuple[tuple[float, float], ...]:
    if box.insulated:
        return INSULATED_BOX
    return WRAPPED_TUB if box.wrapped else PLASTIC_TUB


def cooling_constant_h(box: Box, around: Surroundings, faces: int = FACES[0]) -> float:
    """Time in which the difference to the air falls to 37 %, for a cube-like box of which some faces are free. [h]."""
    water_l = box.water_l * box.neighbours
    whole_l = (box.water_l + box.gas_l) * box.neighbours
    side_m = (whole_l / 1000) ** (1 / 3)
    conductance = u_value_w_m2_k(_wall(box)) * faces * side_m**2
    return float(time_constant_h(water_l, conductance, around.temperature_c, around.salinity_psu))


def _ambient_c(box: Box, constant_h: float, around: Surroundings, policy: Policy) -> float:
    """Air that the container has to be reckoned in: none where it is heated and the way is short enough."""
    if not box.heated:
        return around.mean_air_c
    limit = policy["temperature_floor" if around.vehicle_c < around.temperature_c else "temperature_ceiling"]
    way_h = float(cooling_time_h(around.temperature_c, around.vehicle_c, limit, constant_h))
    return around.temperature_c if policy["safety_factor"] * way_h >= around.cold_h else around.vehicle_c


def calm(box: Box, policy: Policy) -> float:
    """Breathing in a dark aerated tub, where animals come to rest, over breathing in a closed bag."""
    return policy["stress_calm"] / policy["stress_transport"] if box.aerated else 1.0


def _stay(box: Box, load: Breathing, around: Surroundings, policy: Policy, end: End) -> Stay:
    factor, faces = end
    constant = cooling_constant_h(box, around, faces)
    factor *= calm(box, policy)
    return Stay(
        water_l=box.water_l,
        gas_l=box.gas_l,
        temperature_c=around.temperature_c,
        salinity_psu=around.salinity_psu,
        oxygen_use_mg_h=load.oxygen_mg_h * factor,
        ammonia_mg_n_h=load.ammonia_mg_n_h * factor,
        oxygen_fraction=1.0 if box.oxygen else AIR,
        aeration_h=around.battery_h if box.aerated else 0.0,
        ambient_c=_ambient_c(box, constant, around, policy),
        constant_h=constant,
        biomass_g=load.biomass_g,
        respiratory_quotient=policy["respiratory_quotient"],
    )


def _limits(box: Box, policy: Policy) -> TransitLimits:
    longest = (
        "longest_aerated"
        if box.aerated
        else ("longest_sealed_oxygen" if box.oxygen else "longest_sealed_air")
    )
    return TransitLimits(
        oxygen_minimum_mg_l=policy["oxygen_minimum"],
        carbon_dioxide_limit_mg_l=policy["carbon_dioxide_limit"],
        ammonia_limit_mg_n_l=policy["ammonia_limit"],
        lowest_c=policy["temperature_floor"],
        highest_c=policy["temperature_ceiling"],
        policy_h=policy[longest],
        safety_factor=policy["safety_factor"],
        ph_aerated=policy["ph_aerated"],
    )


def ends_of(policy: Policy) -> tuple[End, ...]:
    """Low end, likely and high end."""
    spread = policy["oxygen_use_spread"]
    return tuple(zip((spread, 1.0, 1 / spread), FACES, strict=True))


def verdicts_at(
    rows: list[tuple[Box, Breathing, End]], around: Surroundings, policy: Policy
) -> tuple[Verdict, ...]:
    """Safe times of several containers, each at one end, all at once: many cost little more than one.

    At the low end the animals use most oxygen and the container loses heat on all sides.

    Parameters
    ----------
    rows : list of (Box, Breathing, End)
        Containers, the animals in one of each, and the end. [-]
    around : Surroundings
        What they stand in. [-]
    policy : Policy
        Limits. [-]
    """
    stays = [_stay(box, load, around, policy, end) for box, load, end in rows]
    return safe_times(stays, [_limits(box, policy) for box, _, _ in rows])
