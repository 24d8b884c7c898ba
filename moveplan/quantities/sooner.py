"""What would make the moving day shorter, as far as quantities tell: more heat, and fewer trips."""

from __future__ import annotations

import math
from dataclasses import dataclass

from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.quantities.course import Leg
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.freight.freight import Trips, one_trip
from moveplan.quantities.policy import Policy
from moveplan.quantities.warming import warming
from moveplan.quantities.water.arriving import waiting_warm
from moveplan.units import show_nearly

LONG_MIN = 180
"""Warming for longer is worth more heaters; assumed. [min]"""
MOST_W = 4000
"""Heaters that two circuits of a home carry beside the rest; assumed. [W]"""


@dataclass(frozen=True, slots=True)
class Sooner:
    """What would make the day shorter; nobody has tried it.

    Parameters
    ----------
    trip : str
        Which vehicle would save trips; empty: none.
    heat : tuple of str
        For each system, what would warm it sooner; empty: nothing.
    """

    trip: str
    heat: tuple[str, ...]

    @property
    def hints(self) -> tuple[str, ...]:
        """All that there is to say."""
        return tuple(filter(None, (self.trip, *self.heat)))


def sooner(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...], trips: Trips) -> Sooner:
    """Look for what would make the day shorter.

    Parameters
    ----------
    plan, leg : Plan, Leg
        Whose day.
    systems : tuple of SystemFacts
        What goes over.
    trips : Trips
        How it travels.
    """
    new = plan.place(leg.destination)
    return Sooner(
        one_trip(trips, plan.vehicles, plan.units),
        tuple(_more_heat(facts, new, Policy(plan.policy)) for facts in systems),
    )


def _more_heat(facts: SystemFacts, place: Place, policy: Policy) -> str:
    """Say how many watts would warm a tank soon; empty where it is soon, or where no home has so many.

    Parameters
    ----------
    place : Place
        Where it will stand.
    """
    if facts.standing or facts.times["warm"].likely <= LONG_MIN:
        return ""
    arrival = facts.handled.arrival or waiting_warm(facts.rebuilt.temperature_c, place)
    for power_w in range(100 * math.ceil(facts.heater_w / 100), MOST_W + 1, 100):
        found = warming(facts.rebuilt, facts.volumes.total.likely, power_w, place, arrival, policy).likely
        if found <= LONG_MIN:
            return (
                f"{power_w} W of heaters in place of {facts.heater_w:.0f} W, on circuits that carry them, would warm "
                f"{facts.rebuilt.name} in {show_nearly(found)}"
            )
    return ""
