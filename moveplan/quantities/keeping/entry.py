"""What water must be before animals go into it, and what oxygen their containers keep, by what the plan sets."""

from __future__ import annotations

import math
from dataclasses import dataclass

from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.plan.systems import System
from moveplan.quantities.policy import Policy
from moveplan.quantities.trade_groups import CORALS
from moveplan.science.animals.oxygen_limits import oxygen_gate_mg_l, oxygen_limit_mg_l
from moveplan.science.filter.ammonia import total_ammonia_at_limit_mg_n_l
from moveplan.science.gas.dissolved import oxygen_saturation_mg_l, pressure_at_altitude_kpa

KIT_PH = (8.0, 8.2, 8.4)
"""Of reef water as a kit reads it; common practice, no source. [-]"""


@dataclass(frozen=True, slots=True)
class Entry:
    """Limits of the water of one system.

    Parameters
    ----------
    nitrate : float
        Most before its animals go in, as NO3. [mg NO3/l]
    oxygen : float
        Least dissolved oxygen before they go in, at the height of the place. [mg/l]
    alarm : float
        Dissolved oxygen of the running tank below which something is done at once, at the height of the place. [mg/l]
    tub_oxygen, tub_alarm, tub_stop : float
        Dissolved oxygen of a container: planned for, as far as the air there gives it, at which its safe time ends, at
        which they are taken out. [mg/l]
    """

    nitrate: float
    oxygen: float
    alarm: float
    tub_oxygen: float
    tub_alarm: float
    tub_stop: float


def entry_of(plan: Plan, system: System, place: Place) -> Entry:
    """Find the limits for the animals of a system.

    Parameters
    ----------
    plan : Plan
        With its animals and the limits that it sets.
    system : System
        Whose water.
    place : Place
        Where it stands.
    """
    policy = Policy(plan.policy)
    corals = any(one.traits.group in CORALS for one in plan.livestock if one.system == system.id)
    water = (system.temperature_c, system.salinity_psu)
    air_kpa = float(pressure_at_altitude_kpa(place.altitude_m))
    gate = float(
        oxygen_gate_mg_l(*water, air_kpa, policy["gate_oxygen_local_share"], policy["gate_oxygen_share"])
    )
    held, alarm, stop = (
        float(oxygen_limit_mg_l(policy[f"oxygen_{name}_share"], *water)) for name in ("plan", "alarm", "stop")
    )
    alarm_share = policy["alarm_oxygen"] / float(oxygen_saturation_mg_l(*water))
    return Entry(
        nitrate=policy["gate_nitrate_reef" if corals else "gate_nitrate_fish"],
        oxygen=round(gate, 1),
        alarm=float(oxygen_gate_mg_l(*water, air_kpa, alarm_share, policy["oxygen_alarm_share"])),
        tub_oxygen=min(held, gate),
        tub_alarm=alarm,
        tub_stop=stop,
    )


def kit_totals(unionised_mg_n_l: float, system: System) -> tuple[tuple[float, float], ...]:
    """Give pH, and the total ammonia that a kit reads where the un-ionised part is at its limit. [-, mg N/l].

    Parameters
    ----------
    unionised_mg_n_l : float
        Limit of the un-ionised part, as nitrogen. [mg N/l]
    system : System
        Whose temperature and salinity count.
    """
    water = (system.temperature_c, system.salinity_psu)
    totals = (float(total_ammonia_at_limit_mg_n_l(unionised_mg_n_l, ph, *water)) for ph in KIT_PH)
    return tuple((ph, math.floor(100 * total) / 100) for ph, total in zip(KIT_PH, totals, strict=True))
