"""From the traces of jobs to the hours that a further job cannot have: drives and rest included."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta

from moveplan.firm.roads import BASE, Roads
from moveplan.firm.traces import STAYS_MIN, Stop, Taken, Trace
from moveplan.firm.values import Firm, Worker
from moveplan.hours import merged
from moveplan.times import Interval, local_day, to_local


def people_booked(
    firm: Firm, roads: Roads, job: str, traces: Iterable[Trace]
) -> dict[str, tuple[Interval, ...]]:
    """Say when nobody of the firm can be at a job, because they are at others, on the way or at rest.

    Parameters
    ----------
    firm : Firm
        Whose people.
    roads : Roads
        Ways between all places.
    job : str
        The job that is to be scheduled.
    traces : iterable of Trace
        Of the other jobs.
    """
    rows = list(traces)
    return {
        one.id: merged(
            piece
            for trace in rows
            for stop in trace.people.get(one.id, ())
            for piece in _of_stop(firm, roads, job, stop, one.rest_min)
        )
        for one in firm.people
    }


def vehicles_booked(
    firm: Firm, roads: Roads, job: str, traces: Iterable[Trace]
) -> dict[str, tuple[Interval, ...]]:
    """Say when no vehicle can be at a job, because it is at others or on the way.

    Parameters
    ----------
    firm, roads, job, traces : Firm, Roads, str, iterable of Trace
        As for :func:`people_booked`.
    """
    rows = list(traces)
    return {
        one.id: merged(
            _with_ways(roads, job, stop) for trace in rows for stop in trace.vehicles.get(one.id, ())
        )
        for one in firm.vehicles
    }


def _with_ways(roads: Roads, job: str, stop: Stop) -> Interval:
    return Interval(stop.start - roads.apart(job, stop.first), stop.finish + roads.apart(job, stop.last))


def _of_stop(firm: Firm, roads: Roads, job: str, stop: Stop, rest_min: int) -> Iterator[Interval]:
    yield _with_ways(roads, job, stop)
    day = local_day(to_local(stop.start, firm.zone).date(), firm.zone)
    way = roads.farthest(job)
    home = stop.finish + roads.minutes(stop.last, BASE)
    leaves = stop.start - roads.minutes(BASE, stop.first)
    yield Interval(day.finish, home + rest_min + way)
    yield Interval(leaves - rest_min - way, day.start)


def gear_left(firm: Firm, traces: Iterable[Trace], within: Interval) -> dict[str, int]:
    """Count what is left of each gear through a whole stretch of time.

    Parameters
    ----------
    firm : Firm
        Its gear.
    traces : iterable of Trace
        Of the other jobs.
    within : Interval
        When it is wanted, until it is ready again, UTC. [min]
    """
    taken = [
        one
        for trace in traces
        for one in trace.gear
        if one.start < within.finish and within.start < one.finish
    ]
    return {one.item.id: one.item.count - _most(taken, one.item.id) for one in firm.gear}


def _most(taken: Iterable[Taken], gear: str) -> int:
    rows = [one for one in taken if one.gear == gear]
    moments = {one.start for one in rows}
    return max((sum(one.count for one in rows if one.start <= at < one.finish) for at in moments), default=0)


Legs = tuple[tuple[str, str, int], ...]
"""Drives of a day: from, to and minutes. [min]"""


def days_of(firm: Firm, stops: Iterable[Stop]) -> dict[date, tuple[Stop, ...]]:
    """Sort stops by the local day on which they begin."""
    found: dict[date, list[Stop]] = {}
    for stop in sorted(stops):
        found.setdefault(to_local(stop.start, firm.zone).date(), []).append(stop)
    return {day: tuple(rows) for day, rows in found.items()}


def legs_of(roads: Roads, stops: Iterable[Stop]) -> Legs:
    """List the drives of a day, from the base and back to it; over the base where there is time for it.

    Parameters
    ----------
    roads : Roads
        Ways between all places.
    stops : iterable of Stop
        Of one person on one day, in order.
    """
    legs: list[tuple[str, str, int]] = []
    here, free = BASE, 0
    for stop in stops:
        by_base = roads.minutes(here, BASE) + roads.minutes(BASE, stop.first)
        if here != BASE and stop.start - free > by_base + STAYS_MIN:
            legs.append((here, BASE, roads.minutes(here, BASE)))
            here = BASE
        if here != stop.first and stop.first != BASE:
            legs.append((here, stop.first, roads.minutes(here, stop.first)))
        here, free = stop.last or here, stop.finish
    if here != BASE:
        legs.append((here, BASE, roads.minutes(here, BASE)))
    return tuple(legs)


def worked_min(roads: Roads, stops: Iterable[Stop]) -> int:
    """Minutes of work and driving of one day. [min]."""
    rows = tuple(stops)
    return sum(one.worked_min for one in rows) + sum(minutes for _, _, minutes in legs_of(roads, rows))


def too_much(
    firm: Firm, roads: Roads, worker: Worker, stops: Iterable[Stop], job: str
) -> tuple[tuple[Interval, ...], bool]:
    """Find what a job asks of somebody beyond their longest day and their rest.

    Parameters
    ----------
    firm, roads : Firm, Roads
        Zone and ways.
    worker : Worker
        Who.
    stops : iterable of Stop
        All of theirs, those of the job among them.
    job : str
        The job that could be scheduled otherwise.

    Returns
    -------
    tuple of (tuple of Interval, bool)
        When they should not work for it, and whether its moving day itself is too long.
    """
    days = days_of(firm, stops)
    found: list[Interval] = []
    heart = False
    for day, rows in days.items():
        own = [one for one in rows if one.job == job]
        if own and worked_min(roads, rows) > worker.longest_day_min:
            heart = heart or any(one.moving for one in own)
            found += [Interval(one.start, one.finish) for one in own if not one.moving]
        after = days.get(day + timedelta(days=1), ())
        if after and any(one.job == job for one in (*rows, *after)):
            found += _short_night(roads, worker, rows, after, job)
    return tuple(found), heart


def _short_night(
    roads: Roads, worker: Worker, rows: tuple[Stop, ...], after: tuple[Stop, ...], job: str
) -> Iterator[Interval]:
    """Find which of two days gives way where the night between them is too short: the one that is no moving day."""
    home = max(one.finish + roads.minutes(one.last, BASE) for one in rows)
    leaves = min(one.start - roads.minutes(BASE, one.first) for one in after)
    if leaves - home >= worker.rest_min:
        return
    late = next((one for one in after if one.job == job and not one.moving), None)
    if late is not None and late is after[0]:
        yield Interval(home, home + worker.rest_min + roads.farthest(job))
        return
    yield from (Interval(one.start, one.finish) for one in rows if one.job == job and not one.moving)


def by_person(firm: Firm, traces: Iterable[Trace]) -> Mapping[str, tuple[Stop, ...]]:
    """Join the stops of everybody over all jobs, in order of time."""
    rows = list(traces)
    return {
        one.id: tuple(sorted(stop for trace in rows for stop in trace.people.get(one.id, ())))
        for one in firm.people
    }
