"""What the outputs show of risk."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from moveplan.estimate import Provenance
from moveplan.risk.promise.values import Promise


@dataclass(frozen=True, slots=True)
class Measure:
    """Something that can be bought or done beforehand against a risk.

    Parameters
    ----------
    id, text : str
        Identity and words.
    probability_left, cost_left, delay_left : float
        What is left of chance, cost and delay of the risk, 0 to 1.
    taken : bool
        Whether the entry is already reckoned with it.
    provenance : Provenance
        Whose word its cost is.
    effect : Provenance
        Whose word it is what is left; computed: the simulated runs are counted with it.
    """

    id: str
    text: str
    cost: Decimal
    probability_left: float = 1.0
    cost_left: float = 1.0
    delay_left: float = 1.0
    taken: bool = False
    provenance: Provenance = Provenance.ASSUMED
    effect: Provenance = Provenance.ASSUMED


@dataclass(frozen=True, slots=True)
class RegisterEntry:
    """One thing that can go wrong.

    Parameters
    ----------
    id, event : str
        Identity and what happens.
    trigger : str
        The sign by which it is noticed.
    probability : float
        Chance, 0 to 1.
    cost : Decimal
        What it costs if it happens.
    delay_min : int
        How long it holds things up if it happens. [min]
    response : str
        What to do about it.
    who : str
        Id of the person who does it.
    provenance : Provenance
        Computed by the simulation, given in the plan, or assumed.
    tasks : tuple of str
        Ids of the tasks it strikes.
    measures : tuple of Measure
        What could be done beforehand.
    holding : bool
        Whether animals go to a filtered holding place, so that their time in containers ends there.
    """

    id: str
    event: str
    trigger: str
    probability: float
    cost: Decimal
    delay_min: int
    response: str
    who: str
    provenance: Provenance
    tasks: tuple[str, ...] = ()
    measures: tuple[Measure, ...] = ()
    holding: bool = False

    @property
    def expected_loss(self) -> Decimal:
        """Probability times cost."""
        return (Decimal(repr(self.probability)) * self.cost).quantize(Decimal("0.01"))

    def lowers_by(self, measure: Measure) -> Decimal:
        """By how much a measure that is not taken yet lowers the expected loss, its own cost left out."""
        left = Decimal(repr(measure.probability_left)) * Decimal(repr(measure.cost_left))
        return (self.expected_loss * (1 - left)).quantize(Decimal("0.01"))


@dataclass(frozen=True, slots=True)
class Percentiles:
    """When something happens, UTC.

    Parameters
    ----------
    p10, p50, p80, p95 : int
        Quantiles over the runs. [min]
    twentieths : tuple of int
        Quantiles from one twentieth to nineteen, for pictures; none where they were not computed. [min]
    by_day : tuple of float
        Shares of the runs whose quantiles are not known to the hour. [-]
    broken_off : tuple of (float, int) or None
        Share of the runs that reach it before days pass in which none does, and by when; None: there is no such gap.
    """

    p10: int
    p50: int
    p80: int
    p95: int
    twentieths: tuple[int, ...] = ()
    by_day: tuple[float, ...] = ()
    broken_off: tuple[float, int] | None = None


@dataclass(frozen=True, slots=True)
class FinishBy:
    """A task of the keeper's own that is to be finished by a date.

    Parameters
    ----------
    task : str
        Id of the task.
    by : int
        The date, UTC. [min]
    likely : int
        When half of the runs have finished it, UTC. [min]
    promised : int
        When as many runs have finished it as the plan asks for, UTC. [min]
    chance : float
        Share of the runs in which it is finished by the date.
    """

    task: str
    by: int
    likely: int
    promised: int
    chance: float

    @property
    def seldom(self) -> bool:
        """Whether the likely durations pass the date, however well the planned ones keep it."""
        return self.likely > self.by


@dataclass(frozen=True, slots=True)
class StartBy:
    """A task that must begin by a date to be ready in time.

    Parameters
    ----------
    task : str
        Id of the task.
    latest : int
        Start that meets the need with the stated confidence, UTC. [min]
    confidence : float
        Chance of being ready, 0 to 1.
    """

    task: str
    latest: int
    confidence: float


@dataclass(frozen=True, slots=True)
class CostSpread:
    """The part of the cost that the runs change: paid hours, hire days, mishaps.

    Parameters
    ----------
    planned : Decimal
        What the schedule makes of the same part.
    mean, p50, p80 : Decimal
        Over the runs.
    promised : Decimal
        Enough in the share of the runs that the plan asks for.
    """

    planned: Decimal
    mean: Decimal
    p50: Decimal
    p80: Decimal
    promised: Decimal


@dataclass(frozen=True, slots=True)
class RiskSummary:
    """All of it.

    Parameters
    ----------
    runs, seed : int
        How often and from which seed it was simulated; 0 runs: only the register.
    register : tuple of RegisterEntry
        Ranked by expected loss.
    ready, settled, finish : Percentiles or None
        Milestones over the runs.
    criticality : tuple of (str, float)
        Task id and share of runs in which it drives the end.
    over_limit : tuple of (str, float)
        Livestock id and share of runs in which it passes its safe time.
    start_by : tuple of StartBy
        Long leads.
    hold_by : tuple of StartBy
        Hold points before the moving day, in stated hours.
    spread : tuple of (str, float)
        Task id and by how many minutes the settled date moves when that task's duration moves by one standard
        deviation, greatest first. [min]
    broken_gaps : tuple of (str, str, float)
        Ids of the two tasks of a greatest gap, and share of runs that break it.
    second_hire : float or None
        Chance that a vehicle is needed for longer than it is planned; None: nothing is hired.
    keys_back_missed : float or None
        Chance that the keys go back late; None: no date.
    day_missed : float or None
        Chance that the moving day slips to the day to fall back on; None: no moving day.
    day_missed_by : tuple of (str, float)
        Id of the task that lost the time, or of the hold point that said no, where the moving day is missed, and the
        share of all runs, greatest first.
    overtime : float or None
        Chance of work past the stated hours on the moving day or the evening before; None: no moving day.
    cost : CostSpread or None
        The part of the cost that the runs change.
    errors : tuple of (str, float)
        Standard errors by the name of what is printed, such as ``settled.p80``; dates in minutes, shares as shares.
    notes : tuple of str
        How it was reckoned: distribution, common causes, policy.
    promise : Promise or None
        What is kept together; None: no moving day.
    model : Mapping of str to anything that JSON knows
        What was simulated.
    finish_by : tuple of FinishBy
        Own tasks with a date, the least sure first.
    """

    runs: int
    seed: int
    register: tuple[RegisterEntry, ...]
    ready: Percentiles | None = None
    settled: Percentiles | None = None
    finish: Percentiles | None = None
    criticality: tuple[tuple[str, float], ...] = ()
    over_limit: tuple[tuple[str, float], ...] = ()
    start_by: tuple[StartBy, ...] = ()
    hold_by: tuple[StartBy, ...] = ()
    spread: tuple[tuple[str, float], ...] = ()
    broken_gaps: tuple[tuple[str, str, float], ...] = ()
    second_hire: float | None = None
    keys_back_missed: float | None = None
    day_missed: float | None = None
    day_missed_by: tuple[tuple[str, float], ...] = ()
    overtime: float | None = None
    cost: CostSpread | None = None
    errors: tuple[tuple[str, float], ...] = ()
    notes: tuple[str, ...] = ()
    promise: Promise | None = None
    model: Mapping[str, Any] = field(default_factory=dict)
    finish_by: tuple[FinishBy, ...] = ()
