"""The whole way from a plan file to its files, a stage a line, values in and values out. Read this file first.

Each stage is a module of ``moveplan/stages/``; what is tried beside a plan stands in ``moveplan/changed/``.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from moveplan.changed.beside import with_changes
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.wording.ahead import getting_ready
from moveplan.practice.project import Project
from moveplan.practice.under_way.story import Story
from moveplan.stages.judged import judge
from moveplan.stages.reading import Settings, begin, compose, read
from moveplan.stages.scheduled import schedule
from moveplan.stages.under_way import judge_again, renew
from moveplan.stages.written import Built, target_of, write

__all__ = ["Settings", "begin", "compose", "judge", "judge_again", "read", "renew", "schedule", "write"]
"""The stages, so that each can be called by itself."""


def build(path: Path, folder: Path, settings: Settings) -> Built:
    """Plan file to files, the whole way.

    Parameters
    ----------
    path : Path
        The plan file; its journal stands beside it.
    folder : Path
        Where the files go; made where it is missing.

    Raises
    ------
    PlanFileError
        Where the plan or its journal is not sound.
    OutputError
        Where something cannot be written; then nothing is.
    FaultError
        Where the result breaks a promise of the program; then nothing is written.
    """
    plan, story = begin(path, settings)  # the keeper's words, and what has happened, as values
    project = compose(plan)  # how much, how heavy, how long safe; which tasks, and what waits for what
    target = target_of(path, folder, project, settings)
    effort = replace(settings.effort, meanwhile=getting_ready(project))
    outlook = look_ahead(project, story, replace(settings, effort=effort))
    return write(outlook, target, settings)


def outlook_of(path: Path, settings: Settings) -> Outlook:
    """Plan file to outlook, the whole way but the files."""
    plan, story = begin(path, settings)
    return look_ahead(compose(plan), story, settings)


def outlook_then(path: Path, settings: Settings, line: int) -> Outlook:
    """Plan file to outlook as it was when a schedule was accepted, whatever has happened since.

    Parameters
    ----------
    settings : Settings
        With the moment at which it was accepted.
    line : int
        Where the journal says so.
    """
    plan, story = begin(path, settings, line)
    return look_ahead(compose(plan), story, settings)


def look_ahead(project: Project, story: Story | None, settings: Settings) -> Outlook:
    """Project to outlook, from the beginning or from what has happened so far.

    Parameters
    ----------
    story : Story or None
        What has happened; None: nothing.
    """
    if story is not None and not project.impossible:
        hung, again = renew(project, story, settings)
        return judge_again(hung, again, story, settings)
    hung, found = schedule(project, settings)  # who, when, with which van
    outlook = judge(hung, found, settings, tell=True)  # what it costs, how sure it is; the door
    outlook = with_changes(outlook, hung, found, settings, foresee)
    return outlook if story is None else replace(outlook, now=story.now)


def foresee(project: Project, settings: Settings, *, tell: bool = True) -> Outlook:
    """Project to outlook as if nothing had happened yet, and nothing were changed.

    Parameters
    ----------
    tell : bool
        Whether the moving days are put to the times that people are told.
    """
    hung, found = schedule(project, settings)
    return judge(hung, found, settings, tell=tell)
