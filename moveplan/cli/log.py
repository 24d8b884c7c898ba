"""``moveplan record``: what happened, written into the journal beside the plan before the command says done."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from moveplan import RUNS, SECONDS, SEED
from moveplan.cli import completion, firms
from moveplan.cli.options import (
    JournalNow,
    PlanPath,
    Runs,
    Seed,
    SolverSeconds,
    clear_progress,
    settings_of,
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
    help="Record what happened: a plan accepted, work begun or done, a hold point met, a reading, a date that moved.",
    epilog="Example: moveplan record my_move.yaml done draw-water --took '50 min'",
    invoke_without_command=True,
    no_args_is_help=True,
    rich_markup_mode=None,
)

TaskId = Annotated[
    str,
    typer.Argument(
        help="Id of the task.", metavar="TASK", show_default=False, autocompletion=completion.task_ids
    ),
]
AnyTask = Annotated[
    str,
    typer.Argument(
        help="Id of the task, or its number on the run sheets.",
        metavar="[TASK]",
        show_default=False,
        autocompletion=completion.task_ids,
    ),
]
Whose = Annotated[str, typer.Option("--by", help="Whose task, or who says so.", metavar="NAME")]
AndBefore = Annotated[
    bool, typer.Option("--and-before", help="Everything before it is done too; with --by of that person.")
]
Container = Annotated[
    str, typer.Argument(help="Number of the container, such as T3.", metavar="NUMBER", show_default=False)
]
HoldPoint = Annotated[
    str,
    typer.Argument(
        help="Id of the hold point.",
        metavar="TASK",
        show_default=False,
        autocompletion=completion.hold_points,
    ),
]
Group = Annotated[
    str,
    typer.Argument(
        help="Id of the group of animals.",
        metavar="GROUP",
        show_default=False,
        autocompletion=completion.groups,
    ),
]
Count = Annotated[int, typer.Argument(help="How many.", min=1, metavar="N", show_default=False)]
At = Annotated[
    str,
    typer.Option(
        "--at", help="When it happened; default: now. Without an offset: the plan's zone.", metavar="TIME"
    ),
]
By = Annotated[str, typer.Option("--by", help="Who signs hold points.", metavar="NAME")]
Reason = Annotated[str, typer.Option("--reason", help="Why.", metavar="TEXT")]
From = Annotated[
    Path | None,
    typer.Option(
        "--from", help="Merge a progress file saved by the page.", metavar="FILE", show_default=False
    ),
]


Paste = Annotated[
    str, typer.Option("--paste", help="Take the text that the card of the page copies.", metavar="TEXT")
]


@app.callback()
def log(
    ctx: typer.Context,
    plan: PlanPath,
    source: From = None,
    text: Paste = "",
    by: By = "",
    now: JournalNow = "",
) -> None:
    """Take the plan; without a word behind it merge a file or a text, or list the last records."""
    ctx.obj = plan
    if ctx.invoked_subcommand is not None:
        return
    from moveplan.cli import scribe

    if text:
        scribe.paste(plan, text, now)
    elif source is None:
        scribe.list_last(plan, now)
    else:
        scribe.merge(plan, source, by, now)


@app.command("accept")
def accept(
    ctx: typer.Context,
    reason: Reason = "",
    now: JournalNow = "",
    seed: Seed = SEED,
    runs: Runs = RUNS,
    solver_seconds: SolverSeconds = SECONDS,
    improve: Annotated[
        bool,
        typer.Option("--improve", help="Look for a better schedule: starts that need not move may move too."),
    ] = False,
) -> None:
    """Accept the schedule as it stands now; next, re-planning and look-back read it."""
    from moveplan.cli import scribe

    settings = replace(settings_of(now, seed, runs, solver_seconds), improve=improve)
    scribe.accept(ctx.obj, settings, reason, clear_progress)


@app.command("begin")
def begin(
    ctx: typer.Context,
    task: AnyTask = "",
    by: Whose = "",
    and_before: AndBefore = False,
    reason: Reason = "",
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Record that a task was begun; without a name the one that is next."""
    from moveplan.cli import scribe

    scribe.begun(ctx.obj, scribe.Said(task, by, runs=False, and_before=and_before), reason, at, now)


@app.command("done")
def done(
    ctx: typer.Context,
    task: AnyTask = "",
    took: Annotated[str, typer.Option(help="How long it really took.", metavar="'50 min'")] = "",
    time: Annotated[int, typer.Option(help="Which time of recurring care; 0: all of it.", min=0)] = 0,
    by: Whose = "",
    and_before: AndBefore = False,
    reason: Reason = "",
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Record that a task is done; without a name the one that runs."""
    from moveplan.cli import scribe

    scribe.done(ctx.obj, scribe.Said(task, by, runs=True, and_before=and_before), took, time, reason, at, now)


@app.command("drop")
def drop(ctx: typer.Context, task: TaskId, reason: Reason, at: At = "", now: JournalNow = "") -> None:
    """Record that a task will not be done."""
    from moveplan.cli import scribe

    scribe.dropped(ctx.obj, task, reason, at, now)


@app.command("met")
def met(
    ctx: typer.Context, task: HoldPoint, by: By, reason: Reason = "", at: At = "", now: JournalNow = ""
) -> None:
    """Sign a hold point; one with limits needs readings that keep them, or a reason."""
    from moveplan.cli import scribe

    scribe.met(ctx.obj, task, by, reason, at, now)


@app.command("read")
def read(
    ctx: typer.Context,
    what: Annotated[str, typer.Argument(help="What was measured, such as ammonia.", metavar="WHAT")],
    value: Annotated[str, typer.Argument(help="Number and unit, such as '0.2 mg/l'.", metavar="VALUE")],
    system: Annotated[str, typer.Option(help="Id of the system.", metavar="SYSTEM")] = "",
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Write down a reading, with its unit."""
    from moveplan.cli import scribe

    scribe.reading(ctx.obj, what, value, system, at, now)


@app.command("move")
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
        str, typer.Argument(help="The new day, or day and time; of dates '+14 days'.", metavar="TIME")
    ],
    now: JournalNow = "",
) -> None:
    """Record that a date which others set has moved."""
    from moveplan.cli import scribe

    scribe.moved(ctx.obj, what, to, now)


