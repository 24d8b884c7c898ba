"""What README.md, DEVELOPERS.md and the guide show: their commands, and the output printed below them.

``python -m tests.docs.pages`` writes the present output into the pages again, and their tables and picture.
"""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.metadata import version
from pathlib import Path

from tests.docs import tables
from tests.docs.picture import PICTURE, PLAN, PLAN_OUT, whereabouts
from tests.quoted import quoted

ROOT = Path(__file__).parents[2]
GUIDE = tuple(sorted(str(page.relative_to(ROOT)) for page in (ROOT / "moveplan" / "guide").glob("*.md")))
PAGES = ("README.md", "DEVELOPERS.md", *GUIDE)
TABLES: Mapping[str, Callable[[], str]] = {
    "plan-file reference": tables.reference,
    "limits": tables.limits,
    "price book": tables.prices,
    "order": tables.order,
}
"""What stands in a page between ``<!-- NAME: begin -->`` and ``<!-- NAME: end -->``."""
MADE = re.compile(r"<!-- (?P<name>[a-z -]+): begin -->\n(?P<text>.*?)<!-- (?P=name): end -->", re.DOTALL)
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


def made() -> Iterator[tuple[str, str, str]]:
    """Give every table of the pages that is written by this program: its page, its name, its text."""
    for page in PAGES:
        for found in MADE.finditer((ROOT / page).read_text("utf-8")):
            yield page, found["name"], found["text"]


def carried_out(command: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run a command of a page in a folder."""
    program, *arguments = shlex.split(command)
    if program != "moveplan":
        msg = f"the pages show moveplan only, not {program}"
        raise ValueError(msg)
    return subprocess.run(
        [sys.executable, "-m", "moveplan", *arguments],
        cwd=folder,
        env=dict(os.environ) | {"PYTHONPATH": str(ROOT), "COLUMNS": "100"},
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=240,
        check=False,
    )


@cache
def tried(command: str) -> tuple[str, str]:
    """Run a command where a copy of the examples lies, once; give what it prints, and the page that it writes."""
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(ROOT / "examples", Path(folder) / "examples")
        ran = carried_out(command, Path(folder))
        if ran.stderr:
            raise ValueError(ran.stderr)
        pages = [quoted(page.read_text("utf-8")) for page in (Path(folder) / "out").rglob("index.html")]
    return ran.stdout, "".join(pages)


def printed(command: str) -> list[str]:
    """Give what a command prints."""
    return tried(command)[0].rstrip("\n").split("\n")


def pictured() -> str:
    """Cut the picture out of the page that the first command of README.md builds."""
    return whereabouts(tried(f"moveplan build {PLAN} --out {PLAN_OUT}")[1])


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
    """Write the present output of every command, every table and the picture."""
    for page in PAGES:
        path = ROOT / page
        text = path.read_text("utf-8")
        for one in [one for one in shown() if one.page == page]:
            old = "\n".join((f"$ {one.command}", *one.lines))
            new = "\n".join((f"$ {one.command}", *cut(printed(one.command), one.lines)))
            text = text.replace(f"```console\n{old}\n```", f"```console\n{new}\n```")
        text = MADE.sub(_made_again, text)
        note = f"Printed with {versions()}; other versions may choose other hours."
        path.write_text(PRINTED_WITH.sub(note, text), encoding="utf-8")
    (ROOT / PICTURE).write_text(pictured(), encoding="utf-8")


def _made_again(found: re.Match[str]) -> str:
    name = found["name"]
    return f"<!-- {name}: begin -->\n{TABLES[name]()}<!-- {name}: end -->"


if __name__ == "__main__":
    refresh()
