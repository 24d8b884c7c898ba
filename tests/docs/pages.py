"""What README.md and DEVELOPERS.md show: their commands, and the output printed below them.

``python -m tests.docs.pages`` writes the present output into the pages again.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAGES = ("README.md", "DEVELOPERS.md")
BLOCK = re.compile(r"^```(?P<kind>\w+)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL)
PRINTED_WITH = re.compile(r"^Printed with (.+); other versions may choose other hours\.$", re.MULTILINE)
LIBRARIES = ("ortools", "numpy", "babel", "holidays")
"""What the hours and words of a schedule depend on beside the program."""
CUT = "…"
"""A line of this stands for lines of the output that the page leaves out."""


_SPAN = re.compile(r"\d+ (weeks?|days?|h|min)\b(?: \d+ (weeks?|days?|h|min)\b)*")
_DAY = re.compile(r"\b(Mon|Tue|Wed|Thu|Fri|Sat|Sun)\w*\b,?")
_NUMBER = re.compile(r"[\d.,:]*\d[.,]?")


@dataclass(frozen=True, slots=True)
class Shown:
    """A command of a page with the output that the page shows."""

    page: str
    command: str
    lines: tuple[str, ...]


def blocks(page: str, kind: str) -> list[str]:
    """Give the texts of all fenced blocks of one kind."""
    text = (ROOT / page).read_text("utf-8")
    return [found["text"] for found in BLOCK.finditer(text) if found["kind"] == kind]


def shown() -> Iterator[Shown]:
    """Give every ``$ moveplan`` of the pages with what stands below it."""
    for page in PAGES:
        for text in blocks(page, "console"):
            first, *lines = text.splitlines()
            yield Shown(page, first.removeprefix("$ "), tuple(lines))


def printed(command: str) -> list[str]:
    """Run a command where a copy of the examples lies, and give what it prints."""
    program, *arguments = command.split()
    if program != "moveplan":
        msg = f"the pages show moveplan only, not {program}"
        raise ValueError(msg)
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(ROOT / "examples", Path(folder) / "examples")
        ran = subprocess.run(
            [sys.executable, "-m", "moveplan", *arguments],
            cwd=folder,
            env=dict(os.environ) | {"PYTHONPATH": str(ROOT), "COLUMNS": "100"},
            capture_output=True,
            text=True,
            encoding="utf-8",
            timeout=240,
            check=False,
        )
    if ran.stderr:
        raise ValueError(ran.stderr)
    return ran.stdout.rstrip("\n").split("\n")


def cut(lines: list[str], like: tuple[str, ...]) -> list[str]:
    """Leave out of an output what the page leaves out: all between a head and a tail of the same lengths."""
    if CUT not in like:
        return lines
    head = like.index(CUT)
    tail = len(like) - head - 1
    return [*lines[:head], CUT, *lines[len(lines) - tail :]]


def versions() -> str:
    """Say which libraries are installed."""
    return ", ".join(f"{name} {version(name)}" for name in LIBRARIES)


def as_printed_here() -> bool:
    """Tell whether the pages were printed with the libraries that are installed."""
    found = PRINTED_WITH.search((ROOT / PAGES[0]).read_text("utf-8"))
    return found is not None and found[1] == versions()


def without_hours(lines: Iterable[str]) -> list[str]:
    """Leave out of an output what another version of a library may choose otherwise."""
    masked = (_NUMBER.sub("0", _DAY.sub("Day", _SPAN.sub("so long", line))) for line in lines)
    return [" ".join(line.split()) for line in masked]


def refresh() -> None:
    """Write the present output of every command into the pages."""
    for page in PAGES:
        path = ROOT / page
        text = path.read_text("utf-8")
        for one in [one for one in shown() if one.page == page]:
            old = "\n".join((f"$ {one.command}", *one.lines))
            new = "\n".join((f"$ {one.command}", *cut(printed(one.command), one.lines)))
            text = text.replace(f"```console\n{old}\n```", f"```console\n{new}\n```")
        note = f"Printed with {versions()}; other versions may choose other hours."
        path.write_text(PRINTED_WITH.sub(note, text), encoding="utf-8")


if __name__ == "__main__":
    refresh()