@app.command("out")
def out(
    ctx: typer.Context,
    person: Annotated[
        str,
        typer.Argument(help="Id of the person.", metavar="PERSON", autocompletion=completion.people),
    ],
    days: Annotated[str, typer.Argument(help="'2027-02-13' or '2027-02-13 to 2027-02-14'.", metavar="DAYS")],
    now: JournalNow = "",
) -> None:
    """Take somebody out for some days; of a firm, somebody or a vehicle."""
    if firms.is_firm(ctx.obj):
        firms.record(ctx.obj, "out", person, days, now)
        return
    from moveplan.cli import scribe

    scribe.out(ctx.obj, person, days, now)


@app.command("back")
def back(
    ctx: typer.Context,
    person: Annotated[
        str, typer.Argument(help="Id or name of a person or a vehicle of a firm.", metavar="NAME")
    ],
    days: Annotated[str, typer.Argument(help="The days that were recorded.", metavar="DAYS")],
    now: JournalNow = "",
) -> None:
    """Of a firm: take back that somebody or a vehicle is not there."""
    firms.record(ctx.obj, "back", person, days, now)


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
    from moveplan.cli import scribe

    scribe.vehicle(ctx.obj, name, payload, since, until, now)


Thing = Annotated[
    str,
    typer.Argument(
        help="Vehicle or tank by its id, or 'power PLACE'.",
        metavar="WHAT",
        show_default=False,
        autocompletion=completion.things,
    ),
]


@app.command("fails")
def fails(
    ctx: typer.Context,
    what: Thing,
    until: Annotated[
        str, typer.Option(help="When it works again or is replaced, as far as is known.", metavar="TIME")
    ] = "",
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Record that a vehicle, a tank or the power of a place failed, and say which ways there are."""
    from moveplan.cli import scribe

    scribe.fails(ctx.obj, what, until, at, now)


@app.command("works")
def works(ctx: typer.Context, what: Thing, at: At = "", now: JournalNow = "") -> None:
    """Record that it works again, or that something else has taken its place."""
    from moveplan.cli import scribe

    scribe.works(ctx.obj, what, at, now)


@app.command("lost")
def lost(
    ctx: typer.Context, group: Group, count: Count, reason: Reason = "", at: At = "", now: JournalNow = ""
) -> None:
    """Take lost animals off a group."""
    from moveplan.cli import scribe

    scribe.counted(ctx.obj, group, -count, reason, at, now)


@app.command("added")
def added(
    ctx: typer.Context, group: Group, count: Count, reason: Reason = "", at: At = "", now: JournalNow = ""
) -> None:
    """Add animals to a group."""
    from moveplan.cli import scribe

    scribe.counted(ctx.obj, group, count, reason, at, now)


@app.command("shut")
def shut(ctx: typer.Context, group: Group, at: At = "", now: JournalNow = "") -> None:
    """Close the containers of a group; its safe time runs from now."""
    from moveplan.cli import scribe

    scribe.container(ctx.obj, group, at, now, shut=True)


@app.command("open")
def open_(ctx: typer.Context, group: Group, at: At = "", now: JournalNow = "") -> None:
    """Open the containers of a group for good."""
    from moveplan.cli import scribe

    scribe.container(ctx.obj, group, at, now, shut=False)


@app.command("lid")
def lid(
    ctx: typer.Context,
    how: Annotated[str, typer.Argument(help="on or off.", metavar="on|off", show_default=False)],
    number: Container,
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Put the lid on a container, or take it off; its safe time runs while it is on."""
    from moveplan.cli import scribe

    scribe.lid(ctx.obj, how, number, at, now)


@app.command("tend")
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
    """Record what was done at a container: topped up, air on or off, moved to another place."""
    from moveplan.cli import scribe

    scribe.tended(ctx.obj, number, what, where, at, now)


@app.command("spent")
def spent(
    ctx: typer.Context,
    amount: Annotated[str, typer.Argument(help="How much, in the plan's currency.", metavar="AMOUNT")],
    item: Annotated[str, typer.Argument(help="What for.", metavar="WHAT")],
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Write down what was spent."""
    from moveplan.cli import scribe

    scribe.spent(ctx.obj, amount, item, at, now)


@app.command("note")
def note(
    ctx: typer.Context,
    text: Annotated[str, typer.Argument(help="Anything worth keeping.", metavar="TEXT")],
    at: At = "",
    now: JournalNow = "",
) -> None:
    """Write down anything else."""
    from moveplan.cli import scribe

    scribe.note(ctx.obj, text, at, now)


@app.command("undo")
def undo(
    ctx: typer.Context,
    line: Annotated[int, typer.Argument(help="Line of the journal; default: the last record.", min=0)] = 0,
    now: JournalNow = "",
) -> None:
    """Let a record not count; nothing is ever taken out of the journal."""
    from moveplan.cli import scribe

    scribe.undo(ctx.obj, line or None, now)
