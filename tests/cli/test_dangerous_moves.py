"""Plans that nobody should carry out are refused in a plain sentence, with the line and a way out."""

from __future__ import annotations

import html
import json
import re
from pathlib import Path

import pytest

from tests.cli.command import QUICK, Run
from tests.cli.contract import faults
from tests.quoted import quoted

TEXT = """\
title: A move
purpose: house-move
as-of: 2027-01-04 09:00
timezone: Europe/Dublin
currency: EUR
country: IE
dates: {move-day: 2027-02-20}
places:
  old: {floor: 1, steps: 18}
  new: {distance: 25 km}
systems:
  reef: {tank: {length: 120 cm, width: 50 cm, height: 50 cm}, rock: 30 kg}
livestock:
  tangs: {kind: tang, count: 2, size: 14 cm}
  clowns: {kind: clownfish, count: 2, size: 7 cm}
people:
  nora: {drives: yes}
  sean: {}
  una: {}
vehicles:
  van: {payload: 1400 kg, hire: {from: 2027-02-19 16:00, until: 2027-02-21 12:00}}
"""
CLOWNS = "  clowns: {kind: clownfish, count: 2, size: 7 cm}\n"
HELD = {
    "dates: {move-day: 2027-02-20}": "dates: {move-day: 2027-02-20, access-from: 2027-03-20 12:00, "
    "move-in-day: 2027-03-27}",
    "  new: {distance: 25 km}\n": "  new: {distance: 25 km}\n  aunt: {distance: 5 km}\n",
    "livestock:\n": "  hold: {role: holding, place: aunt, tank: {length: 50 cm, width: 30 cm, height: 30 cm}}\n"
    "livestock:\n",
    "until: 2027-02-21 12:00": "until: 2027-03-28 12:00",
}
Changes = dict[str, str]
REFUSED: dict[str, tuple[Changes, str, str, tuple[str, ...], str]] = {
    "a moving day before what has to be ordered can be there": (
        {"as-of: 2027-01-04 09:00": "as-of: 2027-02-14 09:00"},
        "cannot-be-done",
        "plan.yaml:7",
        ("after “Print and stick the labels", "the moving day ends then", "too late by then"),
        "after the last one allowed, with the same hours for everybody and have Van from 2027-",
    ),
    "nobody who drives is free while the van is hired": (
        {"nora: {drives: yes}": "nora: {drives: yes, away: [2027-02-19 to 2027-02-21]}"},
        "cannot-be-done",
        "plan.yaml:21",
        ("“Fetch Van and look it over” and “Bring Van back”", "Van and Nora have no time together"),
        "one more person",
    ),
    "nobody drives": (
        {"nora: {drives: yes}": "nora: {drives: no}"},
        "cannot-be-done",
        "plan.yaml:17",
        ("“Drive to New, trip 1 of 2”", 'need 1 with "drives: yes"; there is none'),
        'write "drives: yes" for one of nora, sean and una',
    ),
    "nobody cares for animals": (
        {
            ": {drives: yes}": ": {drives: yes, cares: no}",
            "sean: {}": "sean: {cares: no}",
            "una: {}": "una: {cares: no}",
        },
        "cannot-be-done",
        "plan.yaml:17",
        ("“Check the health of every animal in Reef”", 'need 1 with "cares: yes"; there is none'),
        'write "cares: yes" for one of nora, sean and una',
    ),
    "a drive longer than any day": (
        {"new: {distance: 25 km}": "new: {distance: 2500 km, drive: 30 h}"},
        "cannot-be-done",
        "plan.yaml:",
        # there, back and there again: 3 drives of 30 h are 90 h, that is 3 days and 18 h
        ("Van would have to drive 2 times", "3 days 18 h"),
        "name vehicles that carry more",
    ),
    "a fish too large for the time that its tub gives it": (
        {CLOWNS: CLOWNS + "  lion: {kind: lionfish, count: 1, size: 25 cm}\n"},
        "unsafe",
        "plan.yaml:16",
        ("Lion would be", "safe for", "short; oxygen ends it"),
        'write "livestock.lion.leaves: 1" (tried: nothing is unsafe then',
    ),
    "a hunter and its prey in one tank": (
        {CLOWNS: CLOWNS + "  lion: {kind: lionfish, count: 1, size: 25 cm, wished: yes}\n"},
        "unsafe",
        "plan.yaml:16",
        ("Lion cannot be placed: it would eat Clowns",),
        "find it a new keeper",
    ),
    "animals that wait in a tank too small for them": (
        HELD,
        "unsafe",
        "plan.yaml:14",
        ("Hold would be overcrowded", "it holds 23 l", "Tangs", "would have to go"),
        "a larger holding system",
    ),
    "a tank wider than the door": (
        {"new: {distance: 25 km}": "new: {distance: 25 km, door-width: 45 cm}"},
        "cannot-be-done",
        "plan.yaml:12",
        ("needs 55 cm of clear width", "the way into New has 45 cm"),
        "places.new.door-width",
    ),
    "a task that follows another by less than its least gap": (
        {
            "vehicles:": "tasks:\n  a: {title: One, duration: 1 h}\n"
            "  b: {title: Two, duration: 1 h, after: [{task: a, gap: 3 h, at-most: 1 h}]}\nvehicles:"
        },
        "cannot-be-done",
        "plan.yaml:22",
        ("b is to follow a by at least 3 h and at most 1 h",),
        "raise the greatest gap to 3 h",
    ),
    "a date before the work can be over": (
        {
            "vehicles:": "tasks:\n  a: {title: One, duration: 5 h, finish-by: 2027-01-04 10:00, people: [nora]}\n"
            "vehicles:"
        },
        "cannot-be-done",
        "plan.yaml:21",
        ("5 h are needed; allowed are 1 h; 4 h short",),
        "it was tried and works",
    ),
}


