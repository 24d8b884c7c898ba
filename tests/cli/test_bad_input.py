"""Wrong plan files and wrong command lines: whole texts, exit status, and nothing written."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.command import ROOT, Run
from tests.cli.contract import faults

CASES = sorted((ROOT / "tests" / "planfile" / "cases").glob("*.yaml"))
NOW = ("--now", "2027-01-04T09:00")

HEAD = """\
title: A move
purpose: house-move
as-of: 2027-01-04 09:00
timezone: Europe/Dublin
dates: {move-day: 2027-03-13}
places:
  old: {floor: 1, steps: 14}
  new: {distance: 31 km}
systems:
  reef:
    tank: {length: 150 cm, width: 60 cm, height: 60 cm, wall: 12 mm, base: 12 mm}
    rock: 40 kg
"""
WRONG = {
    "a list where keys belong": (
        HEAD.replace(
            "{length: 150 cm, width: 60 cm, height: 60 cm, wall: 12 mm, base: 12 mm}", "[150 cm, 60 cm]"
        ),
        [
            "plan.yaml:11 systems.reef.tank: a list stands where keys with values belong; the keys here are length, "
            "width, height, wall, base, material, water-height",
        ],
    ),
    "a key written twice": (
        HEAD + "title: Another move\n",
        ["plan.yaml:13 title: written twice (first at line 1); keep one"],
    ),
    "anchors that explode": (
        "a: &a [x, x, x]\nb: &b [*a, *a, *a]\n" + HEAD,
        [
            'plan.yaml:1 a: the anchor "&a" is not read in a plan; remove it',
            'plan.yaml:2 b: "*a" repeats another place of the file; write the value out',
            'plan.yaml:2 b: the anchor "&b" is not read in a plan; remove it',
        ],
    ),
    "a negative volume": (
        HEAD + "    sump: -80 l\n",
        ['plan.yaml:13 systems.reef.sump: "-80 l" is less than 0 l; write "0 l" or more'],
    ),
    "a date that does not exist": (
        HEAD.replace("2027-03-13", "2027-02-30"),
        ["plan.yaml:5 dates.move-day: 2027-02-30 is not a date; February 2027 has 28 days"],
    ),
    "two people with one id": (
        HEAD + "people:\n  ana: {drives: yes}\n  ana: {}\n",
        ["plan.yaml:15 people.ana: written twice (first at line 14); keep one"],
    ),
    "an animal whose name is only begun": (
        HEAD + "livestock:\n  unicorn: {kind: unicorn, count: 1, size: 7 cm}\n",
        [
            'plan.yaml:14 livestock.unicorn.kind: no kind of animal is called "unicorn"; '
            'did you mean "unicornfish"?',
        ],
    ),
    "an animal of no known kind": (
        HEAD + "livestock:\n  griffin: {kind: griffin, count: 1, size: 7 cm}\n",
        [
            'plan.yaml:14 livestock.griffin.kind: no kind of animal is called "griffin"; write a kind such as '
            "clownfish, goby, snail, cleaner-shrimp, soft-coral, large-polyp-coral",
        ],
    ),
    "not YAML": ("title: 'A move\n", ["plan.yaml:2: the file ends inside a quoted text; close the quotes"]),
}


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_every_problem_is_printed_with_its_place(run: Run, path: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    ran = run("build", path, "--out", out, *NOW)
    wanted = path.with_suffix(".txt").read_text("utf-8").splitlines()
    noun = "problem" if len(wanted) == 1 else "problems"
    assert ran.err.replace(str(path), path.name).splitlines() == [
        *wanted,
        f"{len(wanted)} {noun} in {path.name}; nothing was written.",
    ]
    assert (ran.status, ran.out) == (2, "")
    assert not out.exists()


@pytest.mark.parametrize(("text", "wanted"), WRONG.values(), ids=WRONG.keys())
def test_wrong_plan(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, wanted: list[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("plan.yaml").write_text(text, encoding="utf-8")
    ran = run("build", "plan.yaml", "--out", "out", *NOW)
    noun = "problem" if len(wanted) == 1 else "problems"
    assert ran.err.splitlines() == [*wanted, f"{len(wanted)} {noun} in plan.yaml; nothing was written."]
    assert (ran.status, ran.out) == (2, "")
    assert [file.name for file in tmp_path.iterdir()] == ["plan.yaml"]


def test_a_move_day_before_now(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("plan.yaml").write_text(HEAD, encoding="utf-8")
    ran = run("build", "plan.yaml", "--out", "out", "--now", "2027-06-01T08:00")
    assert ran.err.splitlines() == [
        "plan.yaml:5 dates.move-day: 2027-03-13 is before now, 2027-06-01 08:00; write a day that lies ahead",
        "1 problem in plan.yaml; nothing was written.",
    ]
    assert (ran.status, ran.out) == (2, "")
    assert not Path("out").exists()


FILES = {
    "nothing there": (None, "plan.yaml: there is no such file; look at the name and the folder"),
    "not text": (b"\xff\xfe\xff", "plan.yaml:1: byte 0xFF is not UTF-8 text; save the file as UTF-8"),
    "null characters": (
        b"\x00\x01",
        "plan.yaml:1: the line holds the control character U+0000; remove it",
    ),
}


@pytest.mark.parametrize("command", ["check", "build", "show", "why"])
@pytest.mark.parametrize(("content", "wanted"), FILES.values(), ids=FILES.keys())
def test_a_file_that_cannot_be_read(
    run: Run,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    command: str,
    content: bytes | None,
    wanted: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    if content is not None:
        Path("plan.yaml").write_bytes(content)
    more = {"build": ("--out", "out"), "why": ("make-water",)}.get(command, ())
    ran = run(command, "plan.yaml", *more)
    assert ran.err.splitlines() == [wanted, "1 problem in plan.yaml; nothing was written."]
    assert (ran.status, ran.out) == (2, "")
    assert not Path("out").exists()


def test_a_folder_is_no_plan(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("plan.yaml").mkdir()
    ran = run("check", "plan.yaml")
    assert ran.err.splitlines() == [
        "plan.yaml: this is not a plain file; name a plan file",
        "1 problem in plan.yaml; nothing was written.",
    ]
    assert ran.status == 2


LINES = {
    "no command of that name": (("frob",), "Error: No such command 'frob'."),
    "no plan": (("check",), "Error: Missing argument 'PLAN...'."),
    "no folder": (("build", "plan.yaml"), "Error: Missing option '--out' / '-o'."),
    "no task": (("why", "plan.yaml"), "Error: Missing argument 'TASK'."),
    "not a moment": (
        ("show", "plan.yaml", "--now", "tomorrow"),
        'Error: Invalid value for --now: "tomorrow" is not a moment; write it like 2027-03-13T08:00 or '
        "2027-03-13T08:00+00:00",
    ),
    "no such option": (("show", "plan.yaml", "--colour"), "Error: No such option: --colour"),
}


@pytest.mark.parametrize(("arguments", "wanted"), LINES.values(), ids=LINES.keys())
def test_wrong_command_line(run: Run, arguments: tuple[str, ...], wanted: str) -> None:
    ran = run(*arguments)
    assert ran.err.splitlines()[-1] == wanted
    assert (ran.status, ran.out) == (2, "")


HOURS = "hours: {mon-sun: 18:00-21:00}, moving-day: 06:30-23:00"
CARRIER = f"{{lifts: yes, drives: no, cares: no, {HOURS}, cost: 25.00 per hour}}"
"""What to write for somebody who comes and carries."""
CARRIERS = (
    "two carriers come for the day, with lifters (680 EUR with lifters and straps; settled by Sat, 13 Mar, 16:50) "
    f'(tried, it works); write "people.carrier-1: {CARRIER}" and "people.carrier-2: {CARRIER}"'
)
"""The same beside the problem."""
CANNOT = {
    "a vehicle too small for the tank": (
        "people:\n  ana: {drives: yes}\n  ben: {}\n"
        "vehicles:\n  car: {payload: 350 kg, load-space: {length: 1.4 m, width: 1 m, height: 0.8 m}}\n",
        {
            "message": "the empty tank (150 cm × 60 cm × 60 cm, 100 kg) goes into no vehicle of the plan: "
            "the load space of Car is 140 cm × 100 cm × 80 cm",
            "where": "plan.yaml:16",
            "key": "vehicles",
            "remedy": "name a vehicle with a larger load space or payload under vehicles",
        },
    ),
    "one person where a lift needs two": (
        "people:\n  ana: {drives: yes}\n"
        "vehicles:\n  van: {payload: 1350 kg, load-space: {length: 3.4 m, width: 1.6 m, height: 1.8 m}}\n",
        {
            "message": "an empty tank of 100 kg needs 3 people who lift, with suction lifters and straps; "
            "the plan has 1",
            "where": "plan.yaml:13",
            "key": "people",
            "remedy": f'write "people.carrier-1: {CARRIER}" and "people.carrier-2: {CARRIER}" (two carriers come for '
            "the day, with lifters; tried: 680 EUR with lifters and straps; settled by 2027-03-13 16:50); or "
            'add 2 more people with "lifts: yes" under people, for the moving day at least',
        },
    ),
}


@pytest.mark.parametrize(("more", "reason"), CANNOT.values(), ids=CANNOT.keys())
def test_what_cannot_be_done_is_said_plainly(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, more: str, reason: dict[str, str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("plan.yaml").write_text(HEAD + more, encoding="utf-8")
    ran = run("build", "plan.yaml", "--out", "out")
    assert (ran.status, ran.err) == (1, "")
    data = json.loads(Path("out/result.json").read_text("utf-8"))
    assert data["problems"] == [reason]
    assert data["status"] == "cannot-be-done"
    assert faults(data) == []
    told = ran.out.splitlines()
    assert told[2] == f"  {reason['where']} {reason['key']}: {reason['message']}"
    first = CARRIERS if CARRIER in reason["remedy"] else reason["remedy"]
    assert told[3] == f"      what would help: {first}"
    for name in ("index.html", "checklist.md", "summary.md"):
        text = (Path("out") / name).read_text("utf-8")
        assert reason["key"] in text
        assert "cannot be" in text.lower()
    assert run("check", "plan.yaml").status == 1
    assert run("show", "plan.yaml").status == 1
