"""What people read stays readable: on a narrow terminal, without signs of its own, and in plain sentences."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from moveplan.cli.app import app
from moveplan.cli.recording import log
from moveplan.cli.terminal.paper import laid_out
from moveplan.cli.terminal.signs import shown
from tests.cli.command import ROOT, Run

NARROW = 40
RECORDS = [f"record {one.name}" for one in log.app.registered_commands]
GUIDE = sorted((ROOT / "moveplan" / "guide").glob("*.md"))


@pytest.mark.parametrize(
    "command", [("check", "short_plan"), ("kinds",), ("kinds", "frogspawn"), ("--help",)]
)
def test_lines_fit_a_narrow_terminal(run: Run, command: tuple[str, ...]) -> None:
    """Only what has no space in it may stick out: ids, paths and addresses are copied whole."""
    for line in laid_out(run(*command).out, NARROW).splitlines():
        if len(line) > NARROW and command != ("--help",):
            assert len(line.split()) <= 2, line


COMMANDS = [""] + [str(one.name) for one in app.registered_commands] + ["record", *RECORDS]


@pytest.mark.parametrize("command", COMMANDS)
def test_help_fits_a_phone(run: Run, monkeypatch: pytest.MonkeyPatch, command: str) -> None:
    """What is written after an option, quoted as it is typed, stays whole."""
    monkeypatch.setenv("COLUMNS", str(NARROW))
    told = run(*command.split(), "--help").out
    wide = [line for line in told.splitlines() if len(line) > NARROW and not line.endswith("'")]
    assert "--help" in told
    assert wide == []


def test_a_terminal_without_long_dashes_is_told_the_same() -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "moveplan", "check", "examples/house_move.yaml"],
        cwd=ROOT,
        env={"PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "latin-1", "PATH": ""},
        capture_output=True,
        timeout=120,
        check=False,
    )
    assert ran.returncode == 0
    text = ran.stdout.decode("latin-1")
    assert "Quantities (low - likely - high)" in text
    assert re.search(r"\d \? \d", text) is None


@pytest.mark.parametrize(
    ("sign", "expected"), [("–", "-"), ("é", "e"), ("“", '"'), ("€", "EUR "), ("鰭", "?"), ("ß", "ss")]
)
def test_the_nearest_sign(sign: str, expected: str) -> None:
    assert shown(sign) == expected


# Readability, by a plain count: words a sentence, and letters a word.


def sentences(text: str) -> list[list[str]]:
    """Sentences of the running text: without code, tables, headings and links' addresses."""
    text = re.sub(r"```.*?```|<!--.*?-->", "", text, flags=re.DOTALL)
    text = re.sub(r"^(\||#|    ).*$", "", text, flags=re.MULTILINE)
    text = re.sub(r"`[^`]*`", "name", re.sub(r"\]\([^)]*\)", "]", text))
    parts = re.split(r"(?<=[.!?:;])\s+|\n\s*\n|\n\s*[-*\d.]+\s", text)
    found = [re.findall(r"[A-Za-z][A-Za-z'-]*", part) for part in parts]
    return [words for words in found if len(words) > 2]


def measured(path: Path) -> tuple[float, float]:
    """Mean words a sentence, and share of words of ten letters or more."""
    rows = sentences(path.read_text("utf-8"))
    words = [word for row in rows for word in row]
    return sum(map(len, rows)) / len(rows), sum(len(word) > 9 for word in words) / len(words)


@pytest.mark.parametrize("page", [ROOT / "README.md", *GUIDE], ids=lambda path: path.name)
def test_pages_are_written_in_short_sentences_and_words(page: Path) -> None:
    """Means of general prose are 15 to 20 words a sentence (recalled); the bars leave little above that."""
    length, long_words = measured(page)
    print(f"{page.name}: {length:.1f} words a sentence, {100 * long_words:.1f} % long words")  # noqa: T201
    assert length < 16
    assert long_words < 0.1
