"""``moveplan check``: problems, cautions and assumptions of one plan or of several; makes no schedule."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from moveplan.cli.commands.firms import check_firm, is_firm
from moveplan.cli.options import AsJson, Now, PlansOrExamples, moment
from moveplan.errors import PlanFileError

if TYPE_CHECKING:
    from moveplan.practice.project import Project

Quiet = Annotated[
    bool, typer.Option("--quiet", "-q", help="Print only what is wrong, and nothing where all is well.")
]


def check(plans: PlansOrExamples, now: Now = "", quiet: Quiet = False, as_json: AsJson = False) -> None:
    """Read the plan and print problems, cautions, quantities and every assumption. It makes no schedule.

    With several plans a broken one does not keep the others from being read; the exit status is that of the worst. Of
    several firms it says who is in two of them.

    Example: moveplan check short_plan
    """
    from moveplan.cli.terminal.findings import print_checks

    firms = [plan for plan in plans if is_firm(plan)]
    status = max(
        (
            check_firm(plan, moment(now), firms[at + 1 :], as_json=as_json, quiet=quiet)
            for at, plan in enumerate(firms)
        ),
        default=0,
    )
    plans = [plan for plan in plans if plan not in firms]
    if firms and not plans:
        raise typer.Exit(status)
    read, unread = _composed(plans, now)
    print_checks(read, as_json=as_json, quiet=quiet, unread=unread)
    if unread:
        raise PlanFileError(
            tuple(problem for error in unread for problem in error.problems),
            unread[0].file_name if len(unread) == 1 else "",
        )
    raise typer.Exit(1 if any(project.impossible or project.unsafe for project in read) else status)


def _composed(plans: list[Path], now: str) -> tuple[list[Project], list[PlanFileError]]:
    """Compose each plan as far as it can be read."""
    from moveplan.stages import reading

    read, unread = [], []
    for plan in plans:
        try:
            found, story = reading.begin(plan, reading.Settings(now=moment(now)))
            begun = story is not None and reading.compose(replace(found, now=story.now), steps=False)
            read.append(begun or reading.checked(found))
        except PlanFileError as error:
            unread.append(error)
    return read, unread
