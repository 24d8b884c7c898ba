"""What the schedule costs: days of hire, kilometres, fuel, paid hours, boarding."""

from __future__ import annotations

from calendar import SATURDAY
from collections.abc import Iterable, Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

from moveplan.cost.bill import Bill, exact
from moveplan.cost.book import PAY, WEEKEND, given, of_price, tariff
from moveplan.estimate import Provenance
from moveplan.kept import table_of
from moveplan.network.task import Task
from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.practice.hires import hires_of
from moveplan.practice.paid import called_of
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import Interval, to_local


def usage() -> dict[str, Any]:
    """Read how much of a thing is used where nothing follows from the plan; assumed."""
    return table_of(Path(__file__).parent / "data" / "usage.toml")


def days_used(segments: Iterable[Interval], plan: Plan) -> int:
    """Count the local days that stretches of time touch.

    Parameters
    ----------
    segments : iterable of Interval
        Stretches, UTC. [min]
    """
    days: set[int] = set()
    for piece in segments:
        first = to_local(piece.start, plan.zone).date()
        last = to_local(max(piece.finish - 1, piece.start), plan.zone).date()
        days.update(range(first.toordinal(), last.toordinal() + 1))
    return len(days)


def route_km(plan: Plan, stops: Iterable[Task], home: str) -> float:
    """Length of the way of a vehicle from task to task and back to where it began.

    Parameters
    ----------
    stops : iterable of Task
        In order of time.
    home : str
        Id of the place where the vehicle begins and ends.

    Returns
    -------
    float
        [km]
    """
    here, km = home, 0.0
    for task in stops:
        for place in (task.place, task.place_after):
            if place:
                km += _between_km(plan, here, place)
                here = place
    return km + _between_km(plan, here, home)


def _between_km(plan: Plan, origin: str, destination: str) -> float:
    drive = plan.drive(origin, destination) if origin and origin != destination else None
    return drive.distance_km if drive else 0.0


def add_vehicles(bill: Bill, project: Project, schedule: Schedule) -> None:
    """Add hire, kilometres and fuel of every vehicle that the schedule uses.

    Parameters
    ----------
    project : Project
        Its vehicles and drives.
    schedule : Schedule
        When they are used.
    """
    homes = {vehicle.id: vehicle.home for vehicle in project.scheduling.vehicles}
    tasks = {task.id: task for task in project.network.tasks}
    hires = hires_of(project.plan, schedule)
    for vehicle in project.plan.vehicles:
        used = sorted(
            (one for one in schedule.placements if vehicle.id in one.vehicles), key=lambda one: one.start
        )
        if not used:
            continue
        booked = [hire.booked for hire in hires if hire.vehicle.id == vehicle.id]
        pieces = booked or [piece for one in used for piece in one.segments]
        _add_hire(bill, vehicle, days_used(pieces, project.plan))
        stops = [tasks[one.task] for one in used]
        _add_distance(bill, vehicle, exact(route_km(project.plan, stops, homes.get(vehicle.id, "")), 1))


def _add_hire(bill: Bill, vehicle: Vehicle, days: int) -> None:
    unsaid = bill.plan.provenance(f"vehicles.{vehicle.id}.cost") is Provenance.ASSUMED
    if not vehicle.cost_per_day and not (vehicle.hired and unsaid):
        return
    price = given(vehicle.cost_per_day, "day") if vehicle.cost_per_day else tariff(bill.plan, "vehicle-day")
    words = "hire" if vehicle.hired else "own-vehicle"
    bill.add(f"hire-{vehicle.id}", "vehicles", Decimal(days), price, words, vehicle=vehicle.name, days=days)


def _add_distance(bill: Bill, vehicle: Vehicle, km: Decimal) -> None:
    """Add kilometres; a price per kilometre of a vehicle that is not hired covers its fuel."""
    if vehicle.cost_per_km:
        price = given(vehicle.cost_per_km, "km")
        bill.add(f"distance-{vehicle.id}", "vehicles", km, price, "distance", vehicle=vehicle.name)
    if vehicle.hired or not vehicle.cost_per_km:
        rate = Decimal(usage()["fuel"]["litres_per_km"])
        litres = (km * rate).quantize(Decimal("0.1"))
        bill.book("fuel", litres, vehicle.id, vehicle=vehicle.name, km=km, rate=rate)


def _shifts(placement: Placement) -> Iterator[tuple[Interval, tuple[str, ...]]]:
    crews = placement.segment_people or (placement.people,) * len(placement.segments)
    yield from zip(placement.segments, crews, strict=True)


def paid_min(project: Project, schedule: Schedule, person: str) -> tuple[int, int]:
    """Minutes of work and of waits of a moving day that are paid: on working days, on Saturdays and Sundays."""
    paid = [
        (piece.start, piece.minutes)
        for placement in schedule.placements
        for piece, crew in _shifts(placement)
        if person in crew
    ]
    paid += [wait for one in called_of(project, schedule) if one.person == person for wait in one.waits()]
    minutes = [0, 0]
    for start, length in paid:
        minutes[to_local(start, project.plan.zone).weekday() >= SATURDAY] += length
    return minutes[0], minutes[1]


def add_people(bill: Bill, project: Project, schedule: Schedule) -> None:
    """Add paid hours by person and kind of day."""
    own = {price.item: price for price in project.plan.prices}
    for person in project.plan.people:
        weekend = own.get(f"{PAY}{person.id}{WEEKEND}")
        usual = given(person.cost_per_hour, "hour")
        rates = (usual, of_price(weekend) if weekend else usual)
        kinds = ("workday", "weekend")
        for kind, minutes, rate in zip(kinds, paid_min(project, schedule, person.id), rates, strict=True):
            if rate.amount:
                hours = exact(minutes / 60, 2)
                line_id = f"{PAY}{person.id}-{kind}"
                bill.add(line_id, "people", hours, rate, f"pay-{kind}", person=person.name)
