"""Lists and spans in messages."""

from __future__ import annotations

from dataclasses import replace

from moveplan.network.words import listed, named, said, worked
from tests.network.builders import task


def test_a_list_as_long_as_may_be_shown_is_whole_and_a_longer_one_keeps_both_ends() -> None:
    assert listed([str(number) for number in range(1, 9)]) == "1, 2, 3, 4, 5, 6, 7 and 8"
    assert listed([str(number) for number in range(1, 10)]) == "1, 2, 3, 4, 5, 6, 2 more and 9"
    assert listed(["a", "b", "c", "d"], 3) == "a, 2 more and d"
    assert listed(["a", "b"]) == "a and b"
    assert listed([]) == ""


def test_spans_at_their_edges() -> None:
    assert [said(minutes) for minutes in (59, 60, 61, 1439, 1440, 1500, -90)] == [
        "59 min",
        "1 h",
        "1 h 1 min",
        "23 h 59 min",
        "1 day",
        "1 day 1 h",
        "-1 h 30 min",
    ]
    assert [worked(minutes) for minutes in (0, 60, 2880)] == ["0 min", "1 h", "48 h"]


def test_a_task_is_named_by_its_title_or_else_by_its_id() -> None:
    titled = replace(task("catch-fish", 30), title="Catch the fish")
    assert (named(titled), named(task("catch-fish", 30))) == ("“Catch the fish”", "catch-fish")
