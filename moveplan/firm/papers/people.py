"""A sheet a person and a sheet a vehicle: each day's ways and stops, and what is done there; nothing of prices."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from moveplan.firm.day.aboard import aboard
from moveplan.firm.day.diaries import by_person, days_of, legs_of, worked_min
from moveplan.firm.day.roads import BASE, Site, site_of
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.printing import Printing
from moveplan.firm.placing.one_job import Placed
from moveplan.firm.placing.traces import Stop
from moveplan.network.task import Kind
from moveplan.practice.attendance.rides import riders_of


@dataclass(frozen=True, slots=True)
class Row:
    """A stop or a drive in words.

    Parameters
    ----------
    start, finish : int
        UTC. [min]
    job, where : str
        Title of the job, and its place; of a drive, empty and from where to where.
    tasks : tuple of str
        What is done, in order.
    moving : bool
        Whether it is of the moving day.
    by : str
        Vehicle of a drive; empty: a car of their own, or no drive.
    driver : str
        Who drives; empty: nobody else than whose sheet it is.
    along : tuple of str
        Who rides along.
    key : str
        Job and first task, by their ids; of a drive, empty.
    """

    start: int
    finish: int
    job: str
    where: str
    tasks: tuple[str, ...] = ()
    moving: bool = False
    by: str = ""
    driver: str = ""
    along: tuple[str, ...] = ()
    key: str = ""


ALONE = Row(0, 0, "", "")
"""A way in a car of one's own."""


@dataclass(frozen=True, slots=True)
class DayRow:
    """A day in words.

    Parameters
    ----------
    day : date
        Local day.
    rows : tuple of Row
        Drives and stops, in order.
    leaves, home : int
        From the base and back at it, UTC. [min]
    worked_min : int
        Work and driving; of a vehicle, 0. [min]
    """

    day: date
    rows: tuple[Row, ...]
    leaves: int
    home: int
    worked_min: int


def person_md(outlook: FirmOutlook, person: str) -> str:
    """Write the sheet of one person.

    Parameters
    ----------
    person : str
        Id.
    """
    worker = outlook.firm.worker(person)
    rows = person_days(outlook, person)
    away = [(one.first, one.last) for one in worker.helper.absences if not one.rule]
    values = {"name": worker.name, "firm": outlook.firm, "weeks": _weeks(rows), "away": away}
    return _print(outlook).render("markdown", "firm/sheet.md.j2", values)


def vehicle_md(outlook: FirmOutlook, vehicle: str) -> str:
    """Write the sheet of one vehicle.

    Parameters
    ----------
    vehicle : str
        Id.
    """
    one = next(row for row in outlook.firm.vehicles if row.id == vehicle)
    name = f"{one.name} ({one.plate})" if one.plate else one.name
    away = [(row.first, row.last) for row in one.service if not row.rule]
    rows = vehicle_days(outlook, vehicle)
    values = {"name": name, "firm": outlook.firm, "weeks": _weeks(rows), "away": away}
    return _print(outlook).render("markdown", "firm/sheet.md.j2", values)


def person_days(outlook: FirmOutlook, person: str) -> list[DayRow]:
    """List the days of one person.

    Parameters
    ----------
    outlook, person : FirmOutlook, str
        As for :func:`person_md`.
    """
    stops = by_person(outlook.firm, [one.trace for one in outlook.placed])[person]
    return list(_days(outlook, stops, person))


def vehicle_days(outlook: FirmOutlook, vehicle: str) -> list[DayRow]:
    """List the days of one vehicle.

    Parameters
    ----------
    outlook, vehicle : FirmOutlook, str
        As for :func:`vehicle_md`.
    """
    stops = sorted(stop for row in outlook.placed for stop in row.trace.vehicles.get(vehicle, ()))
    return list(_days(outlook, stops, vehicle))


def _print(outlook: FirmOutlook) -> Printing:
    firm = outlook.firm
    return Printing(firm.zone, firm.locale, firm.currency)


