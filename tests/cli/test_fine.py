"""Figures that are finer than what they rest on are found; what commands print has none."""

from __future__ import annotations

import pytest

from tests.cli.command import EXAMPLES, Run
from tests.cli.fine import too_fine


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("9.61 % of the runs", 1),
        ("61 % of the runs, 1 in 15", 0),
        ("the bill is €243.53", 1),
        ("the bill is about €245", 0),
        ("settled 19:54", 1),
        ("settled 19:55", 0),
        ("safe for 11 h 23 min", 1),
        ("wait 3 min", 0),
        ("a drive of 38 min, as the plan says", 0),
        ("<html><td class=price>€3.20</td><td>€3.20</td></html>", 1),
    ],
)
def test_what_is_too_fine_is_found(text: str, found: int) -> None:
    assert len(too_fine(text, "drive: {likely: 38 min}")) == found


@pytest.mark.parametrize("name", ["short_plan", "tight_day"])
def test_the_terminal_tells_no_more_than_is_known(run: Run, name: str) -> None:
    (plan,) = (one for one in EXAMPLES if one.stem == name)
    for command in (("show", plan, "--solver-seconds", "0.2"), ("check", plan)):
        assert too_fine(run(*command).out, plan.read_text("utf-8")) == []
