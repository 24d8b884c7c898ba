"""Schedule to outlook: what it costs, what may go wrong, what is promised, and whether it may be followed."""

from __future__ import annotations

from dataclasses import replace

from moveplan.cost.lines import cost_of
from moveplan.cost.reserve import with_bill, with_reserve
from moveplan.door import door
from moveplan.errors import Problem
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.practice.attendance.told import Note, notes_of
from moveplan.practice.comfort.power import over_circuits, unknown_circuits
from moveplan.practice.comfort.unfed import long_fasts
from moveplan.practice.project import Project
from moveplan.risk.assess import risk_summary
from moveplan.risk.promise.over_limit import over_limit
from moveplan.risk.summary import RiskSummary
from moveplan.scheduling.dates import critical
from moveplan.scheduling.schedule import Schedule, Status
from moveplan.stages.past_limits import too_long
from moveplan.stages.reading import Settings
from moveplan.stages.told import told_of


def judge(
    project: Project,
    found: Schedule,
    settings: Settings,
    *,
    tell: bool = False,
    gives_way: tuple[door.Checker, ...] = (),
    late: bool = False,
    whole: tuple[Project, Schedule] | None = None,
) -> Outlook:
    """Schedule to outlook: times, risk, cost, and the verdict.

    Nothing but this makes an outlook, so that no schedule is shown, written or accepted that did not pass the door.

    Parameters
    ----------
    found : Schedule
        Its schedule, or why there is none.
    settings : Settings
        Runs and seed of the simulation.
    tell : bool
        Whether the moving days are put to the times that half of the runs reach, where that keeps every limit.
    gives_way : tuple of callable
        Checks of the door whose promises give way, and are told.
    late : bool
        Whether the point of no return is passed.
    whole : tuple of (Project, Schedule) or None
        The project with what is done as it was, where only the rest is judged: who was where, and how long, is read
        off it. None: nothing is done.

    Raises
    ------
    FaultError
        Where the schedule breaks a promise, which is a fault of the program.
    """
    now = project.plan.now
    if not found.placements:
        verdict = Verdict.CANNOT_BE_DONE if found.status is Status.INFEASIBLE else Verdict.UNDECIDED
        return Outlook(project, now, verdict, (*found.reasons, *project.unsafe), found)
    door.check(project, found, gives_way)
    risk = risk_summary(project, found, settings.runs, settings.effort.seed)
    if project.plan.purpose == "own-tasks":
        times = critical.times(project.scheduling, found)
        verdict = Verdict.TIGHT if any(one.seldom for one in risk.finish_by) else Verdict.OK
        return Outlook(project, now, verdict, (), found, times, risk=risk if _varies(project) else None)
    cost = with_reserve(cost_of(project, found), risk)
    known = {one.where for one in project.unsafe}
    unsafe = (
        *project.unsafe,
        *(one for one in (too_long(project, found) if whole is None else ()) if one.where not in known),
        *long_fasts(project, found),
        *over_limit(project, risk, late=late),
        *over_circuits(project, found),
    )
    told = told_of(project, found, risk.promise, settings.effort) if tell and risk.promise else None
    if told is not None and risk.promise is not None:
        project, found = told.project, told.schedule
        cost, risk = with_bill(cost, cost_of(project, found)), replace(risk, promise=risk.promise.as_told)
        door.check_reached(project, found, risk.model)
    seen, stands = whole or (project, found)
    project = _with_notes(project, found, notes_of(seen, stands))
    door.check_told(replace(seen, day_notes=project.day_notes), stands)
    times = critical.times(project.scheduling, found)
    return Outlook(project, now, _verdict(risk, unsafe), unsafe, found, times, cost, risk)


def _with_notes(project: Project, found: Schedule, notes: tuple[tuple[Note, Problem], ...]) -> Project:
    """Say what a schedule asks of circuits and of people beyond what it should."""
    said = (*unknown_circuits(project, found), *(problem for _, problem in notes))
    return replace(
        project,
        findings=(*project.findings, *said),
        day_notes=tuple(note for note, _ in notes),
        day_said=tuple(problem.message for _, problem in notes),
    )


def _verdict(risk: RiskSummary, unsafe: tuple[Problem, ...]) -> Verdict:
    if unsafe:
        return Verdict.UNSAFE
    return Verdict.OK if risk.promise is None or risk.promise.holds else Verdict.TIGHT


def _varies(project: Project) -> bool:
    """Whether any duration has a spread, or anything may go wrong."""
    return bool(project.plan.risks) or any(
        task.estimate.low < task.estimate.high for task in project.network.tasks
    )
