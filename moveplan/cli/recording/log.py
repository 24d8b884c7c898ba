"""``moveplan record``: what happened, written into the journal beside the plan before the command says done."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from moveplan import RUNS, SECONDS, SEED
from moveplan.cli import completion
from moveplan.cli.options import (
    JournalNow,
    PlanPath,
    Runs,
    Seed,
    SolverSeconds,
    clear_progress,
    settings_of,
)
from moveplan.cli.recording import on_the_day
from moveplan.cli.recording.record_options import (
    AndBefore,
    AnyTask,
    At,
    By,
    From,
    HoldPoint,
    Paste,
    Reads,
    Reason,
    Signed,
    TaskId,
    Whose,
)

_OPTIONS = ("--from", "--paste", "--by", "--now")


class PlanFirst(TyperGroup):
    """Reads the options that stand behind the plan, where no word follows that has its own."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Put options that follow the plan before it."""
        plan, rest, taken = args[:1], args[1:], []
        while plan and not plan[0].startswith("-") and rest and rest[0].partition("=")[0] in _OPTIONS:
            width = 1 if "=" in rest[0] else 2
            taken += rest[:width]
            rest = rest[width:]
        return super().parse_args(ctx, [*taken, *plan, *rest])


app = typer.Typer(
    cls=PlanFirst,
    help="Record what happened: a plan accepted, work begun or done, a hold point met, a reading of a tank or "
    "container, a date that moved.",
    epilog="Example: moveplan record my_move.yaml done draw-water --took '50 min'",
    invoke_without_command=True,
    no_args_is_help=True,
    rich_markup_mode=None,
)


@app.callback()
def log(
    ctx: typer.Context,
    plan: PlanPath,
    source: From = None,
    text: Paste = None,
    by: By = "",
    now: JournalNow = "",
) -> None:
    """Take the plan; with nothing after it merge a file or a text, or list the last records."""
    ctx.obj = plan
    if isinstance(ctx.command, TyperGroup) and ctx.invoked_subcommand is not None:
        # What is said before the word is meant for it.
        before = {key: said for key, said in (("by", by), ("now", now)) if said}
        ctx.default_map = dict.fromkeys(ctx.command.commands, before)
        return
    from moveplan.cli.recording import handed_in, scribe

    if text is not None:
        handed_in.paste(plan, text, now)
    elif source is None:
        scribe.list_last(plan, now)
    else:
        handed_in.merge(plan, source, by, now)


@app.command("accept")
def accept(
    ctx: typer.Context,
    jobs: Annotated[
        list[str] | None, typer.Argument(help="Of a firm file: which jobs; without any, all that have a day.")
    ] = None,
    reason: Reason = "",
    built: Annotated[
        Path | None,
        typer.Option("--built", help="Of a firm: folder of its last build, whose days and crews were told."),
    ] = None,
    now: JournalNow = "",
    seed: Seed = SEED,
    runs: Runs = RUNS,
    solver_seconds: SolverSeconds = SECONDS,
    improve: Annotated[
        bool,
        typer.Option("--improve", help="Look for a better schedule: starts that need not move may move too."),
    ] = False,
) -> None:
    """Accept the schedule as it is now. What comes later is compared with it."""
    from moveplan.cli.commands import firms
    from moveplan.cli.recording import handed_in

    settings = replace(settings_of(now, seed, runs, solver_seconds), improve=improve)
    if firms.is_firm(ctx.obj):
        firms.accept(ctx.obj, settings, jobs or (), reason, built)
        return
    firms.refuse_for_a_plan({"the names of jobs": jobs, "--built": built})
    handed_in.accept(ctx.obj, settings, reason, clear_progress)


