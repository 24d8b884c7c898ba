"""Options that several commands share."""

from __future__ import annotations

import contextlib
import os
import shutil
import signal
import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from types import FrameType

    from moveplan.stages.reading import Settings


def _heard(plan: Path) -> Path:
    """Say which lines of the journal are no records: whatever is asked is answered without them."""
    from moveplan.cli.commands.firms import is_firm
    from moveplan.journal.file.place import journal_path

    if journal_path(plan).is_file() and not is_firm(plan):  # a firm's own records are of another kind
        from moveplan.cli.recording.diary import plan_id_of
        from moveplan.errors import MoveplanError
        from moveplan.journal.file.store import read_journal

        with contextlib.suppress(
            MoveplanError, OSError
        ):  # the command itself says what is wrong with plan or journal
            for fault in read_journal(plan, plan_id_of(plan)).faults:
                typer.echo(str(fault), err=True)
    return plan


def _of_ones_own(plan: Path) -> Path:
    """Take a plan that has a journal: of an example, say how to make a plan of one's own from it."""
    from moveplan.cli.shipped import example_names, plan_path
    from moveplan.errors import PlanFileError, Problem

    if not plan.exists() and plan_path(plan).stem in example_names() and plan_path(plan).is_file():
        name = plan_path(plan).stem
        remedy = f"make a plan of your own from it: moveplan new my_move.yaml --like {name}"
        raise PlanFileError((Problem("an example has no journal", str(plan), remedy),), str(plan))
    return _heard(plan)


PlanPath = Annotated[
    Path,
    typer.Argument(help="The plan file (YAML).", metavar="PLAN", show_default=False, callback=_of_ones_own),
]


def _named(plan: Path) -> Path:
    from moveplan.cli.shipped import plan_path

    found = plan_path(plan)
    if not found.exists() and plan.name == str(plan) and plan.suffix in ("", ".yaml"):
        _refuse_near_miss(plan)
    return _heard(found)


def _refuse_near_miss(plan: Path) -> None:
    """Ask of a name that is nearly that of an example whether the example is meant."""
    from moveplan.cli.shipped import FIRMS, example_names
    from moveplan.errors import PlanFileError, Problem
    from moveplan.near import nearest

    near = nearest(plan.stem, (*example_names(), *FIRMS))
    if near:
        problem = Problem("there is no such file or example", str(plan), f'did you mean "{near}"?')
        raise PlanFileError((problem,), str(plan))


def _all_named(plans: list[Path]) -> list[Path]:
    from moveplan.cli.shipped import plan_path

    return [_named(plan) if len(plans) == 1 else _heard(plan_path(plan)) for plan in plans]


PlanOrExample = Annotated[
    Path,
    typer.Argument(
        help="The plan file (YAML), or the name of an example.",
        metavar="PLAN",
        show_default=False,
        callback=_named,
    ),
]
"""For commands that only read the plan: what keeps a journal needs a file of the keeper's own."""
PlansOrExamples = Annotated[
    list[Path],
    typer.Argument(
        help="One plan file or several, or names of examples.",
        metavar="PLAN...",
        show_default=False,
        callback=_all_named,
    ),
]
Now = Annotated[
    str,
    typer.Option(
        help='The moment to plan for, such as "2027-02-20 09:00"; default: the plan\'s as-of, else the clock.',
        metavar="TIME",
    ),
]
JournalNow = Annotated[
    str,
    typer.Option(
        "--now",
        help='The moment that counts as now, such as "2027-02-20 09:00"; default: the clock.',
        metavar="TIME",
    ),
]
Seed = Annotated[int, typer.Option(help="Seed of every random choice.", min=0, metavar="N")]
Runs = Annotated[
    int, typer.Option(help="Runs of the simulation; 0 leaves it out.", min=0, max=1_000_000, metavar="N")
]
SolverSeconds = Annotated[
    float,
    typer.Option(
        help="How hard to search for a better schedule: about so many seconds, counted in steps, not by the clock.",
        min=0.05,
        max=3600.0,
        metavar="N",
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print the facts as JSON on standard output.")]


def settings_of(now: str, seed: int, runs: int, solver_seconds: float) -> Settings:
    """Make settings of the shared options; the first interrupt ends the search with the best plan found."""
    from moveplan.scheduling.effort import Effort
    from moveplan.stages.reading import Settings

    stop = _Stop()
    effort = Effort(seconds=solver_seconds, seed=seed, interrupted=stop.asked, progress=_progress())
    return Settings(now=moment(now), effort=effort, runs=runs)


def moment(text: str) -> datetime | None:
    """Read the moment of ``--now``."""
    if not text:
        return None
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        message = f'"{text}" is not a moment; write it like 2027-03-13T08:00 or 2027-03-13T08:00+00:00'
        raise typer.BadParameter(message, param_hint="--now") from None


class _Stop:
    """Remembers the first interrupt; a second one ends the program."""

    def __init__(self) -> None:
        self._struck = False
        signal.signal(signal.SIGINT, self._strike)

    def _strike(self, _number: int, _frame: FrameType | None) -> None:
        if self._struck:
            raise KeyboardInterrupt
        self._struck = True
        typer.echo("ending the search with the best plan found; interrupt again to stop at once", err=True)

    def asked(self) -> bool:
        """Whether the search is to end."""
        return self._struck


class _Progress:
    """One line that is written over, on a terminal only, and cut to its width: a broken line cannot be written over."""

    def __init__(self) -> None:
        self._width = 0

    def __call__(self, line: str) -> None:
        shown = line[: max(1, shutil.get_terminal_size().columns - 1)]
        sys.stderr.write("\r" + shown.ljust(self._width))
        sys.stderr.flush()
        self._width = len(shown)


def _writes_over() -> bool:
    """Whether messages go to a terminal that can write over a line."""
    return sys.stderr.isatty() and os.environ.get("TERM") != "dumb"


def _progress() -> _Progress | None:
    return _Progress() if _writes_over() else None


def clear_progress() -> None:
    """Wipe the progress line."""
    if _writes_over():
        sys.stderr.write("\r\033[K")
        sys.stderr.flush()
