"""The commands, and the one place that turns errors into words and exit statuses."""

from __future__ import annotations

import atexit
import gc
import os
import sys
import traceback
from typing import Annotated

import typer

from moveplan import __version__
from moveplan.cli import build, check, crew, log, look_back, new, schema, show, weigh, why
from moveplan.cli import next as next_up
from moveplan.cli.options import clear_progress
from moveplan.errors import CannotBeDoneError, FaultError, MoveplanError, PlanFileError

INTERRUPTED = 130
FAULT = 70
"""Exit status of a fault of the program itself; EX_SOFTWARE of sysexits."""
CYCLES_AFTER = 200_000
"""Objects made and not freed before the collector looks for cycles: a process is short, and leaves hardly any. [-]"""

app = typer.Typer(
    name="moveplan",
    help="Plans moving a living reef aquarium to another home or into a larger tank.",
    epilog="Example: moveplan build examples/house_move.yaml --out out/house_move",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def _print_version(wanted: bool) -> None:
    if wanted:
        typer.echo(__version__)
        raise typer.Exit


@app.callback()
def _root(
    _version: Annotated[
        bool,
        typer.Option(
            "--version", help="Print the version and leave.", is_eager=True, callback=_print_version
        ),
    ] = False,
) -> None:
    """Hold the options of the program itself."""


app.command("new")(new.new)
app.command("check")(check.check)
app.command("build")(build.build)
app.command("show")(show.show)
app.command("why")(why.why)
app.command("weigh")(weigh.weigh)
app.add_typer(log.app, name="log")
app.command("next")(next_up.next_)
app.command("crew")(crew.crew)
app.command("look-back")(look_back.look_back)
app.command("schema")(schema.schema)


def main() -> None:
    """Run the command line and leave with its exit status."""
    gc.set_threshold(CYCLES_AFTER)
    atexit.register(gc.freeze)  # what ends with the process is not worth looking through for cycles
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # matrices here are small
    try:
        app()
    except MoveplanError as error:
        _tell(error)
        sys.exit(error.exit_status)
    except SystemExit as end:
        if end.code == INTERRUPTED:  # typer has caught the second interrupt
            typer.echo("interrupted; nothing was written", err=True)
        raise
    except Exception as error:
        _fault(error)
        sys.exit(FAULT)


def _tell(error: MoveplanError) -> None:
    if isinstance(error, FaultError):
        from moveplan.cli.faults import fault_text

        clear_progress()
        typer.echo(fault_text(error.faults), err=True, nl=False)
        return
    typer.echo(str(error), err=True)
    if isinstance(error, PlanFileError):
        count = len(error.problems)
        noun = "problem" if count == 1 else "problems"
        where = f" in {error.file_name}" if error.file_name else ""
        typer.echo(f"{count} {noun}{where}; nothing was written.", err=True)
    if isinstance(error, CannotBeDoneError):
        typer.echo("The plan cannot be carried out as written.", err=True)


def _fault(error: Exception) -> None:
    """Say in one line that the program itself is at fault; the traceback only on request."""
    if os.environ.get("MOVEPLAN_DEBUG"):
        traceback.print_exc()
    typer.echo(
        f"a fault in moveplan itself, not in your plan: {type(error).__name__}: {error}. "
        "Set MOVEPLAN_DEBUG=1 and run again to see where; please report it.",
        err=True,
    )
