"""Changes of a plan whose promise is not kept often enough: each carried out before it is told."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from moveplan.changed.change import Change
from moveplan.changed.offers import changes_for
from moveplan.cost.lines import cost_of
from moveplan.door import door
from moveplan.errors import MoveplanError
from moveplan.outputs.outlook import Help, Outlook, Verdict
from moveplan.practice.attendance.told import notes_of
from moveplan.practice.project import Project
from moveplan.risk.promise.values import Promise
from moveplan.scheduling.schedule import Schedule
from moveplan.stages.reading import Settings
from moveplan.stages.surer import LEAST_GAIN, Judged, best_of, judged_by_runs, searched, unsafe

SEARCHES_CHANGED = 2
"""So many more searches for each change, each from a seed of its own. [-]"""
MOST = 5
"""So many changes are told. [-]"""
HOUR_UNPAID = 15
"""What an hour of somebody who is not paid counts when changes are ranked; assumed, in the plan's currency. [-]"""


def helps_for(outlook: Outlook, project: Project, found: Schedule, settings: Settings) -> tuple[Help, ...]:
    """Find changes of a tight plan that make it surer; none for any other."""
    promise = outlook.risk.promise if outlook.risk else None
    if outlook.verdict is not Verdict.TIGHT or promise is None:
        return ()
    dates = outlook.risk.finish_by if outlook.risk else ()
    base = _Base(project, found, promise.kept)
    helps = [
        one for one in _tried(base, changes_for(project, found, promise, dates), settings) if one.gains(base)
    ]
    worth = sorted(
        (one for one in helps if not any(other.beats(one, promise.confidence) for other in helps)),
        key=lambda one: (*_rank(one, promise), one.told.writes),
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

    def beats(self, other: _Tried, least: float) -> bool:
        """Whether it brings as much for less, or more for as much; what alone brings enough is not beaten by less."""
        loses, saves = other.told.kept - self.told.kept, other.price - self.price
        if other.told.kept >= least > self.told.kept:
            return False
        return saves >= 0 and loses < (LEAST_GAIN if saves else 0)


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
        judged += searched(other, settings, range(searches))
        if not judged or unsafe(other, best := best_of(other, judged)):
            return None
        more = cost_of(other, best.schedule).total - cost_of(base.project, base.schedule).total
    except MoveplanError:  # the changed plan has limits of its own
        return None
    longer_h = _unpaid_h(other, best.schedule) - _unpaid_h(base.project, base.schedule)
    asked_h = max(change.unpaid_h, longer_h if change.anew else 0.0)
    told = Help(
        change.kind,
        change.writes,
        change.who,
        best.promise.kept,
        max(more, Decimal(0)),
        round(asked_h, 2),
        tuple(sorted(_seatless(other, best.schedule) - _seatless(base.project, base.schedule))),
    )
    return _Tried(told, 1 + float(told.cost) + HOUR_UNPAID * asked_h)


def _rank(tried: _Tried, promise: Promise) -> tuple[bool, float]:
    """Rank what is enough by itself by its price, and after it the rest by what it brings for its price."""
    if tried.told.kept >= promise.confidence:
        return False, tried.price
    return True, -(tried.told.kept - promise.kept) / tried.price


def _unpaid_h(project: Project, schedule: Schedule) -> float:
    """Hours that people who are not paid work."""
    unpaid = {person.id for person in project.plan.people if not person.cost_per_hour}
    worked = (
        len(unpaid.intersection(one.people)) * sum(piece.minutes for piece in one.segments)
        for one in schedule.placements
    )
    return sum(worked) / 60


def _seatless(project: Project, schedule: Schedule) -> set[str]:
    """Names of those who find no seat."""
    names = {person.id: person.name for person in project.plan.people}
    return {names[who] for (what, who, _), _ in notes_of(project, schedule) if what == "no-seat"}


def _as_is(base: _Base, other: Project, settings: Settings, *, anew: bool) -> Iterator[Judged]:
    """Judge the schedule as it stands in the changed plan."""
    if not anew and not door.faults_of(other, base.schedule):
        judged = judged_by_runs(other, base.schedule, settings)
        if judged is not None:
            yield judged
