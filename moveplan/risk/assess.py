"""All of risk in one call."""

from __future__ import annotations

from moveplan.practice.project import Project
from moveplan.risk.notes import notes_of
from moveplan.risk.register.changes import ranked
from moveplan.risk.register.ranked import register_of
from moveplan.risk.summary import RegisterEntry, RiskSummary
from moveplan.scheduling.schedule import Schedule


def risk_summary(
    project: Project,
    schedule: Schedule,
    runs: int = 0,
    seed: int = 1,
    register: tuple[RegisterEntry, ...] | None = None,
) -> RiskSummary:
    """Say how sure a scheduled project is.

    Parameters
    ----------
    schedule : Schedule
        When; without placements nothing is simulated.
    runs : int
        How often it is simulated, made even; 0: only the register.
    register : tuple of RegisterEntry, optional
        What may happen; by default the usual register with the plan's changes.

    Returns
    -------
    RiskSummary
        With the register alone where there are no runs.
    """
    known = register_of(project, schedule) if register is None else register
    if runs <= 0 or not schedule.placements:
        return RiskSummary(runs=0, seed=seed, register=known)
    return _simulated(project, schedule, known, runs, seed)


def _simulated(
    project: Project, schedule: Schedule, register: tuple[RegisterEntry, ...], runs: int, seed: int
) -> RiskSummary:
    """Import what needs numpy, and run."""
    from moveplan.risk.prepared.compile import prepare
    from moveplan.risk.runs.model import model_of
    from moveplan.risk.runs.outcome import Outcome
    from moveplan.risk.runs.sample import percentiles

    outcome = Outcome(prepare(project, schedule, register))
    outcome.run(runs, seed)
    start = project.scheduling.start
    dates = {name: percentiles(sample, start) for name, sample in outcome.milestones.items()}
    missed = outcome.deadlines.missed.get("keys-back-missed")
    has_day = bool(outcome.prepared.days)
    return RiskSummary(
        runs=outcome.runs,
        seed=seed,
        register=ranked((*register, *outcome.entries())),
        ready=dates.get("ready"),
        settled=dates.get("settled"),
        finish=dates["finish"],
        criticality=outcome.criticality(),
        over_limit=tuple((group, round(one.mean(), 6)) for group, one in outcome.over.items()),
        start_by=outcome.leads.dates(outcome.leads.leads) if has_day else (),
        hold_by=outcome.leads.dates(outcome.leads.holds) if has_day else (),
        spread=outcome.spread(),
        broken_gaps=outcome.broken_gaps(),
        second_hire=round(outcome.purse.longer.mean(), 6) if outcome.purse.hires else None,
        keys_back_missed=None if missed is None else round(missed.mean(), 6),
        day_missed=round(outcome.slipped.mean(), 6) if has_day else None,
        day_missed_by=outcome.missed_by() if has_day else (),
        overtime=round(outcome.overtime.mean(), 6) if has_day else None,
        cost=outcome.purse.spread() if outcome.purse.cost.mean() or register else None,
        errors=tuple(outcome.errors()),
        notes=notes_of(
            project, tuple(day.slip_days for day in outcome.prepared.days), outcome.purse.expected_losses
        ),
        model=model_of(outcome.prepared, outcome.purse.hires, outcome.deadlines.rows),
        finish_by=outcome.finish_by(),
        promise=outcome.promises.told(outcome.milestones, outcome.ends) if has_day else None,
    )
