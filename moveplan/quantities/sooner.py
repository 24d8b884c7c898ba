"""What would make the moving day shorter, as far as quantities tell: more heat, and fewer trips."""

from __future__ import annotations

import math

from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.quantities.course import Leg
from moveplan.quantities.durations import COLD_ARRIVAL_K, WARM_THERE_K, warming
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.freight import Trips, one_trip
from moveplan.units import show_duration

LONG_MIN = 180
"""Warming for longer is worth more heaters; assumed. [min]"""
MOST_W = 4000
"""Heaters that two circuits of a home carry beside the rest; assumed. [W]"""


def hints(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...], trips: Trips) -> tuple[str, ...]:
    """List what would make the day shorter; nobody has tried it.

    Parameters
    ----------
    plan, leg : Plan, Leg
        Whose day. [-]
    systems : tuple of SystemFacts
        What goes over. [-]
    trips : Trips
        How it travels. [-]
    """
    said = [one_trip(trips, plan.vehicles, plan.units)]
    said += [more_heat(facts, leg, plan.place(leg.destination)) for facts in systems]
    return tuple(filter(None, said))


def more_heat(facts: SystemFacts, leg: Leg, place: Place) -> str:
    """Say how many watts would warm a tank soon; empty where it is soon, or where no home has so many.

    Parameters
    ----------
    facts : SystemFacts
        The tank. [-]
    leg : Leg
        The day. [-]
    place : Place
        Where it will stand. [-]
    """
    if facts.standing or facts.times["warm"].likely <= LONG_MIN:
        return ""
    cold_k = WARM_THERE_K if leg.water_there else COLD_ARRIVAL_K
    for power_w in range(100 * math.ceil(facts.heater_w / 100), MOST_W + 1, 100):
        found = warming(facts.rebuilt, facts.volumes.total.likely, power_w, place, cold_k).likely
        if found <= LONG_MIN:
            return (
                f"{power_w} W of heaters in place of {facts.heater_w:.0f} W, on circuits that carry them, would warm "
                f"{facts.rebuilt.name} in {show_duration(round(found))}"
            )
    return ""
