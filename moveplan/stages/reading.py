"""The first stages: from a plan file and its journal to the project, which is what there is to do."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from moveplan import RUNS
from moveplan.cost.book import check_prices
from moveplan.errors import CannotBeDoneError, OutOfRangeError, PlanFileError, Problem
from moveplan.journal.file.identity import glanced_id
from moveplan.journal.file.place import journal_path
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.plan.move import Plan
from moveplan.planfile.reader import read_plan
from moveplan.practice.compose import project_of, refused_project
from moveplan.practice.own_tasks import check_links
from moveplan.practice.project import Project
from moveplan.scheduling.effort import Effort
from moveplan.stages.bought_water import with_bought_water
from moveplan.stages.hung import contradicted
from moveplan.times import to_local, to_minutes

if TYPE_CHECKING:
    from moveplan.practice.under_way.story import Story


@dataclass(frozen=True, slots=True)
class Settings:
    """How a plan is built.

    Parameters
    ----------
    now : datetime or None
        The moment it is built for; None: the plan's ``as-of``, else the clock.
    effort : Effort
        How hard to look for the best schedule.
    runs : int
        Monte Carlo runs.
    calendar : CalendarOptions
        What goes into the calendar; a selection makes a second one beside the whole.
    previous : Path or None
        A calendar to build upon in place of the one in the folder: of the selection, where there is one.
    pdf : bool
        Whether to print the sheets of paper as PDF too.
    publish : Path or None
        A folder for the calendars under names that cannot be guessed, to be subscribed to.
    improve : bool
        Of a plan under way: whether starts that need not move may, for a better schedule.
    """

    now: datetime | None = None
    effort: Effort = field(default_factory=Effort)
    runs: int = RUNS
    calendar: CalendarOptions = field(default_factory=CalendarOptions)
    previous: Path | None = None
    pdf: bool = False
    publish: Path | None = None
    improve: bool = False


def read(path: Path, settings: Settings) -> Plan:
    """Plan file to plan, with what the journal says has changed; PlanFileError where it is not sound."""
    plan, story = begin(path, settings)
    return plan if story is None else replace(plan, now=story.now)


def begin(path: Path, settings: Settings, until: int | None = None) -> tuple[Plan, Story | None]:
    """Plan file and journal to the plan as it is now, and what has happened so far.

    Parameters
    ----------
    settings : Settings
        The moment asked for.
    until : int or None
        The last line of the journal that counts; None: all count.

    Returns
    -------
    tuple of (Plan, Story or None)
        The plan with what has changed since it was written; None where nothing was recorded.
    """
    try:
        plan = read_plan(path, settings.now)
    except PlanFileError:
        plan = _long_begun(path, settings)
    check_prices(replace(plan, file_name=str(path)))
    story = _story_of(path, plan.id, plan.now, until)
    if story is None:
        return plan, None
    from moveplan.practice.under_way.story import told

    return told(plan, story), story


def _story_of(path: Path, plan_id: str, now: int, until: int | None = None) -> Story | None:
    """Read what has happened; without a journal, as most plans are, nothing that reads one is loaded."""
    try:
        journal_path(path).stat()
    except FileNotFoundError:
        return None
    except OSError:  # said by what reads it
        pass
    from moveplan.practice.under_way.story import story_of

    return story_of(path, plan_id, now, until)


def _long_begun(path: Path, settings: Settings) -> Plan:
    """Read a plan whose dates are past by now, as it was when its first schedule was accepted."""
    plan_id = glanced_id(path)
    story = _story_of(path, plan_id, 0) if plan_id else None
    if story is None or story.first is None:
        raise
    plan = read_plan(path, to_local(story.first.now, ZoneInfo(story.first.zone)))
    asked = settings.now or datetime.now(UTC)
    return replace(plan, now=to_minutes(asked if asked.tzinfo else asked.replace(tzinfo=plan.zone)))


def compose(plan: Plan, *, steps: bool = True) -> Project:
    """Plan to project: quantities, tasks, links, ways of animals; PlanFileError where a risk names no task of it.

    Parameters
    ----------
    steps : bool
        Whether tasks say how they are done.
    """
    project = composed(plan, steps=steps)
    if project.network.tasks:
        check_links(plan, project.network)
    if plan.risks:
        from moveplan.risk.register.ranked import check_risks

        check_risks(project)
    return project


def checked(plan: Plan) -> Project:
    """Plan to project, with what speaks against every schedule of it, as far as it is seen without looking for one.

    Parameters
    ----------
    plan : Plan
        What the keeper told us; nothing of it has happened yet.

    Returns
    -------
    Project
        With the reasons that `build` gives too: those of the last day of its window, where each day has some.
    """
    project = compose(plan, steps=False)
    if project.impossible or not contradicted(project):
        return project
    told = compose(plan)  # once more, with titles to tell it by
    return replace(told, impossible=contradicted(told))


def composed(plan: Plan, *, steps: bool = True) -> Project:
    """Plan to project, where risks may name tasks of another way; salt water is bought where that is the only way."""
    try:
        return with_bought_water(project_of(plan, steps=steps), steps=steps)
    except CannotBeDoneError as error:
        return refused_project(plan, error.problems)
    except OutOfRangeError as error:
        remedy = "correct the size, amount or temperature from which it follows"
        return refused_project(plan, (Problem(str(error), plan.where("systems"), remedy),))
