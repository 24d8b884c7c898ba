"""Does the equipment do for the tank it is to run on? Heat, flow, light, skimming, top-up, the circuit, spares."""

from __future__ import annotations

import math
from dataclasses import dataclass

from moveplan.plan.places import Place
from moveplan.plan.systems import Equipment, System
from moveplan.quantities.circuits import CIRCUIT_SHARE, carries_w, equipment_w
from moveplan.quantities.facts import GroupFacts
from moveplan.quantities.policy import Policy
from moveplan.quantities.warming import LOSS_W_M2_K, surface_m2
from moveplan.units import show_rounded

TURNOVER = {"fish": 5.0, "soft": 10.0, "lps": 15.0, "sps": 25.0}
"""Water moved in an hour over the water there is, by the most demanding animals; common practice, no source. [1/h]"""
LAMP_LENGTH_M = 0.6
"""Length of tank that one lamp lights; common practice, no source. [m]"""
DIM_DEPTH_M = 0.55
"""Depth from which ordinary lamps leave the bottom dim; common practice, no source. [m]"""
SKIMS = 1.5
"""Growth of the water up to which a skimmer is taken to do; assumed. [-]"""
SPARES = ("heater", "return-pump")
"""Equipment whose failure is an emergency within a day. [-]"""


@dataclass(frozen=True, slots=True)
class Check:
    """One question about the equipment.

    Parameters
    ----------
    id : str
        ``heating``, ``flow``, ``light``, ``skimming``, ``top-up``, ``circuit`` or ``spares``.
    ok : bool
        Whether it does.
    there, needed : float
        In ``unit``.
    basis : str
        How the need came about.
    """

    id: str
    ok: bool
    there: float
    needed: float
    unit: str
    basis: str


def checks_of(
    before: System,
    after: System,
    litres: float,
    groups: tuple[GroupFacts, ...],
    place: Place,
    policy: Policy,
) -> tuple[Check, ...]:
    """Ask every question about the equipment of a tank.

    Parameters
    ----------
    before, after : System
        As it stands now and as it will stand.
    litres : float
        Its water as it will stand. [l]
    groups : tuple of GroupFacts
        Its animals.
    place : Place
        Where it will stand.
    policy : Policy
        Heating beyond the loss on the coldest day, and what evaporates in a day.
    """
    return (
        _heating(after, place, policy["heater_margin"]),
        _flow(after, litres, groups),
        _light(after, groups),
        *_skimming(before, after, litres),
        _top_up(after, policy["evaporation_daily"], litres),
        _circuit(after, place),
        _spares(after),
    )


def total(equipment: tuple[Equipment, ...], kind: str, field: str) -> float:
    """Add up one property of all pieces of a kind."""
    return sum(item.count * float(getattr(item, field)) for item in equipment if item.kind == kind)


def _heating(after: System, place: Place, margin: float) -> Check:
    loss = LOSS_W_M2_K * surface_m2(after) * max(after.temperature_c - place.room_temperature_c, 0.0)
    needed = margin * loss
    there = total(after.equipment, "heater", "power_w")
    basis = (
        f"{loss:.0f} W lost through glass and surface at {show_rounded(place.room_temperature_c)} °C room air, "
        f"{margin:g} times that"
    )
    return Check("heating", there >= needed, there, needed, "W", basis)


def demand(groups: tuple[GroupFacts, ...]) -> str:
    """Most demanding animals for flow: ``sps``, ``lps``, ``soft`` or ``fish``."""
    kinds = {group.kind.group for group in groups}
    for level, names in (
        ("sps", {"sps-coral", "gorgonian"}),
        ("lps", {"lps-coral"}),
        ("soft", {"soft-coral", "zoanthid", "anemone", "clam"}),
    ):
        if kinds & names:
            return level
    return "fish"


def _flow(after: System, litres: float, groups: tuple[GroupFacts, ...]) -> Check:
    level = demand(groups)
    there = sum(total(after.equipment, kind, "flow_l_h") for kind in ("circulation-pump", "return-pump"))
    needed = TURNOVER[level] * litres
    basis = f"{TURNOVER[level]:g} times {litres:.0f} l in an hour for its most demanding animals"
    return Check("flow", there >= needed, there, needed, "l/h", basis)


def _light(after: System, groups: tuple[GroupFacts, ...]) -> Check:
    lamps = float(sum(item.count for item in after.equipment if item.kind == "light"))
    wanted = max((group.kind.light for group in groups), key=_LIGHT.__getitem__, default="none")
    needed = math.ceil(after.tank.length_m / LAMP_LENGTH_M - 1e-9) if _LIGHT[wanted] else 0
    deep = after.tank.water_height_m > DIM_DEPTH_M and wanted == "high"
    basis = f"a lamp to {100 * LAMP_LENGTH_M:.0f} cm of length; corals that want {wanted} light"
    if deep:
        basis += (
            f", and {100 * after.tank.water_height_m:.0f} cm of water leave the bottom dim: keep them high up"
        )
    return Check("light", lamps >= needed, lamps, float(needed), "lamps", basis)


_LIGHT = {"none": 0, "low": 1, "medium": 2, "high": 3}


def _skimming(before: System, after: System, litres: float) -> tuple[Check, ...]:
    """Ask for a skimmer that does; nothing where neither tank has one."""
    own = any(item.kind == "skimmer" for item in after.equipment)
    had = any(item.kind == "skimmer" for item in before.equipment)
    if not own:
        basis = "the old tank has one, the new one names none"
        return (Check("skimming", False, 0.0, 1.0, "skimmer", basis),) if had else ()
    same = after.equipment == before.equipment
    old_l = 1000 * before.tank.length_m * before.tank.width_m * before.tank.water_height_m
    grown = litres / old_l if old_l else 1.0
    ok = not same or grown <= SKIMS
    basis = "a skimmer is rated for a volume; look at its label"
    return (Check("skimming", ok, 1.0, grown, "times the water", basis),)


def _top_up(after: System, evaporates: float, litres: float) -> Check:
    daily_l = evaporates * litres
    there = float(sum(item.count for item in after.equipment if item.kind == "top-up"))
    basis = f"some {daily_l:.1f} l evaporate in a day ({100 * evaporates:g} % of the water)"
    return Check("top-up", there > 0 or daily_l < 2.0, there, 1.0, "top-up", basis)


def _circuit(after: System, place: Place) -> Check:
    load, rating, allowed = equipment_w(after.equipment), place.circuit_w, carries_w(place)
    if allowed is None:
        return Check("circuit", True, load, load, "W", "the plan does not say what the circuit carries")
    return Check(
        "circuit",
        load <= allowed,
        allowed,
        load,
        "W",
        f"{CIRCUIT_SHARE:.0%} of the {rating:g} W of the circuit",
    )


def _spares(after: System) -> Check:
    single = [
        kind for kind in SPARES if sum(item.count for item in after.equipment if item.kind == kind) == 1
    ]
    basis = f"only one of: {', '.join(single)}" if single else "two of everything that matters"
    return Check("spares", not single, 0.0, float(len(single)), "spares", basis)
