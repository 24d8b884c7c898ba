"""How long animals are safe in a container on the way, and what ends that time.

Oxygen, carbon dioxide and ammonia are coupled through respiration and the carbonate system
(:mod:`moveplan.science.gas.bag`); temperature goes its own way; a policy caps the result.  A sealed bag keeps its
ammonia harmless by its falling pH, and gives it back when it is opened and aerated: that value is reported
beside the limits, because it decides how the animals are unpacked.

The ammonia limit of a sealed container is not monotone in its gas: more gas keeps the pH higher.

Planning support only; not veterinary advice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from operator import attrgetter

import numpy as np

from moveplan.science.filter.ammonia import unionised_fraction
from moveplan.science.gas.bag import Bags
from moveplan.science.gas.dissolved import (
    oxygen_in_gas_mg_l,
    oxygen_partition,
    oxygen_saturation_mg_l,
    usable_oxygen_mg,
)
from moveplan.science.gas.stays import Binding, SafeTime, Stay, TransitLimits, WaterState, loading_density_g_l
from moveplan.science.heat.cooling import cooling_time_h
from moveplan.science.numbers import Array
from moveplan.science.ranges import check

__all__ = [
    "Binding",
    "SafeTime",
    "Stay",
    "TransitLimits",
    "WaterState",
    "loading_density_g_l",
    "safe_time",
    "safe_times",
    "water_states",
]

NEVER_H = 1e6
"""Times beyond this are given as infinite [h]."""


def safe_times(stays: Sequence[Stay], limits: Sequence[TransitLimits]) -> tuple[SafeTime, ...]:
    """Give the safe time of many stays at once; far faster than one by one.

    Parameters
    ----------
    stays : sequence of Stay
        Containers with their animals. [-]
    limits : sequence of TransitLimits
        One for each stay. [-]

    Returns
    -------
    tuple of SafeTime
        In the order of the stays. [-]

    References
    ----------
    Assumptions and sources as in :mod:`moveplan.science.gas.bag`, :mod:`moveplan.science.water.carbonate` and
    :mod:`moveplan.science.gas.dissolved`.
    """
    if not stays:
        return ()
    packed, limit = _Columns(stays, Stay), _Columns(limits, TransitLimits)
    bags = _bags(packed)
    oxygen = packed["aeration_h"] + _sealed_oxygen_h(packed, limit["oxygen_minimum_mg_l"])
    carbon_dioxide = packed["aeration_h"] + bags.time_to_carbon_dioxide_h(limit["carbon_dioxide_limit_mg_l"])
    aerated = _aerated_ammonia_h(packed, limit)
    sealed = packed["aeration_h"] == 0.0
    ammonia = np.where(sealed, bags.time_to_ammonia_h(limit["ammonia_limit_mg_n_l"]), aerated)
    temperature = _temperature_h(packed, limit)
    times = np.stack([oxygen, carbon_dioxide, ammonia, temperature])
    return _verdicts(np.where(times < NEVER_H, times, np.inf), aerated, limit)


def _verdicts(times: Array, aerated: Array, limit: _Columns) -> tuple[SafeTime, ...]:
    computed = limit["safety_factor"] * times.min(axis=0)
    policy = limit["policy_h"]
    safe = np.minimum(computed, policy)
    binding = np.where(policy < computed, len(times), times.argmin(axis=0))
    reached = limit["ammonia_limit_mg_n_l"] * safe / np.maximum(aerated, 1e-9)
    rows = np.stack([*times, policy, safe, binding, np.where(aerated < NEVER_H, aerated, np.inf), reached])
    return tuple(_verdict(*row) for row in rows.T.tolist())


def _verdict(
    oxygen: float,
    carbon_dioxide: float,
    ammonia: float,
    temperature: float,
    policy: float,
    safe: float,
    binding: float,
    aerated: float,
    reached: float,
) -> SafeTime:
    binds = tuple(Binding)[int(binding)]
    return SafeTime(oxygen, carbon_dioxide, ammonia, temperature, policy, safe, binds, aerated, reached)


def safe_time(stay: Stay, limits: TransitLimits) -> SafeTime:
    """Give the safe time of one stay.

    Parameters
    ----------
    stay : Stay
        Container with its animals. [-]
    limits : TransitLimits
        Limits that end the stay. [-]

    Returns
    -------
    SafeTime
        Time to each limit, and the one that binds. [-]

    References
    ----------
    As for :func:`safe_times`.

    Examples
    --------
    A fish of 20 g in 2 l of water with 4 l of oxygen:

    >>> bag = Stay(2.0, 4.0, 26.0, 35.0, 10.433, 0.4567, 1.0, 0.0, 26.0, 20.0)
    >>> result = safe_time(bag, TransitLimits(4.0, 15.0, 0.05, 22.0, 29.0, 24.0, 0.7, 8.2))
    >>> str(result.binds), round(result.carbon_dioxide_h, 1), round(result.safe_h, 1)
    ('carbon dioxide', 13.2, 9.3)
    """
    return safe_times((stay,), (limits,))[0]


def water_states(stays: Sequence[Stay], durations_h: Sequence[float]) -> tuple[WaterState, ...]:
    """Give the water of closed containers after a time; aeration is left out.

    Parameters
    ----------
    stays : sequence of Stay
        Containers with their animals. [-]
    durations_h : sequence of float
        Time for each. [h]

    Returns
    -------
    tuple of WaterState
        In the order of the stays. [-]

    References
    ----------
    As for :func:`safe_times`.

    Examples
    --------
    >>> bag = Stay(2.0, 4.0, 26.0, 35.0, 10.433, 0.4567, 1.0, 0.0, 26.0, 20.0)
    >>> state = water_states([bag], [8.0])[0]
    >>> round(state.oxygen_mg_l, 1), round(state.ph_nbs, 2), round(state.total_ammonia_mg_n_l, 2)
    (31.0, 7.11, 1.83)
    """
    if not stays:
        return ()
    packed = _Columns(stays, Stay)
    check(duration_h=np.asarray(durations_h, dtype=np.float64))
    hours: Array = np.asarray(durations_h, dtype=np.float64)
    ph, carbon_dioxide, ammonia, unionised = _bags(packed).at(hours)
    columns = np.stack([_oxygen_after_mg_l(packed, hours), carbon_dioxide, ph, ammonia, unionised])
    return tuple(WaterState(*row) for row in columns.T.tolist())


class _Columns:
    """Fields of many frozen values as arrays by name."""

    def __init__(
        self, rows: Sequence[Stay] | Sequence[TransitLimits], of: type[Stay | TransitLimits]
    ) -> None:
        names = [field.name for field in fields(of)]
        columns = np.array(list(map(attrgetter(*names), rows)), dtype=np.float64).T
        self._columns = dict(zip(names, columns, strict=True))

    def __getitem__(self, name: str) -> Array:
        column: Array = self._columns[name]
        return column


def _bags(packed: _Columns) -> Bags:
    wanted = (
        "water_l",
        "gas_l",
        "temperature_c",
        "salinity_psu",
        "oxygen_use_mg_h",
        "ammonia_mg_n_h",
        "respiratory_quotient",
        "alkalinity_mmol_kg",
        "carbon_dioxide_uatm",
    )
    return Bags.packed(**{name: packed[name] for name in wanted})


def _oxygen_at_start(packed: _Columns) -> tuple[Array, Array, Array]:
    """Give oxygen in the gas, oxygen in the water, and the partition between them, when closed."""
    temperature, salinity, pressure = packed["temperature_c"], packed["salinity_psu"], packed["pressure_kpa"]
    return (
        oxygen_in_gas_mg_l(temperature, salinity, packed["oxygen_fraction"], pressure),
        oxygen_saturation_mg_l(temperature, salinity, pressure),
        oxygen_partition(temperature, salinity),
    )


def _sealed_oxygen_h(packed: _Columns, minimum: Array) -> Array:
    in_gas, in_water, partition = _oxygen_at_start(packed)
    usable = usable_oxygen_mg(packed["water_l"], packed["gas_l"], in_gas, in_water, minimum, partition)
    return usable / np.maximum(packed["oxygen_use_mg_h"], 1e-9)


def _oxygen_after_mg_l(packed: _Columns, hours: Array) -> Array:
    in_gas, in_water, partition = _oxygen_at_start(packed)
    water, gas = packed["water_l"], packed["gas_l"]
    left = gas * in_gas + water * in_water - packed["oxygen_use_mg_h"] * hours
    oxygen: Array = np.maximum(left, 0.0) / (water + gas / partition)
    return oxygen


def _aerated_ammonia_h(packed: _Columns, limit: _Columns) -> Array:
    fraction = unionised_fraction(limit["ph_aerated"], packed["temperature_c"], packed["salinity_psu"])
    total = limit["ammonia_limit_mg_n_l"] / fraction * packed["water_l"]
    time: Array = total / np.maximum(packed["ammonia_mg_n_h"], 1e-9)
    return time


def _temperature_h(packed: _Columns, limit: _Columns) -> Array:
    start, ambient, constant = packed["temperature_c"], packed["ambient_c"], packed["constant_h"]
    down = cooling_time_h(start, ambient, limit["lowest_c"], constant)
    up = cooling_time_h(start, ambient, limit["highest_c"], constant)
    outside = (start < limit["lowest_c"]) | (start > limit["highest_c"])
    return np.where(outside, 0.0, np.minimum(down, up))
