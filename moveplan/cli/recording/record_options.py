"""What the commands that record have in common: arguments and options."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from moveplan.cli import completion

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
Signed = Annotated[
    list[str] | None,
    typer.Option(
        "--met", help="Hold points before it that were met, and who signed them.", metavar="33,36=NAME"
    ),
]
Reads = Annotated[
    list[str] | None,
    typer.Option("--read", help="What was read for the hold points.", metavar="'temperature 25.5 C'"),
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
Person = Annotated[str, typer.Argument(help="Id or name.", metavar="NAME", autocompletion=completion.people)]
Days = Annotated[
    str,
    typer.Argument(
        help="'2027-02-13' or '2027-02-13 to 2027-02-14'; default: today.",
        metavar="[DAYS]",
        show_default=False,
    ),
]
Count = Annotated[int, typer.Argument(help="How many.", min=1, metavar="N", show_default=False)]
At = Annotated[
    str,
    typer.Option(
        "--at",
        help="When it happened; default: now. Without an offset: the plan's zone. Of a task a slip is asked.",
        metavar="TIME",
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
    str | None,
    typer.Option("--paste", help="Take the text that the card of the page copies.", metavar="TEXT"),
]


def _what(words: str) -> Any:  # typer types its arguments so
    return typer.Argument(help=words, metavar="WHAT", show_default=False, autocompletion=completion.things)


Thing = Annotated[list[str], _what("Vehicle or tank by its id, or 'power PLACE'.")]
Again = Annotated[
    list[str], _what("Vehicle or tank by its id, 'power PLACE', or a container where something broke.")
]
