"""What the shell completes beyond commands and options; whatever goes wrong, it completes nothing and says nothing."""

from __future__ import annotations

from pathlib import Path

import typer


def task_ids(ctx: typer.Context, begun: str) -> list[str]:
    """List the tasks of the plan that was named before, by the beginning of their ids.

    Parameters
    ----------
    ctx : Context
        The command line so far. [-]
    begun : str
        What was typed of the id. [-]
    """
    from moveplan import reading
    from moveplan.errors import MoveplanError

    plan = ctx.params.get("plan")
    if not plan:
        return []
    try:
        project = reading.compose(reading.read(Path(plan), reading.Settings()))
    except (MoveplanError, OSError):
        return []
    return [task.id for task in project.network.tasks if task.id.startswith(begun)]
