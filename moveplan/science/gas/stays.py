"""Values of :mod:`moveplan.science.gas.transit`: animals in a container, its limits, and what comes of them."""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import StrEnum

from moveplan.science.ranges import check, ordered, ranged, within


class Binding(StrEnum):
    """What ends the safe time."""

    OXYGEN = "oxygen"
    CARBON_DIOXIDE = "carbon dioxide"
    AMMONIA = "ammonia"
    TEMPERATURE = "temperature"
    POLICY = "policy"


@dataclass(frozen=True, slots=True)
class Stay:
    """Animals in one container, and the container in its surroundings.

    Parameters
    ----------
    water_l, gas_l : float
        Water, and gas above it under the lid or in the bag. [l]
    temperature_c : float
        Water temperature when packed; gases and ammonia are reckoned at it, so take the warmest. [°C]
    salinity_psu : float
        Practical salinity, 28 to 40. [-]
    oxygen_use_mg_h : float
        Oxygen use of all animals in it, stress included. [mg/h]
    ammonia_mg_n_h : float
        Total ammonia that they give off, as nitrogen. [mg N/h]
    oxygen_fraction : float
        Oxygen in the gas when closed: 0.20946 air, 1 pure oxygen. [-]
    aeration_h : float
        Hours of aeration before it counts as closed; 0 for a sealed bag. [h]
    ambient_c : float
        Temperature of the surroundings. [°C]
    constant_h : float
        Time constant of cooling. [h]
    biomass_g : float
        Mass of all animals, to refuse what no water could carry; 0 leaves the check out. [g]
    respiratory_quotient : float
        Carbon dioxide made per oxygen used, by moles. [-]
    alkalinity_mmol_kg : float
        Total alkalinity when packed. [mmol/kg]
    carbon_dioxide_uatm : float
        Partial pressure of carbon dioxide in the water when packed. [µatm]
    pressure_kpa : float
        Air pressure. [kPa]
    """

    water_l: float
    gas_l: float
    temperature_c: float
    salinity_psu: float
    oxygen_use_mg_h: float
    ammonia_mg_n_h: float
    oxygen_fraction: float
    aeration_h: float
    ambient_c: float
    constant_h: float
    biomass_g: float = 0.0
    respiratory_quotient: float = 0.85
    alkalinity_mmol_kg: float = 2.3
    carbon_dioxide_uatm: float = 400.0
    pressure_kpa: float = 101.325

    def __post_init__(self) -> None:
        check(**{field.name: getattr(self, field.name) for field in fields(self)})
        within("temperature_c", self.temperature_c, 2.0, 35.0, "range of Lueker et al. (2000)")
        within("salinity_psu", self.salinity_psu, 28.0, 40.0, "sea water; Bower and Bidwell (1978) is for 34")
        loading_density_g_l(self.biomass_g, self.water_l)


@dataclass(frozen=True, slots=True)
class TransitLimits:
    """Limits that end a stay; policy of the plan or of data/limits.toml.

    Parameters
    ----------
    oxygen_minimum_mg_l : float
        Least dissolved oxygen. [mg/l]
    carbon_dioxide_limit_mg_l : float
        Most dissolved carbon dioxide. [mg/l]
    ammonia_limit_mg_n_l : float
        Most un-ionised ammonia, as nitrogen. [mg N/l]
    lowest_c, highest_c : float
        Temperatures that must not be passed. [°C]
    policy_h : float
        Longest stay whatever the other limits say. [h]
    safety_factor : float
        Share of the shortest computed limit that may be used; the policy is not cut by it. [-]
    ph_aerated : float
        NBS pH to which aeration brings the water. [-]
    """

    oxygen_minimum_mg_l: float
    carbon_dioxide_limit_mg_l: float
    ammonia_limit_mg_n_l: float
    lowest_c: float
    highest_c: float
    policy_h: float
    safety_factor: float
    ph_aerated: float

    def __post_init__(self) -> None:
        check(**{field.name: getattr(self, field.name) for field in fields(self)})
        ordered("lowest_c", self.lowest_c, "highest_c", self.highest_c)


@dataclass(frozen=True, slots=True)
class SafeTime:
    """How long a stay is safe, and why no longer.

    Parameters
    ----------
    oxygen_h, carbon_dioxide_h, ammonia_h, temperature_h, policy_h : float
        Time to each limit; infinite where it is never reached. [h]
    safe_h : float
        Safety factor times the shortest computed limit, capped by the policy. [h]
    binds : Binding
        What ends it. [-]
    ammonia_when_aerated_h : float
        Time until the ammonia would pass its limit on re-aeration: unpack promptly after that. [h]
    ammonia_when_aerated_mg_n_l : float
        Un-ionised ammonia on re-aeration at the end of the safe time, as nitrogen. [mg N/l]
    """

    oxygen_h: float
    carbon_dioxide_h: float
    ammonia_h: float
    temperature_h: float
    policy_h: float
    safe_h: float
    binds: Binding
    ammonia_when_aerated_h: float
    ammonia_when_aerated_mg_n_l: float


@dataclass(frozen=True, slots=True)
class WaterState:
    """The water of a container after a time.

    Parameters
    ----------
    oxygen_mg_l : float
        Dissolved oxygen; 0 once it is used up. [mg/l]
    carbon_dioxide_mg_l : float
        Dissolved carbon dioxide. [mg/l]
    ph_nbs : float
        pH on the NBS scale. [-]
    total_ammonia_mg_n_l : float
        Total ammonia, as nitrogen. [mg N/l]
    unionised_mg_n_l : float
        Un-ionised ammonia, as nitrogen. [mg N/l]
    """

    oxygen_mg_l: float
    carbon_dioxide_mg_l: float
    ph_nbs: float
    total_ammonia_mg_n_l: float
    unionised_mg_n_l: float


@ranged
def loading_density_g_l(biomass_g: float, water_l: float) -> float:
    """Animals in a litre of water.

    Parameters
    ----------
    biomass_g : float
        Mass of all animals. [g]
    water_l : float
        Water. [l]

    Returns
    -------
    float
        Loading. [g/l]

    Raises
    ------
    OutOfRangeError
        Above 180 g/l, the most that is documented for fish in bags.

    References
    ----------
    Amend et al. (1982), Trans. Am. Fish. Soc. 111, 603-611: up to 180 g/l for 48 h in the laboratory.

    Examples
    --------
    >>> loading_density_g_l(20.0, 2.0)
    10.0
    """
    loading = biomass_g / water_l
    within("biomass_g / water_l", loading, 0.0, 180.0, "g/l; most documented, Amend et al. (1982)")
    return loading
