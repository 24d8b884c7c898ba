"""The whole way from a plan file to what is known of its future: one function a stage, values in, values out.

Read this file first: ``reading.py`` begins it, ``written.py`` makes the files. Nothing else in the program knows
the whole way.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from moveplan import door
from moveplan.cost.lines import cost_of
from moveplan.cost.reserve import with_bill, with_reserve
from moveplan.errors import Problem, WayOut, one_by_one, written
from moveplan.loans import with_loans
from moveplan.other_ways import other_ways
from moveplan.outputs import gave_way
from moveplan.outputs.drift import drift_of
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.own_hands import by_own_hands
from moveplan.practice.attendance.told import notes_of
from moveplan.practice.compose import on_day
from moveplan.practice.power import over_circuits, unknown_circuits
from moveplan.practice.project import Project
from moveplan.practice.renew import Renewed, on_same_day, renewed
from moveplan.practice.story import Story, in_words_of_then
from moveplan.practice.unfed import long_fasts
from moveplan.reading import Settings, begin, compose, read
from moveplan.risk.assess import risk_summary
from moveplan.risk.over_limit import over_limit
from moveplan.risk.summary import RiskSummary
from moveplan.scheduling.dates import critical
from moveplan.scheduling.schedule import Schedule, Status
from moveplan.scheduling.solve import solve
from moveplan.surer import helps_for, surest
from moveplan.told import as_accepted, told_of
from moveplan.trials import on_trial
from moveplan.ways_out import with_ways_out

__all__ = ["Settings", "begin", "compose", "read"]
"""Where the way begins, so that it can be read from here."""


def schedule(project: Project, settings: Settings) -> tuple[Project, Schedule]:
    """Project to schedule: the first of its move days on which everything fits.

    Returns
    -------
    tuple of (Project, Schedule)
        The project hung on the day that was chosen, and its schedule.
    """
    if project.impossible:
        return project, Schedule.refused(project.impossible)
    tried: list[tuple[Project, Schedule]] = []
    for hung in _on_each_day(project):
        found = solve(hung.scheduling, settings.effort)
        if found.placements:
            return hung, surest(hung, found, settings)
        tried.append((hung, found))
    hung, found = _closest(tried)
    return hung, replace(found, reasons=tuple(_with_hints(hung, reason) for reason in found.reasons))


def _with_hints(project: Project, reason: Problem) -> Problem:
    """Say beside the ways out what else would make the day shorter."""
    if not reason.remedy:
        return reason
    hints = tuple(WayOut(hint, tried=False) for hint in project.hints)
    said = "; ".join((reason.remedy, *(f"{hint} (not tried)" for hint in hints)))
    return replace(reason, remedy=said, ways=(*one_by_one(reason), *hints))


def _on_each_day(project: Project) -> tuple[Project, ...]:
    days = project.plan.dates.move_days if project.plan.dates else ()
    return tuple(on_day(project, day) for day in days) or (project,)


def _closest(tried: list[tuple[Project, Schedule]]) -> tuple[Project, Schedule]:
    """Take the last day tried; it is impossible as a whole only if each day is shown to be."""
    project, last = tried[-1]
    if all(found.status is Status.INFEASIBLE for _, found in tried):
        return project, last
    undecided = next(found for _, found in tried if found.status is not Status.INFEASIBLE)
    return project, undecided


def renew(project: Project, story: Story, settings: Settings) -> tuple[Project, Renewed]:
    """Project under way to a new schedule of what is left, with the fewest needless changes.

    Parameters
    ----------
    story : Story
        What has happened, and the schedule in force.

    Returns
    -------
    tuple of (Project, Renewed)
        The project hung on the day that was chosen, and its schedule.
    """
    tried = []
    for hung in sorted(_on_each_day(project), key=lambda one: not on_same_day(one, story)):
        accepted = as_accepted(hung, story)
        tried.append((accepted, renewed(accepted, story, settings.effort, improve=settings.improve)))
        if tried[-1][1].found.placements:
            break
    return tried[-1]


def weigh_again(project: Project, again: Renewed, story: Story, settings: Settings) -> Outlook:
    """Schedule of a project under way to outlook: what is left is weighed, what is done is shown as it was.

    Parameters
    ----------
    project : Project
        As scheduled.
    story : Story
        What has happened.
    settings : Settings
        Runs and seed of the simulation.
    """
    ahead = weigh_up(again.rest, again.found, settings, late=again.late)
    door.check_shown(again)
    gave = again.given_way
    if again.late:
        gave = (*gave, *gave_way.told(door.faults_of(again.rest, again.found, door.GIVE_WAY), project))
    network = in_words_of_then(project.network, again.states, story)
    shown = replace(
        project,
        plan=replace(project.plan, now=story.now),
        network=network,
        scheduling=replace(again.rest.scheduling, network=network),
        findings=(*project.findings, *again.findings, *story.faults),
    )
    outlook = replace(
        ahead,
        project=shown,
        now=story.now,
        schedule=again.shown,
        states=again.states,
        times=again.ahead(ahead.times),
        readings=story.state.readings,
    )
    if ahead.cost is not None and ahead.risk is not None:
        outlook = replace(outlook, cost=with_reserve(cost_of(shown, again.shown), ahead.risk))
    drift = drift_of(outlook, story, again.broken)
    late = drift.dangers if drift else ()
    verdict = Verdict.UNSAFE if late and ahead.verdict.follows else ahead.verdict
    verdict = Verdict.TIGHT if gave and verdict is Verdict.OK else verdict
    said = () if again.found.placements else again.findings
    return replace(
        outlook,
        drift=drift,
        problems=(*said, *late, *ahead.problems, *gave),
        verdict=verdict,
        late=again.late,
    )


def weigh_up(
    project: Project, found: Schedule, settings: Settings, *, tell: bool = False, late: bool = False
) -> Outlook:
    """Schedule to outlook: times, risk, cost, and the verdict.

    Nothing but this makes an outlook, so that no schedule is shown, written or accepted that did not pass the door.

    Parameters
    ----------
    project : Project
        As scheduled.
    found : Schedule
        Its schedule, or why there is none.
    settings : Settings
        Runs and seed of the simulation.
    tell : bool
        Whether the moving days are put to the times that half of the runs reach, where that keeps every limit.
    late : bool
        Whether the point of no return is passed.

    Raises
    ------
    FaultError
        Where the schedule breaks a promise, which is a fault of the program.
    """
    now = project.plan.now
    if not found.placements:
        verdict = Verdict.CANNOT_BE_DONE if found.status is Status.INFEASIBLE else Verdict.UNDECIDED
        return Outlook(project, now, verdict, (*found.reasons, *project.unsafe), found)
    door.check(project, found, late=late)
    risk = risk_summary(project, found, settings.runs, settings.effort.seed)
    if project.plan.purpose == "own-tasks":
        times = critical.times(project.scheduling, found)
        return Outlook(project, now, Verdict.OK, (), found, times, risk=risk if _varies(project) else None)
    cost = with_reserve(cost_of(project, found), risk)
    unsafe = (
        *project.unsafe,
        *long_fasts(project, found),
        *over_limit(project, risk),
        *over_circuits(project, found),
    )
    told = told_of(project, found, risk.promise, settings.effort) if tell and risk.promise else None
    if told is not None and risk.promise is not None:
        project, found = told.project, told.schedule
        cost, risk = with_bill(cost, cost_of(project, found)), replace(risk, promise=risk.promise.as_told)
    project = _with_notes(project, found)
    door.check_told(project, found)
    times = critical.times(project.scheduling, found)
    return Outlook(project, now, _verdict(risk, unsafe), unsafe, found, times, cost, risk)


def _with_notes(project: Project, found: Schedule) -> Project:
    """Say what a schedule asks of circuits and of people beyond what it should."""
    notes = notes_of(project, found)
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


def outlook_of(path: Path, settings: Settings) -> Outlook:
    """Plan file to outlook, the whole way but the outputs."""
    plan, story = begin(path, settings)
    return look_ahead(compose(plan), story, settings)


def look_ahead(project: Project, story: Story | None, settings: Settings) -> Outlook:
    """Project to outlook, from the beginning or from what has happened so far.

    Parameters
    ----------
    story : Story or None
        What has happened; None: nothing.
    """
    if story is None or project.impossible:
        tries = on_trial(settings)
        outlook = with_loans(_foreseen(project, settings, tries), tries, _foreseen)
        own = by_own_hands(outlook, tries, _foreseen)  # costs nothing: tried first; then few, then many
        ways = _other_ways(outlook, tries)
        outlook = _with_said(with_ways_out(outlook, tries, _foreseen), own, ways)
        outlook = replace(outlook, untried=tries.effort.allowance.refused if tries.effort.allowance else 0)
        return outlook if story is None else replace(outlook, now=story.now)
    hung, again = renew(project, story, settings)
    return weigh_again(hung, again, story, settings)


def _foreseen(project: Project, settings: Settings, tries: Settings | None = None) -> Outlook:
    """Project to outlook as if nothing had happened yet, at the times that people are told, with changes that help."""
    hung, found = schedule(project, settings)
    outlook = weigh_up(hung, found, settings, tell=True)
    return replace(outlook, helps=helps_for(outlook, hung, found, tries)) if tries else outlook


def _other_ways(outlook: Outlook, settings: Settings) -> tuple[WayOut, ...]:
    """Find the other ways of moving in which the plan can be done, or be done safely."""
    if outlook.verdict.follows or not outlook.problems:
        return ()
    safe_only = outlook.verdict is Verdict.UNSAFE
    return other_ways(outlook.project, settings, _foreseen, safe_only=safe_only)


def _with_said(outlook: Outlook, own: tuple[WayOut, ...], ways: tuple[WayOut, ...]) -> Outlook:
    """Say beside the ways out of the first problem what the plan's people could do, and other ways of moving."""
    if not own and not ways:
        return outlook
    first, *others = outlook.problems
    said = "; or ".join(filter(None, (*map(written, own), first.remedy, *map(written, ways))))
    every = (*own, *one_by_one(first), *ways)
    return replace(outlook, problems=(replace(first, remedy=said, ways=every), *others))
