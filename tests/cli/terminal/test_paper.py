"""Texts in a terminal: broken to its width there, whole in a pipe, and readable without colour everywhere."""

from __future__ import annotations

import os
import select
import subprocess
import sys

import pytest

from moveplan.cli.terminal.paper import laid_out
from tests.cli.command import ROOT, Run

LONGEST_S = 60


def on_a_terminal(columns: int, *arguments: str) -> str:
    """Run the command line with its output on a terminal."""
    terminal, inside = os.openpty()
    child = subprocess.Popen(
        [sys.executable, "-m", "moveplan", *arguments],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": str(columns), "TERM": "xterm-256color"},
        stdout=inside,
        stderr=subprocess.DEVNULL,
    )
    os.close(inside)
    said = b""
    while select.select([terminal], [], [], LONGEST_S)[0]:
        try:
            said += os.read(terminal, 65536)
        except OSError:  # the other side is gone
            break
    os.close(terminal)
    assert child.wait(LONGEST_S) == 0
    return said.decode().replace("\r\n", "\n")


@pytest.mark.parametrize("columns", [40, 80, 120])
def test_check_fits_the_terminal(columns: int) -> None:
    text = on_a_terminal(columns, "check", "examples/short_plan.yaml")
    words = [word for line in text.splitlines() if len(line) > columns for word in line.split()]
    assert all(len(word) > columns - 12 for word in words), words
    assert "\x1b" not in text
    assert "Assumed (" in text


def test_the_same_words_whatever_the_width(run: Run) -> None:
    piped = run("check", "examples/short_plan.yaml").out
    assert on_a_terminal(50, "check", "examples/short_plan.yaml").split() == piped.split()
    assert max(map(len, piped.splitlines())) > 120


@pytest.mark.parametrize(
    "command", ["", "new", "check", "build", "show", "why", "weigh", "log", "next", "schema"]
)
def test_help_has_an_example_and_no_colour(run: Run, command: str) -> None:
    ran = run(*filter(None, (command, "--help")))
    assert (ran.status, ran.err) == (0, "")
    assert "Example: moveplan " in ran.out
    assert "\x1b" not in ran.out


def test_lines_are_broken_between_words_under_their_beginning() -> None:
    text = "short\n\n    - a chain of words that is long: with  two spaces, and /a/path/that/is/longer/than/the/line\n"
    assert laid_out(text, 40) == (
        "short\n\n    - a chain of words that is long:\n        with  two spaces, and\n"
        "        /a/path/that/is/longer/than/the/line\n"
    )
    assert laid_out("a b\nc", 1) == "a b\nc"


def test_what_show_says_first_is_the_moving_day_and_then_by_when_it_was_reckoned(run: Run) -> None:
    said = run("show", str(ROOT / "examples" / "small_tank_move.yaml"), "--solver-seconds", "0.1").out
    assert "\nPlanned for Saturday 29 May 2027, as of Monday 15 March 2027, 09:00 (" in said
