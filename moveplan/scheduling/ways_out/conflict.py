"""Why there is no schedule, layer by layer, the cheapest first, and what would make one possible."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from moveplan.errors import Problem, WayOut
from moveplan.network.arcs import Cause
from moveplan.network.passes import PositiveCycleError
from moveplan.network.words import listed, named
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.impossible.demands_words import Demand
from moveplan.scheduling.impossible.reach import chain_too_late, vehicle_too_short
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.state.clock import clock, day_name, stretch
from moveplan.scheduling.state.frame import Frame
from moveplan.scheduling.state.model import Model, model_of
from moveplan.scheduling.ways_out.several import each_with_ways, hours_lacking
from moveplan.scheduling.ways_out.ways import tried, two_at_once
from moveplan.times import Interval

NOT_FOUND = "no schedule found yet"
"""Begins the reason where nothing is proven."""
_MOST_NAMED = 12
"""Most lines of a reason; more nobody reads. [-]"""


def _with(reason: Problem, ways: Sequence[WayOut]) -> Problem:
    """Say the ways out beside a reason, where there are any."""
    if not ways:
        return reason
    whole, partly = [way for way in ways if not way.remain], [way for way in ways if way.remain]
    said_so = []
    if partly:
        count = partly[0].remain
        others = "1 other reason remains" if count == 1 else f"{count} other reasons remain"
        said_so.append(f"{', or '.join(map(str, partly))} (tried: this reason is gone then, {others})")
    if whole:
        each = "it was tried and works" if len(whole) == 1 else "each was tried and works"
        said_so.append(f"{', or '.join(map(str, whole))} ({each})")
    return replace(reason, remedy="; or, for all of it, ".join(said_so), ways=tuple(ways))


def _untried(effort: Effort) -> bool:
    """Whether no ways out are asked for: none are of a plan that is a way out itself."""
    return effort.allowance is not None or not effort.ways_out


def with_ways(
    problem: SchedulingProblem, wrong: Sequence[Problem], effort: Effort, demands: Sequence[Demand] = ()
) -> tuple[Problem, ...]:
    """Give reasons with the ways out that work, the one that lacks most hours first.

    Where one change ends all reasons, it stands beside each; else each reason has ways of its own, as far as the
    reasons are known without a solver. None are tried of a plan that is a way out itself.
    """
    if not wrong or effort.allowance is not None or not effort.ways_out:
        return tuple(wrong)
    every = [*demands, *_movable(problem)]
    ways = list(dict.fromkeys(tried(problem, every, effort)))
    if not ways:
        each = each_with_ways(problem, lambda given: [*cycle_demands(given), *_movable(given)], effort)
        if any(one.ways for one in each):
            return tuple(_with(one, one.ways) for one in each)
        ways = two_at_once(problem, every, effort)
        wrong = wrong if ways else each or wrong
    first, *others = sorted(wrong, key=hours_lacking)
    ended = [replace(way, price="; ".join(filter(None, (way.price, "it ends this too")))) for way in ways[:1]]
    return (_with(first, ways), *(_with(one, ended) for one in others))


def _movable(problem: SchedulingProblem) -> Iterator[Demand]:
    """List what a keeper could change: days, hands, hire, gear and dates."""
    for tag in range(len(problem.tied_days)):
        yield Demand("day", "", "", tag)
    yield Demand("hours", "", "", 0)
    for number in range(len(problem.vehicles)):
        yield Demand("vehicle", "", "", number)
    for number in range(len(problem.gear)):
        yield Demand("gear", "", "", number)
    for number, task in enumerate(problem.network.tasks):
        if task.finish_by is not None:
            yield Demand("finish-by", "", task.where, number)
        if task.not_before is not None and task.not_before > problem.start:
            yield Demand("not-before", "", task.where, number)


def cycle_demands(problem: SchedulingProblem) -> list[Demand]:
    """List the demands on the positive cycle of gaps and dates, or on the chain that comes too late under hours."""
    model = model_of(problem)
    short = None
    try:
        arcs = chain_too_late(model)
        short = vehicle_too_short(model)
    except PositiveCycleError as error:
        arcs = error.cycle
    link_at = {link: number for number, link in reversed(list(enumerate(problem.network.links)))}
    found = [] if short is None else [Demand("vehicle", "", problem.vehicles[short].where, short)]
    for arc in arcs:
        if arc.cause is Cause.GREATEST and arc.link is not None:
            found.append(Demand("most", "", arc.link.where, link_at[arc.link]))
        elif arc.cause is Cause.FINISH_BY:
            found.append(Demand("finish-by", "", model.jobs[arc.tail].task.where, arc.tail))
        elif arc.cause is Cause.NOT_BEFORE:
            found.append(Demand("not-before", "", model.jobs[arc.head].task.where, arc.head))
    return found


def contradiction(
    problem: SchedulingProblem, demands: Sequence[Demand], irreducible: bool, effort: Effort
) -> Problem:
    """Say a contradicting set of demands with its lines, and the ways out.

    Parameters
    ----------
    demands : sequence of Demand
        They cannot all hold.
    irreducible : bool
        Whether it is shown that none can be left out.
    effort : Effort
        For trying ways out.

    Returns
    -------
    Problem
        One problem that names them all.
    """
    lines = [f"{demand.text} ({demand.where})" if demand.where else demand.text for demand in demands]
    lines = list(dict.fromkeys(lines))
    if len(lines) > _MOST_NAMED:
        lines = [*lines[: _MOST_NAMED - 1], f"and {len(lines) - _MOST_NAMED + 1} more"]
    head = "these cannot all hold" if irreducible else "among these are some that cannot all hold"
    where = next((demand.where for demand in demands if demand.where), "")
    reason = Problem(f"{head}: {'; '.join(lines)}", where, "change one of them")
    if _untried(effort):
        return reason
    ways = tried(problem, demands, effort) or two_at_once(problem, demands, effort)
    return _with(reason, list(dict.fromkeys(ways)))


def not_placed(frame: Frame, stuck: Sequence[int]) -> Problem:
    """Say at which tasks the serial engine ended; nothing is proven by it.

    Parameters
    ----------
    stuck : sequence of int
        Tasks of the block that found no place.

    Returns
    -------
    Problem
        What was tried and what it needs.
    """
    model: Model = frame.model
    if not stuck:
        return Problem(NOT_FOUND, model.problem.where, "raise --solver-seconds, or give more room")
    first = min(stuck, key=lambda position: frame.early[position])
    what = named(model.jobs[first].task)
    if len(stuck) > 1:
        what += f" and {len(stuck) - 1} more that belong to it"
    what += f" found no place from {clock(model.problem, model.problem.start + frame.early[first])} on"
    needs = sorted({name for position in stuck for name in _needs(model, position)})
    if needs:
        what += f"; needed: {listed(needs, 4)}"
    where = next(
        (job.task.where for position in stuck if (job := model.jobs[position]).task.where),
        model.problem.where,
    )
    return Problem(f"{NOT_FOUND}: {what}", where, "raise --solver-seconds, or give these tasks more room")


def not_fitting(frame: Frame, inside: Sequence[int]) -> Problem:
    """Say of the heart of a move that the solver has shown it not to fit.

    Parameters
    ----------
    inside : sequence of int
        The tasks of the heart.

    Returns
    -------
    Problem
        Which tasks, and whose hours they do not fit into.
    """
    model, problem = frame.model, frame.model.problem
    tied = [position for position in inside if model.jobs[position].tag >= 0] or list(inside)
    first, last = (pick(tied, key=lambda at: frame.early[at]) for pick in (min, max))
    what = f"the {len(tied)} tasks {named(model.jobs[first].task)} to {named(model.jobs[last].task)}"
    if model.jobs[first].tag >= 0:
        what += f" of the {day_name(model.jobs[first].task.day)}"
    if len(inside) > len(tied):
        what += f" and the {len(inside) - len(tied)} that hang on them"
    used = {at for position in inside for at in model.jobs[position].vehicles}
    hired = [one for at, one in enumerate(problem.vehicles) if at in used and one.available]
    hired = [one for one in hired if one.available[0].start > problem.start or one.where]
    whose = [person.name or person.id for person in problem.people]
    whose += [
        f"{one.name or one.id} ({stretch(problem, one.available[0].start, one.available[-1].finish)})"
        for one in hired
    ]
    days = [(tied.where, day) for tied in problem.tied_days for day in tied.days]
    short = (one for one in hired if any(_ends_within(one.available, day) for _, day in days))
    where = next((one.where for one in short if one.where), days[0][0] if days else problem.where)
    hours = f"do not fit into the hours of {listed(whose)}, one thing at a time"
    return Problem(f"shown by the solver to be impossible: {what} {hours}", where)


def _ends_within(available: Sequence[Interval], day: Interval) -> bool:
    return day.start < available[0].start < day.finish or day.start < available[-1].finish < day.finish


def _needs(model: Model, position: int) -> list[str]:
    job = model.jobs[position]
    names = [model.problem.vehicles[at].name or model.problem.vehicles[at].id for at in job.vehicles]
    names += [model.problem.gear[at].name or model.problem.gear[at].id for at, _ in job.gear]
    names += [model.problem.gear[at].name or model.problem.gear[at].id for at, _, _ in job.opens]
    if job.task.crew:
        names.append("1 person" if job.task.crew.count == 1 else f"{job.task.crew.count} people")
    return names
