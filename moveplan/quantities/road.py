"""How long the drive takes, door to door."""

from __future__ import annotations

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.move import Plan
from moveplan.quantities.policy import Policy
from moveplan.science.travel import drive_time_h

URBAN_KM, LONG_KM = 12.0, 80.0
"""Below the first a drive is reckoned as urban, above the second as mostly motorway; assumed. [km]"""


def drive_of(plan: Plan, origin: str, destination: str, policy: Policy) -> Estimate:
    """Time of the drive between two places, in minutes.

    Parameters
    ----------
    plan : Plan
        Its drives. [-]
    origin, destination : str
        Ids of places. [-]
    policy : Policy
        Speeds, spread and breaks. [-]
    """
    drive = plan.drive(origin, destination)
    if drive is None or origin == destination:
        return Estimate(0, 0, 0, "min", "no way to drive", Provenance.COMPUTED)
    if drive.minutes is not None:
        times = drive.minutes
        return Estimate(
            times.low, times.likely, times.high, "min", "door to door, plan file", Provenance.GIVEN
        )
    speed = _speed_km_h(drive.distance_km, policy)
    likely = 60 * float(drive_time_h(drive.distance_km, speed, policy["break_after"], policy["break_length"]))
    return Estimate(
        likely * policy["drive_low"],
        likely,
        likely * policy["drive_high"],
        "min",
        f"{drive.distance_km:.0f} km door to door at {speed:.0f} km/h, with breaks",
        Provenance.COMPUTED,
        "speeds and spread are policy defaults; breaks after Highway Code rule 91, recalled",
    )


def _speed_km_h(distance_km: float, policy: Policy) -> float:
    if distance_km < URBAN_KM:
        return policy["speed_urban"]
    return policy["speed_mixed" if distance_km < LONG_KM else "speed_motorway"]
