"""Gear in use at one moment whatever the order: more of it than there is cannot be mended by any schedule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from moveplan.errors import Problem
from moveplan.network.passes import distances_from
from moveplan.network.words import listed, named
from moveplan.scheduling.state.model import Model

_MOST_USES = 60
"""Most uses of a thing whose overlap is examined pair by pair. Chosen. [-]"""


@dataclass(frozen=True, slots=True)
class _Use:
    """Gear in use from the start of one task until the finish of another, or of the same."""

    count: int
    begins: int
    ends: int


def check_held(model: Model) -> tuple[Problem, ...]:
    """Find uses of one kind of gear that are all under way at some moment of every schedule.

    Two uses overlap in every schedule where the links put the start of each before the finish of the other;
    where each two of some overlap, all of them have a moment in common.

    Parameters
    ----------
    model : Model
        Gaps and hard dates without contradiction.

    Returns
    -------
    tuple of Problem
        The first kind of gear of which there is too little, if any: a proof.
    """
    for gear, thing in enumerate(model.problem.gear):
        uses = _uses(model, gear)
        if sum(use.count for use in uses) > thing.count and len(uses) <= _MOST_USES:
            together = _at_once(model, uses, thing.count)
            if together:
                return (_told(model, gear, together),)
    return ()


def _uses(model: Model, gear: int) -> list[_Use]:
    held = [
        _Use(count, at, until)
        for at, job in enumerate(model.jobs)
        for kind, count, until in job.opens
        if kind == gear
    ]
    used = [
        _Use(dict(job.gear)[gear], at, at)
        for at, job in enumerate(model.jobs)
        if gear in dict(job.gear) and job.task.repeats is None and job.options[0].minutes
    ]
    return held + used


def _at_once(model: Model, uses: Sequence[_Use], there: int) -> list[_Use]:
    """Find uses that overlap each other in every schedule and need more than there is; few rather than many."""
    before = [distances_from(model.graph, use.begins) for use in uses]

    def first(one: int, other: int) -> bool:
        distance = before[one][uses[other].ends]
        return distance is not None and distance + model.jobs[uses[other].ends].span.least > 0

    overlap = [[first(a, b) and first(b, a) for b in range(len(uses))] for a in range(len(uses))]
    order = sorted(range(len(uses)), key=lambda at: (-uses[at].count, at))
    for seed in order:
        chosen: list[int] = []
        for at in [seed, *(at for at in order if at != seed)]:
            if overlap[at][at] and all(overlap[at][other] for other in chosen):
                chosen.append(at)
            if sum(uses[one].count for one in chosen) > there:
                return [uses[one] for one in sorted(chosen)]
    return []


def _told(model: Model, gear: int, uses: Sequence[_Use]) -> Problem:
    thing = model.problem.gear[gear]
    name = thing.name or thing.id
    spans = [_said(model, use) for use in uses]
    total = sum(use.count for use in uses)
    return Problem(
        f"{total} {name} are in use at once in whatever order: {listed(spans)}; there {_are(thing.count)}",
        thing.where,
        f"provide {total - thing.count} more, or take these one after the other",
    )


def _said(model: Model, use: _Use) -> str:
    begins, ends = named(model.jobs[use.begins].task), named(model.jobs[use.ends].task)
    return f"{use.count} from {begins} until {ends}" if begins != ends else f"{use.count} at {begins}"


def _are(number: int) -> str:
    return "is none" if number == 0 else f"{'is' if number == 1 else 'are'} {number}"
