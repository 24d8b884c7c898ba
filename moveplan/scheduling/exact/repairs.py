"""Destroy and repair: part of a schedule of own tasks is set free, and the solver looks for a shorter one around it.

What is not set free keeps its order on the gear that it shares, and none of its times, so that it moves up where room
is made (partial-order relaxation: Godard, Laborie and Nuijten 2005, ICAPS 2005, 81-89; recalled). Each repair asks for
a finish that is one unit earlier, and ends with the first found or at its share of the effort. How much is set free
grows when there is proven to be nothing, and shrinks when the solver could not tell.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace

from moveplan.network.link import Link
from moveplan.scheduling.constraints.pace import intervals_of
from moveplan.scheduling.constraints.tasks import Given
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.exact.exact import Exact
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.model import Model, model_of

_AT_ONCE_S = 0.15
"""Effort of one repair; assumed. A third of it came out alike on twelve hard invented plans. [s]"""
_ASIDE_S_AN_INTERVAL = 8e-5
"""What a repair takes beside the solver's search: the order, the model, presolving it; measured on 360. [s]"""
_FIRST_FREE = 20
"""Tasks set free in the first repair. Chosen. [-]"""
_LEAST_FREE = 8
"""Fewest tasks set free in a repair; fewer leave nothing to exchange. Chosen. [-]"""
_GROWS, _SHRINKS = 1.05, 0.95
"""How much more is set free where nothing better was possible, and how much less where the effort did not do. Chosen.
[-]"""
_ANYWHERE = 0.2
"""Share of the repairs that set tasks free anywhere, and not around one moment; assumed. [-]"""


@dataclass(slots=True)
class Repaired:
    """What came of the repairs.

    Parameters
    ----------
    desk : Desk
        The shortest schedule.
    tried, shorter : int
        How many repairs were made, and how many made it shorter.
    guard_struck, interrupted : bool
        What ended the search early.
    """

    desk: Desk
    tried: int = 0
    shorter: int = 0
    guard_struck: bool = False
    interrupted: bool = False


def can_be_repaired(model: Model) -> bool:
    """Whether the order on scarce gear is all that ties the tasks beside their links."""
    problem = model.problem
    fixed = all(job.span.least == job.span.greatest and not job.task.repeats for job in model.jobs)
    return model.only_finish and fixed and not (problem.people or problem.vehicles or problem.network.holds)


def repaired(
    model: Model, desk: Desk, block_of: tuple[int, ...], effort: Effort, seconds: float, least_min: int
) -> Repaired:
    """Set parts of a schedule free, again and again, until the effort is spent or the finish has reached its bound.

    Parameters
    ----------
    model : Model
        A problem that :func:`can_be_repaired`.
    desk : Desk
        A complete schedule of it.
    block_of : tuple of int
        Block of each task.
    effort : Effort
        Its seed, and who may interrupt.
    seconds : float
        How much of it to spend. [s]
    least_min : int
        Bound of the finish, counted from the start. [min]
    """
    found, draw = Repaired(desk), random.Random(effort.seed)  # noqa: S311 - repeatable, nothing secret
    free = float(min(_FIRST_FREE, len(model.jobs)))
    order = handed_on(model, desk)
    while seconds > 0 and _finish(found.desk) - model.problem.start > least_min:
        kept = _kept(found.desk, draw, int(free))
        problem = _ordered(model, order, kept)
        given = Given((), (), block_of, _finish(found.desk) - 1)
        again = replace(effort, seed=draw.randrange(1, 1 << 30), progress=None)
        exact = Exact(model_of(problem), given, found.desk, again, min(_AT_ONCE_S, seconds), quick=True)
        before = exact.left
        answer = exact.first()
        seconds -= before - exact.left + _ASIDE_S_AN_INTERVAL * intervals_of(model)
        found.tried += 1
        found.guard_struck |= answer.guard_struck
        found.interrupted |= answer.interrupted
        if answer.desk is not None and answer.desk is not found.desk:
            found.desk, found.shorter = _on(model, answer.desk), found.shorter + 1
            order = handed_on(model, found.desk)
            effort.says(f"finish: {_finish(found.desk) - model.problem.start}, by a repair")
        elif answer.infeasible and free >= len(model.jobs):
            break
        else:
            free = free * _GROWS if answer.infeasible else max(_LEAST_FREE, free * _SHRINKS)
            free = min(free, float(len(model.jobs)))
        if answer.guard_struck or answer.interrupted:
            break
    return found


def _finish(desk: Desk) -> int:
    return max(spot.finish for spot in desk.spots if spot is not None)


def _kept(desk: Desk, draw: random.Random, free: int) -> set[int]:
    """Choose what keeps its order: all but some tasks around one moment, or anywhere."""
    spots = {at: spot for at, spot in enumerate(desk.spots) if spot is not None}
    middle = draw.uniform(min(spot.start for spot in spots.values()), _finish(desk))
    anywhere = draw.random() < _ANYWHERE

    def distance(at: int) -> float:
        return draw.random() if anywhere else abs(_middle(spots[at]) - middle)

    nearest = sorted((distance(at), at) for at in spots)
    return {at for _, at in nearest[free:]}


def _middle(spot: Spot) -> float:
    return (spot.start + spot.finish) / 2


def _ordered(model: Model, order: set[tuple[int, int]], kept: set[int]) -> SchedulingProblem:
    """Write the order of what is kept into the problem, as links."""
    jobs, network = model.jobs, model.problem.network
    links = tuple(
        Link(jobs[giver].task.id, jobs[taker].task.id)
        for giver, taker in sorted(order)
        if giver in kept and taker in kept
    )
    return replace(model.problem, network=replace(network, links=(*network.links, *links)))


def handed_on(model: Model, desk: Desk) -> set[tuple[int, int]]:
    """Tell which task hands gear on to which, where each takes what has been free for the shortest time.

    Returns
    -------
    set of (int, int)
        Positions of the one that hands on, and of the one that takes; tasks that keep to these never
        use more than there is.
    """
    spots = [(spot.start, spot.finish, at) for at, spot in enumerate(desk.spots) if spot is not None]
    pairs: set[tuple[int, int]] = set()
    for kind, thing in enumerate(model.problem.gear):
        free = [(model.problem.start, -1, thing.count)]
        for start, finish, at in sorted(spots):
            need = dict(model.jobs[at].gear).get(kind, 0) if finish > start else 0
            if not need:
                continue
            free.sort(key=lambda one: (one[0] > start, (one[1], at) not in pairs, -one[0], one[1]))
            rest: list[tuple[int, int, int]] = [(finish, at, need)]
            for since, giver, count in free:
                taken = min(count, need)
                need -= taken
                if taken and giver >= 0:
                    pairs.add((giver, at))
                if count > taken:
                    rest.append((since, giver, count - taken))
            free = rest
    return pairs


def _on(model: Model, desk: Desk) -> Desk:
    """Write a schedule down for the problem without the links of its order."""
    other = Desk(model)
    for at, spot in enumerate(desk.spots):
        if spot is not None:
            other.put(at, spot)
    return other
