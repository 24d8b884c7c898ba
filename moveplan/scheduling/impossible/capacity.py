"""More work than hours: the third layer of "it cannot be done", by adding up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from moveplan.errors import Lack, Problem
from moveplan.network.words import listed, named, worked
from moveplan.scheduling.impossible.crowded import check_crowded
from moveplan.scheduling.impossible.reach import Reach, late_finishes
from moveplan.scheduling.state.clock import between
from moveplan.scheduling.state.model import Model
from moveplan.scheduling.state.work import Crowd, Hours, Labour, Shortage, groups, tightest


def check_capacity(model: Model) -> tuple[Problem, ...]:
    """Find people or vehicles that have more to do by a date, or on a tied day, than they have hours.

    Parameters
    ----------
    model : Model
        Gaps without contradiction.

    Returns
    -------
    tuple of Problem
        The first overload found, if any: each is a proof.
    """
    for fault in chain(_by_dates(model), _on_days(model), check_crowded(model)):
        return (fault,)
    return ()


def _by_dates(model: Model) -> Iterator[Problem]:
    """Compare work that must be done between two moments with the hours in between."""
    reach = Reach(model)
    ends = late_finishes(model, reach.ends)
    labour = Labour(model)
    for group in groups(model):
        work = [(reach.early[at], ends[at], minutes, at) for at, minutes in labour.of(group).items()]
        found = tightest(work, Hours([model.people[at] for at in group])) if work else None
        if found is not None:
            people = [model.problem.people[at] for at in group]
            names = [person.name or person.id for person in people]
            yield _overload(model, names, found, next((p.where for p in people if p.where), ""))
            return
    yield from _vehicles(model, reach.early, ends)
    yield from _gear(model, reach.early, ends)


def _vehicles(model: Model, early: Sequence[int], ends: Sequence[int]) -> Iterator[Problem]:
    for vehicle, wheels in enumerate(model.problem.vehicles):
        work = [
            (early[at], ends[at], min(option.minutes for option in job.options), at)
            for at, job in enumerate(model.jobs)
            if vehicle in job.vehicles and job.task.repeats is None
        ]
        found = tightest(work, Hours([model.vehicles[vehicle]])) if work else None
        if found is not None:
            more = "a longer hire, fewer trips, or a later date"
            yield _overload(model, [wheels.name or wheels.id], found, wheels.where, more)
            return


def _gear(model: Model, early: Sequence[int], ends: Sequence[int]) -> Iterator[Problem]:
    """Compare the minutes for which gear is in use with those that there are, piece by piece."""
    for gear, thing in enumerate(model.problem.gear):
        work = [
            (early[at], ends[at], dict(job.gear)[gear] * min(option.minutes for option in job.options), at)
            for at, job in enumerate(model.jobs)
            if gear in dict(job.gear) and job.task.repeats is None
        ]
        found = tightest(work, Crowd(thing.count)) if work else None
        if found is not None:
            name = f"{thing.count} {thing.name or thing.id}"
            yield _overload(
                model, [name], found, thing.where, "more of it, less work, or a later date", "can give"
            )
            return


def _on_days(model: Model) -> Iterator[Problem]:
    """Compare the work of a tied day with the hours of each day that it may be."""
    labour = Labour(model)
    for tag, days in enumerate(model.tags):
        tied = any(job.tag == tag for job in model.jobs)
        for group in groups(model) if tied and days else ():
            own = [(at, minutes) for at, minutes in labour.of(group).items() if model.jobs[at].tag == tag]
            total = sum(minutes for _, minutes in own)
            if not total:
                continue
            hours = Hours([model.people[at] for at in group])
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
    found: Shortage,
    where: str,
    more: str = "more hours, one more person, less work, or a later date",
    verb: str = "",
) -> Problem:
    begin, end, tasks, total, there = found
    those = [named(model.jobs[at].task) for at in tasks]
    where = next((model.jobs[at].task.where for at in tasks if model.jobs[at].task.where), where)
    need = "needs" if len(those) == 1 else "need"
    verb = verb or ("has" if len(names) == 1 else "have")
    return Problem(
        f"{listed(those)} {need} {worked(total)} of {listed(names)} {between(model.problem, begin, end)}, but "
        f"{listed(names)} {verb} {worked(there)} in that time; {worked(total - there)} short",
        where,
        f"find {worked(total - there)} more: {more}",
        lack=Lack(
            f"{listed(names)} {verb} {worked(there)} {between(model.problem, begin, end)}, but there are "
            f"{worked(total)} of work: {worked(total - there)} are missing",
            begin,
            end,
            total,
            there,
        ),
    )
