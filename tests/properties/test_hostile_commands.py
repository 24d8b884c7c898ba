"""Whole processes fed with heaps: an end within ten seconds and a gibibyte, and a sentence, never a traceback.

The seconds are those of a usual machine: bounds.py.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.properties.bounds import MOST_KIB, most_s
from tests.properties.hostile import CASES, CONTENTS, EXAMPLES, VALUES, changed, extremes, places_in, written

ROOT = Path(__file__).parents[2]
QUICK = ("--solver-seconds", "0.2", "--runs", "0")
HEAD = """\
title: A move
purpose: house-move
as-of: 2027-01-04 09:00
timezone: Europe/Dublin
dates: {move-day: 2027-03-13}
places: {old: {}, new: {distance: 20 km}}
systems: {reef: {tank: {length: 120 cm, width: 60 cm, height: 55 cm}}}
"""
LARGEST = HEAD.replace("length: 120 cm, width: 60 cm, height: 55 cm", "length: 5 m, width: 2 m, height: 1 m")
"""With the largest tank that is taken, of 10,000 l, in which the most animals and the largest sump can be meant."""
TEN_THOUSAND = "livestock: {clowns: {kind: clownfish, count: 10000}}\n"
CREW = "people: {ana: {drives: yes}, ben: {}}\nvehicles: {van: {payload: 1000 kg}}\n"
OWN = "title: Tasks\npurpose: own-tasks\ntimezone: Europe/Dublin\nstart: 2027-03-01 08:00\n"


@dataclass(frozen=True, slots=True)
class Ended:
    """What a process left behind, and what it took."""

    status: int
    said: str
    cpu_s: float
    peak_kib: int


def moveplan(folder: Path, *arguments: str) -> Ended:
    """Run the command line in a process of its own."""
    with (folder / "said").open("wb") as said:
        child = subprocess.Popen(
            [sys.executable, "-m", "moveplan", *arguments],
            cwd=folder,
            env=dict(os.environ) | {"PYTHONPATH": str(ROOT)},
            stdout=said,
            stderr=subprocess.STDOUT,
        )
        _pid, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
    text = (folder / "said").read_text("utf-8")
    (folder / "said").unlink()
    return Ended(child.returncode, text, used.ru_utime + used.ru_stime, used.ru_maxrss)


def assert_sentence(ended: Ended, *statuses: int) -> None:
    assert ended.status in statuses, ended.said[-2000:]
    assert "Traceback" not in ended.said
    assert "a fault in moveplan itself" not in ended.said
    assert ended.said.strip()
    assert ended.cpu_s < most_s()
    assert ended.peak_kib < MOST_KIB


HEAPS = {
    "a text of 10 MB": HEAD + "address: " + "x" * 10_000_000,
    "a text of 3 MB": HEAD + 'contacts: {vet: {role: "' + "x" * 3_000_000 + '"}}\n',
    "100,000 animals in one group": HEAD + "livestock: {clowns: {kind: clownfish, count: 100000}}\n",
    "100,000 groups of animals": HEAD
    + "livestock:\n"
    + "".join(f"  a{n}: {{kind: goby}}\n" for n in range(100_000)),
    "100,000 keys that are none": HEAD + "".join(f"k{n}: 1\n" for n in range(100_000)),
    "aliases that double": "a0: &a0 [x, x]\n"
    + "".join(f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]\n" for n in range(1, 99)),
    "brackets without end": HEAD + "gear: " + "[" * 1_000_000,
    "braces without end": HEAD + "gear: " + "{a: " * 500_000,
    "indentation without end": HEAD + "".join(f"{' ' * n}a:\n" for n in range(1200)),
    "tags that build objects": HEAD + 'gear: !!python/object/apply:os.system ["touch built"]\n',
    "a map of two million nothings": "? " * 2_000_000,
    "null characters": "\x00" * 1_000_000,
    "a comment of 3 MB": HEAD + "#" * 3_000_000,
}


@pytest.mark.parametrize("name", list(HEAPS) if CASES else list(HEAPS)[::2])
def test_heaps_are_refused(name: str, tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text(HEAPS[name], "utf-8")
    statuses = (0,) if "comment" in name else (2,)
    assert_sentence(moveplan(tmp_path, "check", "plan.yaml"), *statuses)
    assert [file.name for file in tmp_path.iterdir()] == ["plan.yaml"]


def test_one_build_is_enough_for_a_heap(tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text(HEAPS["100,000 animals in one group"], "utf-8")
    assert_sentence(moveplan(tmp_path, "build", "plan.yaml", "--out", "out", *QUICK), 2)
    assert [file.name for file in tmp_path.iterdir()] == ["plan.yaml"]


MOST = {
    "as many groups as are taken": HEAD
    + "livestock:\n"
    + "".join(f"  a{n}: {{kind: goby}}\n" for n in range(1000)),
    "as many animals as are taken": LARGEST + TEN_THOUSAND,
    "as much gear as is taken": HEAD
    + "gear:\n"
    + "".join(f"  tub{n}: {{kind: tub, count: 100000}}\n" for n in range(50)),
    "as many own tasks as are taken": OWN
    + "tasks:\n"
    + "".join(f"  t{n}: {{duration: 1 h}}\n" for n in range(20_000)),
}


@pytest.mark.parametrize("name", list(MOST) if CASES else list(MOST)[1:])
def test_as_much_as_is_taken(name: str, tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text(MOST[name], "utf-8")
    assert_sentence(moveplan(tmp_path, "check", "plan.yaml"), 0, 1)


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(LARGEST.replace("1 m}}}", "1 m}, sump: 40000 l}}"), id="a sump of 40,000 l"),
        pytest.param(LARGEST + TEN_THOUSAND, id="10,000 fish"),
        pytest.param(HEAD.replace("55 cm}}}", "55 cm}, sump: 0.001 l}}"), id="a sump of 1 ml"),
    ],
)
def test_builds_of_moves_far_too_large_or_small(text: str, tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text(text + CREW, "utf-8")
    ended = moveplan(tmp_path, "build", "plan.yaml", "--out", "out", *QUICK)
    assert_sentence(ended, 0, 1)
    assert (tmp_path / "out" / "index.html").is_file()


@pytest.mark.parametrize(
    ("text", "key"),
    [
        pytest.param(
            HEAD.replace("55 cm}}}", "55 cm}, sump: 100000 l}}"),
            "systems.reef.sump",
            id="a sump of 100,000 l",
        ),
        pytest.param(HEAD + TEN_THOUSAND, "livestock.clowns.count", id="10,000 fish"),
    ],
)
def test_what_cannot_be_meant_of_a_tank_is_asked_about(text: str, key: str, tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text(text + CREW, "utf-8")
    ended = moveplan(tmp_path, "build", "plan.yaml", "--out", "out", *QUICK)
    assert_sentence(ended, 2)
    assert f" {key}: do" in ended.said
    assert "a tank of 396 l" in ended.said
    assert [file.name for file in tmp_path.iterdir()] == ["plan.yaml"]


def test_builds_of_plans_from_the_ends_of_what_is_taken(tmp_path: Path) -> None:
    draw = random.Random(CASES)
    for number in range(max(3, CASES // 1000)):
        content = draw.choice(CONTENTS)
        for _ in range(draw.randint(1, 3)):
            place = draw.choice(list(places_in(content)))
            content = changed(content, place, draw.choice([*extremes(place), draw.choice(VALUES)]))
        folder = tmp_path / str(number)
        folder.mkdir()
        (folder / "plan.yaml").write_bytes(written(content))
        ended = moveplan(folder, "build", "plan.yaml", "--out", "out", "--now", "2027-01-04T09:00", *QUICK)
        assert_sentence(ended, 0, 1, 2)
        assert (folder / "out").exists() is (ended.status != 2)


def test_there_are_examples() -> None:
    assert len(EXAMPLES) >= 3
