"""How long gases, ammonia and pumps of many containers last: closed bags, open and lidded containers."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box, Journey, Surroundings
from moveplan.quantities.safe_time.ends import Asked, End
from moveplan.quantities.safe_time.metabolism import Breathing
from moveplan.science.animals.oxygen_limits import oxygen_limit_mg_l
from moveplan.science.filter.ammonia import unionised_fraction
from moveplan.science.gas.ends import GasLimits, Phase, Vessels, gas_limits
from moveplan.science.gas.stays import Stay, TransitLimits, loading_density_g_l
from moveplan.science.gas.transit import safe_times
from moveplan.science.numbers import Array

COUNTED_L_MIN = 0.5
"""Air that reaches a stone from one outlet of a battery pump: half of what is stated; common practice. [l/min]"""
OXYGEN_L_MIN = 0.25
"""Oxygen from a cylinder beside the air of an open container, through a fine stone: the gas under the lid becomes half
oxygen, and carbon dioxide still leaves with the air; common practice, no source. [l/min]"""
CHANGED = 0.5
"""Share of the water of a container that is changed at a stop on the way; common practice, no source. [-]"""
AIR = 0.20946
"""Oxygen in dry air by volume; US Standard Atmosphere 1976. [-]"""
_LONG_H = 1e4
"""Length of the last phase, which goes on for ever. [h]"""
_MINUTES = 60
"""Minutes of an hour. [min/h]"""


def gas_hours(rows: Sequence[Asked], around: Surroundings, policy: Policy) -> Array:
    """Hours to the limits of oxygen, carbon dioxide and ammonia, pumps running on; and to what else may end a stay.

    Parameters
    ----------
    rows : sequence of (Box, Breathing, End)
        Containers, the animals in one of each, and the end.

    Returns
    -------
    array
        A row a container, five columns: those limits, of bags until ammonia harms once air gets in, and until
        gases end what an empty battery no longer airs; infinite where a limit is never reached. [h]

    Raises
    ------
    OutOfRangeError
        For animals and waters beyond the formulas.
    """
    hours = np.full((len(rows), 5), np.inf)
    closed = [at for at, (box, _, _) in enumerate(rows) if box.kind == "bag"]
    opened = [at for at, (box, _, _) in enumerate(rows) if box.kind != "bag"]
    if closed:
        hours[closed, :4] = _sealed([rows[at] for at in closed], around, policy)
    if opened:
        hours[opened, :3] = _aired([rows[at] for at in opened], around, policy)
    longer = policy["safety_factor"] * hours[:, :2].min(axis=1) > around.battery_h
    on_battery = [at for at in opened if (rows[at][0].stones or rows[at][0].oxygen) and longer[at]]
    if on_battery:
        hours[on_battery, 4] = _battery([rows[at] for at in on_battery], around, policy)
    return hours


def _sealed(rows: Sequence[Asked], around: Surroundings, policy: Policy) -> Array:
    """Hours to the limits of oxygen, carbon dioxide and ammonia in closed bags, and until ammonia would harm in air."""
    found = safe_times(
        [_stay(box, load, end, around, policy) for box, load, end in rows],
        [_limits(box, load, around, policy) for box, load, _ in rows],
    )
    return np.array(
        [(one.oxygen_h, one.carbon_dioxide_h, one.ammonia_h, one.ammonia_when_aerated_h) for one in found]
    )


def _aired(rows: Sequence[Asked], around: Surroundings, policy: Policy) -> Array:
    """Hours to the limits of oxygen, carbon dioxide and ammonia in open and lidded containers."""
    for box, load, _ in rows:
        loading_density_g_l(load.biomass_g, box.water_l)
    fraction = float(unionised_fraction(policy["ph_aerated"], around.temperature_c, around.salinity_psu))
    most_mg_n_l = np.array([_ammonia_mg_n_l(load, policy) / fraction / end.ammonia for _, load, end in rows])
    calm = policy["stress_calm"] / policy["stress_transport"]
    given = np.array([calm * end.use * load.ammonia_mg_n_h for _, load, end in rows])
    water = np.array([box.water_l for box, _, _ in rows])
    oxygen, carbon = _gases(rows, around, policy)
    ammonia = most_mg_n_l * water / np.maximum(given, 1e-9)
    stop = np.array([_stop_h(box) for box, _, _ in rows])
    return np.column_stack([oxygen, carbon, np.where(ammonia >= stop, ammonia + CHANGED * stop, ammonia)])


def _battery(rows: Sequence[Asked], around: Surroundings, policy: Policy) -> Array:
    """Hours until an empty battery ends a stay: its own as they are, those of the gases after it by the factor. [h]."""
    ends = np.minimum(*_gases(rows, around, policy, around.battery_h))
    return around.battery_h + policy["safety_factor"] * (ends - around.battery_h)


def _stop_h(box: Box) -> float:
    """Hours until some of the water is changed; none where it is not. [h]."""
    return box.journey.before_h + box.journey.road_h / 2 if box.changed else 0.0


def policy_h(box: Box, policy: Policy) -> float:
    """Longest stay whatever the computed limits say. [h]."""
    if box.kind == "bag":
        return policy["longest_sealed_oxygen" if box.oxygen else "longest_sealed_air"]
    return policy["longest_aerated"]


def _stay(box: Box, load: Breathing, end: End, around: Surroundings, policy: Policy) -> Stay:
    """State a closed bag."""
    return Stay(
        water_l=box.water_l,
        gas_l=box.gas_l,
        temperature_c=around.temperature_c,
        salinity_psu=around.salinity_psu,
        oxygen_use_mg_h=load.oxygen_mg_h * end.use,
        ammonia_mg_n_h=load.ammonia_mg_n_h * end.use,
        oxygen_fraction=1.0 if box.oxygen else AIR,
        aeration_h=0.0,
        ambient_c=around.temperature_c,
        constant_h=10.0,
        biomass_g=load.biomass_g,
        respiratory_quotient=policy["respiratory_quotient"],
        alkalinity_mmol_kg=around.alkalinity_mmol_kg,
        carbon_dioxide_uatm=around.carbon_dioxide_uatm,
        pressure_kpa=around.pressure_kpa,
    )


def _ammonia_mg_n_l(load: Breathing, policy: Policy) -> float:
    """Most un-ionised ammonia that the animals bear for up to a day, as nitrogen. [mg N/l]."""
    return policy["ammonia_short_limit" if load.hardy else "ammonia_limit"]


def _oxygen_mg_l(around: Surroundings, policy: Policy) -> float:
    """Least dissolved oxygen in this water, the same at any altitude. [mg/l]."""
    share = policy["oxygen_alarm_share"]
    return float(oxygen_limit_mg_l(share, around.temperature_c, around.salinity_psu))


def _limits(box: Box, load: Breathing, around: Surroundings, policy: Policy) -> TransitLimits:
    return TransitLimits(
        oxygen_minimum_mg_l=_oxygen_mg_l(around, policy),
        carbon_dioxide_limit_mg_l=policy["carbon_dioxide_limit"],
        ammonia_limit_mg_n_l=_ammonia_mg_n_l(load, policy),
        lowest_c=policy["temperature_floor"],
        highest_c=policy["temperature_ceiling"],
        policy_h=policy_h(box, policy),
        safety_factor=policy["safety_factor"],
        ph_aerated=policy["ph_aerated"],
    )


def _gases(
    rows: Sequence[Asked], around: Surroundings, policy: Policy, battery_h: float = _LONG_H
) -> tuple[Array, Array]:
    """Hours to the limits of oxygen and carbon dioxide in open and lidded containers, pumps running so long."""
    quiet = policy["stress_calm"]

    def column(of: str) -> Array:
        return np.array([getattr(box, of) for box, _, _ in rows], dtype=np.float64)

    use = np.array([end.use for _, _, end in rows])
    air, oxygen = COUNTED_L_MIN * column("stones"), OXYGEN_L_MIN * column("oxygen")
    vessels = Vessels(
        water_l=column("water_l"),
        gas_l=column("gas_l"),
        water_area_m2=column("floor_m2"),
        temperature_c=around.temperature_c,
        salinity_psu=around.salinity_psu,
        resting_use_mg_h=use * np.array([load.resting_mg_h for _, load, _ in rows]),
        oxygen_use_mg_h=use * np.array([load.steady_mg_h for _, load, _ in rows]),
        stone_depth_m=0.9 * column("depth_m"),
        quiet=quiet,
        peak=policy["stress_netted"],
        road_factor=policy["stress_transport"],
        transfer_factor=np.array([end.gas for _, _, end in rows]),
        respiratory_quotient=policy["respiratory_quotient"],
        pressure_kpa=around.pressure_kpa,
        alkalinity_mmol_kg=around.alkalinity_mmol_kg,
        carbon_dioxide_uatm=around.carbon_dioxide_uatm,
        vent_oxygen_fraction=(AIR * air + oxygen) / np.maximum(air + oxygen, 1e-9),
    )
    phases = _phases([box.journey for box, _, _ in rows], air + oxygen, battery_h)
    limits = GasLimits(_oxygen_mg_l(around, policy), policy["carbon_dioxide_limit"])
    return gas_limits(vessels, phases, limits)


def _phases(ways: Sequence[Journey], flow: Array, battery_h: float) -> list[Phase]:
    """Cut each journey where it is loaded, unloaded, and where the battery is empty: oxygen is not counted then."""
    before = np.array([way.before_h for way in ways])
    road = before + np.array([way.road_h for way in ways])
    cuts = np.sort(np.stack([before, road, np.full_like(before, battery_h)], axis=1), axis=1)
    starts = np.concatenate([np.zeros((len(ways), 1)), cuts], axis=1)
    lasts = np.concatenate([np.diff(starts, axis=1), np.full((len(ways), 1), _LONG_H)], axis=1)
    return [
        Phase(
            duration_h=lasts[:, at],
            on_road=(starts[:, at] >= before) & (starts[:, at] < road),
            pump_flow_l_min=np.where(starts[:, at] < battery_h, flow, 0.0),
            vent_l_h=np.where(starts[:, at] < battery_h, _MINUTES * flow, 0.0),  # out under a lid with a hole
        )
        for at in range(4)
    ]
