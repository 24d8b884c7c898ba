"""The days of people: their stops over all jobs, the drives between, how long they work and rest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple

from moveplan.firm.day.roads import BASE, Roads
from moveplan.firm.placing.traces import STAYS_MIN, Stop, Trace
from moveplan.firm.values import Firm, Worker
from moveplan.times import Interval, to_local


class Leg(NamedTuple):
    """A drive: from, to, how long it takes [min], when it begins, UTC [min], and with the crew of which moving day."""

    origin: str
    destination: str
    minutes: int
    start: int
    crew: str = ""


def days_of(firm: Firm, stops: Iterable[Stop]) -> dict[date, tuple[Stop, ...]]:
    """Sort stops by the local day on which they begin."""
    found: dict[date, list[Stop]] = {}
    for stop in sorted(stops):
        found.setdefault(to_local(stop.start, firm.zone).date(), []).append(stop)
    return {day: tuple(rows) for day, rows in found.items()}


def legs_of(roads: Roads, stops: Iterable[Stop]) -> tuple[Leg, ...]:
    """List the drives of a day, from the base and back to it; over the base where there is time for it.

    A crew leaves the base together and comes back to it together: from there each goes on by other means.

    Parameters
    ----------
    stops : iterable of Stop
        Of one person on one day, in order.
    """
    legs: list[Leg] = []
    here, free, crew = BASE, 0, ""
    for stop in stops:
        goes_with = stop.job if stop.moving else ""
        by_base = roads.minutes(here, BASE) + roads.minutes(BASE, stop.first)
        if here != BASE and (goes_with != crew or stop.start - free > by_base + STAYS_MIN):
            legs.append(Leg(here, BASE, roads.minutes(here, BASE), free, crew))
            here = BASE
        if here != stop.first and stop.first != BASE:
            way = roads.minutes(here, stop.first)
            legs.append(Leg(here, stop.first, way, stop.start - way, goes_with))
        here, free, crew = stop.last or here, stop.finish, goes_with
    if here != BASE:
        legs.append(Leg(here, BASE, roads.minutes(here, BASE), free, crew))
    return tuple(legs)


def too_soon(roads: Roads, stops: Iterable[Stop]) -> Iterator[tuple[Stop, Stop, int]]:
    """Find where a day has too little time to leave a crew, or to join one, by way of the base.

    Parameters
    ----------
    stops : iterable of Stop
        Of one person on one day, in order.

    Yields
    ------
    tuple of (Stop, Stop, int)
        A stop, the one that follows too soon, and how long the way takes. [min]
    """
    here, crew, before = BASE, "", None
    for stop in stops:
        goes_with = stop.job if stop.moving else ""
        if before is not None and goes_with != crew:
            way = roads.minutes(here, BASE) + roads.minutes(BASE, stop.first)
            if stop.start - before.finish < way:
                yield before, stop, way
            here = BASE
        here, crew, before = stop.last or here, goes_with, stop


def worked_min(roads: Roads, stops: Iterable[Stop]) -> int:
    """Minutes of work and driving of one day. [min]."""
    rows = tuple(stops)
    return sum(one.worked_min for one in rows) + sum(leg.minutes for leg in legs_of(roads, rows))


@dataclass(frozen=True, slots=True)
class TooMuch:
    """What a job asks of somebody beyond their longest day and their rest.

    Parameters
    ----------
    own : tuple of Interval
        When they should not work for it, UTC. [min]
    crew : tuple of Interval
        When none of its crew should on the moving day: they come and leave together, UTC. [min]
    heart : bool
        Whether its moving day itself is too long.
    """

    own: tuple[Interval, ...] = ()
    crew: tuple[Interval, ...] = ()
    heart: bool = False


def too_much(firm: Firm, roads: Roads, worker: Worker, stops: Iterable[Stop], job: str) -> TooMuch:
    """Find what a job asks of somebody beyond their longest day and their rest.

    Parameters
    ----------
    stops : iterable of Stop
        All of theirs, those of the job among them.
    job : str
        The job that could be scheduled otherwise.
    """
    days = days_of(firm, stops)
    found: list[Interval] = []
    crew: list[Interval] = []
    heart = False
    for day, rows in days.items():
        found += _apart_from_crew(firm, roads, rows, job)
        own = [one for one in rows if one.job == job]
        if own and worked_min(roads, rows) > worker.longest_day_min:
            heart = heart or any(one.moving for one in own)
            found += [Interval(one.start, one.finish) for one in own if not one.moving]
        after = days.get(day + timedelta(days=1), ())
        if after and any(one.job == job for one in (*rows, *after)):
            night = _short_night(roads, worker, rows, after, job)
            found += night.own
            crew += night.crew
    return TooMuch(tuple(found), tuple(crew), heart)


def _apart_from_crew(firm: Firm, roads: Roads, rows: tuple[Stop, ...], job: str) -> Iterator[Interval]:
    """Find when a visit on a moving day has to wait, or to be over, for the way by the base."""
    for before, after, way in too_soon(roads, rows):
        if after.start <= firm.now:
            continue
        if after.job == job and not after.moving:
            yield Interval(before.finish, before.finish + way)
        elif before.job == job and not before.moving:
            yield Interval(after.start - way, after.start)


def _short_night(
    roads: Roads, worker: Worker, rows: tuple[Stop, ...], after: tuple[Stop, ...], job: str
) -> TooMuch:
    """Find what gives way where the night between two days is too short: what is no moving day, if it can."""
    home = max(one.finish + roads.minutes(one.last, BASE) for one in rows)
    leaves = min(one.start - roads.minutes(BASE, one.first) for one in after)
    if leaves - home >= worker.rest_min:
        return TooMuch()
    aside = worker.rest_min + roads.farthest(job)
    late = next((one for one in after if one.job == job and not one.moving), None)
    if late is not None and late is after[0]:
        return TooMuch(own=(Interval(home, home + aside),))
    visits = tuple(Interval(one.start, one.finish) for one in rows if one.job == job and not one.moving)
    if visits:
        return TooMuch(own=visits)
    if any(one.job == job for one in after):
        return TooMuch(crew=(Interval(home, home + aside),))
    return TooMuch(crew=(Interval(leaves - aside, leaves),))


def by_person(firm: Firm, traces: Iterable[Trace]) -> Mapping[str, tuple[Stop, ...]]:
    """Join the stops of everybody over all jobs, in order of time."""
    rows = list(traces)
    return {
        one.id: tuple(sorted(stop for trace in rows for stop in trace.people.get(one.id, ())))
        for one in firm.people
    }
