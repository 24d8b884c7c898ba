"""How the rest goes from here: every open task as soon as people, vehicles and the network let it, in planned order.

No solver: the order of the accepted schedule is kept, nothing is done before it was planned, and work that is left of
a day on which the crew was measured takes as much longer as what was done of it did.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.journal.file.snapshot import PlannedTask, Tie
from moveplan.journal.now.standing import Standing
from moveplan.network.task import Kind, State
from moveplan.times import Interval

PRIOR_MIN = 240
"""Planned work whose keeping to the plan is believed beforehand: half a working day; assumed. [min]"""
SLOWEST = 2.0
"""How many times its planned minutes a task is believed to have taken, as an end may be logged late; assumed. [-]"""
DAYS_MIN = 1440
"""Tasks planned within this of now are the day's. [min]"""


@dataclass(frozen=True, slots=True)
class Ahead:
    """How the rest goes.

    Parameters
    ----------
    spans : Mapping of str to Interval
        When every task is expected, done ones where they were, UTC. [min]
    pace : float
        How much longer the day's work takes than planned.
    """

    spans: Mapping[str, Interval]
    pace: float


def ahead_of(
    found: Standing, held: Mapping[str, int] | None = None, gained: Mapping[str, int] | None = None
) -> Ahead:
    """Forecast the rest of the schedule.

    Parameters
    ----------
    held : Mapping of str to int or None
        Tasks that something holds up, with the moment before which they do not begin, UTC; None: nothing does. [min]
    gained : Mapping of str to int or None
        Tasks that may begin, or end where they have begun, so much before that is planned; None: none may. [min]
    """
    pace = _pace(found)
    spans: dict[str, Interval] = {}
    free: dict[str, int] = {}
    for name, task in found.tasks.items():
        until, sooner = (held or {}).get(name, found.now), (gained or {}).get(name, 0)
        spans[name] = _span(task, found, spans, free, pace, until, sooner)
        if found.is_open(name) and task.times == 1:
            for one in (*task.people, *task.vehicles):
                free[one] = max(free.get(one, 0), spans[name].finish)
    return Ahead(spans, pace)


def _pace(found: Standing) -> float:
    """Measure how much longer than planned the day's work takes: minutes taken over minutes planned, of all of it."""
    taken = meant = float(PRIOR_MIN)
    for name, task in found.tasks.items():
        took = found.states[name].took_min
        if not took or found.states[name].state is not State.COMPLETED:
            continue
        if task.kind is Kind.WORK and abs(task.start - found.now) <= DAYS_MIN:
            taken += min(took, SLOWEST * task.minutes)
            meant += task.minutes
    return max(taken / meant, 1.0)


def _span(
    task: PlannedTask,
    found: Standing,
    spans: Mapping[str, Interval],
    free: Mapping[str, int],
    pace: float,
    held_until: int,
    sooner: int,
) -> Interval:
    now, begun, ended = found.now, found.begun.get(task.id), found.ended.get(task.id)
    if ended is not None:
        return Interval(begun if begun is not None and begun <= ended else ended, ended)
    if not found.is_open(task.id) or task.times > 1:
        return Interval(task.start, task.finish)
    factor = pace if task.kind is Kind.WORK and abs(task.start - now) <= DAYS_MIN else 1.0
    lasting = int(
        factor * (task.minutes if task.alone else task.finish - task.start) + 0.5
    )  # as a page rounds
    if begun is not None:
        stopped = (
            held_until + min(lasting, task.high) if held_until > now else now
        )  # on the road again it takes the whole way
        return Interval(begun, max(begun + lasting - sooner, now, stopped))
    start = max(
        now,
        held_until,
        task.start - sooner,
        *(free.get(one, 0) for one in (*task.people, *task.vehicles)),
        *(_after(tie, task, spans) for tie in found.ties.get(task.id, ()) if tie.before in spans),
    )
    return Interval(start, start + lasting)


def _after(tie: Tie, task: PlannedTask, spans: Mapping[str, Interval]) -> int:
    before = spans[tie.before]
    moment = (before.finish if tie.relation.from_finish else before.start) + tie.gap_min
    return moment - (task.minutes if tie.relation.to_finish else 0)
