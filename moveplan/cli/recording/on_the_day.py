"""Records of the moving day itself: who is there, what fails, animals, and what is done at containers."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from moveplan.cli.commands import firms
from moveplan.cli.options import JournalNow
from moveplan.cli.recording.record_options import (
    Again,
    At,
    Container,
    Count,
    Days,
    Group,
    Person,
    Reason,
    Thing,
)


def out(
    ctx: typer.Context,
    person: Person,
    days: Days = "",
    now: JournalNow = "",
    built: Annotated[
        Path | None,
        typer.Option("--built", help="Of a firm: folder of its last build, to say at once what follows."),
    ] = None,
) -> None:
    """Take somebody out for some days. In a firm file also a vehicle."""
    if firms.is_firm(ctx.obj):
        firms.record(ctx.obj, "out", person, days, now, built)
        return
    from moveplan.cli.recording import happened

    happened.out(ctx.obj, person, days, now)


def back(
    ctx: typer.Context,
    person: Person,
    days: Days = "",
    now: JournalNow = "",
) -> None:
    """Put somebody back who was taken out. In a firm file also a vehicle."""
    if firms.is_firm(ctx.obj):
        firms.record(ctx.obj, "back", person, days, now)
        return
    from moveplan.cli.recording import happened

    happened.out(ctx.obj, person, days, now, back=True)


def drove(
    ctx: typer.Context,
    job: Annotated[str, typer.Argument(help="Id of the job.", metavar="JOB")],
    distance: Annotated[str, typer.Argument(help="All vehicles together.", metavar="DISTANCE")],
    now: JournalNow = "",
) -> None:
    """Record how far was driven for a job of a firm, for real against quoted."""
    if not firms.is_firm(ctx.obj):
        firms.refuse_for_a_plan({"drove": distance})
    firms.drove(ctx.obj, job, distance, now)


def lost(
    ctx: typer.Context, group: Group, count: Count, reason: Reason = "", at: At = "", now: JournalNow = ""
) -> None:
    """Take lost animals off a group."""
    from moveplan.cli.recording import happened

    happened.counted(ctx.obj, group, -count, reason, at, now)


def added(
    ctx: typer.Context, group: Group, count: Count, reason: Reason = "", at: At = "", now: JournalNow = ""
) -> None:
    """Add animals to a group."""
    from moveplan.cli.recording import happened

    happened.counted(ctx.obj, group, count, reason, at, now)


def fails(
    ctx: typer.Context,
    what: Thing,
    until: Annotated[
        str, typer.Option(help="When it works again or is replaced, as far as is known.", metavar="TIME")
    ] = "",
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Record that something failed, and see what can be done. A vehicle, a tank, or the power of a place."""
    from moveplan.cli.recording import happened

    happened.fails(ctx.obj, " ".join(what), until, at, now)


def works(ctx: typer.Context, what: Again, at: At = "", now: JournalNow = "") -> None:
    """Record that it works again, was replaced or mended. Such as: works van; works X2."""
    from moveplan.cli.recording import happened

    happened.works(ctx.obj, " ".join(what), at, now)


def shut(ctx: typer.Context, group: Group, reason: Reason = "", at: At = "", now: JournalNow = "") -> None:
    """Close the containers of a group. Its safe time runs from now."""
    from moveplan.cli.recording import happened

    happened.shut(ctx.obj, at, now, reason, group=group)


def open_(ctx: typer.Context, group: Group, at: At = "", now: JournalNow = "") -> None:
    """Open the containers of a group for good."""
    from moveplan.cli.recording import happened

    happened.opened(ctx.obj, at, now, group=group)


def lid(
    ctx: typer.Context,
    how: Annotated[str, typer.Argument(help="on or off.", metavar="on|off", show_default=False)],
    number: Container,
    reason: Reason = "",
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Put the lid on a container, or take it off. Its safe time runs from the first closing: a look gives none back."""
    from moveplan.cli.recording import happened

    happened.lid(ctx.obj, how, number, reason, at, now)


def tend(
    ctx: typer.Context,
    number: Container,
    what: Annotated[
        str, typer.Argument(help="topped-up, air-on, air-off or moved.", metavar="WHAT", show_default=False)
    ],
    where: Annotated[str, typer.Option("--to", help="Where it was moved to.", metavar="PLACE")] = "",
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Record what was done at a container. Topped up, air on or off, moved to another place."""
    from moveplan.cli.recording import happened

    happened.tended(ctx.obj, number, what, where, at, now)