@app.command("begin")
def begin(
    ctx: typer.Context,
    task: AnyTask = "",
    by: Whose = "",
    and_before: AndBefore = False,
    signed: Signed = None,
    read: Reads = None,
    reason: Reason = "",
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Record that a task was begun. Without TASK it is the next one."""
    from moveplan.cli.recording import scribe

    said = scribe.Said(task, by, and_before=and_before, signed=signed or (), read=read or (), reason=reason)
    scribe.begun(ctx.obj, said, at, now)


@app.command("done")
def done(
    ctx: typer.Context,
    task: AnyTask = "",
    took: Annotated[str, typer.Option(help="How long it really took.", metavar="'50 min'")] = "",
    time: Annotated[int, typer.Option(help="Which time of recurring care; 0: all of it.", min=0)] = 0,
    by: Whose = "",
    and_before: AndBefore = False,
    signed: Signed = None,
    read: Reads = None,
    reason: Reason = "",
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Record that a task is done. Without TASK it is the one that runs."""
    from moveplan.cli.recording import scribe

    said = scribe.Said(
        task, by, runs=True, and_before=and_before, signed=signed or (), read=read or (), reason=reason
    )
    scribe.done(ctx.obj, said, took, time, at, now)


@app.command("drop")
def drop(ctx: typer.Context, task: TaskId, reason: Reason, at: At = "", now: JournalNow = "") -> None:
    """Record that a task will not be done."""
    from moveplan.cli.recording import scribe

    scribe.dropped(ctx.obj, task, reason, at, now)


@app.command("met")
def met(
    ctx: typer.Context,
    task: HoldPoint,
    by: By,
    and_before: AndBefore = False,
    signed: Signed = None,
    read: Reads = None,
    reason: Reason = "",
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Sign a hold point. One with limits needs readings that keep them, or a reason."""
    from moveplan.cli.recording import scribe

    said = scribe.Said(task, and_before=and_before, signed=signed or (), read=read or (), reason=reason)
    scribe.met(ctx.obj, said, by, at, now)


@app.command("read")
def read(
    ctx: typer.Context,
    what: Annotated[str, typer.Argument(help="What was measured, such as ammonia.", metavar="WHAT")],
    value: Annotated[str, typer.Argument(help="Number and unit, such as '0.2 mg/l'.", metavar="VALUE")],
    system: Annotated[
        str,
        typer.Option(
            "--of",
            "--system",
            help="Id of the tank, or the number of a container or of a bin of new water.",
            metavar="WATER",
        ),
    ] = "",
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Write down a reading with its unit. Of a tank, or --of a container or bin by its number."""
    from moveplan.cli.recording import happened

    happened.reading(ctx.obj, what, value, system, at, now)


@app.command("move", context_settings={"ignore_unknown_options": True})  # days earlier begin with a minus
def move(
    ctx: typer.Context,
    what: Annotated[
        str,
        typer.Argument(
            help="access-from, keys-back, earliest-start, move-day, fall-back-day, or dates for all that go along.",
            metavar="WHAT",
        ),
    ],
    to: Annotated[
        list[str], typer.Argument(help="The new day, or day and time; of dates +14 days.", metavar="TIME")
    ],
    now: JournalNow = "",
) -> None:
    """Record that a date set by somebody else has moved."""
    from moveplan.cli.recording import happened

    happened.moved(ctx.obj, what, " ".join(to), now)


@app.command("vehicle")
def vehicle(
    ctx: typer.Context,
    name: Annotated[
        str,
        typer.Argument(help="Id of the vehicle.", metavar="VEHICLE", autocompletion=completion.vehicles),
    ],
    payload: Annotated[str, typer.Option(help="What it may carry.", metavar="'900 kg'")] = "",
    since: Annotated[str, typer.Option("--from", help="From when it may be used.", metavar="TIME")] = "",
    until: Annotated[str, typer.Option(help="Until when it may be used.", metavar="TIME")] = "",
    now: JournalNow = "",
) -> None:
    """Change what the plan says of a vehicle."""
    from moveplan.cli.recording import happened

    happened.vehicle(ctx.obj, name, payload, since, until, now)


@app.command("spent")
def spent(
    ctx: typer.Context,
    amount: Annotated[str, typer.Argument(help="How much, in the plan's currency.", metavar="AMOUNT")],
    item: Annotated[str, typer.Argument(help="What for.", metavar="WHAT")],
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Write down what was spent."""
    from moveplan.cli.recording import happened

    happened.spent(ctx.obj, amount, item, at, now)


@app.command("note")
def note(
    ctx: typer.Context,
    text: Annotated[str, typer.Argument(help="Anything worth keeping.", metavar="TEXT")],
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Write down anything else."""
    from moveplan.cli.recording import happened

    happened.note(ctx.obj, text, at, now)


@app.command("undo")
def undo(
    ctx: typer.Context,
    line: Annotated[int, typer.Argument(help="Line of the journal; default: the last record.", min=0)] = 0,
    now: JournalNow = "",
) -> None:
    """Undo a record. It stays in the journal, but does not count."""
    from moveplan.cli.recording import happened

    happened.undo(ctx.obj, line or None, now)


for _name, _command in (
    ("out", on_the_day.out),
    ("back", on_the_day.back),
    ("drove", on_the_day.drove),
    ("lost", on_the_day.lost),
    ("added", on_the_day.added),
    ("fails", on_the_day.fails),
    ("works", on_the_day.works),
    ("shut", on_the_day.shut),
    ("open", on_the_day.open_),
    ("lid", on_the_day.lid),
    ("tend", on_the_day.tend),
):
    app.command(_name)(_command)
