"""What came of a firm: its jobs with their schedules, and those without a day."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from moveplan.firm.changes.one_more import Asked
from moveplan.firm.day.drives import Drive
from moveplan.firm.day.roads import Roads
from moveplan.firm.days.question import Answer, Sent
from moveplan.firm.lessons import Lessons
from moveplan.firm.placing.hearts import Heart, NoHeart
from moveplan.firm.placing.one_job import Placed, Unplaced
from moveplan.firm.price import Quoted
from moveplan.firm.spread import Spread
from moveplan.firm.values import Firm, Out
from moveplan.plan.move import Plan
from moveplan.practice.under_way.story import Story
from moveplan.risk.runs.together import Joint


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A job without a day, and what could be done about it.

    Parameters
    ----------
    tried : tuple of Unplaced
        Days on which it was scheduled in full, and what was in the way.
    alone : NoHeart or None
        Why this firm cannot do it at all.
    against : tuple of str
        Promised jobs that cannot be kept together with it.
    days : tuple of date
        Days beyond its own that would do.
    beyond : str
        The line of its plan that allows none of them; empty: it allows them.
    untried : tuple of date
        Days of its own that were not tried in full.
    asks : tuple of Asked
        What each promised job would have to give up, and at which price.
    proven : bool
        Whether it is shown, on the moving days as measured, that there is no day; not only that none was found.
    agreed : date or None
        The day that was accepted, on which what is left of it has no place any more; None: none was.
    """

    job: str
    tried: tuple[Unplaced, ...] = ()
    alone: NoHeart | None = None
    against: tuple[str, ...] = ()
    days: tuple[date, ...] = ()
    beyond: str = ""
    untried: tuple[date, ...] = ()
    asks: tuple[Asked, ...] = ()
    proven: bool = False
    agreed: date | None = None


@dataclass(frozen=True, slots=True)
class FirmOutlook:
    """A firm with all its jobs scheduled, or with what is in the way.

    Parameters
    ----------
    firm : Firm
        As recorded changes leave it.
    plans : Mapping of str to Plan
        The plan of each job, as it stands alone.
    roads : Roads
        Ways between all places.
    hearts : Mapping of str to Heart
        Moving days as measured.
    answer : Answer
        Days, and how far they are proven.
    placed : tuple of Placed
        Jobs with a schedule, in the order of the file.
    left : tuple of LeftOut
        Jobs without one.
    out : tuple of Out
        Who and what was recorded as not there.
    told : Answer or None
        Days and crews before that; None: nothing was recorded.
    slips : Mapping of str to Joint
        How often each job keeps what it promises when all are run together; empty: nothing was run.
    spreads : Mapping of str to Spread
        Hours, money and arrivals of each job in the same runs; empty: nothing was run.
    stories : Mapping of str to Story or None
        What has happened to each job, by its journal.
    quoted : Mapping of str to Quoted
        What jobs were quoted at when they were accepted.
    driven : Mapping of str to Decimal
        How far was really driven for jobs, as far as it was recorded. [km]
    lessons : Lessons
        What jobs that are done taught for the durations of those that are not.
    drives : tuple of Drive
        All drives of all people and vehicles, in order of time.
    """

    firm: Firm
    plans: Mapping[str, Plan]
    roads: Roads
    hearts: Mapping[str, Heart]
    answer: Answer
    placed: tuple[Placed, ...]
    left: tuple[LeftOut, ...]
    out: tuple[Out, ...] = ()
    told: Answer | None = None
    slips: Mapping[str, Joint] = field(default_factory=dict)
    spreads: Mapping[str, Spread] = field(default_factory=dict)
    stories: Mapping[str, Story | None] = field(default_factory=dict)
    quoted: Mapping[str, Quoted] = field(default_factory=dict)
    driven: Mapping[str, Decimal] = field(default_factory=dict)
    lessons: Lessons = field(default_factory=Lessons)
    drives: tuple[Drive, ...] = ()

    def of(self, job: str) -> Placed | None:
        """Find a job that is scheduled."""
        return next((one for one in self.placed if one.job == job), None)

    @property
    def calls(self) -> tuple[tuple[str, Sent, Sent | None], ...]:
        """Jobs that changed by what was recorded: what was told, and what is now; nobody is called by itself."""
        rows = self.told.sent if self.told else ()
        now = {one.job: one.sent for one in self.placed}
        return tuple((one.job, one, now.get(one.job)) for one in rows if now.get(one.job) != one)

    def kept(self, job: str) -> float | None:
        """How often a job keeps what it promises: with all jobs run together, or alone where they were not."""
        if job in self.slips:
            return self.slips[job].kept
        found = self.of(job)
        promise = found.outlook.risk.promise if found and found.outlook.risk else None
        return promise.kept if promise else None

    def thin(self, job: str) -> bool:
        """Whether a job keeps what it promises less often than its plan asks, with all jobs run together."""
        found = self.of(job)
        return bool(found) and job in self.slips and self.slips[job].kept < self.plans[job].confidence

    @property
    def fits(self) -> bool:
        """Whether every job has a schedule that can be followed."""
        return not self.left and all(one.outlook.follow for one in self.placed)
