"""Who drives, and who rides along, when the crew of a moving day goes there and back together."""

from __future__ import annotations

from collections.abc import Mapping

from moveplan.firm.placing.one_job import Placed
from moveplan.firm.values import Firm
from moveplan.network.task import Kind


def aboard(firm: Firm, placed: Placed) -> Mapping[str, tuple[str, ...]]:
    """Seat the crew in the vehicles of a job, whoever drives first; the way between homes has the same drivers.

    Parameters
    ----------
    firm : Firm
        Whose people and vehicles.
    """
    crew = [who for who, stops in placed.trace.people.items() if any(stop.moving for stop in stops)]
    vehicles = [
        one.vehicle
        for one in firm.vehicles
        if any(stop.moving for stop in placed.trace.vehicles.get(one.id, ()))
    ]
    drivers = _drivers(placed)
    found: dict[str, list[str]] = {}
    for one in vehicles:
        taken = {who for rows in found.values() for who in rows} | set(drivers.values())
        able = (who for who in crew if who not in taken and firm.worker(who).helper.drives)
        driver = drivers.get(one.id) or next(able, None)
        found[one.id] = [driver] if driver else []
    seated = {who for rows in found.values() for who in rows}
    for who in (one for one in crew if one not in seated):
        room = next((one for one in vehicles if len(found[one.id]) < one.seats), None)
        if room is not None:
            found[room.id].append(who)
    return {vehicle: tuple(rows) for vehicle, rows in found.items()}


def _drivers(placed: Placed) -> Mapping[str, str]:
    """Name who drives each vehicle first from home to home."""
    travels = {
        task.id
        for task in placed.outlook.project.network.tasks
        if task.kind is Kind.TRAVEL and task.place and task.day
    }
    rows = sorted(
        (one.start, one.people[0], one.vehicles)
        for one in placed.outlook.schedule.placements
        if one.task in travels and one.people
    )
    return {vehicle: who for _, who, vehicles in reversed(rows) for vehicle in vehicles}
