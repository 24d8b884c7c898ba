"""A sheet a person and a sheet a vehicle: each day's ways and stops, and what is done there; nothing of prices."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from moveplan.firm.day.diaries import by_person, days_of, worked_min
from moveplan.firm.day.drives import Drive, on_day
from moveplan.firm.day.roads import BASE, Site
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.printing import Printing
from moveplan.firm.placing.traces import Stop
from moveplan.network.task import Kind


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
        drives = on_day(outlook.firm, outlook.drives, who, day)
        told = [row for stop in rows for row in _stop(outlook, stop, drives)]
        told += [_drive(outlook, one) for one in drives]
        told.sort(key=lambda row: (row.start, row.finish))
        worked = worked_min(outlook.roads, rows) if who in people else 0
        yield DayRow(day, tuple(told), told[0].start, max(row.finish for row in told), worked)


def _drive(outlook: FirmOutlook, drive: Drive) -> Row:
    """Say from where to where a drive goes, in what, who drives and who rides along."""
    way = f"{place_name(outlook, drive.origin)} to {place_name(outlook, drive.destination)}"
    vehicle = next((one.name for one in outlook.firm.vehicles if one.id == drive.vehicle), "")
    alone = not vehicle and not drive.along
    driver = "" if alone or not drive.driver else outlook.firm.worker(drive.driver).name
    along = tuple(outlook.firm.worker(one).name for one in drive.along)
    return Row(drive.start, drive.finish, "", way, by=vehicle, driver=driver, along=along)


def _stop(outlook: FirmOutlook, stop: Stop, drives: Iterable[Drive]) -> Iterator[Row]:
    """Give a stop, in pieces where a drive from home to home lies within it."""
    found = outlook.of(stop.job)
    if found is None:
        return
    tasks = {task.id: task for task in found.outlook.project.network.tasks}
    placed = {one.task: one for one in found.outlook.schedule.placements}
    title, sites = outlook.plans[stop.job].title, (stop.first, stop.last)
    legs = [
        (one.start, one.finish, one.destination)
        for one in drives
        if stop.moving and one.job == stop.job and stop.start <= one.start and one.finish <= stop.finish
    ]
    begin, site = stop.start, stop.first
    for start, finish, after in [*legs, (stop.finish, stop.finish, "")]:
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
        begin, site = finish, after


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
