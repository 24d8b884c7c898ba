"""The commands, and the one place that turns errors into words and exit statuses."""

from __future__ import annotations

import atexit
import errno
import gc
import io
import os
import sys
import traceback
from copy import copy
from functools import partial
from shutil import get_terminal_size
from typing import Annotated, Any

import typer
from typer.core import TyperCommand

from moveplan.cli.commands import build, check, crew, guide, kinds, look_back, new, schema, show, weigh, why
from moveplan.cli.commands import next as next_up
from moveplan.cli.options import clear_progress
from moveplan.cli.recording import log
from moveplan.cli.terminal.paper import NARROWEST
from moveplan.cli.terminal.signs import use_in
from moveplan.errors import INTERRUPTED, CannotBeDoneError, FaultError, MoveplanError, PlanFileError

FAULT = 70
"""Exit status of a fault of the program itself; EX_SOFTWARE of sysexits. [-]"""
UNWRITTEN = 3
"""Exit status where an output could not be written; the terminal or the pipe is one. [-]"""
_FULL = (errno.ENOSPC, errno.EIO, errno.EDQUOT, errno.EFBIG)
"""What a device says that takes no more."""
CYCLES_AFTER = 200_000
"""Objects made and not freed before the collector looks for cycles: a process is short, and leaves hardly any. [-]"""

_WIDEST_HELP = 78
"""Longest line of a help text. Chosen. [column]"""
_PHONE = 60
"""Of a narrower help text options take a third at most, and what is longer a line of its own. Chosen. [column]"""


class OnPhones(TyperCommand):
    """A command whose help can be read on a narrow terminal too."""

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """List the options, with room for what they are beside them."""
        if formatter.width < _PHONE:
            formatter.write_dl = partial(formatter.write_dl, col_max=formatter.width // 3)
        super().format_options(ctx, formatter)


app = typer.Typer(
    name="moveplan",
    help="Plans moving a living reef aquarium to another home or into a larger tank.",
    epilog="Example: moveplan build house_move --out out/house_move",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def _print_version(wanted: bool) -> None:
    if wanted:
        from moveplan.made_with import made_with

        (name, version), *others = made_with().items()
        typer.echo(f"{name} {version} ({', '.join(' '.join(one) for one in others)})")
        raise typer.Exit


@app.callback()
def _root(
    _version: Annotated[
        bool,
        typer.Option(
            "--version",
            help="Print the version, and those of the libraries.",
            is_eager=True,
            callback=_print_version,
        ),
    ] = False,
) -> None:
    """Hold the options of the program itself."""


app.command("new", cls=OnPhones, short_help="Ask about your move and write a plan file.")(new.new)
app.command("check", cls=OnPhones, short_help="Say what is wrong, and what is assumed.")(check.check)
app.command("build", cls=OnPhones, short_help="Write all files: page, lists, calendars, data.")(build.build)
app.command("show", cls=OnPhones, short_help="Print the weeks and the moving day.")(show.show)
app.command("why", cls=OnPhones, short_help="Explain a task: its length and its date.")(why.why)
app.command("weigh", cls=OnPhones, short_help="Compare ways of moving, or try changes.")(weigh.weigh)
app.add_typer(log.app, name="record", short_help="Note what happened: begun, done, measured.")
app.add_typer(log.app, name="log", hidden=True)  # its name until 0.1.0; goes with 0.2.0
app.command("next", cls=OnPhones, short_help="Say what to do now, and who is next.")(next_up.next_)
app.command("crew", cls=OnPhones, short_help="Show the page on everybody's phone.")(crew.crew)
app.command("look-back", cls=OnPhones, short_help="Compare plan and reality after the move.")(
    look_back.look_back
)
app.command("kinds", cls=OnPhones, short_help="List the animals that a plan may name.")(kinds.kinds)
app.command("guide", cls=OnPhones, short_help="Print a page of the guide.")(guide.guide)
app.command("schema", cls=OnPhones, short_help="Print the JSON Schema of the plan file.")(schema.schema)


def main() -> None:
    """Run the command line and leave with its exit status."""
    gc.set_threshold(CYCLES_AFTER)
    atexit.register(gc.freeze)  # what ends with the process is not worth looking through for cycles
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # matrices here are small
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # nobody extends the models of plan files
    _show_what_can_be_shown()
    status = _status()
    if not _all_printed():
        status = status or UNWRITTEN
    sys.exit(status)


def _status() -> int:
    """Run the command line; its exit status."""
    try:
        _asked(sys.argv[1:])(prog_name="moveplan", terminal_width=_help_columns())
    except MoveplanError as error:
        _tell(error)
        return error.exit_status
    except SystemExit as end:
        if end.code == INTERRUPTED:  # typer has caught the second interrupt
            typer.echo("interrupted; nothing was written", err=True)
        return end.code if isinstance(end.code, int) else int(bool(end.code))
    except OSError as error:
        if error.errno not in _FULL:
            _fault(error)
            return FAULT
        typer.echo(f"what was to be printed could not be written: {error.strerror}", err=True)
        return UNWRITTEN
    except Exception as error:
        _fault(error)
        return FAULT
    return 0


def _asked(words: list[str]) -> typer.Typer:
    """Give the command line with the command alone that is asked for: the options of all others would be made too."""
    one = copy(app)
    if words and (named := [each for each in app.registered_commands if each.name == words[0]]):
        one.registered_commands, one.registered_groups = named, []
    elif words and (group := [each for each in app.registered_groups if each.name == words[0]]):
        one.registered_commands, one.registered_groups = [], group
    return one


def _help_columns() -> int:
    """How wide a help text is: as the terminal, which may be a phone's, and never wider than lines are read well."""
    return max(NARROWEST, min(get_terminal_size().columns, _WIDEST_HELP))


def _show_what_can_be_shown() -> None:
    """Let a terminal of another encoding show the nearest that it has a sign for: that is no fault of a plan."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            use_in(stream)


def _all_printed() -> bool:
    """Hand over what is still held back; a device that is full, and a reader that has left, say so only now."""
    try:
        sys.stdout.flush()
    except OSError as error:
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115, PTH123 - the end of the process would try again, and fail
        if error.errno in _FULL:
            typer.echo(f"what was to be printed could not be written: {error.strerror}", err=True)
            return False
    return True


def _tell(error: MoveplanError) -> None:
    if isinstance(error, FaultError):
        from moveplan.cli.terminal.faults import fault_text

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
        "Set MOVEPLAN_DEBUG=1 and run again to see where; please tell whoever gave you the program.",
        err=True,
    )