def written(folder: Path, changes: Changes) -> Path:
    text = TEXT
    for old, new in changes.items():
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    plan = folder / "plan.yaml"
    plan.write_text(text, "utf-8")
    return plan


@pytest.mark.parametrize(
    ("changes", "status", "line", "words", "way_out"), REFUSED.values(), ids=REFUSED.keys()
)
def test_a_danger_is_refused_with_its_line_and_a_way_out(
    run: Run,
    tmp_path: Path,
    changes: Changes,
    status: str,
    line: str,
    words: tuple[str, ...],
    way_out: str,
) -> None:
    plan = written(tmp_path, changes)
    ran = run("build", plan, "--out", tmp_path / "out", *QUICK)
    assert (ran.status, ran.err) == (1, "")
    data = json.loads((tmp_path / "out" / "result.json").read_text("utf-8"))
    assert faults(data) == []
    assert data["status"] == status
    found = [one for one in data["problems"] if all(word in one["message"] for word in words)]
    assert found, data["problems"]
    assert any(Path(one["where"]).name.startswith(line) and way_out in one["remedy"] for one in found), found
    for line in ran.out.splitlines():
        asked = re.findall(r'"([\w.-]+: [^"]+)"', line)
        assert len(asked) == len(set(asked)), "what to write is said once"
    page = quoted((tmp_path / "out" / "index.html").read_text("utf-8"))
    reasons = reasons_on(page)
    assert len(reasons) == len(data["problems"])
    for one in data["problems"]:
        (key,) = re.findall(r"[^/]+$", one["where"])
        ends = [reason for reason in reasons if f"Where: {key} " in reason]
        assert ends, (key, reasons)
        assert all(re.search(r"Ways out: .+ \((not )?tried", reason) for reason in ends), ends
    assert any(plain(way_out) in reason for reason in reasons), reasons
    assert '<dl class="glance">' not in page
    assert not (tmp_path / "out" / "calendar.ics").exists()


def reasons_on(page: str) -> list[str]:
    """Read what a page says of each reason why a plan cannot be followed: the sentence, the ways out, the line."""
    grade = page.split('<section id="grade"')[1].split("</section>")[0].split("</ol>\n  <p>")[0]
    told = grade.replace('<ul class="way-outs" aria-label="Ways out">', " Ways out: ")
    drawn = re.sub(r"<svg.*?</svg>", "", told, flags=re.DOTALL)
    _, *reasons = re.split(
        r'<(?:p|summary) class="sentence" dir="auto">', drawn
    )  # several are folded but the first
    return [" ".join(html.unescape(re.sub(r"<[^>]+>", "", one)).split()) for one in reasons]


def plain(way_out: str) -> str:
    """Leave off what a page writes in its own way: moments, and whether it was tried."""
    return re.split(r" from | \(tried: ", way_out.replace("it was tried and works", "(tried, it works)"))[0]


WRONG: dict[str, tuple[Changes, str]] = {
    "no new tank for a larger one": (
        {"purpose: house-move": "purpose: larger-tank"},
        "systems.reef: new-tank is missing",
    ),
    "gear of which there is none": (
        {"vehicles:": "gear:\n  - {id: tub, kind: tub, count: 0, volume: 60 l}\nvehicles:"},
        'gear.tub.count: "0" is less than 1',
    ),
}


@pytest.mark.parametrize(("changes", "message"), WRONG.values(), ids=WRONG.keys())
def test_facts_that_fit_no_move_write_nothing(
    run: Run, tmp_path: Path, changes: Changes, message: str
) -> None:
    plan = written(tmp_path, changes)
    ran = run("build", plan, "--out", tmp_path / "out")
    assert ran.status == 2
    assert message in ran.err
    assert "plan.yaml:" in ran.err
    assert not (tmp_path / "out").exists()


def test_a_floor_for_an_engineer_is_said_before_anything_is_planned(run: Run, tmp_path: Path) -> None:
    changes = {
        "reef: {tank: {length: 120 cm, width: 50 cm, height: 50 cm}, rock: 30 kg}": "reef: {tank: {length: 200 cm, "
        "width: 80 cm, height: 75 cm}, rock: 130 kg}",
        "new: {distance: 25 km}": "new: {distance: 25 km, floor: 3, floor-kind: suspended}",
    }
    ran = run("check", written(tmp_path, changes))
    assert ran.err == ""
    assert "engineer" in ran.out
    assert "kPa" in ran.out
