"""What the outputs show of risk."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from moveplan.estimate import Provenance


@dataclass(frozen=True, slots=True)
class RegisterEntry:
    """One thing that can go wrong.

    Parameters
    ----------
    id, event : str
        Identity and what happens. [-]
    trigger : str
        The sign by which it is noticed. [-]
    probability : float
        Chance, 0 to 1. [-]
    cost : Decimal
        What it costs if it happens. [-]
    delay_min : int
        How long it holds things up if it happens. [min]
    response : str
        What to do about it. [-]
    who : str
        Id of the person who does it. [-]
    provenance : Provenance
        Computed by the simulation, given in the plan, or assumed. [-]
    tasks : tuple of str
        Ids of the tasks it strikes. [-]
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

    @property
    def expected_loss(self) -> Decimal:
        """Probability times cost."""
        return (Decimal(repr(self.probability)) * self.cost).quantize(Decimal("0.01"))


@dataclass(frozen=True, slots=True)
class Percentiles:
    """When something happens, UTC.

    Parameters
    ----------
    p10, p50, p80, p95 : int
        Quantiles over the runs. [min]
    """

    p10: int
    p50: int
    p80: int
    p95: int


@dataclass(frozen=True, slots=True)
class StartBy:
    """A task that must begin by a date to be ready in time.

    Parameters
    ----------
    task : str
        Id of the task. [-]
    latest : int
        Start that meets the need with the stated confidence, UTC. [min]
    confidence : float
        Chance of being ready, 0 to 1. [-]
    """

    task: str
    latest: int
    confidence: float


@dataclass(frozen=True, slots=True)
class RiskSummary:
    """All of it.

    Parameters
    ----------
    runs, seed : int
        How often and from which seed it was simulated; 0 runs: only the register. [-]
    register : tuple of RegisterEntry
        Ranked by expected loss. [-]
    ready, settled, finish : Percentiles or None
        Milestones over the runs. [-]
    criticality : tuple of (str, float)
        Task id and share of runs in which it drives the end. [-]
    over_limit : tuple of (str, float)
        Livestock id and share of runs in which it passes its safe time. [-]
    start_by : tuple of StartBy
        Long leads. [-]
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
