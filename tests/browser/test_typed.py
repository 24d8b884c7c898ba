"""The card takes readings as the terminal takes them: the same units, in a plan in metric and one in US units."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Page

from moveplan.journal.records import Entry
from moveplan.journal.state import state_of
from moveplan.journal.taking.known import known_of
from moveplan.journal.taking.marks import told_by_marks
from moveplan.journal.taking.slip import STEPS, index_of, read_slip
from moveplan.journal.taking.taken import taken
from moveplan.journal.waters.readings import ReadingError, read_value
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.documents.page import page_html
from tests.browser.card import lid_on, start, text_of
from tests.browser.conftest import Opened, Phone
from tests.journal.replay import outlook_of

pytestmark = pytest.mark.browser

TAKEN = (
    ("temperature", "25.5", "25.5 °C", "77.9 °F"),
    ("temperature", "25,5 °C", "25.5 °C", "77.9 °F"),
    ("temperature", "77.9 F", "25.5 °C", "77.9 °F"),
    ("temperature", "77.9", "25.5 °C", "77.9 °F"),
    ("temperature", "8 c", "8 °C", "46.4 °F"),
    ("temperature", "298.65 K", "25.5 °C", "77.9 °F"),
    ("salinity", "35", "35", "35"),
    ("salinity", "34,5 ppt", "34.5", "34.5"),
    ("salinity", "35 ‰", "35", "35"),
    ("salinity", "36 g/l", "35", "35"),
    ("salinity", "1.0264 at 25 C", "35.05", "35.05"),
    ("salinity", "1,0264 sg 77 F", "35.05", "35.05"),
    ("salinity", "1.026 at 25/15.6", "37.15", "37.15"),
    ("salinity", "53 mS/cm at 25 C", "34.95", "34.95"),
    ("ammonia", "0.2", "0.2 mg N/l", "0.2 mg N/l"),
    ("ammonia", "0.25 ppm as NH4", "0.19 mg N/l", "0.19 mg N/l"),
    ("ammonia", "0.25 mg NH3/l", "0.21 mg N/l", "0.21 mg N/l"),
    ("nitrite", "0.33 mg/l NO2", "0.1 mg N/l", "0.1 mg N/l"),
    ("nitrite", "0.1 mg/l NO2-N", "0.1 mg N/l", "0.1 mg N/l"),
    ("nitrate", "8 ppm", "8 mg NO3/l", "8 mg NO3/l"),
    ("nitrate", "2 mg/l N", "9 mg NO3/l", "9 mg NO3/l"),
    ("pH", "8,1", "8.1", "8.1"),
    ("pH", "pH 8.15", "8.15", "8.15"),
    ("alkalinity", "8,0 dKH", "8 dKH", "8 dKH"),
    ("alkalinity", "2.9 meq/l", "8.15 dKH", "8.15 dKH"),
    ("alkalinity", "2.9", "8.15 dKH", "8.15 dKH"),
    ("alkalinity", "143 ppm", "8 dKH", "8 dKH"),
    ("alkalinity", "143 mg/l CaCO3", "8 dKH", "8 dKH"),
    ("oxygen", "6.5 ppm", "6.5 mg/l", "6.5 mg/l"),
)
REFUSED = (
    ("temperature", "143 ppm", "“143 ppm” is no temperature here: write it like “25.5 C”, in C, F, K."),
    ("temperature", "99", "“99” is no temperature here: write it like “25.5 C”, in C, F, K."),
    ("temperature", "46 C", "“46 C” is out of range, -2 to 45: read it again."),
    (
        "salinity",
        "25 C",
        "“25 C” is no salinity here: write it like “35 psu”, in psu, ppt, ‰, g/kg, g/l, sg, mS/cm.",
    ),
    ("salinity", "1.026", "write it like “1.026 at 25 C”."),
    ("salinity", "70 psu", "“70 psu” is out of range, 0 to 60: read it again."),
    ("alkalinity", "8 mmol/l", "in dKH, meq/l, ppm, mg/l."),
    ("alkalinity", "8 dKH at 25 C", "in dKH, meq/l, ppm, mg/l."),
    ("ammonia", "0.2 mg/l NO2", "“0.2 mg/l NO2” is no ammonia here"),
    ("nitrate", "1,000 ppm", "“1,000 ppm” is no nitrate here"),
    ("pH", "12", "“12” is no ph here"),
    ("oxygen", "6.5 psu", "in mg/l, ppm."),
    ("oxygen", "", "“” is no oxygen here"),
)


@pytest.fixture(scope="module", params=["metric", "us"])
def paper(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    outlook = outlook_of("house_move")
    plan = replace(outlook.project.plan, units=request.param)
    path = tmp_path_factory.mktemp("typed") / "index.html"
    made = page_html(replace(outlook, project=replace(outlook.project, plan=plan)))
    path.write_text(made, encoding="utf-8", newline="\n")
    return request.param, path


def _record(page: Page, what: str, text: str) -> str:
    option = page.locator("#card-what option", has_text=what).first.inner_text()
    page.get_by_label("Reading").select_option(label=option)
    page.get_by_label("Value").fill(text)
    page.get_by_role("button", name="Record reading").click()
    said = page.locator("#card-read-note").inner_text()
    page.clock.fast_forward(60_000)
    return said


def test_every_unit_of_the_terminal_is_taken_and_said_as_it_was_understood(
    open_page: Callable[..., Opened], paper: tuple[str, Path]
) -> None:
    units, path = paper
    opened = open_page(path)
    page = opened.page
    page.clock.install()
    page.reload()
    page.locator("#card-reading").evaluate("one => { one.open = true; }")
    for what, text, metric, us in TAKEN:
        assert _record(page, what, text).startswith(f"Read as {us if units == 'us' else metric}.")
    outlook = outlook_of("house_move")
    index = index_of(snapshot_of_outlook(outlook), outlook.project.plan.id)
    marks = read_slip(text_of(page), [index])
    assert len(marks) == len(TAKEN)
    for mark, (what, text, *_) in zip(sorted(marks, key=lambda one: one.at), TAKEN, strict=True):
        assert mark.name.partition("@")[0] == what.casefold()
        value, step = read_value(what.casefold(), text)[0], STEPS[what.casefold()]
        assert mark.time * step == pytest.approx(value, abs=step / 2 + (0.01 if what == "salinity" else 1e-4))
    assert opened.complaints == []


def test_what_the_terminal_refuses_is_refused_in_a_sentence_that_names_what_can_be_typed(
    open_page: Callable[..., Opened], paper: tuple[str, Path]
) -> None:
    opened = open_page(paper[1])
    page = opened.page
    page.clock.install()
    page.reload()
    page.locator("#card-reading").evaluate("one => { one.open = true; }")
    for what, text, sentence in REFUSED:
        with pytest.raises(ReadingError):
            read_value(what.casefold(), text)
        assert sentence in _record(page, what, text)
    assert page.locator("#card-last").inner_text() == ""
    assert opened.complaints == []


def test_the_temperature_of_a_container_is_read_apart_from_the_tank_and_cold_is_called(phone: Phone) -> None:
    page = phone("Ines Farrow", start("catch-fish-display"))
    row = page.locator("[data-container='X1']")
    lid_on(row)
    row.get_by_role("button", name="Air, place, loss").click()
    for text, said in (("143 ppm", "is no temperature here"), ("75,38 F", ""), ("18", "")):
        row.get_by_label("Temperature").fill(text)
        row.get_by_role("button", name="Record it").click()
        assert said in page.locator("#card-told").inner_text()
        if text != "18":
            assert "TOO COLD" not in row.inner_text()
        page.clock.fast_forward(60_000)
    assert re.search(r"; 18 °C at \d\d:\d\d", row.inner_text())
    bold = row.locator(".left b").inner_text()
    assert bold.startswith("TOO COLD: carry it, lid on, into a room or car at room temperature; ")
    assert bold.endswith(" left")
    assert "Last: read in, X1 18, " in page.locator("#card-last").inner_text()
    outlook = outlook_of("house_move")
    snapshot = snapshot_of_outlook(outlook)
    marks = read_slip(text_of(page), [index_of(snapshot, outlook.project.plan.id)])
    read = [(one.name, one.time) for one in marks if one.kind == "read-in"]
    assert read == [("X1", 482), ("X1", 360)]
    rows, left = taken(told_by_marks(marks, known_of(snapshot)), (), known_of(snapshot), max(marks).at)
    assert left == []
    state = state_of([Entry(line, *row) for line, row in enumerate(rows, start=1)])
    assert state.readings == ()
    assert [(one.what, one.value, one.container) for one in state.contained] == [
        ("temperature", 24.1, "X1"),
        ("temperature", 18.0, "X1"),
    ]
