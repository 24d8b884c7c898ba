"""How animals come from the water of their container to that of the tank: how long, with how much, how fast.

A container is bailed down, then water of the tank runs in as fast as temperature and salinity may change, and over;
it ends when the readings match.  Only bags float; where salinity is apart too they are opened after that, and water
runs into them as into any other container.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from moveplan.estimate import Estimate, Provenance
from moveplan.quantities.policy import Policy
from moveplan.quantities.water.arriving import Arrival
from moveplan.science.animals.acclimation import (
    GREATEST_TEMPERATURE_STEP_K,
    salinity_slew_for_group,
)
from moveplan.science.water.dripping import bailed_volume_l, greatest_flow_l_h, overflow_acclimation_time_h

READING_MIN = (15.0, 20.0, 40.0)
"""A little of the tank's water and two readings, where the waters match already; common practice, no source. [min]"""
FLOATING_MIN = (20.0, 25.0, 40.0)
"""A closed bag of some litres afloat comes to the temperature of the tank; common practice, no source. [min]"""
PROPPED = 0.5
"""Share of the floor of a container that is under water where it is propped up on one side; assumed. [-]"""
CORALS_LEFT = 0.5
"""Share of their water in which colonies stay covered; assumed. [-]"""


@dataclass(frozen=True, slots=True)
class Ramp:
    """The way of a company of animals from one water to another.

    Parameters
    ----------
    time : Estimate
        Until the readings match. [min]
    apart_k : float
        Likely difference of temperature, above zero where the tank is warmer. [K]
    farthest_k : float
        Greatest difference to be expected, either way. [K]
    apart_psu : float
        Difference of salinity, above zero where the tank is saltier.
    left_l : float
        Water to which one container is bailed down. [l]
    flow_l_h : float
        Of water of the tank into one container. [l/h]
    floats : bool
        Whether it is a closed bag that only floats, since salinity matches.
    matched : bool
        Whether the waters are likely to match as they are.
    afloat_min : float
        How long a bag floats before it is opened for the water of the tank. [min]
    """

    time: Estimate
    apart_k: float
    farthest_k: float
    apart_psu: float
    left_l: float
    flow_l_h: float
    floats: bool
    matched: bool
    afloat_min: float = 0.0

    @property
    def poured_l(self) -> float:
        """Water of the tank that runs through one container, once a bag has floated. [l]."""
        return 0.0 if self.floats else self.flow_l_h * (self.time.likely - self.afloat_min) / 60

    @property
    def steep(self) -> bool:
        """Whether the difference to be expected is more than belongs into one day."""
        return self.farthest_k > GREATEST_TEMPERATURE_STEP_K


def ramp_of(
    groups: Sequence[str],
    water_l: float,
    biomass_g: float,
    arrival: Arrival,
    tank_c: float,
    salinities_psu: tuple[float, float],
    policy: Policy,
    *,
    covering_l: float = 0.0,
    bag: bool = False,
    corals: bool = False,
) -> Ramp:
    """Work out the way from a container into the tank.

    Parameters
    ----------
    groups : sequence of str
        Groups of the animals in it: fish, urchin and so on; the most delicate counts.
    water_l, biomass_g : float
        Water in it, and mass of fish. [l], [g]
    arrival : Arrival
        Its temperature where it is opened.
    tank_c : float
        Of the tank. [°C]
    salinities_psu : tuple of (float, float)
        Of the container and of the tank.
    policy : Policy
        What may differ.
    covering_l : float
        Water that covers its animals where it stands level. [l]
    bag, corals : bool
        Whether it is a closed bag, or a rack of colonies that have to stay covered.
    """
    bailed = max(float(bailed_volume_l(biomass_g)), PROPPED * covering_l)
    left = min(CORALS_LEFT * water_l if corals else bailed, water_l)
    container_psu, tank_psu = salinities_psu
    slews = [salinity_slew_for_group(group, tank_psu > container_psu) for group in groups]
    slew, rate_k_h = min(*slews, policy["salinity_slew"]), policy["temperature_rate"]
    salt_h = float(overflow_acclimation_time_h(container_psu, tank_psu, policy["salinity_match"], slew))
    floats = bag and abs(tank_psu - container_psu) <= policy["salinity_match"]
    offs = sorted(abs(one - tank_c) for one in (arrival.low_c, arrival.likely_c, arrival.high_c))
    likely_k = tank_c - arrival.likely_c
    heat_h = [_heat_h(off, policy) for off in (offs[0], abs(likely_k), offs[2])]
    whole = [60 * max(salt_h, one) for one in heat_h]
    low, likely, high = (max(pair) for pair in zip(FLOATING_MIN if bag else READING_MIN, whole, strict=True))
    if bag and not floats:
        low, likely, high = (floating + 60 * salt_h for floating in FLOATING_MIN)
    flow = min(
        float(greatest_flow_l_h(left, container_psu, tank_psu, slew)),
        rate_k_h * left / abs(likely_k) if abs(likely_k) > 0.1 and not bag else 1e9,
        left / (READING_MIN[1] / 60),
    )
    basis = (
        f"likely {abs(likely_k):.1f} K {'cooler' if likely_k > 0 else 'warmer'} than the tank, at most "
        f"{offs[2]:.1f} K, and {abs(tank_psu - container_psu):.1f} apart in salinity; not faster than "
        f"{rate_k_h:g} K and {slew:g} in salinity an hour; "
        + ("floating in its bag" if bag else "")
        + ("; then " if bag and not floats else "")
        + ("" if floats else f"{left:.1f} l left in it and {flow:.1f} l/h running through")
    )
    source = "stirred vessel, mass balance; greatest changes: common practice, no source"
    return Ramp(
        Estimate(low, likely, max(high, likely), "min", basis, Provenance.COMPUTED, source),
        likely_k,
        offs[2],
        tank_psu - container_psu,
        left,
        flow,
        floats,
        whole[1] <= 0.0,
        FLOATING_MIN[1] if bag and not floats else 0.0,
    )


def _heat_h(off_k: float, policy: Policy) -> float:
    """Time at the greatest flow until temperatures match: as for salinity, a stirred vessel. [h]."""
    match = policy["temperature_match"]
    return float(overflow_acclimation_time_h(35.0, 35.0 + min(off_k, 7.0), match, policy["temperature_rate"]))
