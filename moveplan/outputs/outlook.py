"""The one value that every output is made from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from moveplan.cost.summary import CostSummary
from moveplan.errors import Problem
from moveplan.network.task import State
from moveplan.practice.project import Project
from moveplan.risk.summary import RiskSummary
from moveplan.scheduling.critical import Times
from moveplan.scheduling.schedule import Schedule


class Verdict(StrEnum):
    """Whether the plan can be carried out."""

    OK = "ok"
    UNSAFE = "unsafe"
    CANNOT_BE_DONE = "cannot-be-done"
    UNDECIDED = "undecided"


@dataclass(frozen=True, slots=True)
class Outlook:
    """A plan, scheduled, costed and weighed.

    Parameters
    ----------
    project : Project
        The plan and what practice makes of it. [-]
    now : int
        The moment the outlook is for, UTC. [min]
    verdict : Verdict
        Whether it can be carried out. [-]
    problems : tuple of Problem
        Why not, with the ways out. [-]
    schedule : Schedule
        Placements; none where there is no schedule. [-]
    times : Mapping of str to Times
        Early and late dates and floats by task id; empty where there is no schedule. [-]
    cost : CostSummary or None
        None where it could not be computed, or for own tasks without prices. [-]
    risk : RiskSummary or None
        None for own tasks without spread. [-]
    states : Mapping of str to State
        What the journal says of each task; absent: NEEDS-ACTION. [-]
    ways : tuple of str
        Other ways of moving that the facts allow. [-]
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
