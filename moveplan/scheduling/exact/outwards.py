"""A first schedule from the heart outwards, where the serial engine found none.

The heart of a move is small and hard, what surrounds it large and easy. The solver places the heart on days of its
choice, or shows that it cannot be placed; the serial engine then places the rest around it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from moveplan.network.passes import PositiveCycleError
from moveplan.scheduling.constraints.tasks import Given
from moveplan.scheduling.construct.search import Found, search
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.exact.core import closed, tags, with_room
from moveplan.scheduling.exact.exact import Exact
from moveplan.scheduling.problem import SchedulingProblem, TiedDay
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.frame import Frame, early_with_days, frame_of
from moveplan.scheduling.state.model import model_of
from moveplan.times import Interval

_MOST_HEARTS = 6
"""How many hearts are tried, each larger than the one before by what found no place, or on later days. [-]"""
_AROUND_SHARE = 0.1
"""Share of the effort for placing the rest around the heart. Chosen. [-]"""


@dataclass(frozen=True, slots=True)
class Outwards:
    """What came of it.

    Parameters
    ----------
    found : Found or None
        A schedule of the whole.
    impossible : bool
        Whether it is shown that the heart alone, given its earliest starts, has no schedule.
    inside : tuple of int
        The heart tried last.
    left : float
        Effort that is left. [s]
    """

    found: Found | None = None
    impossible: bool = False
    inside: tuple[int, ...] = ()
    left: float = 0.0


def outwards(frame: Frame, inside: Sequence[int], effort: Effort, meter: Meter, seconds: float) -> Outwards:
    """Place the heart with the solver, and the rest around it.

    Parameters
    ----------
    inside : sequence of int
        The tasks of the heart.
    effort, meter : Effort, Meter
        How hard to look; the meter gathers what ended the search.
    seconds : float
        Part of the effort that it may take. [s]

    Returns
    -------
    Outwards
        A schedule, a proof that there is none, or neither.
    """
    tried, inside, stuck = 0, tuple(inside), set[int]()
    heart, every_day = with_room(frame, inside, frame.early), True
    while tried < _MOST_HEARTS:
        tried += 1
        exact = _exact(heart, effort, seconds)
        answer, seconds = exact.first(), exact.left
        meter.guard_struck |= answer.guard_struck
        meter.interrupted |= answer.interrupted
        if answer.desk is None and every_day:
            return Outwards(None, answer.infeasible, inside, seconds)
        if answer.desk is not None:
            days = _days(answer.desk)
            found = _around(frame, inside, answer.desk, days, effort)
            if found.desk is not None:
                return Outwards(found, False, inside, seconds)
            stuck |= set(found.stuck)
            heart, every_day = _after(heart, answer.desk, days), False
        if answer.desk is None or any(not tied.days for tied in heart.tied_days):
            larger = closed(frame.model, {*inside, *stuck})
            if len(larger) == len(inside):
                break
            inside, heart, every_day = tuple(larger), with_room(frame, larger, frame.early), True
    return Outwards(None, False, inside, seconds)


def _exact(heart: SchedulingProblem, effort: Effort, seconds: float) -> Exact:
    model = model_of(heart)
    given = Given(None, (), frame_of(model).block_of, heart.horizon)
    return Exact(model, given, None, replace(effort, previous=None), seconds)


def _days(desk: Desk) -> tuple[Interval, ...]:
    """Find the day of each tag; where it has no task in the heart, the first there is."""
    model = desk.model
    used = {job.tag: spot.start for job, spot in zip(model.jobs, desk.spots, strict=True) if spot is not None}
    return tuple(
        next((day for day in days if day.start <= used.get(tag, day.start) < day.finish), days[0])
        for tag, days in enumerate(model.tags)
    )


def _around(
    frame: Frame, inside: Sequence[int], heart: Desk, days: tuple[Interval, ...], effort: Effort
) -> Found:
    """Place the rest around a heart; nothing is found where its days cannot be, as a chain outside it needs others."""
    try:
        early_with_days(frame, days)
    except PositiveCycleError:
        return Found()
    fixed: list[tuple[int, Spot]] = []
    for position, spot in zip(inside, heart.spots, strict=True):
        if spot is not None and frame.model.jobs[position].tag >= 0:
            fixed.append((position, spot))
    return search(frame, effort, Meter(effort, _AROUND_SHARE), Found(days=days), tuple(fixed))


def _after(heart: SchedulingProblem, desk: Desk, days: Sequence[Interval]) -> SchedulingProblem:
    """Leave the heart only days after those that left too little room."""
    names = tags(desk.model)
    return replace(
        heart,
        tied_days=tuple(
            TiedDay(name, tuple(day for day in choices if day.start > taken.start))
            for name, choices, taken in zip(names, desk.model.tags, days, strict=True)
        ),
    )
