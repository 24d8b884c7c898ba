"""What people, vehicles and gear of the firm are not there for one job, because of all the others."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from moveplan.firm.day.roads import BASE, Roads
from moveplan.firm.days.question import Sent
from moveplan.firm.placing.hearts import Heart
from moveplan.firm.placing.lent import Taken
from moveplan.firm.placing.traces import Stop, Trace
from moveplan.firm.values import Firm
from moveplan.hours import merged
from moveplan.times import Interval, local_day, to_local


def people_booked(
    firm: Firm, roads: Roads, job: str, traces: Iterable[Trace]
) -> dict[str, tuple[Interval, ...]]:
    """Say when nobody of the firm can be at a job, because they are at others, on the way or at rest.

    Parameters
    ----------
    job : str
        The job that is to be scheduled.
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


def people_elsewhere(
    roads: Roads, job: str, people: Iterable[str], traces: Sequence[Trace]
) -> dict[str, tuple[Interval, ...]]:
    """Say when people are at other jobs or on the way, their nights left aside; enough where all stands already.

    Parameters
    ----------
    roads : Roads
        Ways between all places.
    job : str
        The job whose schedule stands.
    people : iterable of str
        Of the firm.
    traces : sequence of Trace
        What all other jobs take.
    """
    return {
        who: merged(
            Interval(
                part.start - roads.nearest(job, part.first),
                part.finish + roads.nearest(job, part.last),
            )
            for trace in traces
            for stop in trace.people.get(who, ())
            for part in ((stop,) if stop.moving else stop.parts or (stop,))
        )
        for who in people
    }


def moving_booked(
    firm: Firm, roads: Roads, job: str, sent: Iterable[Sent], hearts: Mapping[str, Heart]
) -> dict[str, tuple[Interval, ...]]:
    """Say when crews are on the moving days of other jobs: whole days, and the rest before and after them.

    Parameters
    ----------
    firm, roads, job : Firm, Roads, str
        As for :func:`people_booked`.
    sent : iterable of Sent
        Who goes where on which day.
    hearts : Mapping of str to Heart
        Moving days as measured.
    """
    found: dict[str, list[Interval]] = {one.id: [] for one in firm.people}
    way = roads.farthest(job)
    for one in sent:
        if one.job == job:
            continue
        day, heart = local_day(one.day, firm.zone), hearts[one.job]
        for who in one.crew:
            aside = firm.worker(who).rest_min + way
            away = Interval(
                min(day.start, day.start + heart.leaves_min - aside),
                max(day.finish, day.start + heart.home_min + aside),
            )
            found[who].append(away)
    return {who: merged(pieces) for who, pieces in found.items()}


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


def gear_left(firm: Firm, taken: Iterable[Taken], within: Interval) -> dict[str, int]:
    """Count what is left of each gear through a whole stretch of time.

    Parameters
    ----------
    firm : Firm
        Its gear.
    taken : iterable of Taken
        What is out.
    within : Interval
        When it is wanted, until it is ready again, UTC. [min]
    """
    rows = [one for one in taken if one.start < within.finish and within.start < one.finish]
    return {one.item.id: one.item.count - _most(rows, one.item.id) for one in firm.gear}


def gear_of(traces: Iterable[Trace]) -> list[Taken]:
    """List the gear that several jobs have out."""
    return [one for trace in traces for one in trace.gear]


def gear_ahead(firm: Firm, sent: Iterable[Sent], hearts: Mapping[str, Heart]) -> list[Taken]:
    """List the gear that jobs cannot do without on their days, as measured.

    Parameters
    ----------
    firm : Firm
        Where it is.
    sent : iterable of Sent
        The days of jobs that have no schedule yet.
    hearts : Mapping of str to Heart
        Moving days as measured.
    """
    return [
        Taken(gear, count, midnight + start, midnight + finish, one.job)
        for one in sent
        for midnight in (local_day(one.day, firm.zone).start,)
        for gear, count, start, finish in hearts[one.job].gear
    ]


def _most(taken: Iterable[Taken], gear: str) -> int:
    rows = [one for one in taken if one.gear == gear]
    moments = {one.start for one in rows}
    return max((sum(one.count for one in rows if one.start <= at < one.finish) for at in moments), default=0)
