"""Moves single tasks of a complete schedule to where they do more good; never breaks a limit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from moveplan.scheduling.construct.repeating import earliest_spot
from moveplan.scheduling.construct.serial import Scheme
from moveplan.scheduling.objective.aims import exposed, pay
from moveplan.scheduling.state.desk import Spot
from moveplan.scheduling.state.tracks import NEVER


def move_to_first(scheme: Scheme, position: int, moments: Iterable[int]) -> bool:
    """Move a task to the first of some moments at which it can start, or leave it where it is."""
    old = scheme.desk.take(position)
    latest, last = scheme.ends(position)
    start, finish, until = scheme.bounds(position)
    until = min(until, last)
    for moment in moments:
        spot = earliest_spot(scheme.finder, position, max(start, moment), finish, until)
        if spot is not None and spot.start <= latest and legal(scheme, position, old, spot):
            scheme.desk.put(position, spot)
            return spot != old
    scheme.desk.put(position, old)
    return False


def legal(scheme: Scheme, position: int, old: Spot, new: Spot) -> bool:
    """Whether gear held until this task is free for as long, and the new spot costs no more than the old."""
    if scheme.model.jobs[position].closes and new.finish > old.finish:
        return False
    return pay(scheme.model, new) <= pay(scheme.model, old)


def _days_back(scheme: Scheme, position: int) -> list[int]:
    """Moments worth a try for a late task: the latest that could do, then each day before it."""
    spot = scheme.desk.spots[position]
    latest, last = scheme.ends(position)
    job = scheme.model.jobs[position]
    if spot is None or min(latest, last) >= NEVER:
        return []
    limit = min(latest, last - job.span.least)
    starts = scheme.model.day_starts
    days = range(scheme.model.day_of(limit), scheme.model.day_of(spot.start), -1)
    by_day = [starts[day] for day in days if 0 <= day < len(starts)]
    return by_day if job.task.crew else [limit - limit % scheme.model.problem.grid_min, *by_day]


def lead_tasks_late(scheme: Scheme) -> None:
    """Move every late task to the latest day that leaves its margin, the last ones first.

    Late tasks that bind each other by greatest gaps on no day of the move go there together.
    """
    fixed, jobs, blocks = {at for at, _ in scheme.attempt.fixed}, scheme.model.jobs, scheme.frame.blocks
    order = sorted(
        (at for at, job in enumerate(jobs) if job.late and at not in fixed),
        key=lambda at: (-_start(scheme, at), at),
    )
    for at in order:
        block = blocks[scheme.frame.block_of[at]]
        if len(block) > 1 and all(jobs[one].late and jobs[one].tag < 0 and one in order for one in block):
            _move_together(scheme, block, at)
        move_to_first(scheme, at, _days_back(scheme, at))


def _move_together(scheme: Scheme, block: Sequence[int], last: int) -> None:
    """Move a block to the first of some days at which it fits before all that stands behind it, or leave it."""
    day_of, starts = scheme.model.day_of, scheme.model.day_starts
    first = min(day_of(_start(scheme, at)) for at in block)
    ahead = day_of(_start(scheme, last)) - first
    old = {at: scheme.desk.take(at) for at in block if at != last}
    days = [day_of(moment) - ahead for moment in _days_back(scheme, last)]
    old[last] = scheme.desk.take(last)
    for day in (day for day in days if day > first):
        if not scheme.place(block, starts[day]):
            continue
        new = {at: scheme.desk.take(at) for at in block}
        if all(_fits(scheme, at, old[at], spot) for at, spot in new.items()):
            old = new
            break
    for at, spot in old.items():
        scheme.desk.put(at, spot)


def _fits(scheme: Scheme, position: int, old: Spot, new: Spot) -> bool:
    latest, last = scheme.ends(position)
    return new.start <= latest and new.finish <= last and legal(scheme, position, old, new)


def lead_tasks_early_in_the_day(scheme: Scheme) -> None:
    """Move every late task to the earliest hour of its day, in the same hands, so that the evening is left for more."""
    starts = [(_start(scheme, at), at) for at, job in enumerate(scheme.model.jobs) if job.late and job.pool]
    for start, at in sorted(starts):
        old = scheme.desk.spots[at]
        if old is None or scheme.model.jobs[at].task.repeats is not None:
            continue
        if try_on_day(scheme, at, scheme.model.day_of(start)):
            new = scheme.desk.take(at)
            scheme.desk.put(at, new if new.crews == old.crews else old)


def _start(scheme: Scheme, position: int) -> int:
    spot = scheme.desk.spots[position]
    return spot.start if spot is not None else 0


def between_exposed(scheme: Scheme) -> list[int]:
    """Tasks between the ends of short greatest gaps that make the time shorter when they come later."""
    model = scheme.model
    at = {job.task.id: position for position, job in enumerate(model.jobs)}
    pull = [0] * len(model.jobs)
    for link in model.problem.network.links:
        if exposed(link):
            pull[at[link.before]] -= 1
            pull[at[link.after]] += 1
    from_here = model.reach((x for x, p in enumerate(pull) if p < 0), forwards=True, by_waits=True)
    to_there = model.reach((x for x, p in enumerate(pull) if p > 0), forwards=False, by_waits=True)
    return [x for x in sorted(from_here & to_there) if pull[x] <= 0]


def less_exposed(scheme: Scheme) -> None:
    """Let animals and the like be taken out later where what follows waits anyway."""
    order = sorted(between_exposed(scheme), key=lambda at: (-_start(scheme, at), at))
    for at in order:
        move_to_first(scheme, at, _moments_back(scheme, at))


def _moments_back(scheme: Scheme, position: int) -> list[int]:
    """List starts worth a try from the latest possible one back to the present one, finer near the end."""
    spot = scheme.desk.spots[position]
    latest, last = scheme.ends(position)
    if spot is None or min(latest, last) >= NEVER:
        return []
    limit = min(latest, last - (spot.finish - spot.start))
    grid = scheme.model.problem.grid_min
    moments: list[int] = []
    step = grid
    moment = limit - (limit - scheme.model.problem.start) % grid
    while moment > spot.start and len(moments) < 24:
        moments.append(moment)
        moment -= step
        step = min(step * 2, 30 * grid)
    return moments


def pack_drives(scheme: Scheme) -> None:
    """Move drives onto days on which their vehicles are hired anyway."""
    model = scheme.model
    fixed = {at for at, _ in scheme.attempt.fixed}
    for at in sorted(range(len(model.jobs)), key=lambda at: (_start(scheme, at), at)):
        job = model.jobs[at]
        if not job.vehicles or job.tag >= 0 or at in fixed:
            continue
        own = model.day_of(_start(scheme, at))
        others = _hired_days(scheme, job.vehicles, at)
        if own in others:
            continue
        wanted = sorted((day for day in others if day >= 0), key=lambda day: (abs(day - own), day))
        _try_on_days(scheme, at, wanted)


def _hired_days(scheme: Scheme, vehicles: Sequence[int], besides: int) -> set[int]:
    model = scheme.model
    return {
        model.day_of(begin)
        for at, (job, spot) in enumerate(zip(model.jobs, scheme.desk.spots, strict=True))
        if at != besides and spot is not None and set(vehicles) <= set(job.vehicles)
        for begin, _ in spot.segments
    }


def _try_on_days(scheme: Scheme, position: int, days: Sequence[int]) -> None:
    any(try_on_day(scheme, position, day) for day in days)


def try_on_day(scheme: Scheme, position: int, day: int) -> bool:
    """Move a task to its earliest spot on a day where that is within every limit; else leave it where it is."""
    model = scheme.model
    old = scheme.desk.take(position)
    latest, last = scheme.ends(position)
    start, finish, until = scheme.bounds(position)
    ends = model.day_starts[day + 1] if day + 1 < len(model.day_starts) else model.problem.horizon
    begin = max(start, model.day_starts[day])
    spot = earliest_spot(scheme.finder, position, begin, finish, min(until, last, ends))
    if spot is not None and spot.start <= latest and legal(scheme, position, old, spot):
        scheme.desk.put(position, spot)
        return True
    scheme.desk.put(position, old)
    return False
