"""Who drives, and who rides along, when the crew of a moving day goes there and back together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from moveplan.firm.placing.traces import Run, Stop
from moveplan.firm.values import Firm
from moveplan.network.task import Kind
from moveplan.times import to_local


def aboard(firm: Firm, run: Run, day: date) -> Mapping[str, tuple[str, ...]]:
    """Seat the crew in the vehicles of a job, whoever drives first; the way between homes has the same drivers.

    Parameters
    ----------
    firm : Firm
        Whose people and vehicles.
    day : date
        A moving day of the job.
    """

    def there(stops: Iterable[Stop]) -> bool:
        return any(stop.moving and to_local(stop.start, firm.zone).date() == day for stop in stops)

    crew = [who for who, stops in run.trace.people.items() if there(stops)]
    vehicles = [one.vehicle for one in firm.vehicles if there(run.trace.vehicles.get(one.id, ()))]
    drivers = _drivers(firm, run, day)
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


def _drivers(firm: Firm, run: Run, day: date) -> Mapping[str, str]:
    """Name who of the firm drives each vehicle first from home to home."""
    firms = {one.id for one in firm.people}
    travels = {
        task.id for task in run.project.network.tasks if task.kind is Kind.TRAVEL and task.place and task.day
    }
    rows = sorted(
        (one.start, one.people[0], one.vehicles)
        for one in run.schedule.placements
        if one.task in travels and one.people and one.people[0] in firms
        if to_local(one.start, firm.zone).date() == day
    )
    return {vehicle: who for _, who, vehicles in reversed(rows) for vehicle in vehicles}
