"""Begins a moving day as early as it may: what the solver finds for it is as good at noon, and ends at night.

The aims count how long a day and what it exposes last, and not when. So the day as a whole, nothing in it changed, is
moved to the earliest hour at which everybody it needs is there: what takes longer than thought has the evening left.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.frame import Frame
from moveplan.scheduling.state.tracks import NEVER


def begun_early(frame: Frame, desk: Desk) -> Desk:
    """Move each tied day as a whole to the earliest hour that keeps every limit.

    Parameters
    ----------
    desk : Desk
        A complete schedule of it; not changed.

    Returns
    -------
    Desk
        The same schedule where nothing can begin earlier.
    """
    for tag in range(len(frame.model.tags)):
        tied = [at for at, job in enumerate(frame.model.jobs) if job.tag == tag]
        by = min((_room(frame, desk, at, tied) for at in tied), default=0)
        desk = _moved(desk, tied, by - by % frame.model.problem.grid_min)
    return desk


def _room(frame: Frame, desk: Desk, position: int, tied: Sequence[int]) -> int:
    """Minutes by which a task could begin earlier if all of its day did, by gaps, dates and hours."""
    model, spot = frame.model, _spot(desk, position)
    room = spot.start - max(model.problem.start + frame.early[position], _day_of(desk, position))
    for tail, _, from_finish, to_finish, gap in model.into[position]:
        if tail not in tied:
            other = _spot(desk, tail)
            moment = (other.finish if from_finish else other.start) + gap
            room = min(room, (spot.finish if to_finish else spot.start) - moment)
    for (begin, _), crew in spot.staffed():
        for windows in (
            *(model.people[at] for at in crew),
            *(model.vehicles[at] for at in model.jobs[position].vehicles),
        ):
            room = min(
                room, begin - max((start for start in windows.starts if start <= begin), default=begin)
            )
    return room


def _day_of(desk: Desk, position: int) -> int:
    """Begin of the day on which a task stands."""
    return desk.model.day_starts[desk.model.day_of(_spot(desk, position).start)]


def _moved(desk: Desk, tied: Sequence[int], by: int) -> Desk:
    """Move a day forward by some minutes, or by less where somebody would not be there in time."""
    while by > 0:
        other = desk.copied()
        order = sorted((other.take(at).start, at) for at in tied)
        short = 0
        for _, at in order:
            spot = _earlier(_spot(desk, at), by)
            short = _short(other, at, spot)
            if short:
                break
            other.put(at, spot)
        if not short and all(stock.short_from(order[0][0] - by) >= NEVER for stock in other.stocks):
            return other
        by -= max(short + (-short) % desk.model.problem.grid_min, desk.model.problem.grid_min)
    return desk


def _short(desk: Desk, position: int, spot: Spot) -> int:
    """Minutes that a person or a vehicle comes too late for a task; 0: all are there."""
    job = desk.model.jobs[position]
    ready = spot.start
    for (begin, end), crew in spot.staffed():
        tracks = [desk.people[at] for at in crew] + [desk.vehicles[at] for at in job.vehicles]
        late = [track.conflict(begin, end, job.task.place, job.task.ends_at) - begin for track in tracks]
        ready = max([ready, *(spot.start + minutes for minutes in late)])
    return ready - spot.start


def _earlier(spot: Spot, by: int) -> Spot:
    segments = tuple((begin - by, end - by) for begin, end in spot.segments)
    return replace(spot, start=spot.start - by, finish=spot.finish - by, segments=segments)


def _spot(desk: Desk, position: int) -> Spot:
    spot = desk.spots[position]
    if spot is None:
        raise KeyError(position)
    return spot
