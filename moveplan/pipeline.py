"""The whole way from a plan file to its outputs: one function a stage, values in, values out.

Read this file first. Nothing else in the program knows the whole way.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from moveplan.cost.lines import cost_of
from moveplan.cost.reserve import with_reserve
from moveplan.errors import CannotBeDoneError, OutputError, Problem
from moveplan.files import read_file, write_files
from moveplan.outputs.calendar import CalendarExport, CalendarOptions, calendar_bytes, check_options
from moveplan.outputs.checklist import checklist_md
from moveplan.outputs.data import result_json
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.outputs.page import page_html
from moveplan.outputs.summary import summary_md
from moveplan.plan.move import Plan
from moveplan.planfile.reader import read_plan
from moveplan.practice.compose import on_day, project_of, refused_project
from moveplan.practice.project import Project
from moveplan.risk.assess import risk_summary
from moveplan.scheduling import critical
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Engine, Schedule, Status
from moveplan.scheduling.solve import solve

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
    """

    now: datetime | None = None
    effort: Effort = field(default_factory=Effort)
    runs: int = 10_000
    calendar: CalendarOptions = field(default_factory=CalendarOptions)
    previous: Path | None = None


def read(path: Path, settings: Settings) -> Plan:
    """Plan file to plan; PlanFileError with every problem where it is not sound."""
    return read_plan(path, settings.now)


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
    plan = read(path, settings)
    return weigh_up(*schedule(compose(plan), settings), settings)


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
        Calendars of an earlier build that are out of date now. [-]
    """

    outlook: Outlook
    files: tuple[Path, ...]
    calendar: CalendarExport | None
    selection: CalendarExport | None = None
    stale: tuple[Path, ...] = ()


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
    stale = tuple(path for path in _earlier_calendars(folder) if path not in contents)
    write_files(contents)
    whole, selection = (*exports, None, None)[:2]
    return Built(outlook, tuple(contents), whole, selection, stale)


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


def _earlier_calendars(folder: Path) -> list[Path]:
    return sorted([*folder.glob("calendar*.ics"), *folder.glob("todos*.ics")])


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
    project = compose(read(path, settings))
    if not project.impossible:
        check_options(settings.calendar, project)
    return write(weigh_up(*schedule(project, settings), settings), folder, settings)
