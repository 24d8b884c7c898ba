"""Recurring care: a spot for each time it happens, near the moment it should."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from itertools import islice

from moveplan.network.task import Repeat
from moveplan.scheduling.construct.finder import Finder
from moveplan.scheduling.state.crews import crews
from moveplan.scheduling.state.desk import Spot, Stretch
from moveplan.scheduling.state.model import Job
from moveplan.scheduling.state.tracks import NEVER, Track, Windows

_CREWS_TRIED = 12
"""Crews tried for work that repeats. Chosen. [-]"""
_STARTS_TRIED = 60
"""Starts tried for work that repeats before it is given up. Chosen, not measured. [-]"""


def earliest_spot(finder: Finder, position: int, start: int, finish: int, until: int) -> Spot | None:
    """Earliest spot of any task, recurring or not; parameters as of :meth:`Finder.earliest`."""
    job = finder.model.jobs[position]
    if job.task.repeats is not None:
        return repeated(finder, position, job, start, finish, until)
    return finder.earliest(position, start, finish, until)


def repeated(finder: Finder, position: int, job: Job, start: int, finish: int, until: int) -> Spot | None:
    """Earliest spot of recurring care: one crew for all its times, or else one for each.

    Parameters
    ----------
    finder : Finder
        Knows the bookings so far.
    position, job : int, Job
        The task; ``repeats`` is set.
    start, finish, until : int
        Bounds of its start, of its last finish from below, and from above. [min]

    Returns
    -------
    Spot or None
        One segment a time.
    """
    option = job.options[0]
    wanted: list[tuple[int, ...]] = [()]
    if job.task.crew:
        pool = finder.pool(job)
        wanted = list(islice(crews(finder.model, job, option.count, pool, finder.liking(job)), _CREWS_TRIED))
    moment = start
    for _ in range(_STARTS_TRIED):
        first = finder.at_once(position, job, option.count, option.minutes, moment, until)
        if first is None:
            return None
        for crew in sorted(wanted, key=lambda crew: crew not in first.crews):
            spot = _same_crew(finder, job, crew, first.start, until)
            if spot and spot.finish >= finish:
                return spot
        mixed = _any_crew(finder, position, job, first.start, until)
        if mixed and mixed.finish >= finish:
            return mixed
        moment = first.start + max(finder.model.problem.grid_min, 60)
    return None


def _same_crew(finder: Finder, job: Job, crew: tuple[int, ...], start: int, until: int) -> Spot | None:
    desk, repeat = finder.desk, job.task.repeats
    tracks = [desk.people[at] for at in crew] + [desk.vehicles[at] for at in job.vehicles]
    hours = desk.common(crew, job.vehicles) if tracks else None
    if repeat is None:
        return None
    done: list[Stretch] = []
    for nominal in _moments(repeat, start):
        found = _nearest(finder, job, tracks, hours, nominal, done, repeat)
        if found is None or found[1] > until:
            return None
        done.append(found)
    return Spot(done[0][0], done[-1][1], tuple(done), (crew,))


def _moments(repeat: Repeat, start: int) -> Iterator[int]:
    for number in range(repeat.times):
        yield start + number * repeat.every_min


def _nearest(
    finder: Finder,
    job: Job,
    tracks: Sequence[Track],
    hours: Windows | None,
    nominal: int,
    done: Sequence[Stretch],
    repeat: Repeat,
) -> Stretch | None:
    """Find the free stretch nearest to the moment it should be."""
    slack = repeat.slack_min if done else 0
    lasts = job.options[0].minutes
    least = max(nominal - slack, done[-1][1] if done else nominal)
    tried = finder.model.on_grid(nominal) == nominal and least <= nominal
    if tried:  # mostly it is free, and no other moment need be looked for
        finder.steps += 1
        if _free(finder, job, tracks, hours, nominal, lasts):
            return nominal, nominal + lasts
    moments = [nominal, *_later(finder, job, tracks, nominal), *_ends(hours, least, nominal, lasts)]
    moments += _later(finder, job, tracks, least) if least != nominal else ()
    for moment in sorted({finder.model.on_grid(at) for at in moments}, key=lambda at: abs(at - nominal)):
        if tried and moment == nominal:
            continue
        finder.steps += 1
        if least <= moment <= nominal + slack and _free(finder, job, tracks, hours, moment, lasts):
            return moment, moment + lasts
    return None


def _later(finder: Finder, job: Job, tracks: Sequence[Track], moment: int) -> list[int]:
    """When all are free next after a moment, found one by one in turn."""
    place, after, lasts = job.task.place, job.task.ends_at, job.options[0].minutes
    if len(tracks) == 1 and not job.gear:  # nobody to wait for
        moment = tracks[0].earliest(moment, lasts, place, after)
        return [moment] if moment < NEVER else []
    for _ in range(20):
        begin = moment
        for track in tracks:
            moment = track.earliest(moment, lasts, place, after)
        for gear, count in job.gear:
            moment = finder.desk.stocks[gear].earliest(moment, lasts, count) if moment < NEVER else NEVER
        if moment == begin:
            break
    return [moment] if moment < NEVER else []


def _ends(hours: Windows | None, least: int, nominal: int, lasts: int) -> list[int]:
    if hours is None:
        return []
    first, beyond = bisect_left(hours.finishes, least + lasts), bisect_right(hours.finishes, nominal + lasts)
    return [end - lasts for end in hours.finishes[first:beyond]]


def _free(
    finder: Finder, job: Job, tracks: Sequence[Track], hours: Windows | None, moment: int, lasts: int
) -> bool:
    if hours is not None and hours.fit(moment, lasts) != moment:
        return False
    place, after = job.task.place, job.task.ends_at
    if any(track.conflict(moment, moment + lasts, place, after) > moment for track in tracks):
        return False
    stocks = finder.desk.stocks
    return all(stocks[gear].earliest(moment, lasts, count) == moment for gear, count in job.gear)


def _any_crew(finder: Finder, position: int, job: Job, start: int, until: int) -> Spot | None:
    """Find a crew for each time, where no crew can come every time."""
    repeat, option = job.task.repeats, job.options[0]
    if repeat is None or not job.task.crew:
        return None
    done: list[Stretch] = []
    staff: list[tuple[int, ...]] = []
    for nominal in _moments(repeat, start):
        slack = repeat.slack_min if done else 0
        latest = nominal + slack + option.minutes
        spot = None
        for begin in (nominal, max(nominal - slack, done[-1][1] if done else nominal)):
            spot = spot or finder.at_once(
                position, job, option.count, option.minutes, begin, min(until, latest)
            )
        if spot is None:
            return None
        done.append(spot.segments[0])
        staff.append(spot.crews[0])
    return Spot(done[0][0], done[-1][1], tuple(done), tuple(staff))
