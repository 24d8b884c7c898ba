"""The one value that every output is made from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum

from moveplan.cost.summary import CostSummary
from moveplan.errors import Problem
from moveplan.journal.records import Entry, Reading
from moveplan.network.task import State
from moveplan.practice.project import SETTLED, Project
from moveplan.risk.promise.values import DayEnd
from moveplan.risk.summary import FinishBy, RiskSummary
from moveplan.scheduling.dates.critical import Driver, Times
from moveplan.scheduling.schedule import Schedule


class Verdict(StrEnum):
    """Whether the plan can be carried out."""

    OK = "ok"
    TIGHT = "tight"
    UNSAFE = "unsafe"
    CANNOT_BE_DONE = "cannot-be-done"
    UNDECIDED = "undecided"

    @property
    def follows(self) -> bool:
        """Whether there is a plan to follow; a tight one keeps every limit if all goes as planned."""
        return self in (Verdict.OK, Verdict.TIGHT)


@dataclass(frozen=True, slots=True)
class Moved:
    """A task that stands elsewhere than in the schedule in force.

    Parameters
    ----------
    task, title : str
        Id, and what to print.
    before : int or None
        Where it stood, UTC; None: it is new. [min]
    after : int
        Where it stands now, UTC. [min]
    driver : Driver or None
        What keeps it from being earlier.
    """

    task: str
    title: str
    before: int | None
    after: int
    driver: Driver | None


@dataclass(frozen=True, slots=True)
class Slipped:
    """A milestone against the first schedule that was accepted.

    Parameters
    ----------
    before, after : int
        Its date then, and now, UTC. [min]
    """

    name: str
    before: int
    after: int


@dataclass(frozen=True, slots=True)
class Drift:
    """What has moved since a schedule was accepted.

    Parameters
    ----------
    moved : tuple of Moved
        Tasks, against the schedule in force.
    milestones : tuple of Slipped
        Against the first one.
    dangers : tuple of Problem
        Promises that cannot be kept any more.
    first_accepted : int
        When the first one was made, UTC. [min]
    cost_more : Decimal or None
        Cost now less cost then; None: not known.
    """

    moved: tuple[Moved, ...]
    milestones: tuple[Slipped, ...]
    dangers: tuple[Problem, ...]
    first_accepted: int
    cost_more: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Help:
    """A change of the plan file that the program has carried out, and what it brings.

    Parameters
    ----------
    kind : str
        ``later``, ``earlier``, ``both``, ``eve``, ``hire``, ``date``, ``day``, ``helper``, ``bags`` or ``way``.
    writes : tuple of (str, str)
        Keys of the plan file, and what to write there.
    who : tuple of str
        Ids of the people, vehicles, own tasks or animals it is about; of a way its name, of a day its date.
    kept : float
        Share of the runs in which all that is promised is kept then.
    cost : Decimal
        What it costs; hours of who is not paid count as nothing.
    unpaid_h : float
        Hours that it asks of people who are not paid. [h]
    seatless : tuple of str
        Names of those who find no seat then and had one.
    """

    kind: str
    writes: tuple[tuple[str, str], ...]
    who: tuple[str, ...]
    kept: float
    cost: Decimal
    unpaid_h: float = 0.0
    seatless: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Outlook:
    """A plan, scheduled, costed and weighed.

    Parameters
    ----------
    project : Project
        The plan and what practice makes of it.
    now : int
        The moment the outlook is for, UTC. [min]
    verdict : Verdict
        Whether it can be carried out.
    problems : tuple of Problem
        Why not, with the ways out.
    schedule : Schedule
        Placements; none where there is no schedule.
    times : Mapping of str to Times
        Early and late dates and floats by task id; empty where there is no schedule.
    cost : CostSummary or None
        None where it could not be computed, or for own tasks without prices.
    risk : RiskSummary or None
        None for own tasks without spread.
    states : Mapping of str to State
        What the journal says of each task; absent: NEEDS-ACTION.
    ways : tuple of str
        Other ways of moving that the facts allow.
    drift : Drift or None
        What has moved since a schedule was accepted; None: none was.
    readings : tuple of Reading
        What was measured, by the journal.
    entries : tuple of Entry
        All records of the journal, in the order of writing.
    helps : tuple of Help
        Of a tight plan what would make it surer, the most for the least first.
    untried : int
        Changes that were not tried within the effort.
    late : bool
        Whether the point of no return is passed: then there is a list to follow whatever is broken.
    numbers : Mapping of str to int
        The number that each task was told by; empty: none was.
    goes_on : bool
        Whether what was accepted is followed still because what is left has no schedule; chances are those of then.
    """

    project: Project
    now: int
    verdict: Verdict
    problems: tuple[Problem, ...]
    schedule: Schedule
    times: Mapping[str, Times] = field(default_factory=dict)
    cost: CostSummary | None = None
    risk: RiskSummary | None = None
    states: Mapping[str, State] = field(default_factory=dict)
    ways: tuple[str, ...] = ()
    drift: Drift | None = None
    readings: tuple[Reading, ...] = ()
    entries: tuple[Entry, ...] = ()
    helps: tuple[Help, ...] = ()
    untried: int = 0
    late: bool = False
    numbers: Mapping[str, int] = field(default_factory=dict)
    goes_on: bool = False

    @property
    def follow(self) -> bool:
        """Whether there is a list to follow."""
        return bool(self.schedule.placements) and (self.verdict.follows or self.late or self.goes_on)

    def starts(self) -> dict[str, int]:
        """When each task begins, by its id, UTC. [min]."""
        return {placement.task: placement.start for placement in self.schedule.placements}

    def start_chances(self) -> dict[str, float]:
        """In which share of the runs each task of the moving days, or after them, begins by its start."""
        promise, starts = self.risk.promise if self.risk else None, self.starts()
        if promise is None:
            return {}
        later = {one.task: one.chance(starts[one.task]) for one in promise.later if one.task in starts}
        return later | dict(promise.start_chances)

    def dates_missed(self) -> tuple[FinishBy, ...]:
        """Own tasks that pass their date more often than the plan asks; where nothing is promised, mostly."""
        dates, promise = (self.risk.finish_by, self.risk.promise) if self.risk else ((), None)
        return tuple(
            one for one in dates if (one.chance < promise.confidence if promise is not None else one.seldom)
        )

    def seldom(self) -> dict[str, float]:
        """In which share of the runs what follows the moving days is begun by its start, where that is under half."""
        promise, starts = self.risk.promise if self.risk else None, self.starts()
        return {
            one.task: one.chance(starts[one.task])
            for one in (promise.later if promise else ())
            if one.task in starts and one.is_seldom(starts[one.task])
        }

    def milestones(self) -> dict[str, int]:
        """Date the milestones by name as they are planned; without those that are in no schedule, UTC. [min]."""
        finishes = {placement.task: placement.finish for placement in self.schedule.placements}
        home = [finishes[task] for task in self.project.homecomings if task in finishes]
        return {
            name: max([finishes[task], *(home if name == SETTLED else ())])
            for name, task in self.project.network.milestones
            if task in finishes
        }

    def promised(self) -> dict[str, int]:
        """Date the milestones by name as they are promised, where that was simulated, else as planned, UTC. [min]."""
        promise = self.risk.promise if self.risk else None
        return self.milestones() | dict(promise.milestones if promise else ())

    def end(self, day: date, who: str) -> DayEnd | None:
        """By when somebody, everybody, or the animals (no id) are done with a moving day; None: not simulated."""
        promise = self.risk.promise if self.risk else None
        ends = promise.ends if promise else ()
        return next((one for one in ends if (one.day, one.who) == (day, who)), None)

    def apart(self) -> tuple[DayEnd, ...]:
        """By when the animals of each moving day are out of what they travel in, where not all are settled then."""
        promise = self.risk.promise if self.risk else None
        found = tuple(one for one in promise.ends if not one.who) if promise else ()
        return found if any(group.boarded for group in self.project.plan.livestock) else found[:-1]

    def likely(self) -> dict[str, int]:
        """Date the milestones by name as half of the runs reach them; none where nothing is promised, UTC. [min]."""
        promise = self.risk.promise if self.risk else None
        return dict(promise.likely if promise else ())

    def finish(self) -> int | None:
        """When everything is over, UTC; None where there is no schedule. [min]."""
        return max((placement.finish for placement in self.schedule.placements), default=None)

    def planned(self) -> dict[str, int]:
        """Date the milestones, and ``finish`` after them, as the simulation names them, UTC. [min]."""
        finish = self.finish()
        return self.milestones() | ({} if finish is None else {"finish": finish})
