"""The page signs a hold point by the same readings as the program, and names the same limits where it does not."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import timedelta
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from moveplan.journal.now.standing import standing
from moveplan.journal.records import Entry
from moveplan.journal.state import state_of
from moveplan.journal.taking.known import known_of
from moveplan.journal.taking.marks import told_by_marks
from moveplan.journal.taking.slip import STEPS, Mark, index_of, slip_text
from moveplan.journal.taking.taken import taken
from moveplan.journal.waters.judged import lacking
from moveplan.network.task import Kind
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.documents.page import page_html
from tests.browser.card import ends_with, paste
from tests.browser.conftest import EPOCH
from tests.journal.replay import outlook_of

pytestmark = pytest.mark.browser

DAY = 1440
FIT = {"temperature": 25.5, "salinity": 35.0, "ph": 8.1, "alkalinity": 8.0}
"""What the two waters read where they match."""
NEW = {**FIT, "nitrate": 8.0, "nitrite": 0.1, "ammonia": 0.05}
UNLIKE = {"temperature": 24.4, "salinity": 34.4, "ph": 7.85, "alkalinity": 6.9}
"""What the old water reads where it is further off than 1 K, 0.5, 0.2 or 1 dKH."""
Read = tuple[str, str, float, int]
"""What was read in which water, its value, and how long before the signature. [min]"""


def _rows(water: str, before_min: int, **other: float) -> list[Read]:
    return [(what, water, value, before_min) for what, value in other.items()]


def _new(water: str, **other: float) -> list[Read]:
    values = {**NEW, **other}
    return [*_rows(water, 3, **values), ("ammonia", water, values["ammonia"], 2)]


def _days(**values: Sequence[tuple[float, float]]) -> list[Read]:
    return [
        (what, "display.new", value, round(DAY * days))
        for what, rows in values.items()
        for days, value in rows
    ]


@cache
def _page_file(name: str, folder: Path) -> Path:
    path = folder / f"{name}.html"
    path.write_text(page_html(outlook_of(name)), encoding="utf-8", newline="\n")
    return path


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("hold_points")


def _marks(
    name: str, hold: str, reads: Iterable[Read], unsaid: str, shift_min: int
) -> tuple[list[Mark], int]:
    snapshot = snapshot_of_outlook(outlook_of(name))
    begin = next(one.start for one in snapshot.tasks if one.id == hold)
    who = next(one.people[0] for one in snapshot.tasks if one.id == hold)
    near = ends_with(name, hold)
    marks = [
        Mark(min(one.finish, begin), "met" if one.kind is Kind.HOLD_POINT else "done", one.id, 0, who)
        for one in snapshot.tasks
        if one.times == 1 and (one.finish <= begin or one.id in near) and one.id != unsaid
    ]
    now = begin + shift_min
    marks += [
        Mark(piece.finish, "done", one.id, time, who)
        for one in snapshot.tasks
        for time, piece in enumerate(one.segments, start=1)
        if one.times > 1 and piece.start <= now
    ]
    marks += [
        Mark(now - before, "read", f"{what}@{water}", round(value / STEPS[what]), who)
        for what, water, value, before in reads
    ]
    return marks, now


def _program(name: str, hold: str, marks: list[Mark], now: int) -> set[str]:
    snapshot = snapshot_of_outlook(outlook_of(name))
    rows, left = taken(told_by_marks(marks, known_of(snapshot)), (), known_of(snapshot), now)
    assert not left
    state = state_of([Entry(number, record) for number, (record, _) in enumerate(rows, start=1)])
    task = snapshot.task(hold)
    assert task is not None
    ended = standing(snapshot, state, now).ended
    return {one.gate.name for one in lacking(task.gates, state.readings, now, ended)}


def _on_page(page: Page) -> set[str]:
    page.get_by_role("button", name="Met", exact=True).click()
    told = page.locator("#card-told").inner_text()
    if not told.startswith(("Not shown: ", "NOT within: ")):
        assert page.locator("#card-last").inner_text().startswith("Last: met")
        return set()
    asked = [line.partition(":")[0] for line in page.locator("#card-asks li").all_inner_texts()]
    return {words.partition(" ")[0] for words in asked if words in told}


MOVED = ("house_move", "water-matched-display")
WAVE = ("larger_tank_other_spot", "match-wave-display.1")
CYCLE = ("larger_tank_other_spot", "cycle-done-display")
RISEN = ((5.0, 2.0), (1.5, 0.2), (0.1, 0.1))
FALLEN = ((4.0, 3.0), (0.1, 0.5))
CASES: Mapping[str, tuple[tuple[str, str], list[Read], str, set[str]]] = {
    "as the plan says": (MOVED, _new("display"), "", set()),
    "like the old water": (
        MOVED,
        _rows("display", 600, **UNLIKE)
        + _new("display", **UNLIKE | {"temperature": 24.6, "salinity": 34.5, "ph": 7.95, "alkalinity": 7.5}),
        "",
        set(),
    ),
    **{
        f"old {what}": (
            MOVED,
            [*_rows("display", 600, **FIT | {what: value}), *_new("display")],
            "",
            {what.replace("ph", "pH")},
        )
        for what, value in UNLIKE.items()
    },
    "not filled": (
        MOVED,
        _new("display"),
        "fill-tank-display",
        {"temperature", "salinity", "ammonia", "pH", "alkalinity", "nitrate"},
    ),
    "two tanks alike": (WAVE, _rows("display", 5, **FIT) + _new("display.new"), "", set()),
    "old tank not read": (WAVE, _new("display.new"), "", {"temperature", "salinity", "pH", "alkalinity"}),
    "old tank read too long ago": (
        WAVE,
        _rows("display", 721, **FIT) + _new("display.new"),
        "",
        {"temperature", "salinity", "pH", "alkalinity"},
    ),
    **{
        f"tank {what}": (
            WAVE,
            [*_rows("display", 5, **FIT | {what: value}), *_new("display.new")],
            "",
            {what.replace("ph", "pH")},
        )
        for what, value in UNLIKE.items()
    },
    "ripe": (CYCLE, _days(ammonia=RISEN, nitrite=FALLEN), "", set()),
    "never high": (CYCLE, _days(ammonia=RISEN[1:], nitrite=FALLEN), "", {"ammonia"}),
    "low for less than a day": (
        CYCLE,
        _days(ammonia=((5.0, 2.0), (0.9, 0.2), (0.1, 0.1)), nitrite=FALLEN),
        "",
        {"ammonia"},
    ),
    "nitrite does not fall": (CYCLE, _days(ammonia=RISEN, nitrite=((4.0, 0.5), (0.1, 0.5))), "", {"nitrite"}),
    "nitrite read once": (CYCLE, _days(ammonia=RISEN, nitrite=((0.1, 0.5),)), "", {"nitrite"}),
    "nitrite never there": (CYCLE, _days(ammonia=RISEN, nitrite=((4.0, 0.0), (0.1, 0.0))), "", set()),
    "dose not recorded": (
        CYCLE,
        _days(ammonia=RISEN, nitrite=FALLEN),
        "dose-ammonia-display",
        {"ammonia", "nitrite"},
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_page_and_program_ask_a_hold_point_for_the_same(case: str, browser: Browser, folder: Path) -> None:
    (name, hold), reads, unsaid, expected = CASES[case]
    marks, now = _marks(name, hold, reads, unsaid, 10)
    assert _program(name, hold, marks, now) == expected
    snapshot = snapshot_of_outlook(outlook_of(name))
    task = snapshot.task(hold)
    assert task is not None
    context = browser.new_context(offline=True)
    page = context.new_page()
    page.clock.install(time=EPOCH + timedelta(minutes=now))
    page.goto(_page_file(name, folder).as_uri())
    page.get_by_label("I am").select_option(label=snapshot.people[task.people[0]])
    assert "are new" in paste(page, slip_text(marks, index_of(snapshot, outlook_of(name).project.plan.id)))
    assert page.locator("#card-title").inner_text().startswith(f"{task.number}. ")
    assert _on_page(page) == expected
    context.close()
