"""Wrong plan files: the exact lines that are printed, and whether the remedies help.

``cases/NAME.yaml`` is read at 09:00 on 4 January 2027; ``cases/NAME.txt`` holds the lines expected.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
import yaml

from moveplan.errors import PlanFileError, Problem
from moveplan.planfile import read_plan
from moveplan.planfile.sections import by_id
from moveplan.planfile.text import UnreadableError, composed
from moveplan.planfile.walk import plain

CASES = sorted((Path(__file__).parent / "cases").glob("*.yaml"))
NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001
_VALUES = re.compile(r'"((?:[^"\\]|\\.)*)"')


def problems_of(path: Path) -> tuple[Problem, ...]:
    with pytest.raises(PlanFileError) as caught:
        read_plan(path, NOW)
    return caught.value.problems


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_lines_are_as_expected(path: Path) -> None:
    printed = [str(problem).replace(str(path), path.name) for problem in problems_of(path)]
    assert printed == path.with_suffix(".txt").read_text("utf-8").splitlines()


def test_there_are_many_cases() -> None:
    assert len(CASES) >= 100


# A remedy is carried out on the file's content, and the file is read again.


def key_of(problem: Problem) -> str:
    return problem.where.partition(" ")[2]


def content(path: Path) -> dict[str, Any]:
    root, _faults = composed(path.read_text("utf-8"))
    by_id(root)
    whole: dict[str, Any] = plain(root)
    return whole


def holder_of(whole: Any, path: list[str], *, lacking: bool = False) -> Any:
    """Walk to what holds, or lacks, the last key; in a list, to the first such entry."""
    for step in path[:-1]:
        whole = whole[step]
        if isinstance(whole, list):
            rows = [row for row in whole if isinstance(row, dict) and (path[-1] in row) is not lacking]
            whole = rows[0] if rows else whole
    return whole


def read_value(text: str) -> Any:
    root, _faults = composed(f"x: {text}" if text[:1] in "{[" else yaml.safe_dump({"x": text}, width=1000))
    return plain(root)["x"]


def replaced(whole: Any, path: list[str], message: str, value: str) -> None:
    holder = holder_of(whole, path)
    old = holder[path[-1]]
    shown = _VALUES.search(message)
    if isinstance(old, list) and shown and shown[1] in old:
        old[old.index(shown[1])] = value
    elif isinstance(old, list) and value[0] not in "{[" and not message.startswith("a list stands"):
        holder[path[-1]] = [read_value(value)]
    elif isinstance(old, dict) and "rule" in old and value.startswith("FREQ="):
        old["rule"] = value
    else:
        holder[path[-1]] = read_value(value)


def mended(path: Path, problem: Problem) -> Iterator[dict[str, Any]]:
    """Carry a remedy out in every way it offers; nothing where it leaves the way to the keeper."""
    keys = key_of(problem)
    steps = keys.split(".") if keys else []
    offers = [text.replace('\\"', '"') for text in _VALUES.findall(problem.remedy)]
    whole = content(path)
    for offer in offers:
        trial = copy.deepcopy(whole)
        if "is missing" in problem.message and problem.remedy.startswith("add"):
            key, _colon, value = offer.partition(": ")
            if value == "(an id of the plan)":
                continue
            holder_of(trial, [*steps, key], lacking=True)[key] = read_value(value)
        elif problem.message.startswith("no such ") or "is not a day of the week" in problem.message:
            holder = holder_of(trial, steps)
            holder[offer] = holder.pop(steps[-1])
        elif problem.remedy.startswith(("write", "did you mean")) and steps:
            replaced(trial, steps, problem.message, offer)
        else:
            continue
        yield trial


def remedies() -> Iterator[Any]:
    for path in CASES:
        try:
            content(path)
        except UnreadableError:
            continue
        problems = problems_of(path)
        for problem in problems:
            for number, trial in enumerate(mended(path, problem)):
                yield pytest.param(
                    problem, problems, trial, id=f"{path.stem}-{problem.message[:30]}-{number}"
                )


TRIALS = list(remedies())


@pytest.mark.parametrize(("problem", "others", "trial"), TRIALS)
def test_remedy_helps(
    problem: Problem, others: tuple[Problem, ...], trial: dict[str, Any], tmp_path: Path
) -> None:
    file = tmp_path / "mended.yaml"
    file.write_text(yaml.safe_dump(trial, sort_keys=False, default_style='"', width=1000), "utf-8")
    try:
        read_plan(file, NOW)
        left: tuple[Problem, ...] = ()
    except PlanFileError as error:
        left = error.problems
    key = key_of(problem)
    before = {other.message for other in others if key_of(other) == key} - {problem.message}
    assert {other.message for other in left if key_of(other) == key} <= before


def test_many_remedies_are_tried() -> None:
    assert len(TRIALS) >= 100
