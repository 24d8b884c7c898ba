"""The program as a library: load a plan, check it, schedule it, write its files.

What stands in this module is stable: names, parameters and fields stay as they are until a version says otherwise in
``moveplan guide changes``; new ones may be added. ``Planned.data`` is what ``result.json`` holds, and changes only with
its ``format``. Every other module may change at any time, and so may what ``Loaded.story``, ``Checked.project`` and
``Planned.outlook`` hold; but :mod:`moveplan.science`, whose functions are pure and cite their sources, is meant to be
used on its own too.

Errors are those of :mod:`moveplan.errors`: ``PlanFileError`` with each problem of a plan file, ``OutputError`` where a
file could not be written, ``FaultError`` where a result breaks a promise of the program.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from moveplan import RUNS, SECONDS, SEED
from moveplan.errors import Problem
from moveplan.plan.move import Plan
from moveplan.stages.hung import contradicted
from moveplan.stages.reading import Settings, begin, compose

if TYPE_CHECKING:
    from moveplan.outputs.outlook import Outlook
    from moveplan.practice.project import Project
    from moveplan.practice.under_way.story import Story

__all__ = ["Checked", "Loaded", "Planned", "check", "load", "plan", "write"]


@dataclass(frozen=True, slots=True)
class Loaded:
    """A plan file that was read, with what its journal says has happened.

    Parameters
    ----------
    plan : Plan
        Frozen values, units converted; what the file does not say is filled in.
    assumptions : tuple of (str, str, str)
        Key, value and reason of each value that was filled in.
    story : Story or None
        What has happened; None: nothing was recorded.
    """

    plan: Plan
    assumptions: tuple[tuple[str, str, str], ...]
    story: Story | None


@dataclass(frozen=True, slots=True)
class Checked:
    """What can be said of a plan without a schedule.

    Parameters
    ----------
    problems : tuple of Problem
        Why it cannot be carried out, or is not safe; empty: nothing was found.
    findings : tuple of Problem
        What is worth knowing.
    quantities : Mapping of str to tuple of (float, float, float, str)
        Low, likely and high value, and the unit, by name.
    project : Project
        Tasks, links, ways of the animals.
    """

    problems: tuple[Problem, ...]
    findings: tuple[Problem, ...]
    quantities: Mapping[str, tuple[float, float, float, str]]
    project: Project

    @property
    def fine(self) -> bool:
        """Whether nothing speaks against the plan so far."""
        return not self.problems


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan with its schedule.

    Parameters
    ----------
    status : str
        ``ok``, ``tight``, ``unsafe``, ``cannot-be-done`` or ``undecided``, as in ``result.json``.
    data : dict
        What ``result.json`` holds.
    outlook : Outlook
        What the documents are made from.
    """

    status: str
    data: Mapping[str, Any]
    outlook: Outlook

    @property
    def works(self) -> bool:
        """Whether there is a list of tasks that may be followed."""
        return self.outlook.follow


def load(path: Path | str, *, now: datetime | None = None) -> Loaded:
    """Read a plan file, and the journal beside it.

    Parameters
    ----------
    path : Path or str
        The file.
    now : datetime or None
        The moment to plan for; None: the plan's ``as-of``, else the clock.

    Raises
    ------
    PlanFileError
        With every problem of the file.
    """
    read, story = begin(Path(path), Settings(now=now))
    known = tuple((one.key, one.value, one.why) for one in read.assumptions)
    return Loaded(read if story is None else replace(read, now=story.now), known, story)


def check(loaded: Loaded) -> Checked:
    """Work out the quantities, and find what speaks against the plan. Makes no schedule."""
    project = compose(loaded.plan)
    if loaded.story is None and not project.impossible:
        project = replace(project, impossible=contradicted(project))
    return Checked(
        (*project.impossible, *project.unsafe),
        project.findings,
        {name: (one.low, one.likely, one.high, one.unit) for name, one in project.quantities},
        project,
    )


def plan(loaded: Loaded, *, seconds: float = SECONDS, seed: int = SEED, runs: int = RUNS) -> Planned:
    """Schedule a plan, and judge it by simulation. The same plan and options give the same result.

    Parameters
    ----------
    seconds : float
        How long to search for a better schedule; turned into steps. [s]
    seed : int
        Of every random choice.
    runs : int
        Of the simulation; 0 leaves it out.

    Raises
    ------
    FaultError
        Where the result breaks a promise of the program.
    """
    from moveplan.outputs.data.result import result_data
    from moveplan.pipeline import look_ahead
    from moveplan.scheduling.effort import Effort

    settings = Settings(effort=Effort(seconds=seconds, seed=seed), runs=runs)
    outlook = look_ahead(compose(loaded.plan), loaded.story, settings)
    return Planned(outlook.verdict.value, result_data(outlook), outlook)


def write(planned: Planned, folder: Path | str) -> tuple[Path, ...]:
    """Write all files of a plan, as ``moveplan build`` does: all of them or none.

    Parameters
    ----------
    planned : Planned
        A plan with its schedule.
    folder : Path or str
        Where they go; made where it is missing.

    Returns
    -------
    tuple of Path
        What was written, in the order of reading.

    Raises
    ------
    OutputError
        Where one of them cannot be written.
    """
    from moveplan.files import check_folder
    from moveplan.outputs.calendar.options import CalendarOptions
    from moveplan.stages.written import Target
    from moveplan.stages.written import write as write_files

    check_folder(Path(folder))
    people = Settings(calendar=CalendarOptions(every_task=False))
    return write_files(planned.outlook, Target(Path(folder)), people).files
