"""A sheet a person and a sheet a vehicle: each day's ways and stops, and what is done there; nothing of prices."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from moveplan.firm.diaries import by_person, days_of, legs_of, worked_min
from moveplan.firm.dispatch import FirmOutlook
from moveplan.firm.papers.printing import Printing
from moveplan.firm.roads import BASE, Site
from moveplan.firm.traces import Stop


@dataclass(frozen=True, slots=True)
class StopRow:
    """A stop in words.

    Parameters
    ----------
    start, finish : int
        UTC. [min]
    job, where : str
        Title of the job, and the place or places.
    tasks : tuple of str
        What is done, in order.
    moving : bool
        Whether it is the moving day.
    """

    start: int
    finish: int
    job: str
    where: str
    tasks: tuple[str, ...]
    moving: bool


@dataclass(frozen=True, slots=True)
class DayRow:
    """A day in words.

    Parameters
    ----------
    day : date
        Local day.
    stops : tuple of StopRow
        In order.
    drives : tuple of (str, str, int)
        From, to and minutes. [min]
    leaves, home : int
        From the base and back at it, UTC. [min]
    worked_min : int
        Work and driving. [min]
    """

    day: date
    stops: tuple[StopRow, ...]
    drives: tuple[tuple[str, str, int], ...]
    leaves: int
    home: int
    worked_min: int


def person_md(outlook: FirmOutlook, person: str) -> str:
    """Write the sheet of one person.

    Parameters
    ----------
    outlook : FirmOutlook
        What was found.
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
    outlook : FirmOutlook
        What was found.
    vehicle : str
        Id.
    """
    one = next(row for row in outlook.firm.vehicles if row.id == vehicle)
    stops = sorted(stop for row in outlook.placed for stop in row.trace.vehicles.get(vehicle, ()))
    name = f"{one.name} ({one.plate})" if one.plate else one.name
    away = [(row.first, row.last) for row in one.service if not row.rule]
    values = {"name": name, "firm": outlook.firm, "weeks": _weeks(list(_days(outlook, stops))), "away": away}
    return _print(outlook).render("markdown", "firm/sheet.md.j2", values)


def person_days(outlook: FirmOutlook, person: str) -> list[DayRow]:
    """List the days of one person.

    Parameters
    ----------
    outlook, person : FirmOutlook, str
        As for :func:`person_md`.
    """
    stops = by_person(outlook.firm, [one.trace for one in outlook.placed])[person]
    return list(_days(outlook, stops))


def _print(outlook: FirmOutlook) -> Printing:
    firm = outlook.firm
    return Printing(firm.zone, firm.locale, firm.currency)


def _days(outlook: FirmOutlook, stops: Iterable[Stop]) -> Iterator[DayRow]:
    roads = outlook.roads
    for day, rows in days_of(outlook.firm, stops).items():
        legs = legs_of(roads, rows)
        yield DayRow(
            day,
            tuple(_stop(outlook, stop) for stop in rows),
            tuple(
                (place_name(outlook, one), place_name(outlook, two), minutes) for one, two, minutes in legs
            ),
            rows[0].start - roads.minutes(BASE, rows[0].first),
            max(stop.finish for stop in rows) + roads.minutes(rows[-1].last, BASE),
            worked_min(roads, rows),
        )


def _stop(outlook: FirmOutlook, stop: Stop) -> StopRow:
    found = outlook.of(stop.job)
    titles = {task.id: task.title for task in found.outlook.project.network.tasks} if found else {}
    sites = dict.fromkeys((place_name(outlook, stop.first), place_name(outlook, stop.last)))
    return StopRow(
        stop.start,
        stop.finish,
        outlook.plans[stop.job].title,
        ", then ".join(sites),
        tuple(dict.fromkeys(titles.get(task, task) for task in stop.tasks)),
        stop.moving,
    )


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
