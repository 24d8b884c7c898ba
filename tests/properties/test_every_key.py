"""The campaign of hostile values at every key leaves nothing out, and tells what is at fault."""

from __future__ import annotations

from pathlib import Path

import pytest

from moveplan.planfile.text import composed
from moveplan.planfile.walk import plain
from tests.properties import every_key
from tests.properties.every_key import Case, campaign, cases, kind, tried
from tests.properties.hostile import CONTENTS, DELETE, EXAMPLES, VALUES, changed, places_in

TITLE = Case(0, ("title",), "")


def test_each_value_stands_at_each_key_and_first_at_each_kind_of_key() -> None:
    every = cases(deletions=False)
    assert len(every) == len(VALUES) * sum(len(list(places_in(content))) for content in CONTENTS)
    kinds = {kind(case.place) for case in every}
    first = every[: len(kinds) * len(VALUES)]
    assert {kind(case.place) for case in first} == kinds
    assert len({(kind(case.place), VALUES.index(case.value)) for case in first}) == len(first)
    assert {case.place for case in cases(deletions=True)} == {case.place for case in every}


def test_names_of_the_keeper_are_no_kind_of_key() -> None:
    assert kind(("systems", "reef", "tank", "length")) == ("systems", "*", "tank", "length")
    assert kind(("people", "ana", "away", 0)) == ("people", "*", "away", "*")


@pytest.mark.parametrize("value", [DELETE, "12", [], {"": ""}])
def test_a_case_is_written_as_it_is(value: object) -> None:
    case = Case(0, ("title",), value)
    assert plain(composed(case.content().decode())[0]) == changed(CONTENTS[0], ("title",), value)


def test_what_is_at_fault_is_counted_and_kept(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    def attempt(case: Case) -> int:
        if case.place == ("title",):
            raise KeyError("nothing of that name")
        return 2

    todo = [Case(0, ("purpose",), ""), TITLE, Case(0, ("purpose",), "x")]
    statuses, faults = campaign(todo, attempt, 60.0, tmp_path)
    assert (dict(statuses), faults) == ({2: 2}, 1)
    assert (tmp_path / "fault1.yaml").read_bytes() == TITLE.content()
    assert f"fault 1 at case 1: {EXAMPLES[0].stem} title: ''" in capsys.readouterr().out


def test_a_case_that_never_ends_is_at_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def endless(content: bytes) -> int:
        while True:
            pass

    monkeypatch.setattr(every_key, "check", endless)
    monkeypatch.setattr(every_key, "most_s", lambda: 0.05)
    assert campaign([TITLE], tried, 60.0, tmp_path)[1] == 1


def test_no_case_is_begun_after_the_time_is_over(tmp_path: Path) -> None:
    assert campaign([TITLE], tried, -1.0, tmp_path) == ({}, 0)


def test_a_sound_case_is_checked() -> None:
    assert tried(Case(0, ("title",), "Another title")) == 0
    assert tried(Case(0, ("purpose",), "another purpose")) == 2
