"""The whole way from a plan file to its outputs: one function a stage, values in, values out.

Read this file first. Nothing else in the program knows the whole way.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from moveplan.cost.book import check_prices
from moveplan.cost.lines import cost_of
from moveplan.cost.reserve import with_reserve
from moveplan.errors import CannotBeDoneError, OutputError, PlanFileError, Problem
from moveplan.files import read_file, write_files
from moveplan.journal.identity import glanced_id
from moveplan.outputs.calendar import CalendarExport, CalendarOptions, calendar_bytes, check_options
from moveplan.outputs.checklist import checklist_md
from moveplan.outputs.data import result_json
from moveplan.outputs.drift import drift_of
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.outputs.page import page_html
from moveplan.outputs.printing import SHEETS, find_browser, printed
from moveplan.outputs.summary import summary_md
from moveplan.plan.move import Plan
from moveplan.planfile.reader import read_plan
from moveplan.practice.compose import on_day, project_of, refused_project
from moveplan.practice.project import Project
from moveplan.practice.renew import Renewed, on_same_day, renewed
from moveplan.practice.story import Story, story_of, told
from moveplan.risk.assess import risk_summary
from moveplan.scheduling import critical
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Engine, Schedule, Status
from moveplan.scheduling.solve import solve
from moveplan.times import to_local, to_minutes

REPORT, CHECKLIST, SUMMARY, DATA = "index.html", "checklist.md", "summary.md", "result.json"
"""Names of the files that ``build`` writes beside the calendars."""


@dataclass(frozen=True, slots=True)
class Settings:
    """How a plan is built.

    Parameters
    ----------
    now : datetime or None
        The moment it is built for; None: the plan's ``as-of``, else the clock. [-]
    effort : Effort
        How hard to look for the best schedule. [-]
    runs : int
        Monte Carlo runs. [-]
    calendar : CalendarOptions
        What goes into the calendar; a selection makes a second one beside the whole. [-]
    previous : Path or None
        A calendar to build upon in place of the one in the folder: of the selection, where there is one. [-]
    pdf : bool
        Whether to print the sheets of paper as PDF too. [-]
    """

    now: datetime | None = None
    effort: Effort = field(default_factory=Effort)
    runs: int = 10_000
    calendar: CalendarOptions = field(default_factory=CalendarOptions)
    previous: Path | None = None
    pdf: bool = False


def read(path: Path, settings: Settings) -> Plan:
    """Plan file to plan, with what the journal says has changed; PlanFileError where it is not sound."""
    plan, story = begin(path, settings)
    return plan if story is None else replace(plan, now=story.now)


def begin(path: Path, settings: Settings) -> tuple[Plan, Story | None]:
    """Plan file and journal to the plan as it is now, and what has happened so far.

    Parameters
    ----------
    path : Path
        The plan file. [-]
    settings : Settings
        The moment asked for. [-]

    Returns
    -------
    tuple of (Plan, Story or None)
        The plan with what has changed since it was written; None where nothing was recorded. [-]
    """
    try:
        plan = read_plan(path, settings.now)
    except PlanFileError:
        plan = _long_begun(path, settings)
    check_prices(replace(plan, file_name=str(path)))
    story = story_of(path, plan.id, plan.now)
    return (plan, None) if story is None else (told(plan, story), story)


def _long_begun(path: Path, settings: Settings) -> Plan:
    """Read a plan whose dates are past by now, as it was when its first schedule was accepted."""
    plan_id = glanced_id(path)
    story = story_of(path, plan_id, 0) if plan_id else None
    if story is None or story.first is None:
        raise
    plan = read_plan(path, to_local(story.first.now, ZoneInfo(story.first.zone)))
    asked = settings.now or datetime.now(UTC)
    return replace(plan, now=to_minutes(asked if asked.tzinfo else asked.replace(tzinfo=plan.zone)))


def compose(plan: Plan) -> Project:
    """Plan to project: quantities, tasks, links, ways of animals."""
    try:
        return project_of(plan)
    except CannotBeDoneError as error:
        return refused_project(plan, error.problems)


def schedule(project: Project, settings: Settings) -> tuple[Project, Schedule]:
    """Project to schedule: the first of its move days on which everything fits.

    Parameters
    ----------
    project : Project
        What is to be scheduled. [-]
    settings : Settings
        How hard to look. [-]

    Returns
    -------
    tuple of (Project, Schedule)
        The project hung on the day that was chosen, and its schedule. [-]
    """
    if project.impossible:
        return project, Schedule(Status.INFEASIBLE, Engine.SERIAL, reasons=project.impossible)
    tried: list[tuple[Project, Schedule]] = []
    for hung in _on_each_day(project):
        found = solve(hung.scheduling, settings.effort)
        if found.placements:
            return hung, found
        tried.append((hung, found))
    return _closest(tried)


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
    project : Project
        What is to be scheduled. [-]
    story : Story
        What has happened, and the schedule in force. [-]
    settings : Settings
        How hard to look. [-]

    Returns
    -------
    tuple of (Project, Renewed)
        The project hung on the day that was chosen, and its schedule. [-]
    """
    tried = []
    for hung in sorted(_on_each_day(project), key=lambda one: not on_same_day(one, story)):
        tried.append((hung, renewed(hung, story, settings.effort)))
        if tried[-1][1].found.placements:
            break
    return tried[-1]


