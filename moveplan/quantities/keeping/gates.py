"""What ammonia and nitrite may read before animals go in: by who they are, and by what the plan sets."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from moveplan.plan.livestock import Livestock
from moveplan.plan.move import Plan
from moveplan.quantities.policy import Policy


@dataclass(frozen=True, slots=True)
class NitrogenGates:
    """Limits of a hold point.

    Parameters
    ----------
    ammonia, nitrite : float
        Total ammonia and nitrite, as nitrogen. [mg N/l]
    """

    ammonia: float
    nitrite: float


def fish_alone(groups: Iterable[Livestock]) -> bool:
    """Whether fish and nothing else live together: chloride keeps nitrite out of their gills.

    Parameters
    ----------
    groups : iterable of Livestock
        Who is there, or comes; nobody is not fish alone.
    """
    found = {group.traits.group for group in groups}
    return found == {"fish"}


def nitrogen_gates(plan: Plan, system: str) -> NitrogenGates:
    """Find the limits for the animals of a system.

    Parameters
    ----------
    plan : Plan
        With its animals and the limits that it sets.
    system : str
        Id of the system.
    """
    policy = Policy(plan.policy)
    fish = fish_alone(group for group in plan.livestock if group.system == system)
    return NitrogenGates(
        policy["gate_total_ammonia"], policy["gate_nitrite_fish" if fish else "gate_nitrite"]
    )
