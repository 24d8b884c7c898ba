"""All of risk in one call."""

from __future__ import annotations

from moveplan.practice.project import Project
from moveplan.risk.register import register_of
from moveplan.risk.summary import RiskSummary
from moveplan.scheduling.schedule import Schedule


def risk_summary(project: Project, schedule: Schedule, runs: int = 0, seed: int = 1) -> RiskSummary:
    """Say how sure a scheduled project is.

    Parameters
    ----------
    project : Project
        What is to be done. [-]
    schedule : Schedule
        When; it must have placements where runs are asked for. [-]
    runs : int
        How often it is simulated; 0: only the register. [-]
    seed : int
        Of every random choice. [-]

    Returns
    -------
    RiskSummary
        With the register alone where there are no runs. [-]
    """
    register = register_of(project, schedule)
    return RiskSummary(runs=min(runs, 0), seed=seed, register=register)
