"""A plan whose promise is not kept often enough: a surer schedule for it, and changes of it that help; all tried.

Schedules are judged by the same few runs, so that they meet the same luck. What animals stand comes first, then how
often the promise is kept, then what the search itself aims at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import chain

from moveplan import door
from moveplan.changed.change import Change
from moveplan.changed.offers import changes_for
from moveplan.cost.lines import cost_of
from moveplan.errors import MoveplanError
from moveplan.outputs.outlook import Help, Outlook, Verdict
from moveplan.practice.project import Project
from moveplan.reading import Settings
from moveplan.risk.judge import promise_of
from moveplan.risk.promised import Promise
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.objective.aims import exposure_of
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.solve import solve

QUICK_S = 0.05
"""Effort of one more search, by the quick engine. [s]"""
SEARCHES = 3
"""So many more searches, each from a seed of its own, for a plan as it stands. [-]"""
SEARCHES_UNSAFE = 12
"""So many before a plan is called unsafe; the first that is safe ends them. [-]"""
USUAL_S = Effort().seconds
"""Effort of one search by the usual engine before a plan is called unsafe, however little was asked for. [s]"""
SEARCHES_CHANGED = 2
"""The same for each change. [-]"""
LEAST_GAIN = 0.02
"""Two standard errors of a judgement: a change that brings less is not worth telling, nor is less room sure. [-]"""
AS_RUNS_TELL = 0.9
"""Share of an accepted risk up to which 2,000 runs show it to be kept: a standard error below 5 %. [-]"""
MOST = 5
"""So many changes are told. [-]"""
HOUR_UNPAID = 15
"""What an hour of somebody who is not paid counts when changes are ranked; assumed, in the plan's currency. [-]"""


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
    judged = _judge(project, found, settings)
    if judged is None or settings.effort.previous is not None:
        return found
    if not _unsafe(project, judged) and judged.promise.kept >= judged.promise.confidence + LEAST_GAIN:
        return found
    if settings.effort.allowance is not None:  # it is only tried: no surer than it has to be
        return _safest(project, judged, _searched(project, settings, range(SEARCHES))).schedule
    best = _best(project, [judged, *_searched(project, settings, range(SEARCHES))])
    more = _searched(project, settings, range(SEARCHES, SEARCHES_UNSAFE))
    return _safest(project, best, chain(more, _as_usual(project, settings))).schedule


def _safest(project: Project, best: Judged, others: Iterable[Judged]) -> Judged:
    """Look on, before animals are said to be in danger, until a schedule is safe."""
    if _unsafe(project, best):
        for other in others:
            best = _best(project, (best, other))
            if not _unsafe(project, best):
                break
    return best


def _best(project: Project, judged: Iterable[Judged]) -> Judged:
    return max(judged, key=lambda one: _merit(project, one))


def _judge(project: Project, found: Schedule, settings: Settings) -> Judged | None:
    if not found.placements or not settings.runs or not project.way:
        return None
    promise = promise_of(project, found, settings.effort.seed)
    return None if promise is None else Judged(found, promise)


def _searched(project: Project, settings: Settings, seeds: Iterable[int]) -> Iterator[Judged]:
    """Search again by the quick engine, and give what passes the door."""
    quick = replace(settings.effort, seconds=QUICK_S, engine="serial", progress=None, meanwhile=None)
    for more in seeds:
        yield from _found(project, settings, replace(quick, seed=quick.seed + more))


def _as_usual(project: Project, settings: Settings) -> Iterator[Judged]:
    """Search once with the usual effort, where less was spent; the quick engine gains more from other seeds."""
    if settings.effort.seconds < USUAL_S and settings.effort.engine != "serial":
        usual = replace(settings.effort, seconds=USUAL_S, progress=None, meanwhile=None)
        yield from _found(project, settings, usual)


def _found(project: Project, settings: Settings, effort: Effort) -> Iterator[Judged]:
    if effort.ended:
        return
    found = solve(project.scheduling, effort)
    if found.placements and not door.faults_of(project, found):
        judged = _judge(project, found, settings)
        if judged is not None:
            yield judged


def _merit(project: Project, judged: Judged) -> tuple[int, ...]:
    """Tell what counts: fewest groups past their accepted risk, least far past, the share kept; in whole percent.

    A share beyond what is asked for buys nothing that is worth animals in containers for longer.
    """
    past = _past(project, judged)
    enough = min(judged.promise.kept, judged.promise.confidence + LEAST_GAIN)
    waits = exposure_of(project.scheduling, judged.schedule)
    return -len(past), -round(100 * sum(past)), round(100 * enough), -waits


