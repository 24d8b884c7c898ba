"""YAML as texts: nothing guessed, nothing built, limits kept before time and memory are spent."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from moveplan.planfile import draft, text
from moveplan.planfile.problems import plan_file_error
from moveplan.planfile.text import MOST_BYTES, MOST_ENTRIES, UnreadableError, composed, decoded
from moveplan.planfile.walk import key_lines, plain, spot

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


def refused(content: str) -> list[str]:
    try:
        _root, faults = composed(content)
    except UnreadableError as error:
        faults = error.faults
    return [str(problem) for problem in plan_file_error(faults, "p.yaml").problems]


def test_values_stay_as_they_were_written() -> None:
    root, faults = composed(
        "a: 12:30\nb: no\nc: 010\nd: ~\ne: 1e3\nf: 2027-03-13\ng: 'x'\nh: |\n  two\n  lines\n"
    )
    assert faults == []
    assert plain(root) == {
        "a": "12:30",
        "b": "no",
        "c": "010",
        "d": "~",
        "e": "1e3",
        "f": "2027-03-13",
        "g": "x",
        "h": "two\nlines\n",
    }


def test_lines_are_those_of_the_keys() -> None:
    root, _faults = composed("a:\n  b: 1\n  c:\n    - d: 2\n    - {d: 3,\n       e: 4}\n")
    assert key_lines(root) == {"a": 1, "a.b": 2, "a.c": 3, "a.c.d": 4, "a.c.e": 6}
    assert spot(root, ("a", "c", 1))[0].line == 5
    assert spot(root, ("a", "c", 1, "zzz")) == (spot(root, ("a", "c", 1))[0], ("a", "c", "zzz"))


def test_first_of_two_equal_keys_is_kept() -> None:
    root, faults = composed("a: 1\na: 2\n")
    assert plain(root) == {"a": "1"}
    assert [fault.message for fault in faults] == ["written twice (first at line 1)"]


@pytest.mark.parametrize("opening", ["[", "{a: ", "- ", "? ", "[{", "!!x [", "&a ["])
def test_deep_nesting_ends_early(opening: str) -> None:
    assert refused(f"a: {opening * 100_000}")


def test_too_many_entries() -> None:
    (problem,) = refused("a: [" + "x," * MOST_ENTRIES + "]")
    assert (
        problem == f"p.yaml:1 a: the plan has more than {MOST_ENTRIES} entries; split it into several plans"
    )


def test_too_large() -> None:
    with pytest.raises(UnreadableError) as caught:
        decoded(b"x" * (MOST_BYTES + 1))
    assert caught.value.faults[0].message == "the file is larger than 4 MB"


def test_aliases_are_never_expanded() -> None:
    bomb = "a0: &a0 [x, x]\n" + "".join(f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]\n" for n in range(1, 60))
    root, faults = composed(bomb)
    assert plain(root) == {}
    assert len(faults) == 60 + 2 * 59


def test_objects_are_never_built() -> None:
    marker = "!!python/object/apply:builtins.exit [3]"
    root, faults = composed(f"a: {marker}\nb: !mine x\nc: !!binary aGk=\n")
    assert plain(root) == {}
    assert [fault.line for fault in faults] == [1, 2, 3]


def test_no_more_problems_are_shown_than_can_be_read() -> None:
    problems = refused("".join("a: 1\n" for _ in range(1000)))
    assert len(problems) == 201
    assert problems[-1] == "p.yaml: 799 more problems are not shown; mend these first"


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_loader_without_libyaml_reads_the_same(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    content = path.read_text("utf-8")
    root, faults = composed(content)
    monkeypatch.setattr(text, "_LOADER", yaml.Loader)
    assert composed(content) == (root, faults)


@pytest.mark.parametrize(
    "content", ["a: {", "a: [1", 'a: "x', "a: b: c", "\ta: 1", "a: @x", "a: %x", "- a\nb: 1", "a: *x"]
)
def test_both_loaders_refuse_what_is_no_plan(content: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert refused(content)
    monkeypatch.setattr(text, "_LOADER", yaml.Loader)
    assert refused(content)


def test_sections_that_stay_unsound_are_left_out() -> None:
    # Values are mended one by one; this is what holds if ever one of them is not.
    entry = draft._sound({"title": "A", "places": {"a": {"floor": "high"}}, "people": {"ines": {}}})
    assert (entry.title, entry.places) == ("A", None)
    assert list(entry.people or {}) == ["ines"]
