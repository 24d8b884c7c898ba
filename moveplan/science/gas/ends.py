"""When oxygen and carbon dioxide end a stay: open, lidded, aerated, standing and on the road.

Water and the gas above it, each well mixed; animals take oxygen and give off carbon dioxide; alkalinity stays as it
is (excreted ammonia raises it a little, which helps).  Oxygen use follows the curve of
:mod:`moveplan.science.animals.handling` after capture.

Low confidence: every conductance (still 0.5 to 2 times, sloshing and aerated alike; compute with ``transfer_factor``
0.5 and 2), the handling curve (one species), oxygen use (1.5 times either way).  High confidence: what water and gas
hold.  Still water is layered: fish low in it meet less oxygen than the mean that is given here.

Planning support only; not veterinary advice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from typing import Any

import numpy as np

from moveplan.science.animals.handling import mean_handling_factor
from moveplan.science.animals.respiration import OXYGEN_G_MOL
from moveplan.science.gas.boxes import NEVER_H, Boxes, Course
from moveplan.science.gas.dissolved import (
    CARBON_DIOXIDE_G_MOL,
    GAS_CONSTANT_L_ATM,
    OXYGEN_IN_AIR,
    oxygen_partition,
    oxygen_saturation_mg_l,
)
from moveplan.science.gas.surface import (
    aerated_conductance_l_h,
    carbon_dioxide_over_oxygen,
    sloshing_conductance_l_h,
)
from moveplan.science.gas.vessels import GasLimits, Phase, Vessels
from moveplan.science.numbers import KELVIN, Array
from moveplan.science.ranges import check
from moveplan.science.water.carbonate import alkalinity_of, carbon_per_carbon_dioxide, hydrogen_at
from moveplan.science.water.carbonate_constants import Constants, constants
from moveplan.science.water.seawater import density_kg_m3

__all__ = ["NEVER_H", "GasLimits", "Phase", "Vessels", "gas_limits", "gases_after"]

_LEAST_GAS_L = 1e-4
"""Least gas of a container: one that is brim full has as good as none. [l]"""
_MOST_VENT_L_H = 1e6
"""Greatest vent: no lid at all. [l/h]"""
_HALF_LIVES = (0.1, 0.25, 0.4, 0.6, 0.85, 1.15, 1.5, 2.0, 2.7, 3.7, 5.5)
"""Where the handling curve is cut, from the start, into pieces in which its mean stands for it [half-lives]."""
_NODES = 24
"""Nodes of the table from inorganic carbon to dissolved carbon dioxide. Chosen. [-]"""
_BEYOND = 1.5
"""How far the table reaches beyond the contents that matter, as a factor. Chosen. [-]"""


def gas_limits(vessels: Vessels, phases: Sequence[Phase], limits: GasLimits) -> tuple[Array, Array]:
    """Give the times at which oxygen first falls below, and carbon dioxide first rises above, its limit.

    Parameters
    ----------
    vessels : Vessels
        Containers with their animals. [-]
    phases : sequence of Phase
        What they go through, one after the other; the last one never ends. [-]
    limits : GasLimits
        Limits. [-]

    Returns
    -------
    tuple of array
        Hours to each limit, one for each container; infinite where it is never passed. [h]

    Notes
    -----
    Low confidence: the conductances (factor 2 either way), the handling curve, oxygen use (factor 1.5).
    ``V dC/dt = G (K C_g - C) - R`` and ``V_g dC_g/dt = -G (K C_g - C) + Q (c_g - C_g)`` for oxygen; the same for
    inorganic carbon, of which only dissolved carbon dioxide crosses the surface.  The handling curve is cut into
    pieces of constant mean.

    References
    ----------
    Wanninkhof (2014) and Cole and Caraco (1998) for the surface, Garcia and Gordon (1992) for oxygen, the carbonate
    system of :mod:`moveplan.science.water.carbonate`.

    Examples
    --------
    A fish of 40 g at twice its resting use in 25 l, under a lid with 25 l of air: standing, and on the road.

    >>> tub = Vessels(25.0, 25.0, 0.2, 26.0, 35.0, 9.08, quiet=2.0, peak=2.0)
    >>> limits = GasLimits(4.0, 15.0)
    >>> [round(float(hours[0]), 1) for hours in gas_limits(tub, [Phase(1.0)], limits)]
    [6.4, 45.3]
    >>> [round(float(hours[0]), 1) for hours in gas_limits(tub, [Phase(1.0, on_road=True)], limits)]
    [144.0, 49.7]
    """
    packed = _Packed.of(vessels, phases, limits)
    limit = packed["carbon_dioxide_limit_mg_l"] / CARBON_DIOXIDE_G_MOL / packed.density
    carbon_boxes, carbon_limit = packed.carbon(limit)
    oxygen = packed.oxygen().first_passing_h(packed.oxygen_course(), packed["oxygen_minimum_mg_l"], -1)
    carbon_dioxide = carbon_boxes.first_passing_h(packed.carbon_course(), carbon_limit, 1)
    return _finite(oxygen), _finite(carbon_dioxide)


def _finite(hours: Array) -> Array:
    return np.where(hours < NEVER_H, hours, np.inf)


def gases_after(vessels: Vessels, phases: Sequence[Phase], duration_h: float) -> tuple[Array, Array]:
    """Give dissolved oxygen and carbon dioxide after a time.

    Parameters
    ----------
    vessels : Vessels
        Containers with their animals. [-]
    phases : sequence of Phase
        What they go through; the last one never ends. [-]
    duration_h : float
        Time since the start of the first phase. [h]

    Returns
    -------
    tuple of array
        Oxygen, 0 once it is used up, and carbon dioxide of each container. [mg/l]

    References
    ----------
    As for :func:`gas_limits`, with the same numbers of low confidence.

    Examples
    --------
    >>> tub = Vessels(25.0, 25.0, 0.2, 26.0, 35.0, 9.08, quiet=2.0, peak=2.0, stone_depth_m=0.11)
    >>> stone = Phase(1.0, pump_flow_l_min=1.0, vent_l_h=60.0)
    >>> [round(float(gas[0]), 2) for gas in gases_after(tub, [stone], 1000.0)]
    [5.92, 2.17]
    """
    check(duration_h=duration_h)
    packed = _Packed.of(vessels, phases, GasLimits(0.0, 60.0), duration_h)
    boxes, _ = packed.carbon(packed["carbon_dioxide_limit_mg_l"] / CARBON_DIOXIDE_G_MOL / packed.density)
    dissolved = boxes.dissolved_at(boxes.content_after(packed.carbon_course()))
    oxygen = np.maximum(packed.oxygen().content_after(packed.oxygen_course()), 0.0)
    return oxygen, dissolved * packed.density * CARBON_DIOXIDE_G_MOL


def _fields(value: Vessels | GasLimits | Phase) -> dict[str, Any]:
    return {field.name: getattr(value, field.name) for field in fields(value)}


class _Packed:
    """Vessels, limits and phases as columns of one length."""

    def __init__(self, columns: dict[str, Array], phases: list[dict[str, Array]], until_h: float) -> None:
        self._columns = columns
        self.density: Array = density_kg_m3(self["temperature_c"], self["salinity_psu"]) / 1000.0
        self._known = constants(self["temperature_c"], self["salinity_psu"])
        self._until_h = until_h
        self._pieces(phases)

    @classmethod
    def of(
        cls, vessels: Vessels, phases: Sequence[Phase], limits: GasLimits, until_h: float = NEVER_H
    ) -> _Packed:
        rows = [_fields(vessels), _fields(limits), *map(_fields, phases)]
        size = np.broadcast_shapes((1,), *(np.shape(item) for row in rows for item in row.values()))
        wide = [
            {name: np.broadcast_to(np.asarray(item, dtype=np.float64), size) for name, item in row.items()}
            for row in rows
        ]
        return cls({**wide[0], **wide[1]}, wide[2:], until_h)

    def __getitem__(self, name: str) -> Array:
        return self._columns[name]

    def _pieces(self, phases: list[dict[str, Array]]) -> None:
        """Cut time at the end of every phase and at every piece of the handling curve."""
        cuts = self["half_life_h"][:, None] * np.array(_HALF_LIVES)
        ends = (
            np.cumsum(np.stack([phase["duration_h"] for phase in phases[:-1]], axis=1), axis=1)
            if phases[1:]
            else cuts[:, :0]
        )
        horizon = np.full((len(cuts), 1), self._until_h)
        end = np.minimum(np.sort(np.concatenate([cuts, ends, horizon], axis=1), axis=1), self._until_h)
        start = np.concatenate([np.zeros_like(horizon), end[:, :-1]], axis=1)
        phase = (ends[:, :, None] <= start[:, None, :]).sum(axis=1)
        of = {name: np.stack([row[name] for row in phases], axis=1) for name in phases[0]}
        of = {name: np.take_along_axis(column, phase, axis=1) for name, column in of.items()}
        self._end = end
        self._conductance = self._conductance_of(of["pump_flow_l_min"], of["on_road"])
        self._vent = np.minimum(of["vent_l_h"], _MOST_VENT_L_H)
        self._oxygen_use = self._oxygen_use_in(start, end - start, of["on_road"])

    def _oxygen_use_in(self, start: Array, length: Array, on_road: Array) -> Array:
        quiet, peak, half, road = (
            self[name][:, None] for name in ("quiet", "peak", "half_life_h", "road_factor")
        )
        since = self["hours_since_capture"][:, None] + start
        least = np.where(on_road > 0.0, road, 1.0)
        length, since = np.minimum(length, 1e5), np.minimum(since, 1e5)
        factor = mean_handling_factor(length, since, quiet, peak, half, least)
        use: Array = self["oxygen_use_mg_h"][:, None] + self["resting_use_mg_h"][:, None] * factor
        return use

    def _conductance_of(self, flow: Array, on_road: Array) -> Array:
        area, temperature = self["water_area_m2"][:, None], self["temperature_c"][:, None]
        aerated = aerated_conductance_l_h(flow, self["stone_depth_m"][:, None], area, temperature)
        sloshing = np.where(on_road > 0.0, sloshing_conductance_l_h(area), 0.0)
        conductance: Array = self["transfer_factor"][:, None] * np.maximum(aerated, sloshing)
        return conductance

    def oxygen(self) -> Boxes:
        temperature, salinity = self["temperature_c"], self["salinity_psu"]
        saturation = oxygen_saturation_mg_l(temperature, salinity, self["pressure_kpa"])
        straight = np.broadcast_to(np.array([0.0, 1.0]), (len(saturation), 2))
        return Boxes(
            water_l=self["water_l"],
            gas_l=self._gas_as_water_l(oxygen_partition(temperature, salinity)),
            content=saturation * self["saturation_fraction"],
            in_gas=saturation * self["oxygen_fraction"] / OXYGEN_IN_AIR,
            in_room=saturation * self["vent_oxygen_fraction"] / OXYGEN_IN_AIR,
            table_content=straight,
            table_dissolved=straight,
        )

    def oxygen_course(self) -> Course:
        partition = oxygen_partition(self["temperature_c"], self["salinity_psu"])[:, None]
        return Course(self._end, self._conductance, self._vent / partition, -self._oxygen_use)

    def _gas_as_water_l(self, partition: Array) -> Array:
        gas: Array = np.maximum(self["gas_l"], _LEAST_GAS_L) / partition
        return gas

    def _carbon_partition(self) -> Array:
        kelvin = self["temperature_c"] + KELVIN
        partition: Array = self._known.k0 * self.density * GAS_CONSTANT_L_ATM * kelvin
        return partition

    def carbon(self, limit_mmol_kg: Array) -> tuple[Boxes, Array]:
        """Boxes of inorganic carbon [mmol/kg], and their content at a limit of dissolved carbon dioxide."""
        known = self._known
        start = known.k0 * self["carbon_dioxide_uatm"] / 1000.0
        room = known.k0 * self["room_carbon_dioxide_uatm"] / 1000.0
        least, most = (
            np.minimum(start, room) / _BEYOND,
            np.maximum(np.maximum(start, room), limit_mmol_kg) * _BEYOND,
        )
        first, last = (-np.log10(self._hydrogen(part, known)) for part in (least, most))
        ph = first[:, None] + (last - first)[:, None] * np.linspace(0.0, 1.0, _NODES)
        content, dissolved = self._carbon_at(10.0**-ph, known)
        boxes = Boxes(
            water_l=self["water_l"],
            gas_l=self._gas_as_water_l(self._carbon_partition()),
            content=start * carbon_per_carbon_dioxide(self._hydrogen(start, known), known),
            in_gas=start,
            in_room=room,
            table_content=content,
            table_dissolved=dissolved,
        )
        return boxes, limit_mmol_kg * carbon_per_carbon_dioxide(self._hydrogen(limit_mmol_kg, known), known)

    def _hydrogen(self, dissolved_mmol_kg: Array, known: Constants[Array]) -> Array:
        alkalinity = self["alkalinity_mmol_kg"] / 1000.0
        return hydrogen_at(alkalinity, dissolved_mmol_kg / 1000.0, 0.0 * alkalinity, known)

    def _carbon_at(self, hydrogen: Array, known: Constants[Array]) -> tuple[Array, Array]:
        """Inorganic carbon and dissolved carbon dioxide at the alkalinity and a hydrogen ion [mmol/kg]."""
        wide = Constants(*(getattr(known, f.name)[:, None] for f in fields(known)))
        others = alkalinity_of(hydrogen, 0.0 * hydrogen, 0.0 * hydrogen, wide)
        each = alkalinity_of(hydrogen, 1.0 + 0.0 * hydrogen, 0.0 * hydrogen, wide) - others
        dissolved = (self["alkalinity_mmol_kg"][:, None] - 1000.0 * others) / each
        return dissolved * carbon_per_carbon_dioxide(hydrogen, wide), dissolved

    def carbon_course(self) -> Course:
        partition = self._carbon_partition()[:, None]
        ratio = carbon_dioxide_over_oxygen(self["temperature_c"])[:, None]
        made = self._oxygen_use * self["respiratory_quotient"][:, None] / OXYGEN_G_MOL / self.density[:, None]
        return Course(self._end, self._conductance * ratio, self._vent / partition, made)
