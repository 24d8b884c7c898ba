"""Another vehicle for one that failed: whom to ring for it, who may drive it, what it carries, when it has to leave."""

from __future__ import annotations

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.failure import VEHICLE
from moveplan.journal.now.standing import Standing
from moveplan.journal.now.takeover import not_there
from moveplan.journal.state import JournalState
from moveplan.network.task import Kind
from moveplan.plan.people import HIRE, fits
from moveplan.times import to_local

Contact = tuple[str, str, str]
"""Name, role, phone number."""


@dataclass(frozen=True, slots=True)
class Another:
    """Where another vehicle may come from, and what for.

    Parameters
    ----------
    ring : tuple of (str, str, str)
        Contacts of the plan who may have one: name, role, phone number.
    drivers : tuple of (str, str) or None
        Names and phone numbers of those who drive and are there; None: it was accepted before skills were kept.
    vehicles : tuple of str
        Names of vehicles of the plan that work.
    kg : float
        What all its drives that are left were to carry; 0: not known. [kg]
    leaves : int or None
        When the first of them was to begin, UTC; None: none is left. [min]
    """

    ring: tuple[Contact, ...]
    drivers: tuple[tuple[str, str], ...] | None
    vehicles: tuple[str, ...]
    kg: float
    leaves: int | None


def another(vehicle: str, snapshot: Snapshot, state: JournalState, found: Standing) -> Another:
    """Gather what is asked when somebody is rung for another vehicle.

    Parameters
    ----------
    vehicle : str
        Id of the one that failed.
    """
    stands = snapshot.premises
    out = not_there(state, to_local(found.now, ZoneInfo(snapshot.zone)).date())
    failed = {vehicle, *(one.name for one in state.failures if one.what == VEHICLE)}
    own = [task for task in found.tasks.values() if vehicle in task.vehicles]
    drives = [task for task in own if task.kind is Kind.TRAVEL]
    left = [drive for drive in drives if found.is_open(drive.id)]
    rides = {one.id: next((drive for drive in drives if drive.start >= one.start), None) for one in own}
    drive = [
        (name, stands.phones.get(one, "") if stands else "")
        for one, name in snapshot.people.items()
        if one not in out and "drives" in snapshot.skills.get(one, ())
    ]
    return Another(
        ring=tuple(one for one in (stands.ring if stands else ()) if fits(one[1], HIRE)),
        drivers=tuple(drive) if snapshot.skills else None,
        vehicles=tuple(name for one, name in snapshot.vehicles.items() if one not in failed),
        kg=sum(kg for loading, kg in (stands.loads if stands else ()) if rides.get(loading) in left),
        leaves=left[0].start if left else None,
    )
