"""How long the drive takes, door to door."""

from __future__ import annotations

import math

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.move import Plan
from moveplan.quantities.policy import Policy
from moveplan.science.carrying.travel import drive_time_h
from moveplan.units import show_rounded

TAIL = 1.6449
"""Standard deviations from the likely drive to the low and the high one: one drive in twenty lies beyond each. [-]"""


def drive_of(plan: Plan, origin: str, destination: str, policy: Policy) -> Estimate:
    """Time of the drive between two places, in minutes.

    Parameters
    ----------
    plan : Plan
        Its drives.
    origin, destination : str
        Ids of places.
    policy : Policy
        Ends, speed, spread and breaks.
    """
    drive = plan.drive(origin, destination)
    if drive is None or origin == destination:
        return Estimate(0, 0, 0, "min", "no way to drive", Provenance.COMPUTED)
    if drive.minutes is not None:
        times = drive.minutes
        return Estimate(
            times.low, times.likely, times.high, "min", "door to door, plan file", Provenance.GIVEN
        )
    ends_h, speed, spread = policy["drive_ends"] / 60, policy["drive_speed"], policy["drive_spread"]
    likely = 60 * float(
        drive_time_h(drive.distance_km, speed, policy["break_after"], policy["break_length"], ends_h)
    )
    aside = math.exp(TAIL * spread)
    return Estimate(
        likely / aside,
        likely,
        likely * aside,
        "min",
        f"{policy['drive_ends']:g} min for both ends and {show_rounded(drive.distance_km)} km at {speed:g} km/h, "
        "with breaks",
        Provenance.COMPUTED,
        "ends, speed and spread are policy defaults; breaks after Highway Code rule 91, recalled",
    )
