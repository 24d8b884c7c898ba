"""What the shell completes beyond commands and options; whatever goes wrong, it completes nothing and says nothing."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from moveplan.journal.taking.known import Known


def task_ids(ctx: typer.Context, begun: str) -> list[str]:
    """List the tasks of the plan that was named before, by the beginning of their ids.

    Parameters
    ----------
    ctx : Context
        The command line so far.
    begun : str
        What was typed of the id.
    """
    known = _known(ctx)
    return _beginning(known.tasks, begun) if known else []


def hold_points(ctx: typer.Context, begun: str) -> list[str]:
    """List the hold points of the plan, as :func:`task_ids` lists tasks."""
    from moveplan.network.task import Kind

    known = _known(ctx)
    return (
        _beginning((key for key, one in known.tasks.items() if one.kind is Kind.HOLD_POINT), begun)
        if known
        else []
    )


def groups(ctx: typer.Context, begun: str) -> list[str]:
    """List the groups of animals of the plan."""
    known = _known(ctx)
    return _beginning(known.groups, begun) if known else []


def people(ctx: typer.Context, begun: str) -> list[str]:
    """List the people of the plan."""
    known = _known(ctx)
    return _beginning(known.people, begun) if known else []


def vehicles(ctx: typer.Context, begun: str) -> list[str]:
    """List the vehicles of the plan."""
    known = _known(ctx)
    return _beginning(known.vehicles, begun) if known else []


def things(ctx: typer.Context, begun: str) -> list[str]:
    """List what may fail: vehicles, tanks, and the power of places."""
    known = _known(ctx)
    if known is None:
        return []
    return _beginning([*known.vehicles, *known.systems, *(f"power {one}" for one in known.places)], begun)


def _beginning(ids: Iterable[str], begun: str) -> list[str]:
    return [key for key in ids if key.startswith(begun)]


def _known(ctx: typer.Context) -> Known | None:
    """Read what the plan names; to log, quickly from the schedule that was accepted, where there is one."""
    from moveplan.cli.recording.diary import open_diary
    from moveplan.cli.recording.scribe import plan_knows
    from moveplan.errors import MoveplanError
    from moveplan.journal.taking.known import known_of

    own = ctx.params.get("plan")
    plan = own or (ctx.parent and ctx.parent.params.get("plan"))
    if not plan:
        return None
    try:
        diary = open_diary(Path(plan), "")
        logs = not own and diary.state.accepted
        return known_of(diary.snapshot()) if logs else plan_knows(diary)
    except (MoveplanError, OSError):
        return None
