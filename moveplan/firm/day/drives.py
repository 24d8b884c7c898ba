"""Every drive of the firm, once: who drives, who rides along, in what, from where to where; all papers tell these."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from moveplan.firm.day.aboard import aboard
from moveplan.firm.day.diaries import by_person, days_of, legs_of
from moveplan.firm.day.roads import BASE, Roads, Site, site_of
from moveplan.firm.placing.traces import Run, Stop, Trace
from moveplan.firm.values import Firm
from moveplan.hours import merged
from moveplan.network.task import Kind
from moveplan.practice.attendance.rides import riders_of
from moveplan.times import Interval, to_local


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


def drives_of(firm: Firm, roads: Roads, runs: Sequence[Run]) -> tuple[Drive, ...]:
    """List the drives of all people and vehicles, in order of time.

    Parameters
    ----------
    runs : sequence of Run
        All jobs as they are scheduled.
    """
    found = [drive for one in runs for drive in _with_the_crew(firm, roads, one)]
    return tuple(sorted((*found, *_alone(firm, roads, [one.trace for one in runs]))))


def _alone(firm: Firm, roads: Roads, traces: Iterable[Trace]) -> Iterator[Drive]:
    """Give the ways that each goes in a car of their own."""
    for who, stops in by_person(firm, traces).items():
        for day in days_of(firm, stops).values():
            for leg in legs_of(roads, day):
                if not leg.crew:
                    finish = leg.start + leg.minutes
                    yield Drive(leg.start, finish, leg.origin, leg.destination, "", who)


def unreached(
    firm: Firm, roads: Roads, run: Run, others: Iterable[Trace]
) -> Mapping[str, tuple[Interval, ...]]:
    """Find when people would work for a job where no drive takes them: behind the crew's back, or left behind.

    Parameters
    ----------
    run : Run
        The job.
    others : iterable of Trace
        What other jobs take.
    """
    today = to_local(firm.now, firm.zone).date()
    drives = sorted((*_with_the_crew(firm, roads, run), *_alone(firm, roads, (*others, run.trace))))
    tasks = {task.id: task for task in run.project.network.tasks}
    found: dict[str, list[Interval]] = {one.id: [] for one in firm.people}
    for placed in run.schedule.placements:
        task = tasks[placed.task]
        site = site_of(run.job, task.place)
        if not task.place or task.place_after not in (None, "", task.place):
            continue
        for n, piece in enumerate(placed.segments):
            if piece.minutes and to_local(piece.start, firm.zone).date() > today:
                people = placed.segment_people[n] if placed.segment_people else placed.people
                for who in (
                    one for one in people if one in found and not _is_at(roads, drives, one, site, piece)
                ):
                    found[who].append(piece)
    return {who: merged(pieces) for who, pieces in found.items() if pieces}


def _is_at(roads: Roads, drives: Sequence[Drive], who: str, site: Site, piece: Interval) -> bool:
    """Whether somebody is at a site, or in the same house, by their last drive before."""
    last = next((one for one in reversed(drives) if one.start <= piece.start and one.has(who)), None)
    here, since = (last.destination, last.finish) if last else (BASE, piece.start)
    return roads.minutes(here, site) == 0 and since <= piece.start


def _with_the_crew(firm: Firm, roads: Roads, run: Run) -> Iterator[Drive]:
    """Give the drives of each moving day of a job: there, from home to home, and back."""
    trace = run.trace
    days: dict[date, Stop] = {
        to_local(stop.start, firm.zone).date(): stop
        for rows in (*trace.people.values(), *trace.vehicles.values())
        for stop in rows
        if stop.moving
    }
    for day, stop in sorted(days.items()):
        there, back = (roads.minutes(BASE, one) for one in (stop.first, stop.last))
        for vehicle, driver, along in _seated(firm, run, day):
            if there:
                yield Drive(stop.start - there, stop.start, BASE, stop.first, vehicle, driver, along, run.job)
            if back:
                yield Drive(stop.finish, stop.finish + back, stop.last, BASE, vehicle, driver, along, run.job)
    yield from _between(firm, run)


def _seated(firm: Firm, run: Run, day: date) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """Seat the crew in the vehicles; whoever finds no seat takes their own car, and those along who do not drive."""
    seats = aboard(firm, run, day)
    for vehicle, people in seats.items():
        yield vehicle, people[0] if people else "", people[1:]
    taken = {who for people in seats.values() for who in people}
    left = [
        who
        for who, stops in run.trace.people.items()
        if who not in taken and any(stop.moving for stop in days_of(firm, stops).get(day, ()))
    ]
    drivers = [who for who in left if firm.worker(who).helper.drives]
    others = tuple(who for who in left if who not in drivers)
    for who in drivers:
        yield "", who, others if who == drivers[0] else ()
    if others and not drivers:
        yield "", "", others


def _between(firm: Firm, run: Run) -> Iterator[Drive]:
    """Give the drives from home to home, which are tasks."""
    tasks = {task.id: task for task in run.project.network.tasks}
    riders, firms = riders_of(run.project, run.schedule), {one.id for one in firm.people}
    for one in run.schedule.placements:
        task = tasks[one.task]
        if task.kind is Kind.TRAVEL and task.place and task.place_after and task.day and one.vehicles:
            way = site_of(run.job, task.place), site_of(run.job, task.place_after)
            people = [who for who in (*one.people, *riders.get(one.task, ())) if who in firms]
            for vehicle, (driver, *along) in zip(one.vehicles, _shared(people, one.vehicles), strict=True):
                yield Drive(one.start, one.finish, *way, vehicle, driver, tuple(along), run.job)


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
