"""Several reasons at once: which hold whatever is done about the others, and what ends each of them.

A reason that is still there where another has been lifted by loosening the plan holds in the plan as it is too. So
reasons are lifted one after the other until a schedule is found; one that the others' lifting ends as well is dropped.
Ways out of each are then tried where the others are lifted by as little as does, so that only its own is judged.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from moveplan.errors import Problem, WayOut
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.impossible.capacity import check_capacity
from moveplan.scheduling.impossible.checks import check_all
from moveplan.scheduling.impossible.demands_words import Demand
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.state.model import model_of
from moveplan.scheduling.ways_out.changes import Way, joined, ways_for
from moveplan.scheduling.ways_out.free_hours import hours_of
from moveplan.scheduling.ways_out.ways import MOST_TASKS_TRIED, Trials, alone
from moveplan.times import Interval

_MOST_REASONS = 5
"""Most reasons that are told each with its ways out; more nobody mends in one go. Chosen. [-]"""
Demands = Callable[[SchedulingProblem], Sequence[Demand]]


@dataclass(frozen=True, slots=True)
class _Cause:
    """A reason, what of the plan it comes from, and what lifts it."""

    reason: Problem
    demands: tuple[Demand, ...]
    lift: Way


def reasons_of(problem: SchedulingProblem) -> tuple[Problem, ...]:
    """List what speaks against a plan without trying an order: each finding is a proof."""
    return check_all(problem) or check_capacity(model_of(problem))


def each_with_ways(problem: SchedulingProblem, demands_of: Demands, effort: Effort) -> tuple[Problem, ...]:
    """Tell reasons that each need something of their own, with ways out that end the one they stand beside.

    Parameters
    ----------
    demands_of : callable
        Lists what could be otherwise in a plan, what its first reason comes from before all else.

    Returns
    -------
    tuple of Problem
        Most hours lacking first; empty where one reason is all. Without ways out where no loosening of the plan is
        seen to make a schedule possible: they hold all the same.
    """
    if len(problem.network.tasks) > MOST_TASKS_TRIED:
        return ()
    trials = Trials(problem, effort)
    causes, left = _causes(problem, demands_of)
    causes = causes if left else _needed(problem, causes)
    reasons = [*(cause.reason for cause in causes), *left]
    if len(reasons) < 2:
        return ()
    least = None if left else _least(problem, causes, trials)
    if least is None:
        return tuple(sorted(reasons, key=hours_lacking))
    amounts, desk = least
    told = []
    for at, cause in enumerate(causes):
        rest = _lifted(problem, causes, amounts, without=at)
        tries = Trials(problem, effort)
        found = (alone(rest, way, tries) for way in ways_for(rest, cause.demands))
        ways = [replace(way, remain=len(causes) - 1) for way in dict.fromkeys(filter(None, found))]
        told.append(replace(cause.reason, ways=tuple(ways)))
    told.sort(key=hours_lacking)
    whole = joined([one.lift.told(amount, desk) for one, amount in zip(causes, amounts, strict=True)])
    return (replace(told[0], ways=(*told[0].ways, whole)), *told[1:])


def hours_lacking(reason: Problem) -> int:
    """Order reasons: most hours missing first, and last what no hours mend."""
    return -reason.lack.short_min if reason.lack else 0


def _causes(problem: SchedulingProblem, demands_of: Demands) -> tuple[list[_Cause], tuple[Problem, ...]]:
    """Lift one reason after the other; what nothing lifts is left."""
    causes: list[_Cause] = []
    while reasons := reasons_of(problem):
        first, demands = reasons[0], tuple(demands_of(problem))
        ways = (way for way in _lifts(problem, demands) if way.amounts)
        changed = ((way, way.changed(problem, way.amounts[-1])) for way in ways)
        lift = next((pair for pair in changed if _about(first) not in map(_about, reasons_of(pair[1]))), None)
        if lift is None or len(causes) == _MOST_REASONS:
            return causes, (first,)
        causes.append(_Cause(first, demands, lift[0]))
        problem = lift[1]
    return causes, ()


def _about(reason: Problem) -> object:
    """Tell reasons apart by the line they come from; without one, by what comes too late."""
    if reason.where:
        return reason.where
    if reason.lack and reason.lack.parts:
        return reason.lack.end, reason.lack.parts[-1][0]
    return reason.message


def _lifts(problem: SchedulingProblem, demands: Sequence[Demand]) -> Iterator[Way]:
    """Give what only loosens the plan, the narrowest first; another day is none, for others may be wrong then."""
    yield from ways_for(problem, [one for one in demands if one.kind not in ("day", "hours")])
    yield from (_at_any_time(problem, at) for at in range(len(problem.people)))
    yield from ways_for(problem, [one for one in demands if one.kind == "hours"])
    yield _able_person(problem)


def _at_any_time(problem: SchedulingProblem, at: int) -> Way:
    """Let one of the people have time whenever it is wanted."""
    person = problem.people[at]
    always = replace(person, available=(Interval(problem.start, problem.horizon),))

    def told(_: int, desk: Desk) -> WayOut:
        when, work = hours_of(desk, [desk.people[at]])
        return WayOut(f"have {person.name or person.id} {when}".rstrip(), work)

    return Way(
        (0,),
        lambda given, _: replace(given, people=(*given.people[:at], always, *given.people[at + 1 :])),
        told,
    )


def _able_person(problem: SchedulingProblem) -> Way:
    """Add somebody who can do whatever a task asks for, at any time."""
    crews = [task.crew for task in problem.network.tasks if task.crew]
    skills = tuple(sorted({skill for crew in crews for skill, _ in crew.skills}))
    homes = [person.home for person in problem.people]
    able = Person(
        "one-able-person",
        "one more person",
        (Interval(problem.start, problem.horizon),),
        skills,
        homes[0] if homes else "",
        10**9,
    )

    def told(_: int, desk: Desk) -> WayOut:
        when, work = hours_of(
            desk, [desk.people[at] for at, one in enumerate(desk.model.problem.people) if one == able]
        )
        return WayOut(f"get one more person who can do all that is asked {when}".rstrip(), work)

    return Way((0,) if crews else (), lambda given, _: replace(given, people=(*given.people, able)), told)


def _lifted(
    problem: SchedulingProblem, causes: Iterable[_Cause], amounts: Sequence[int], without: int = -1
) -> SchedulingProblem:
    """Lift every reason by its amount, but one."""
    for at, (cause, amount) in enumerate(zip(causes, amounts, strict=True)):
        problem = problem if at == without else cause.lift.changed(problem, amount)
    return problem


def _most(causes: Iterable[_Cause]) -> list[int]:
    return [cause.lift.amounts[-1] for cause in causes]


def _needed(problem: SchedulingProblem, causes: list[_Cause]) -> list[_Cause]:
    """Leave out reasons that are gone where all others are lifted."""
    for cause in tuple(causes):
        rest = [one for one in causes if one is not cause]
        if rest and not reasons_of(_lifted(problem, rest, _most(rest))):
            causes = rest
    return causes


def _least(
    problem: SchedulingProblem, causes: Sequence[_Cause], trials: Trials
) -> tuple[list[int], Desk] | None:
    """Lift each reason by as little as does, one after the other; None where no schedule is found even at the most."""
    amounts = _most(causes)
    desk = trials.possible(_lifted(problem, causes, amounts))
    for at, cause in enumerate(causes if desk else ()):
        for amount in cause.lift.amounts[:-1]:
            fewer = [*amounts[:at], amount, *amounts[at + 1 :]]
            other = trials.possible(_lifted(problem, causes, fewer))
            if other is not None:
                amounts, desk = fewer, other
                break
    return None if desk is None else (amounts, desk)
