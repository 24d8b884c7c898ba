"""What the runs tell beside the dates: how often the day is missed or runs over, and what for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from moveplan.network.task import State
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.quantities.policy import Policy
from moveplan.risk.promise.values import Broken, Promise
from moveplan.risk.summary import RiskSummary
from moveplan.times import MINUTES_A_DAY, to_local

WORTH_SAYING = 0.04
"""A chance from here on is told beside the verdict; assumed. [-]"""
RARE = 0.01
"""A cause of less is not named; assumed. [-]"""
CAUSES = 2
"""Most causes named in one sentence. Chosen. [-]"""
OFTEN = 0.05
"""What breaks more often asks for a measure; assumed. [-]"""
HOPEFUL = 0.35
"""A start that a smaller share of the runs reaches is no time to tell without a word; assumed. [-]"""
SOME = 0.1
"""From this share of such starts on it is said; assumed. [-]"""


@dataclass(frozen=True, slots=True)
class Stake:
    """What a keeper should know before anything else about a plan that can be done.

    Parameters
    ----------
    promise : Promise or None
        How often all that is promised is kept; None: nothing to tell.
    breaks : tuple of Broken
        What breaks often enough to be told first.
    causes : tuple of (str, float)
        Title of the task that a missed day is most often missed for, and the share of runs.
    overdue : tuple of (str, int)
        Title of each task that is planned after the date by which it had to begin, or has not begun by it, and that
        date, UTC, the earliest first. [min]
    starts, hopeful : int
        How many starts the moving days have, and how many of them are reached too seldom to be told as they are.
    behind : tuple of (int, int)
        Of a moving day whose times are reached too seldom: planned starts in the middle of it and at its end, UTC, and
        by how much later half of the runs begin. [min]
    barred : tuple of (str, float)
        Each risk that by itself breaks more than the plan lets break, in words, and in which share of the runs.
    events : Mapping of str to str
        What happens, by the id of each risk.
    falls_back : str
        The moving day that has a day to fall back on, as ISO 8601 has it; empty: none has.
    long_days : tuple of (str, float)
        Whose day often gets longer than the longest day, which is not promised, and in which share of the runs.
    longest_h : float
        Longest day of one person. [h]
    holds : bool
        Whether it can be done, and the promise is kept as often as the plan asks.
    """

    promise: Promise | None = None
    breaks: tuple[Broken, ...] = ()
    causes: tuple[tuple[str, float], ...] = ()
    overdue: tuple[tuple[str, int], ...] = ()
    starts: int = 0
    hopeful: int = 0
    behind: tuple[tuple[int, int], ...] = ()
    barred: tuple[tuple[str, float], ...] = ()
    events: Mapping[str, str] = field(default_factory=dict)
    falls_back: str = ""
    long_days: tuple[tuple[str, float], ...] = ()
    longest_h: float = 0.0
    holds: bool = False

    def __bool__(self) -> bool:
        return self.promise is not None

    @property
    def untested(self) -> bool:
        """Whether something breaks often in a plan that holds, against which no change is tried."""
        return self.holds and any(one.chance > OFTEN for one in self.breaks)

    @property
    def is_hopeful(self) -> bool:
        """Whether so many starts of the moving days are reached too seldom that it has to be said."""
        return self.hopeful > SOME * self.starts


def stake_of(outlook: Outlook) -> Stake:
    """Pick what is told beside the verdict; nothing where there is no plan or it was not simulated."""
    risk = outlook.risk
    if risk is None or risk.promise is None or outlook.verdict in (Verdict.CANNOT_BE_DONE, Verdict.UNDECIDED):
        return Stake()
    titles = {task.id: task.title for task in outlook.project.network.tasks}
    events = {entry.id: entry.event for entry in risk.register}
    missed = risk.day_missed or 0.0
    causes = [row for row in risk.day_missed_by[:CAUSES] if missed >= WORTH_SAYING and row[1] >= RARE]
    return Stake(
        risk.promise,
        _worth_saying(risk.promise),
        tuple((titles[task], share) for task, share in causes),
        tuple((titles[task], latest) for task, latest in _overdue(outlook, risk)),
        len(risk.promise.start_chances),
        sum(chance < HOPEFUL for _, chance in risk.promise.start_chances),
        _behind(outlook, risk.promise),
        tuple((events[name], share) for name, share in risk.promise.barred if name in events),
        events,
        _falls_back(outlook),
        tuple(row for row in risk.promise.long_days if row[1] >= WORTH_SAYING),
        Policy(outlook.project.plan.policy)["longest_day"],
        outlook.verdict is Verdict.OK,
    )


def _falls_back(outlook: Outlook) -> str:
    """Find the first moving day, which alone can have a day to fall back on."""
    dates, tasks = outlook.project.plan.dates, outlook.project.network.tasks
    if dates is None or dates.fall_back_day is None:
        return ""
    begins = (outlook.schedule.of(task.id).start for task in tasks if task.day)
    return next((to_local(one, outlook.project.plan.zone).date().isoformat() for one in sorted(begins)), "")


def _behind(outlook: Outlook, promise: Promise) -> tuple[tuple[int, int], ...]:
    tied = dict(promise.start_chances)
    stands = outlook.starts()
    late = sorted(
        (stands[one.task], one.start - stands[one.task]) for one in promise.told if one.task in tied
    )
    if not late:
        return ()
    latest = max(late, key=lambda row: (row[1], row[0]))
    day = [row for row in late if 0 <= latest[0] - row[0] < MINUTES_A_DAY]
    return tuple(row for row in dict.fromkeys((day[len(day) // 2], latest)) if row[1] > 0)


def _worth_saying(promise: Promise) -> tuple[Broken, ...]:
    """Pick what breaks often, and the animals; of a promise that does not hold all that alone breaks it, or what most.

    What breaks by itself stands before what another lies behind; what is seldom stands last.
    """
    each = (one for one in promise.breaks if one.what != "safe-time")
    rows = sorted((*each, *filter(None, [promise.animals])), key=lambda one: -one.chance)
    alone = sum(one.chance > 1 - promise.confidence for one in rows)
    seldom = not any(one.chance >= WORTH_SAYING for one in rows)
    least = 0 if promise.holds else max(alone, CAUSES * seldom)
    told = (
        one
        for at, one in enumerate(rows)
        if at < least or one.chance >= WORTH_SAYING or one is promise.animals
    )
    return tuple(sorted(told, key=lambda one: (one.chance < WORTH_SAYING, bool(one.roots))))


def _overdue(outlook: Outlook, risk: RiskSummary) -> Iterator[tuple[str, int]]:
    begun = {task for task, state in outlook.states.items() if state is not State.NEEDS_ACTION}
    stands = {one.task: one.start for one in outlook.schedule.placements}
    for one in sorted(risk.start_by, key=lambda row: row.latest):
        if one.task in stands and one.task not in begun and one.latest < max(stands[one.task], outlook.now):
            yield one.task, one.latest