def _days(outlook: FirmOutlook, stops: Iterable[Stop], who: str) -> Iterator[DayRow]:
    """Put drives and stops of somebody, or of a vehicle, in the order of the clock."""
    people = {one.id for one in outlook.firm.people}
    for day, rows in days_of(outlook.firm, stops).items():
        crew = next((stop.job for stop in rows if stop.moving), "")
        ride = _ride(outlook, crew, who) if crew else ALONE
        told = [row for stop in rows for row in _stop(outlook, stop, ride, who)]
        there = [stop for stop in rows if stop.moving]
        for leg in legs_of(outlook.roads, rows):
            way = f"{place_name(outlook, leg.origin)} to {place_name(outlook, leg.destination)}"
            finish = leg.start + leg.minutes
            by = ride if any(finish == stop.start or leg.start == stop.finish for stop in there) else ALONE
            told.append(replace(by, start=leg.start, finish=finish, where=way))
        told.sort(key=lambda row: (row.start, row.finish))
        worked = worked_min(outlook.roads, rows) if who in people else 0
        yield DayRow(day, tuple(told), told[0].start, max(row.finish for row in told), worked)


def _ride(outlook: FirmOutlook, job: str, who: str) -> Row:
    """Say in which vehicle somebody goes on a moving day, who drives it and who rides along."""
    placed = outlook.of(job)
    seats = aboard(outlook.firm, placed) if placed else {}
    vehicle = next((one for one, seated in seats.items() if who in (one, *seated)), "")
    if not vehicle:
        return ALONE
    name = next(one.name for one in outlook.firm.vehicles if one.id == vehicle)
    driver, *along = (outlook.firm.worker(one).name for one in seats[vehicle])
    return Row(0, 0, "", "", by=name, driver=driver, along=tuple(along))


def _stop(outlook: FirmOutlook, stop: Stop, ride: Row, who: str) -> Iterator[Row]:
    """Give a stop, in pieces where a drive from home to home lies within it."""
    found = outlook.of(stop.job)
    if found is None:
        return
    tasks = {task.id: task for task in found.outlook.project.network.tasks}
    placed = {one.task: one for one in found.outlook.schedule.placements}
    title, sites = outlook.plans[stop.job].title, (stop.first, stop.last)
    legs = sorted(
        (placed[one.id].start, placed[one.id].finish, one.id)
        for one in tasks.values()
        if stop.moving and one.kind is Kind.TRAVEL and one.id in placed and one.place_after
        if stop.start <= placed[one.id].start and placed[one.id].finish <= stop.finish
        if _goes_along(found, one.id, who)
    )
    begin, site = stop.start, stop.first
    for start, finish, travel in [*legs, (stop.finish, stop.finish, "")]:
        done = [
            one
            for one in stop.tasks
            if tasks[one].kind is not Kind.TRAVEL
            and (not legs or begin <= placed[one].start < max(start, begin + 1))
        ]
        titles = tuple(dict.fromkeys(tasks[one].title for one in done))
        key = f"{stop.job}:{'moving-day' if stop.moving else done[0] if done else ''}"
        there = site if legs else ", then ".join(dict.fromkeys(place_name(outlook, one) for one in sites))
        name = place_name(outlook, there) if legs else there
        yield Row(begin, start, title, name, titles, stop.moving, key=key)
        if travel:
            after = site_of(stop.job, tasks[travel].place_after or "")
            way = f"{place_name(outlook, site)} to {place_name(outlook, after)}"
            yield replace(ride, start=start, finish=finish, where=way)
            begin, site = finish, after


def _goes_along(found: Placed, travel: str, who: str) -> bool:
    """Whether somebody, or a vehicle, goes along on a way from home to home."""
    project, schedule = found.outlook.project, found.outlook.schedule
    drive = next(one for one in schedule.placements if one.task == travel)
    return who in (*drive.people, *drive.vehicles, *riders_of(project, schedule).get(travel, ()))


def place_name(outlook: FirmOutlook, site: Site) -> str:
    """Name a site: its name and its address, where one is given.

    Parameters
    ----------
    outlook : FirmOutlook
        With the plans of all jobs.
    site : str
        ``JOB.PLACE``, or the base.
    """
    if site == BASE:
        return outlook.firm.base.name
    job = next(one for one in outlook.plans if site.startswith(f"{one}."))
    place = outlook.plans[job].place(site.removeprefix(f"{job}."))
    return f"{place.name} ({place.address})" if place.address else place.name


def _weeks(rows: list[DayRow]) -> list[tuple[date, list[DayRow]]]:
    weeks: dict[date, list[DayRow]] = {}
    for row in rows:
        weeks.setdefault(row.day - timedelta(days=row.day.weekday()), []).append(row)
    return list(weeks.items())
