"""``moveplan check``: problems, cautions and assumptions; schedules nothing."""

from __future__ import annotations

import typer

from moveplan.cli.options import AsJson, Now, PlanPath, moment


def check(plan: PlanPath, now: Now = "", as_json: AsJson = False) -> None:
    """Read the plan and print problems, cautions, quantities and every assumption; schedules nothing.

    Example: moveplan check examples/short_plan.yaml
    """
    from moveplan import reading
    from moveplan.cli.findings import print_check

    project = reading.compose(reading.read(plan, reading.Settings(now=moment(now))), steps=False)
    print_check(project, as_json=as_json)
    raise typer.Exit(1 if project.impossible or project.unsafe else 0)
