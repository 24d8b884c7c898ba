"""A surer schedule of a plan whose promise is not kept often enough.

Schedules are judged by the same few runs, so that they meet the same luck. What animals stand comes first, then how
often the promise is kept, then what the search itself aims at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import chain, islice

from moveplan.door import door
from moveplan.practice.project import Project
from moveplan.risk.promise.judge import promise_of
from moveplan.risk.promise.values import Promise
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.objective.aims import exposure_of
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.solve import solve
from moveplan.stages.reading import Settings
from moveplan.stages.roomier import Near, roomier

QUICK_S = 0.05
"""Effort of one more search, by the quick engine. [s]"""
SEARCHES = 3
"""So many more searches, each from a seed of its own, for a plan as it stands. [-]"""
SEARCHES_UNSAFE = 12
"""So many before a plan is called unsafe; the first that is safe ends them. [-]"""
USUAL_S = Effort().seconds
"""Effort of one search by the usual engine before a plan is called unsafe, however little was asked for. [s]"""
ROOM_SHARE = 0.4
"""Share of the effort that goes into schedules with more room. Chosen. [-]"""
A_ROOM_S = 0.0006
"""Of one such schedule, placed and judged, for each task; measured on plans of 120 to 210 tasks. [s]"""
LEAST_GAIN = 0.02
"""Two standard errors of a judgement: a change that brings less is not worth telling, nor is less room sure. [-]"""
AS_RUNS_TELL = 0.9
"""Share of an accepted risk up to which 2,000 runs show it to be kept: a standard error below 5 %. [-]"""


@dataclass(frozen=True, slots=True)
class Judged:
    """A schedule, and how often it keeps its promise."""

    schedule: Schedule
    promise: Promise


def surest(project: Project, found: Schedule, settings: Settings) -> Schedule:
    """Look for a surer schedule, where the one found keeps the promise or an animal's safe time too seldom.

    Parameters
    ----------
    project : Project
        Hung on its day.
    found : Schedule
        What the search made of it.
    settings : Settings
        Effort and seed.
    """
    judged = judged_by_runs(project, found, settings)
    if judged is None or settings.effort.previous is not None:
        return found
    if not unsafe(project, judged) and judged.promise.kept >= judged.promise.confidence + LEAST_GAIN:
        return found
    if settings.effort.allowance is not None:  # it is only tried: no surer than it has to be
        return _safest(project, judged, searched(project, settings, range(SEARCHES))).schedule
    others = chain(searched(project, settings, range(SEARCHES)), _without_asking_less(project, settings))
    best = best_of(project, [judged, *others])
    best = _with_room(project, best, settings)
    more = searched(project, settings, range(SEARCHES, SEARCHES_UNSAFE))
    return _safest(project, best, chain(more, _as_usual(project, settings))).schedule


def _with_room(project: Project, best: Judged, settings: Settings) -> Judged:
    """Give room where the promise breaks, as long as that makes it surer and the effort lasts."""
    near = Near(best.schedule, project.scheduling)
    quick = _quick(settings)
    left = int(ROOM_SHARE * settings.effort.seconds / (A_ROOM_S * len(project.network.tasks)))
    while left and best.promise.kept < best.promise.confidence + LEAST_GAIN:
        for other in islice(roomier(project, near, best.promise, quick), left):
            left -= 1
            judged = _judged_at_the_door(project, other.schedule, settings)
            if judged is not None and _merit(project, judged) > _merit(project, best):
                best, near = judged, other
                break
        else:
            break
    return best


def _safest(project: Project, best: Judged, others: Iterable[Judged]) -> Judged:
    """Look on, before animals are said to be in danger, until a schedule is safe."""
    if unsafe(project, best):
        for other in others:
            best = best_of(project, (best, other))
            if not unsafe(project, best):
                break
    return best


def best_of(project: Project, judged: Iterable[Judged]) -> Judged:
    """Take the schedule that is best for animals, and then the surest."""
    return max(judged, key=lambda one: _merit(project, one))


def judged_by_runs(project: Project, found: Schedule, settings: Settings) -> Judged | None:
    """Judge a schedule by some runs; None where it promises nothing or nobody wants to know."""
    if not found.placements or not settings.runs or not project.way:
        return None
    promise = promise_of(project, found, settings.effort.seed)
    return None if promise is None else Judged(found, promise)


def searched(project: Project, settings: Settings, seeds: Iterable[int]) -> Iterator[Judged]:
    """Search again by the quick engine, and give what passes the door."""
    quick = _quick(settings)
    for more in seeds:
        yield from _found(project, settings, replace(quick, seed=quick.seed + more))


def _quick(settings: Settings) -> Effort:
    return replace(settings.effort, seconds=QUICK_S, engine="serial", progress=None, meanwhile=None)


def _as_usual(project: Project, settings: Settings) -> Iterator[Judged]:
    """Search once with the usual effort, where less was spent; the quick engine gains more from other seeds."""
    if settings.effort.seconds < USUAL_S and settings.effort.engine != "serial":
        usual = replace(settings.effort, seconds=USUAL_S, progress=None, meanwhile=None)
        yield from _found(project, settings, usual)


def _without_asking_less(project: Project, settings: Settings) -> Iterator[Judged]:
    """Search once with no fewer days of those who help, which leaves more room in those of whoever leads."""
    yield from _found(
        project, settings, replace(settings.effort, fewer_dates=False, progress=None, meanwhile=None)
    )


def _found(project: Project, settings: Settings, effort: Effort) -> Iterator[Judged]:
    if effort.ended:
        return
    judged = _judged_at_the_door(project, solve(project.scheduling, effort), settings)
    if judged is not None:
        yield judged


def _judged_at_the_door(project: Project, found: Schedule, settings: Settings) -> Judged | None:
    """Judge a schedule that passes the door; None where it does not."""
    if not found.placements or door.faults_of(project, found):
        return None
    return judged_by_runs(project, found, settings)


def _merit(project: Project, judged: Judged) -> tuple[int, ...]:
    """Tell what counts: fewest groups past their accepted risk, least far past, the share kept; in whole percent.

    A share beyond what is asked for buys nothing that is worth animals in containers for longer.
    """
    past = _past(project, judged)
    enough = min(judged.promise.kept, judged.promise.confidence + LEAST_GAIN)
    waits = exposure_of(project.scheduling, judged.schedule)
    return -len(past), -round(100 * sum(past)), round(100 * enough), -waits


def unsafe(project: Project, judged: Judged) -> bool:
    """Whether an animal's risk is above what the plan accepts."""
    return bool(_past(project, judged))


def _past(project: Project, judged: Judged) -> tuple[float, ...]:
    """Tell by how much each group's risk is above what the plan accepts, as far as few runs can tell."""
    accepted = AS_RUNS_TELL * project.plan.safe_time_risk
    over = (one.chance - accepted for one in judged.promise.breaks if one.what == "safe-time")
    return tuple(more for more in over if more > 0)
