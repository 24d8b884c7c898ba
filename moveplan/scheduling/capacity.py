"""More work than hours: the third layer of "it cannot be done", by adding up."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from itertools import accumulate, combinations

from moveplan.errors import Problem
from moveplan.network.words import listed, worked
from moveplan.scheduling.clock import between
from moveplan.scheduling.model import Model
from moveplan.scheduling.reach import Reach, late_finishes
from moveplan.scheduling.tracks import Windows

_MOST_PEOPLE = 6
_MOST_BEGINNINGS = 24


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


class _Booked:
    """Hours of a set of people or vehicles up to any moment, looked up rather than added up each time."""

    def __init__(self, windows: Sequence[Windows]) -> None:
        pieces = sorted(
            (begin, end) for own in windows for begin, end in zip(own.starts, own.finishes, strict=True)
        )
        self.starts = [begin for begin, _ in pieces]
        self.finishes = sorted(end for _, end in pieces)
        self.begun = list(accumulate(self.starts, initial=0))
        self.over = list(accumulate(self.finishes, initial=0))

    def until(self, moment: int) -> int:
        """Minutes before a moment."""
        begun, over = bisect_right(self.starts, moment), bisect_right(self.finishes, moment)
        return (begun - over) * moment - self.begun[begun] + self.over[over]

    def between(self, first: int, last: int) -> int:
        """Minutes in between."""
        return max(0, self.until(last) - self.until(first))


def _tightest(
    work: Sequence[tuple[int, int, int, int]], hours: _Booked
) -> tuple[int, int, list[int], int, int] | None:
    """Find the shortest stretch of time in which there is more work than hours.

    ``work`` is first start, last finish, minutes and position of each task; a stretch counts the tasks that lie
    within it in every schedule. Given with its tasks, its work and its hours.
    """
    found = None
    firsts = sorted({first for first, _, _, _ in work}, reverse=True)
    by_end = sorted(work, key=lambda row: (row[1], row[3]))
    for begin in firsts[:_MOST_BEGINNINGS] + firsts[-1:]:
        total, inside = 0, []
        for at, (first, end, minutes, position) in enumerate(by_end):
            if first < begin:
                continue
            total += minutes
            inside.append(position)
            if at + 1 < len(by_end) and by_end[at + 1][1] == end:
                continue
            there = hours.between(begin, end)
            if total > there:
                if found is None or end - begin < found[1] - found[0]:
                    found = (begin, end, list(inside), total, there)
                break
    return found


def _by_dates(model: Model) -> Iterator[Problem]:
    """Compare work that must be done between two moments with the hours in between."""
    reach = Reach(model)
    ends = late_finishes(model, reach.ends)
    for group in _groups(model):
        work = [
            (reach.early[at], ends[at], minutes, at)
            for at in range(len(model.jobs))
            if (minutes := _work(model, at, group))
        ]
        found = _tightest(work, _Booked([model.people[at] for at in group])) if work else None
        if found is not None:
            people = [model.problem.people[at] for at in group]
            names = [person.name or person.id for person in people]
            yield _overload(model, names, found, next((p.where for p in people if p.where), ""))
            return
    yield from _vehicles(model, reach.early, ends)


def _vehicles(model: Model, early: Sequence[int], ends: Sequence[int]) -> Iterator[Problem]:
    for vehicle, wheels in enumerate(model.problem.vehicles):
        work = [
            (early[at], ends[at], min(option.minutes for option in job.options), at)
            for at, job in enumerate(model.jobs)
            if vehicle in job.vehicles and job.task.repeats is None
        ]
        found = _tightest(work, _Booked([model.vehicles[vehicle]])) if work else None
        if found is not None:
            more = "a longer hire, fewer trips, or a later date"
            yield _overload(model, [wheels.name or wheels.id], found, wheels.where, more)
            return


def _on_days(model: Model) -> Iterator[Problem]:
    """Compare the work of a tied day with the hours of each day that it may be."""
    for tag, days in enumerate(model.tags):
        tied = [at for at, job in enumerate(model.jobs) if job.tag == tag]
        for group in _groups(model) if tied and days else ():
            own = [(at, minutes) for at in tied if (minutes := _work(model, at, group))]
            total = sum(minutes for _, minutes in own)
            hours = _Booked([model.people[at] for at in group])
            best = max(days, key=lambda day: (hours.between(day.start, day.finish), -day.start))
            there = hours.between(best.start, best.finish)
            if total > there:
                names = [model.problem.people[at].name or model.problem.people[at].id for at in group]
                found = (best.start, best.finish, [at for at, _ in own], total, there)
                yield _overload(model, names, found, "")
                return


def _overload(
    model: Model,
    names: Sequence[str],
    found: tuple[int, int, list[int], int, int],
    where: str,
    more: str = "more hours, another pair of hands, less work, or a later date",
) -> Problem:
    begin, end, tasks, total, there = found
    ids = [model.jobs[at].task.id for at in tasks]
    where = next((model.jobs[at].task.where for at in tasks if model.jobs[at].task.where), where)
    need, verb = "needs" if len(ids) == 1 else "need", "has" if len(names) == 1 else "have"
    return Problem(
        f"{listed(ids)} {need} {worked(total)} of {listed(names)} {between(model.problem, begin, end)}, but "
        f"{listed(names)} {verb} {worked(there)} in that time; {worked(total - there)} short",
        where,
        f"find {worked(total - there)} more: {more}",
    )