def _unsafe(project: Project, judged: Judged) -> bool:
    return bool(_past(project, judged))


def _past(project: Project, judged: Judged) -> tuple[float, ...]:
    """Tell by how much each group's risk is above what the plan accepts, as far as few runs can tell."""
    accepted = AS_RUNS_TELL * project.plan.safe_time_risk
    over = (one.chance - accepted for one in judged.promise.breaks if one.what == "safe-time")
    return tuple(more for more in over if more > 0)


def helps_for(outlook: Outlook, project: Project, found: Schedule, settings: Settings) -> tuple[Help, ...]:
    """Find changes of a tight plan that make it surer; none for any other.

    Parameters
    ----------
    outlook : Outlook
        What came of it.
    project : Project
        As it was scheduled.
    """
    promise = outlook.risk.promise if outlook.risk else None
    if outlook.verdict is not Verdict.TIGHT or promise is None:
        return ()
    base = _Base(project, found, promise.kept)
    helps = [one for one in _tried(base, changes_for(project, found, promise), settings) if one.gains(base)]
    enough = promise.confidence
    worth = sorted(
        (one for one in helps if not any(other.beats(one) for other in helps)),
        key=lambda one: (-(min(one.told.kept, enough) - promise.kept) / one.price, one.told.writes),
    )
    return tuple(one.told for one in worth[:MOST])


@dataclass(frozen=True, slots=True)
class _Tried:
    """A change that was carried out, and what is asked for it, hours that are not paid included."""

    told: Help
    price: float

    def gains(self, base: _Base) -> bool:
        """Whether it brings enough to be told."""
        return self.told.kept >= base.kept + LEAST_GAIN

    def beats(self, other: _Tried) -> bool:
        """Whether it brings as much for less, or more for as much."""
        gains, saves = self.told.kept - other.told.kept, other.price - self.price
        return gains >= 0 and saves >= 0 and (gains > 0 or saves > 0)


@dataclass(frozen=True, slots=True)
class _Base:
    """What a change is compared with."""

    project: Project
    schedule: Schedule
    kept: float


def _tried(base: _Base, changes: Iterable[Change], settings: Settings) -> Iterator[_Tried]:
    """Carry changes out: first on the schedule as it stands, which costs little; then those that gain nothing there."""
    left, allowance = [], settings.effort.allowance
    for change in changes:
        found = None if change.anew else _carried_out(base, change, settings, searches=0)
        if found is not None and found.gains(base):
            yield found
        else:
            left.append(change)
    for change in left:
        if allowance is None or allowance.allows():
            found = _carried_out(base, change, settings, searches=SEARCHES_CHANGED)
            if found is not None:
                yield found


def _carried_out(base: _Base, change: Change, settings: Settings, *, searches: int) -> _Tried | None:
    """Carry a change out on the schedule as it stands, or on the best of some others."""
    try:
        other = change.carried_out(base.project, base.schedule)
        if other.impossible or other.unsafe:
            return None
        judged = [*_as_is(base, other, settings, anew=change.anew)]
        judged += _searched(other, settings, range(searches))
        if not judged or _unsafe(other, best := _best(other, judged)):
            return None
        more = cost_of(other, best.schedule).total - cost_of(base.project, base.schedule).total
    except MoveplanError:  # the changed plan has limits of its own
        return None
    longer_h = _unpaid_h(other, best.schedule) - _unpaid_h(base.project, base.schedule)
    asked_h = max(change.unpaid_h, longer_h if change.anew else 0.0)
    told = Help(
        change.kind, change.writes, change.who, best.promise.kept, max(more, Decimal(0)), round(asked_h, 2)
    )
    return _Tried(told, 1 + float(told.cost) + HOUR_UNPAID * asked_h)


def _unpaid_h(project: Project, schedule: Schedule) -> float:
    """Hours that people who are not paid work."""
    unpaid = {person.id for person in project.plan.people if not person.cost_per_hour}
    worked = (
        len(unpaid.intersection(one.people)) * sum(piece.minutes for piece in one.segments)
        for one in schedule.placements
    )
    return sum(worked) / 60


def _as_is(base: _Base, other: Project, settings: Settings, *, anew: bool) -> Iterator[Judged]:
    """Judge the schedule as it stands in the changed plan."""
    if not anew and not door.faults_of(other, base.schedule):
        judged = _judge(other, base.schedule, settings)
        if judged is not None:
            yield judged
