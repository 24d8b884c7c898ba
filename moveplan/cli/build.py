"""``moveplan build``: the main job, all outputs."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from moveplan.cli.options import Now, PlanPath, Runs, Seed, SolverSeconds, clear_progress, settings_of

Out = Annotated[
    Path, typer.Option("--out", "-o", help="Folder for the files.", metavar="DIR", show_default=False)
]


def build(
    plan: PlanPath,
    out: Out,
    now: Now = "",
    seed: Seed = 1,
    runs: Runs = 10_000,
    solver_seconds: SolverSeconds = 2.0,
) -> None:
    """Build the whole plan: checklist, calendar, summary, page and data, written to a folder.

    Example: moveplan build examples/house_move.yaml --out out/house_move
    """
    from moveplan import pipeline
    from moveplan.cli.screen import print_built

    settings = settings_of(now, seed, runs, solver_seconds)
    built = pipeline.build(plan, out, settings)
    clear_progress()
    print_built(built)
    raise typer.Exit(0 if built.outlook.verdict.value == "ok" else 1)
