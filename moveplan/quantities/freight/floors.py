"""When a floor wants an engineer's word."""

from __future__ import annotations

from collections.abc import Mapping

from moveplan.estimate import Estimate
from moveplan.plan.places import Place
from moveplan.science.limits import limits


def floor_needs_engineer(place: Place, full: Estimate, policy: Mapping[str, float]) -> bool:
    """Tell whether a structural engineer should be asked before a tank stands there.

    Parameters
    ----------
    place : Place
        Its storey and its kind of floor count.
    full : Estimate
        Mass of the running system; the high end counts. [kg]
    policy : Mapping of str to float
        Limits that the plan overrides, by name.
    """
    if place.floor_kind == "slab":
        return False
    name = "engineer_suspended_floor" if place.floor == 0 else "engineer_any_floor"
    stricter = min(_limit("engineer_suspended_floor", policy), _limit(name, policy))
    return full.high > stricter


def _limit(name: str, policy: Mapping[str, float]) -> float:
    return policy.get(name, limits()[name].value)
