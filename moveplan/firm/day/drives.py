"""Every drive of the firm, once: who drives, who rides along, in what, from where to where; all papers tell these."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from moveplan.firm.day.aboard import aboard
from moveplan.firm.day.diaries import by_person, days_of, legs_of
from moveplan.firm.day.roads import BASE, Roads, Site, site_of
from moveplan.firm.placing.one_job import Placed
from moveplan.firm.placing.traces import Stop
from moveplan.firm.values import Firm
from moveplan.network.task import Kind
from moveplan.practice.attendance.rides import riders_of
from moveplan.times import to_local


@dataclass(frozen=True, slots=True, order=True)
class Drive:
    """A drive.

    Parameters
    ----------
    start, finish : int
        UTC. [min]
    origin, destination : str
        Sites; the base is empty.
    vehicle : str
        Id of a vehicle of the firm; empty: the driver's own car.
    driver : str
        Id of a person; empty: nobody there may drive.
    along : tuple of str
        Ids of those who ride along.
    job : str
        The moving day that it belongs to; empty: it leads to a visit or back from one.
    """

    start: int
    finish: int
    origin: Site
    destination: Site
    vehicle: str
    driver: str
    along: tuple[str, ...] = ()
    job: str = ""

    @property
    def people(self) -> tuple[str, ...]:
        """Everybody in it, the driver first."""
        return (self.driver, *self.along) if self.driver else self.along

    def has(self, who: str) -> bool:
        """Whether a person or a vehicle, by its id, is on it."""
        return who in (self.vehicle, *self.people)


def drives_of(firm: Firm, roads: Roads, rows: Sequence[Placed]) -> tuple[Drive, ...]:
    """List the drives of all people and vehicles, in order of time.

    Parameters
    ----------
    rows : sequence of Placed
        All jobs with their schedules.
    """
    found = [drive for one in rows for drive in _with_the_crew(firm, roads, one)]
    for who, stops in by_person(firm, [one.trace for one in rows]).items():
        for day in days_of(firm, stops).values():
            found += [
                Drive(leg.start, leg.start + leg.minutes, leg.origin, leg.destination, "", who)
                for leg in legs_of(roads, day)
                if not leg.crew
            ]
    return tuple(sorted(found))


def _with_the_crew(firm: Firm, roads: Roads, placed: Placed) -> Iterator[Drive]:
    """Give the drives of each moving day of a job: there, from home to home, and back."""
    trace = placed.trace
    days: dict[date, Stop] = {
        to_local(stop.start, firm.zone).date(): stop
        for rows in (*trace.people.values(), *trace.vehicles.values())
        for stop in rows
        if stop.moving
    }
    for day, stop in sorted(days.items()):
        there, back = (roads.minutes(BASE, one) for one in (stop.first, stop.last))
        for vehicle, driver, along in _seated(firm, placed, day):
            if there:
                yield Drive(
                    stop.start - there, stop.start, BASE, stop.first, vehicle, driver, along, placed.job
                )
            if back:
                yield Drive(
                    stop.finish, stop.finish + back, stop.last, BASE, vehicle, driver, along, placed.job
                )
    yield from _between(firm, placed)


def _seated(firm: Firm, placed: Placed, day: date) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """Seat the crew in the vehicles; whoever finds no seat takes their own car, and those along who do not drive."""
    seats = aboard(firm, placed, day)
    for vehicle, people in seats.items():
        yield vehicle, people[0] if people else "", people[1:]
    taken = {who for people in seats.values() for who in people}
    left = [
        who
        for who, stops in placed.trace.people.items()
        if who not in taken and any(stop.moving for stop in days_of(firm, stops).get(day, ()))
    ]
    drivers = [who for who in left if firm.worker(who).helper.drives]
    others = tuple(who for who in left if who not in drivers)
    for who in drivers:
        yield "", who, others if who == drivers[0] else ()
    if others and not drivers:
        yield "", "", others


def _between(firm: Firm, placed: Placed) -> Iterator[Drive]:
    """Give the drives from home to home, which are tasks."""
    project, schedule = placed.outlook.project, placed.outlook.schedule
    tasks = {task.id: task for task in project.network.tasks}
    riders, firms = riders_of(project, schedule), {one.id for one in firm.people}
    for one in schedule.placements:
        task = tasks[one.task]
        if task.kind is Kind.TRAVEL and task.place and task.place_after and task.day and one.vehicles:
            way = site_of(placed.job, task.place), site_of(placed.job, task.place_after)
            people = [who for who in (*one.people, *riders.get(one.task, ())) if who in firms]
            for vehicle, (driver, *along) in zip(one.vehicles, _shared(people, one.vehicles), strict=True):
                yield Drive(one.start, one.finish, *way, vehicle, driver, tuple(along), placed.job)


def _shared(people: Sequence[str], vehicles: Sequence[str]) -> Iterator[list[str]]:
    """Give each of several vehicles a driver, and the first of them all who ride along."""
    count = len(vehicles)
    for at in range(count):
        driver = people[at] if at < len(people) else ""
        yield [driver, *(people[count:] if at == 0 else ())]


def on_day(firm: Firm, drives: Iterable[Drive], who: str, day: date) -> tuple[Drive, ...]:
    """List the drives of a person or of a vehicle on one day.

    Parameters
    ----------
    drives : iterable of Drive
        Of all, in order of time.
    who : str
        Id.
    day : date
        Local.
    """
    return tuple(one for one in drives if one.has(who) and to_local(one.start, firm.zone).date() == day)
