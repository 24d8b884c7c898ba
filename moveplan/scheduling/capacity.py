"""More work than hours: the third layer of "it cannot be done", by adding up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from moveplan.errors import Problem
from moveplan.network.passes import early_starts, late_starts
from moveplan.network.words import listed, said
from moveplan.scheduling.model import Model
from moveplan.scheduling.tracks import Windows
from moveplan.times import Interval

_MOST_PEOPLE = 6


def check_capacity(model: Model) -> tuple[Problem, ...]:
    """Find people or vehicles that have more to do by a date, or on a tied day, than they have hours.

    Parameters
    ----------
    model : Model
        Gaps without contradiction. [-]

    Returns
    -------
    tuple of Problem
        The first overload found, if any: each is a proof. [-]
    """
    for fault in (*_by_dates(model), *_on_days(model)):
        return (fault,)
    return ()


def _groups(model: Model) -> list[tuple[int, ...]]:
    """List sets of people worth adding up: every set of a few, else the pools of the tasks and everybody."""
    people = range(len(model.people))
    if len(model.people) <= _MOST_PEOPLE:
        return [group for size in range(1, len(people) + 1) for group in combinations(people, size)]
    pools = {job.pool for job in model.jobs if job.pool}
    return sorted({*pools, tuple(people)}, key=lambda group: (len(group), group))


def _work(model: Model, position: int, group: Sequence[int]) -> int:
    """Person-minutes that a task surely takes from a set of people."""
    job = model.jobs[position]
    if not job.pool:
        return 0
    times = job.task.repeats.times if job.task.repeats else 1
    others = sum(person not in group for person in job.pool)
    return min(max(0, option.count - others) * option.minutes for option in job.options) * times


def _hours(windows: Sequence[Windows], first: int, last: int) -> int:
    return sum(
        max(0, min(end, last) - max(begin, first))
        for own in windows
        for begin, end in zip(own.starts, own.finishes, strict=True)
    )


def _by_dates(model: Model) -> Iterator[Problem]:
    """Compare work that must be done before each date with the hours until then."""
    start = model.problem.start
    early = early_starts(model.graph)
    late = late_starts(model.graph, model.problem.horizon - start)
    ends = _last_finishes(model, late)
    for group in _groups(model):
        work = sorted(
            (ends[at], at, minutes) for at in range(len(model.jobs)) if (minutes := _work(model, at, group))
        )
        first = start + min((early[at] for _, at, _ in work), default=0)
        own = [model.people[at] for at in group]
        total = 0
        for number, (date, _, minutes) in enumerate(work):
            total += minutes
            if number + 1 < len(work) and work[number + 1][0] == date:
                continue
            there = _hours(own, first, date)
            if total > there:
                names = [model.problem.people[at].name or model.problem.people[at].id for at in group]
                yield _overload(model, names, total, there, [at for _, at, _ in work[: number + 1]])
                return
    yield from _vehicles(model, ends)


def _last_finishes(model: Model, late: Sequence[int]) -> list[int]:
    """Latest moment by which each task is surely over in any schedule."""
    ends = []
    for job, begin in zip(model.jobs, late, strict=True):
        span = job.span.greatest
        end = model.problem.horizon if span is None else model.problem.start + begin + span
        if job.task.finish_by is not None:
            end = min(end, job.task.finish_by)
        if job.tag >= 0:
            end = min(end, max(day.finish for day in model.tags[job.tag]))
        ends.append(min(end, model.problem.horizon))
    return ends


def _vehicles(model: Model, ends: Sequence[int]) -> Iterator[Problem]:
    for vehicle, wheels in enumerate(model.problem.vehicles):
        users = [at for at, job in enumerate(model.jobs) if vehicle in job.vehicles]
        for date in sorted({ends[at] for at in users}):
            needed = [at for at in users if ends[at] <= date]
            total = sum(min(o.minutes for o in model.jobs[at].options) for at in needed)
            there = _hours([model.vehicles[vehicle]], model.problem.start, date)
            if total > there:
                more = "a longer hire, fewer trips, or a later date"
                yield _overload(model, [wheels.name or wheels.id], total, there, needed, more)
                return


def _on_days(model: Model) -> Iterator[Problem]:
    """Compare the work of a tied day with the hours of each day that it may be."""
    for tag, days in enumerate(model.tags):
        tied = [at for at, job in enumerate(model.jobs) if job.tag == tag]
        for group in _groups(model) if tied else ():
            total = sum(_work(model, at, group) for at in tied)
            most = max((_on(model, group, day) for day in days), default=0)
            if total > most:
                names = [model.problem.people[at].name or model.problem.people[at].id for at in group]
                yield _overload(model, names, total, most, [at for at in tied if _work(model, at, group)])
                return


def _on(model: Model, group: Sequence[int], day: Interval) -> int:
    return _hours([model.people[at] for at in group], day.start, day.finish)


def _overload(
    model: Model,
    names: Sequence[str],
    total: int,
    there: int,
    tasks: Sequence[int],
    more: str = "more hours, another pair of hands, less work, or a later date",
) -> Problem:
    ids = [model.jobs[at].task.id for at in tasks]
    where = next((model.jobs[at].task.where for at in tasks if model.jobs[at].task.where), "")
    verb = "has" if len(names) == 1 else "have"
    return Problem(
        f"{listed(ids)} need {said(total)} of {listed(names)} in the time they must be done, but {listed(names)} "
        f"{verb} {said(there)}; {said(total - there)} short",
        where,
        f"find {said(total - there)} more: {more}",
    )
