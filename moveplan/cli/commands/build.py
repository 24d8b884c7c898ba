"""``moveplan build``: the main job, all outputs."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from moveplan import RUNS, SECONDS, SEED
from moveplan.cli.commands.firms import build_firm, is_firm, refuse_for_a_firm
from moveplan.cli.options import Now, PlanOrExample, Runs, Seed, SolverSeconds, clear_progress, settings_of

if TYPE_CHECKING:
    from moveplan.stages.written import Built

Out = Annotated[
    Path, typer.Option("--out", "-o", help="Folder for the files.", metavar="DIR", show_default=False)
]
OnlyPerson = Annotated[
    str,
    typer.Option(
        help="Also write a calendar with each task of one person (implies --every-task).",
        metavar="ID",
        show_default=False,
    ),
]
OnlyPhase = Annotated[
    str,
    typer.Option(
        help="Also write a calendar with one phase only (implies --every-task).",
        metavar="PHASE",
        show_default=False,
    ),
]
MovingDayOnly = Annotated[
    bool,
    typer.Option(
        "--moving-day-only", help="Also write a calendar with the moving day only (implies --every-task)."
    ),
]
EveryTask = Annotated[
    bool,
    typer.Option(
        "--every-task",
        help="Write one calendar with each task as an event of its own, instead of one calendar for each person.",
    ),
]
NoAlarms = Annotated[bool, typer.Option("--no-alarms", help="No reminders.")]
Private = Annotated[
    bool, typer.Option("--private", help="Mark the events as private, for a calendar that others see.")
]
NoAddresses = Annotated[
    bool, typer.Option("--no-addresses", help="Leave names and addresses of places out of the calendars.")
]
Links = Annotated[
    bool,
    typer.Option(
        "--links",
        help="Link each event to those that wait for it (RFC 9253; needs --every-task); few calendars show it.",
    ),
]
Todos = Annotated[bool, typer.Option("--todos", help="Also write the tasks as to-dos, to todos.ics.")]
OneFileAnEvent = Annotated[
    bool,
    typer.Option(
        "--one-file-an-event", help="Also write each event to a file of its own, in the folder events."
    ),
]
IntoExisting = Annotated[
    bool,
    typer.Option(
        "--into-existing",
        help="Give the calendars no name, for importing into a calendar you already use.",
    ),
]
Previous = Annotated[
    Path | None,
    typer.Option(
        help="Update from this older calendar.ics instead of the one in the folder; "
        "with --only-..., from an older calendar of that kind.",
        metavar="OLD.ics",
        show_default=False,
    ),
]
Publish = Annotated[
    Path | None,
    typer.Option(
        help="Also write the calendars to this folder, under names that nobody can guess, to subscribe to.",
        metavar="FOLDER",
        show_default=False,
    ),
]
Invite = Annotated[
    bool,
    typer.Option(
        "--invite",
        help="Also write invitations to mail to whoever has an `email:` in the plan; sends nothing.",
    ),
]
Pdf = Annotated[
    bool,
    typer.Option(
        "--pdf",
        help="Print checklist, run sheets, labels, load plan and shopping list as PDF too, with an installed Chromium.",
    ),
]

Jobs = Annotated[
    int,
    typer.Option(
        "--jobs", help="For a firm file: processes that work side by side.", min=1, max=64, metavar="N"
    ),
]


def build(
    plan: PlanOrExample,
    out: Out,
    now: Now = "",
    seed: Seed = SEED,
    runs: Runs = RUNS,
    solver_seconds: SolverSeconds = SECONDS,
    only_person: OnlyPerson = "",
    only_phase: OnlyPhase = "",
    moving_day_only: MovingDayOnly = False,
    every_task: EveryTask = False,
    no_alarms: NoAlarms = False,
    private: Private = False,
    no_addresses: NoAddresses = False,
    links: Links = False,
    todos: Todos = False,
    one_file_an_event: OneFileAnEvent = False,
    into_existing: IntoExisting = False,
    previous: Previous = None,
    publish: Publish = None,
    invite: Invite = False,
    pdf: Pdf = False,
    jobs: Jobs = 2,
) -> None:
    """Write checklist, calendars, summary, page and data to a folder.

    calendar.ics is for whoever leads the move, and calendar-ID.ics for each helper: one event for each
    evening with its list, and one for the moving day. With --every-task, calendar.ics holds each task of everybody. A
    further calendar (--only-...) has the same events, so import only one of the two.

    From a firm file: the month, a sheet and a calendar for each person, a sheet for each vehicle, and all files of each
    job.

    Example: moveplan build house_move --out out/house_move
    """
    if is_firm(plan):
        refuse_for_a_firm(
            {
                "--only-person": only_person,
                "--only-phase": only_phase,
                "--moving-day-only": moving_day_only,
                "--every-task": every_task,
                "--no-alarms": no_alarms,
                "--private": private,
                "--no-addresses": no_addresses,
                "--links": links,
                "--todos": todos,
                "--one-file-an-event": one_file_an_event,
                "--into-existing": into_existing,
                "--previous": previous,
                "--invite": invite,
                "--pdf": pdf,
            }
        )
        raise typer.Exit(build_firm(plan, out, settings_of(now, seed, runs, solver_seconds), jobs))
    from moveplan import pipeline
    from moveplan.outputs.calendar.options import CalendarOptions

    options = CalendarOptions(
        person=only_person,
        phase=only_phase,
        moving_day=moving_day_only,
        alarms=not no_alarms,
        private=private,
        addresses=not no_addresses,
        links=links,
        todos=todos,
        split=one_file_an_event,
        name=not into_existing,
        invite=invite,
        every_task=every_task or bool(only_person or only_phase or moving_day_only),
    )
    settings = replace(
        settings_of(now, seed, runs, solver_seconds),
        calendar=options,
        previous=previous,
        pdf=pdf,
        publish=publish,
    )
    built = pipeline.build(plan, out, settings)
    clear_progress()
    print_built(built)
    raise typer.Exit(0 if built.outlook.follow else 1)


def print_built(built: Built) -> None:
    """Print what was written."""
    from moveplan.cli.terminal.paper import show_text
    from moveplan.outputs.wording.documents import render

    show_text(render(built.outlook, "text", "terminal/built.txt.j2", {"built": built}))
