"""Values of :mod:`moveplan.science.gas.ends`: containers, what they go through, and limits of dissolved gases."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from moveplan.science.gas.dissolved import OXYGEN_IN_AIR
from moveplan.science.numbers import Array
from moveplan.science.ranges import check, within


@dataclass(frozen=True, slots=True)
class Vessels:
    """Containers with their animals, as columns; a plain number stands for all.

    Parameters
    ----------
    water_l, gas_l : float or array
        Water, and gas between it and the lid; 0 brim full. [l]
    water_area_m2 : float or array
        Surface of the water. [m²]
    temperature_c : float or array
        Water temperature; take the warmest. [°C]
    salinity_psu : float or array
        Practical salinity, 28 to 40. [-]
    resting_use_mg_h : float or array
        Oxygen use at rest of what was netted; the handling factor multiplies it. [mg/h]
    oxygen_use_mg_h : float or array
        Oxygen use of what does not mind: rock, media, corals. [mg/h]
    stone_depth_m : float or array
        Depth of the air stone. [m]
    hours_since_capture, quiet, peak, half_life_h : float or array
        Handling curve, see :func:`~moveplan.science.animals.handling.handling_factor`. [h, -, -, h]
    road_factor : float or array
        Least oxygen use over that at rest while a vehicle moves. [-]
    transfer_factor : float or array
        Multiplies every conductance: 0.5 careful, 1 likely, 2 hopeful. [-]
    saturation_fraction : float or array
        Oxygen in the water at the start over that in balance with air. [-]
    oxygen_fraction, vent_oxygen_fraction : float or array
        Oxygen in the gas at the start, and in what a pump or a cylinder blows in under the lid. [-]
    carbon_dioxide_uatm : float or array
        Partial pressure of carbon dioxide in water and gas at the start. [µatm]
    room_carbon_dioxide_uatm : float or array
        Partial pressure of carbon dioxide in the room or load space; homes 600 to 1500, common practice. [µatm]
    respiratory_quotient : float or array
        Carbon dioxide made per oxygen used, by moles. [-]
    alkalinity_mmol_kg : float or array
        Total alkalinity. [mmol/kg]
    pressure_kpa : float or array
        Air pressure. [kPa]
    """

    water_l: float | Array
    gas_l: float | Array
    water_area_m2: float | Array
    temperature_c: float | Array
    salinity_psu: float | Array
    resting_use_mg_h: float | Array
    oxygen_use_mg_h: float | Array = 0.0
    stone_depth_m: float | Array = 0.1
    hours_since_capture: float | Array = 0.0
    quiet: float | Array = 1.5
    peak: float | Array = 3.6
    half_life_h: float | Array = 0.5
    road_factor: float | Array = 2.0
    transfer_factor: float | Array = 1.0
    saturation_fraction: float | Array = 1.0
    oxygen_fraction: float | Array = OXYGEN_IN_AIR
    vent_oxygen_fraction: float | Array = OXYGEN_IN_AIR
    carbon_dioxide_uatm: float | Array = 800.0
    room_carbon_dioxide_uatm: float | Array = 800.0
    respiratory_quotient: float | Array = 0.85
    alkalinity_mmol_kg: float | Array = 2.3
    pressure_kpa: float | Array = 101.325

    def __post_init__(self) -> None:
        check(**{field.name: getattr(self, field.name) for field in fields(self)})
        within("temperature_c", self.temperature_c, 2.0, 35.0, "range of Lueker et al. (2000)")
        within("salinity_psu", self.salinity_psu, 28.0, 40.0, "sea water")


@dataclass(frozen=True, slots=True)
class Phase:
    """A time through which nothing is changed; one number for all containers, or one for each.

    Parameters
    ----------
    duration_h : float or array
        Length; that of the last phase is not looked at. [h]
    on_road : bool or array
        The water sloshes, and animals use at least twice what they use at rest. [-]
    pump_flow_l_min : float or array
        Air that reaches the stone; 0 without one.  Count half of what is stated. [l/min]
    vent_l_h : float or array
        Air of the room that passes through the gas under the lid: 0 shut, 60 times the flow of a pump that draws
        from outside the container under a lid with a hole, infinite without a lid. [l/h]
    """

    duration_h: float | Array
    on_road: bool | NDArray[np.bool_] = False
    pump_flow_l_min: float | Array = 0.0
    vent_l_h: float | Array = 0.0

    def __post_init__(self) -> None:
        check(duration_h=self.duration_h, pump_flow_l_min=self.pump_flow_l_min, vent_l_h=self.vent_l_h)


@dataclass(frozen=True, slots=True)
class GasLimits:
    """Limits of dissolved gases.

    Parameters
    ----------
    oxygen_minimum_mg_l : float or array
        Least dissolved oxygen. [mg/l]
    carbon_dioxide_limit_mg_l : float or array
        Most dissolved carbon dioxide. [mg/l]
    """

    oxygen_minimum_mg_l: float | Array
    carbon_dioxide_limit_mg_l: float | Array

    def __post_init__(self) -> None:
        check(**{field.name: getattr(self, field.name) for field in fields(self)})
