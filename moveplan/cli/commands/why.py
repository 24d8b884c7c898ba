"""``moveplan why``: why a task lasts that long, and why it stands on that date."""

from __future__ import annotations

from typing import Annotated

import typer

from moveplan import SECONDS, SEED
from moveplan.cli.completion import task_ids
from moveplan.cli.options import AsJson, Now, PlanOrExample, Seed, SolverSeconds, clear_progress, settings_of

TaskId = Annotated[
    str,
    typer.Argument(
        help="Id of the task, as in the checklist.",
        metavar="TASK",
        show_default=False,
        autocompletion=task_ids,
    ),
]


def why(
    plan: PlanOrExample,
    task: TaskId,
    now: Now = "",
    seed: Seed = SEED,
    solver_seconds: SolverSeconds = SECONDS,
    as_json: AsJson = False,
) -> None:
    """Explain why a task takes that long, down to the source, and why it is on that date.

    Example: moveplan why house_move make-water
    """
    from moveplan import pipeline
    from moveplan.cli.terminal.screen import print_why

    outlook = pipeline.outlook_of(plan, settings_of(now, seed, 0, solver_seconds))
    clear_progress()
    print_why(outlook, task, as_json=as_json)
    raise typer.Exit(0 if outlook.follow or outlook.verdict.follows else 1)
