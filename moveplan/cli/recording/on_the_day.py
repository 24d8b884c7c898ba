"""Records of the moving day itself: what fails, and what is done at containers."""

from __future__ import annotations

from typing import Annotated

import typer

from moveplan.cli.options import JournalNow
from moveplan.cli.recording.record_options import (
    At,
    Container,
    Group,
    Thing,
)


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

    happened.fails(ctx.obj, what, until, at, now)


def works(ctx: typer.Context, what: Thing, at: At = "", now: JournalNow = "") -> None:
    """Record that it works again, or was replaced."""
    from moveplan.cli.recording import happened

    happened.works(ctx.obj, what, at, now)


def shut(ctx: typer.Context, group: Group, at: At = "", now: JournalNow = "") -> None:
    """Close the containers of a group. Its safe time runs from now."""
    from moveplan.cli.recording import happened

    happened.container(ctx.obj, group, at, now, shut=True)


def open_(ctx: typer.Context, group: Group, at: At = "", now: JournalNow = "") -> None:
    """Open the containers of a group for good."""
    from moveplan.cli.recording import happened

    happened.container(ctx.obj, group, at, now, shut=False)


def lid(
    ctx: typer.Context,
    how: Annotated[str, typer.Argument(help="on or off.", metavar="on|off", show_default=False)],
    number: Container,
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Put the lid on a container, or take it off. Its safe time runs while it is on."""
    from moveplan.cli.recording import happened

    happened.lid(ctx.obj, how, number, at, now)


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
