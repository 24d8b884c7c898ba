"""What the circuit of a place carries for hours, and what is left on it beside the tanks that run there."""

from __future__ import annotations

import math
from collections.abc import Iterable

from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.plan.systems import Equipment, System
from moveplan.quantities.course import Leg, other_systems, rebuilt
from moveplan.science.heat.circuits import circuits

CIRCUIT_SHARE = 0.8
"""Share of a circuit's rating that may run for more than three hours: NEC (NFPA 70) 210.20, recalled; the electrician
decides. [-]"""


def equipment_w(equipment: Iterable[Equipment], *kinds: str) -> float:
    """Power of all pieces, or of those of some kinds, all of them on at once. [W]."""
    return sum(item.count * item.power_w for item in equipment if not kinds or item.kind in kinds)


def carries_w(place: Place) -> float | None:
    """Say what the circuit of a place carries for hours; None where the plan does not say. [W]."""
    return None if place.circuit_w is None else CIRCUIT_SHARE * place.circuit_w


def usual_w(place: Place) -> float:
    """Say what the weakest usual circuit of a home carries for hours. [W]."""
    return circuits()["120-v-15-a" if place.country in ("US", "CA") else "230-v-10-a"].continuous_w


def tanks_w(plan: Plan, place: Place) -> float:
    """Power of the tanks that stand at a place now and in the end: both may run while water is warmed. [W].

    Of a tank and the one that takes its very spot only one runs at a time.

    Parameters
    ----------
    plan : Plan
        Its systems.
    """
    return sum(_tank_w(one, place) for one in _running(plan))


def _tank_w(system: System, place: Place) -> float:
    renewed = system.new_tank
    now = equipment_w(system.equipment) if system.place == place.id else 0.0
    stays = system.place == system.moves_to and not renewed
    later = equipment_w(rebuilt(system).equipment) if system.moves_to == place.id and not stays else 0.0
    return max(now, later) if renewed and renewed.spot == "same" else now + later


def _running(plan: Plan) -> list[System]:
    """List all systems but those that travel empty."""
    spare = {one.id for one in other_systems(plan) if one.moves_to != one.place}
    return [one for one in plan.systems if one.id not in spare]


def before_w(plan: Plan, place: Place, leg: Leg) -> float:
    """Power of the tanks that run at a place until the tanks of a leg are filled: what it empties, and what stays. [W].

    Parameters
    ----------
    plan : Plan
        Its systems.
    leg : Leg
        Whose tanks stand empty until then.
    """
    emptied = () if leg.empty or place.id != leg.origin else tuple(shift.before for shift in leg.shifts)
    staying = (one for one in other_systems(plan) if place.id == one.place == one.moves_to)
    return sum(equipment_w(one.equipment) for one in (*emptied, *staying))


def left_w(plan: Plan, place: Place, leg: Leg | None = None) -> float:
    """Say what heaters for water may draw at a place beside the tanks there. [W].

    Where the plan does not say what its circuit carries, they hang on one of their own: the weakest usual one.

    Parameters
    ----------
    plan : Plan
        Its systems.
    leg : Leg or None
        Whose tanks are filled with that water; None: they run already.
    """
    limit = carries_w(place)
    beside = before_w(plan, place, leg) if leg else tanks_w(plan, place)
    return usual_w(place) if limit is None else max(limit - beside, 0.0)


def beside_w(plan: Plan, place: Place, others_w: float) -> float:
    """Say what spare heaters may draw at the tank that is warmed on arrival. [W].

    Parameters
    ----------
    plan : Plan
        Its systems.
    place : Place
        Where they end.
    others_w : float
        Heaters in containers that run meanwhile. [W]
    """
    limit = carries_w(place)
    if limit is None:
        return math.inf
    there = (rebuilt(one) for one in _running(plan) if one.moves_to == place.id)
    return max(limit - others_w - sum(equipment_w(one.equipment) for one in there), 0.0)
