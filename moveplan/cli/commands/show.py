"""``moveplan show``: the schedule in the terminal."""

from __future__ import annotations

import typer

from moveplan import RUNS, SECONDS, SEED
from moveplan.cli.commands.firms import is_firm, show_firm
from moveplan.cli.options import (
    AsJson,
    Now,
    PlanOrExample,
    Runs,
    Seed,
    SolverSeconds,
    clear_progress,
    settings_of,
)


def show(
    plan: PlanOrExample,
    now: Now = "",
    seed: Seed = SEED,
    runs: Runs = RUNS,
    solver_seconds: SolverSeconds = SECONDS,
    as_json: AsJson = False,
) -> None:
    """Print the schedule: the weeks, then the moving day line by line.

    Example: moveplan show house_move
    """
    if is_firm(plan):
        raise typer.Exit(show_firm(plan, settings_of(now, seed, runs, solver_seconds), as_json=as_json))
    from moveplan import pipeline
    from moveplan.cli.terminal.screen import print_schedule

    outlook = pipeline.outlook_of(plan, settings_of(now, seed, runs, solver_seconds))
    clear_progress()
    print_schedule(outlook, as_json=as_json)
    raise typer.Exit(0 if outlook.follow or outlook.verdict.follows else 1)