def weigh_again(project: Project, again: Renewed, story: Story, settings: Settings) -> Outlook:
    """Schedule of a project under way to outlook: what is left is weighed, what is done is shown as it was.

    Parameters
    ----------
    project : Project
        As scheduled. [-]
    again : Renewed
        Its schedule. [-]
    story : Story
        What has happened. [-]
    settings : Settings
        Runs and seed of the simulation. [-]
    """
    ahead = weigh_up(again.rest, again.found, settings)
    shown = replace(
        project,
        plan=replace(project.plan, now=story.now),
        scheduling=replace(again.rest.scheduling, network=project.network),
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
    verdict = Verdict.UNSAFE if late and ahead.verdict is Verdict.OK else ahead.verdict
    said = () if again.found.placements else again.findings
    return replace(outlook, drift=drift, problems=(*said, *ahead.problems, *late), verdict=verdict)


def weigh_up(project: Project, found: Schedule, settings: Settings) -> Outlook:
    """Schedule to outlook: times, risk, cost, and the verdict.

    Parameters
    ----------
    project : Project
        As scheduled. [-]
    found : Schedule
        Its schedule, or why there is none. [-]
    settings : Settings
        Runs and seed of the simulation. [-]
    """
    now = project.plan.now
    if not found.placements:
        verdict = Verdict.CANNOT_BE_DONE if found.status is Status.INFEASIBLE else Verdict.UNDECIDED
        return Outlook(project, now, verdict, found.reasons, found)
    times = critical.times(project.scheduling, found)
    risk = risk_summary(project, found, settings.runs, settings.effort.seed)
    if project.plan.purpose == "own-tasks":
        return Outlook(project, now, Verdict.OK, (), found, times, risk=risk if _varies(project) else None)
    cost = with_reserve(cost_of(project, found), risk)
    unsafe = (*project.unsafe, *_over_limit(project, dict(risk.over_limit)))
    verdict = Verdict.UNSAFE if unsafe else Verdict.OK
    return Outlook(project, now, verdict, unsafe, found, times, cost, risk)


def _varies(project: Project) -> bool:
    """Whether any duration has a spread."""
    return any(task.estimate.low < task.estimate.high for task in project.network.tasks)


def _over_limit(project: Project, chances: Mapping[str, float]) -> tuple[Problem, ...]:
    plan = project.plan
    return tuple(
        Problem(
            f"{route.name} passes its safe time in {chances[route.livestock]:.0%} of the simulated days; "
            f"the plan accepts {plan.safe_time_risk:.0%}",
            plan.where(f"livestock.{route.livestock}"),
            _longer(route.livestock, project),
        )
        for route in project.routes
        if chances.get(route.livestock, 0.0) > plan.safe_time_risk
    )


def _longer(livestock: str, project: Project) -> str:
    route = next(one for one in project.routes if one.livestock == livestock)
    extends = tuple(dict.fromkeys(way for stop in route.stops if stop.safe for way in stop.safe.extends))
    return f"its safe time is longer with {'; '.join(extends)}" if extends else "shorten the moving day"


def outlook_of(path: Path, settings: Settings) -> Outlook:
    """Plan file to outlook, the whole way but the outputs."""
    plan, story = begin(path, settings)
    return look_ahead(compose(plan), story, settings)


def look_ahead(project: Project, story: Story | None, settings: Settings) -> Outlook:
    """Project to outlook, from the beginning or from what has happened so far.

    Parameters
    ----------
    project : Project
        What is to be done. [-]
    story : Story or None
        What has happened; None: nothing. [-]
    settings : Settings
        Effort, runs and seed. [-]
    """
    if story is None or project.impossible:
        return weigh_up(*schedule(project, settings), settings)
    hung, again = renew(project, story, settings)
    return weigh_again(hung, again, story, settings)


@dataclass(frozen=True, slots=True)
class Built:
    """What was written.

    Parameters
    ----------
    outlook : Outlook
        What it was made from. [-]
    files : tuple of Path
        In the order of reading. [-]
    calendar : CalendarExport or None
        The whole one; None where the plan cannot be carried out as it is. [-]
    selection : CalendarExport or None
        The one of a selection, where one was asked for. [-]
    stale : tuple of Path
        Calendars and PDFs of an earlier build that are out of date now. [-]
    browser_missing : bool
        Whether PDFs were asked for and nothing is installed that prints them. [-]
    """

    outlook: Outlook
    files: tuple[Path, ...]
    calendar: CalendarExport | None
    selection: CalendarExport | None = None
    stale: tuple[Path, ...] = ()
    browser_missing: bool = False


def write(outlook: Outlook, folder: Path, settings: Settings) -> Built:
    """Outlook to files: all of them or none.

    Parameters
    ----------
    outlook : Outlook
        What was found. [-]
    folder : Path
        Where they go; made where it is missing. [-]
    settings : Settings
        Calendar options. [-]

    Raises
    ------
    OutputError
        Where one of them cannot be written, or a foreign calendar stands in the folder.
    """
    contents = _documents(outlook, folder)
    exports = []
    if outlook.verdict is Verdict.OK:
        for options in _calendars(settings.calendar):
            exports.append(_export(outlook, folder, options, settings))
            contents |= _calendar_files(folder, options.suffix, exports[-1])
    browser = find_browser() if settings.pdf else None
    if browser is not None:
        contents |= {folder / name: data for name, data in printed(outlook, browser).items()}
    stale = tuple(path for path in _earlier(folder) if path not in contents)
    write_files(contents)
    whole, selection = (*exports, None, None)[:2]
    return Built(outlook, tuple(contents), whole, selection, stale, settings.pdf and browser is None)


def _calendars(options: CalendarOptions) -> tuple[CalendarOptions, ...]:
    """Ask for the whole calendar, and for the selection where there is one."""
    return (options.whole, options) if options.selection else (options,)


def _export(outlook: Outlook, folder: Path, options: CalendarOptions, settings: Settings) -> CalendarExport:
    before = settings.previous if options == settings.calendar else None
    todos = read_file(folder / f"todos{options.suffix}.ics") if options.todos else None
    return calendar_bytes(outlook, _calendar_before(folder, options, before), options, todos)


def _calendar_files(folder: Path, suffix: str, export: CalendarExport) -> dict[Path, bytes]:
    files = {folder / f"calendar{suffix}.ics": export.data}
    if export.todos is not None:
        files[folder / f"todos{suffix}.ics"] = export.todos
    return files | {folder / f"events{suffix}" / name: data for name, data in export.split.items()}


def _earlier(folder: Path) -> list[Path]:
    """Find what an earlier build has left that not every build writes."""
    sheets = (folder / name for name in SHEETS.values())
    return sorted(
        [
            *folder.glob("calendar*.ics"),
            *folder.glob("todos*.ics"),
            *(path for path in sheets if path.exists()),
        ]
    )


def _documents(outlook: Outlook, folder: Path) -> dict[Path, bytes]:
    return {
        folder / REPORT: page_html(outlook).encode("utf-8"),
        folder / CHECKLIST: checklist_md(outlook).encode("utf-8"),
        folder / SUMMARY: summary_md(outlook).encode("utf-8"),
        folder / DATA: result_json(outlook),
    }


def _calendar_before(folder: Path, options: CalendarOptions, previous: Path | None) -> bytes | None:
    path = previous or folder / f"calendar{options.suffix}.ics"
    before = read_file(path)
    if before is None and previous is not None:
        msg = f"{path}: there is no such calendar; leave --previous out for a first export"
        raise OutputError(msg)
    return before


def build(path: Path, folder: Path, settings: Settings) -> Built:
    """Plan file to files, the whole way."""
    plan, story = begin(path, settings)
    project = compose(plan)
    if not project.impossible:
        check_options(settings.calendar, project)
    return write(look_ahead(project, story, settings), folder, settings)
