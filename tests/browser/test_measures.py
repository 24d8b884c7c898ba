"""What a reader can make out, measured in a browser: size, contrast, and room of every word and mark."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from moveplan.outputs.documents.page import page_html
from moveplan.outputs.outlook import Outlook
from tests.browser.conftest import OUTLOOKS, Opened, unfold
from tests.outputs.crowd import crowded
from tests.outputs.scene import moving_day

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Opened]

LEAST_TEXT_PX = 11.0
LEAST_PAPER_PT = 9.0
TEXT_CONTRAST, MARK_CONTRAST = 4.5, 3.0
"""WCAG 2.2, success criteria 1.4.3 (text) and 1.4.11 (graphical objects). [-]"""

SIZES = """() => {
  const found = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const text = walker.currentNode.textContent.trim(), one = walker.currentNode.parentElement;
    if (!text || one.closest("script, style, template, title, [hidden]") || !one.getClientRects().length) continue;
    const svg = one.closest("svg"), size = parseFloat(getComputedStyle(one).fontSize);
    const box = svg?.getBoundingClientRect(), drawn = svg?.viewBox.baseVal;
    const scale = drawn?.width ? Math.min(box.width / drawn.width, box.height / drawn.height) : 1;
    found.push([size * scale, text.slice(0, 60)]);
  }
  return found;
}"""

COLOURS = """() => {
  const canvas = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  const light = (colour) => {
    canvas.fillStyle = colour;
    canvas.fillRect(0, 0, 1, 1);
    const [r, g, b] = Array.from(canvas.getImageData(0, 0, 1, 1).data).map((v) => v / 255)
      .map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ratio = (one, other) => {
    const [high, low] = [light(one), light(other)].sort((a, b) => b - a);
    return (high + 0.05) / (low + 0.05);
  };
  const found = [];
  for (const svg of document.querySelectorAll(".drawing svg")) {
    const grounds = [getComputedStyle(svg).backgroundColor];
    for (const lane of svg.querySelectorAll(".lane, .floor")) grounds.push(getComputedStyle(lane).fill);
    const worst = (colour) => Math.min(...grounds.map((ground) => ratio(colour, ground)));
    for (const text of svg.querySelectorAll("text")) {
      found.push(["text", worst(getComputedStyle(text).fill), text.textContent]);
    }
    const marks = "polygon.home, polygon.closed, .knot path, .thread path, .posts, .trace, .gate-line, .post, "
      + ".bead, .string, .bar-across, .reading, .day.moving rect";
    for (const mark of svg.querySelectorAll(marks)) {
      const style = getComputedStyle(mark);
      const opacity = parseFloat(style.opacity);
      const hollow = mark.classList.contains("home");
      const filled = ["polygon", "circle"].includes(mark.tagName) && !hollow && style.fill !== "none";
      const colour = filled ? style.fill : style.stroke;
      const shown = mark.classList.contains("reading") ? style.stroke : colour;
      found.push(["mark", opacity < 1 ? 1 : worst(shown), mark.getAttribute("class")]);
    }
  }
  return found;
}"""

OUTSIDE = """() => {
  const found = [];
  for (const svg of document.querySelectorAll(".drawing svg")) {
    const frame = svg.getBoundingClientRect();
    if (!frame.width) continue;
    for (const text of svg.querySelectorAll("text")) {
      const box = text.getBoundingClientRect();
      const across = box.left < frame.left - 1 || box.right > frame.right + 1;
      if (across || box.top < frame.top - 1 || box.bottom > frame.bottom + 1)
        found.push(text.textContent);
    }
  }
  return found;
}"""


def _opened(open_page: OpenPage, name: str, width: int, *, dark: bool = False) -> Page:
    page = open_page(name, width=width, dark=dark).page
    unfold(page)
    return page


@pytest.mark.parametrize("name", OUTLOOKS)
@pytest.mark.parametrize("width", [360, 1280])
def test_no_text_is_smaller_than_can_be_read(open_page: OpenPage, name: str, width: int) -> None:
    sizes = _opened(open_page, name, width).evaluate(SIZES)
    assert len(sizes) > 20
    assert [one for one in sizes if one[0] < LEAST_TEXT_PX] == []


@pytest.mark.parametrize("name", ["simulated", "hostile"])
def test_no_text_on_paper_is_smaller_than_nine_points(open_page: OpenPage, name: str) -> None:
    page = _opened(open_page, name, 720)
    page.emulate_media(media="print")
    found = page.evaluate(SIZES)
    assert page.locator(".drawing svg text").count() > 20
    least_px = LEAST_PAPER_PT * 96 / 72
    assert [one for one in found if one[0] < least_px - 0.05] == []


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("name", ["simulated", "hostile"])
def test_words_and_marks_of_pictures_stand_out_from_their_ground(
    open_page: OpenPage, name: str, dark: bool
) -> None:
    found = _opened(open_page, name, 1280, dark=dark).evaluate(COLOURS)
    assert len([one for one in found if one[0] == "mark"]) > 20
    least = {"text": TEXT_CONTRAST, "mark": MARK_CONTRAST}
    assert [one for one in found if one[1] < least[one[0]]] == []


@pytest.mark.parametrize("name", OUTLOOKS)
def test_no_word_of_a_picture_leaves_it(open_page: OpenPage, name: str) -> None:
    assert _opened(open_page, name, 1280).evaluate(OUTSIDE) == []


def test_words_of_pictures_grow_with_the_text_of_the_reader(open_page: OpenPage) -> None:
    page = _opened(open_page, "simulated", 1280)
    tall = "() => document.querySelector('#day .hours text').getBoundingClientRect().height"
    before = page.evaluate(tall)
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate(tall) >= 1.9 * before


LONG = "Longnamewithoutanyspaceatall" * 3


def _long_named() -> Outlook:
    """Animals, tasks and what they name, of 84 letters without a space."""
    outlook = moving_day()
    project = outlook.project
    routes = tuple(replace(one, name=LONG) for one in project.routes)
    network = replace(
        project.network, tasks=tuple(replace(one, title=f"Load {LONG}") for one in project.network.tasks)
    )
    return replace(outlook, project=replace(project, routes=routes, network=network))


def test_long_names_leave_nothing_beside_a_narrow_screen(open_page: OpenPage, tmp_path: Path) -> None:
    path = tmp_path / "long.html"
    path.write_text(page_html(_long_named()), encoding="utf-8")
    page = open_page(path, width=360).page
    unfold(page)
    assert page.evaluate("document.documentElement.scrollWidth") == 360


@pytest.mark.parametrize("long", [False, True])
def test_labels_are_of_one_size_and_their_words_fit(open_page: OpenPage, tmp_path: Path, long: bool) -> None:
    path = tmp_path / "labels.html"
    path.write_text(page_html(_long_named() if long else moving_day()), encoding="utf-8")
    page = open_page(path, width=1280).page
    unfold(page)
    page.emulate_media(media="print")
    page.evaluate("document.body.dataset.print = 'labels'")
    boxes = page.locator("#labels .label").evaluate_all(
        """all => all.map((one) => [one.getBoundingClientRect().width * 25.4 / 96,
             one.getBoundingClientRect().height * 25.4 / 96, one.scrollHeight - one.clientHeight,
             one.querySelector(".big").getBoundingClientRect().height * 25.4 / 96])"""
    )
    assert boxes
    for width, height, hidden, number in boxes:
        assert abs(width - 105) < 0.5
        assert abs(height - 74) < 0.5
        assert hidden <= 1
        assert number > 29.9


@pytest.mark.parametrize("name", ["simulated", "hostile", "impossible"])
@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("size", ["100%", "200%"])
def test_nothing_leaves_the_screen_with_names_of_any_length_and_text_of_twice_the_size(
    open_page: OpenPage, name: str, width: int, size: str
) -> None:
    page = _opened(open_page, name, width)
    page.evaluate(f"document.documentElement.style.fontSize = '{size}'")
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0


@pytest.mark.parametrize("name", ["planned", "hostile"])
def test_a_keyboard_reaches_the_tasks_of_each_person_in_ten_stops(open_page: OpenPage, name: str) -> None:
    page = open_page(name).page
    people = page.locator("a[data-person]").count()
    assert people >= 3
    reached: list[str] = []
    for _ in range(10):
        page.keyboard.press("Tab")
        aim = page.evaluate("document.activeElement.dataset.person && document.activeElement.hash")
        reached += [aim] if aim else []
    assert len(reached) == people
    page.locator("a[data-person]").first.focus()
    page.keyboard.press("Enter")
    page.wait_for_function(
        "() => { const box = document.querySelector(location.hash || 'body').getBoundingClientRect();"
        " return location.hash && box.top < innerHeight && box.bottom > 0; }"
    )


def test_a_keyboard_reaches_the_next_task_of_each_of_thirty_people_in_ten_stops(
    open_page: OpenPage, tmp_path: Path
) -> None:
    path = tmp_path / "crowd.html"
    path.write_text(page_html(crowded(moving_day(), 30)), encoding="utf-8")
    page = open_page(path, width=360).page
    pictures = page.locator("#day .drawing").evaluate_all(
        "all => all.map((one) => one.scrollWidth - one.clientWidth)"
    )
    assert len(pictures) > 1
    assert max(pictures) <= 1
    stops = 0

    def tab_to(what: str) -> None:
        nonlocal stops
        while not page.evaluate("(what) => document.activeElement.matches(what)", what):
            page.keyboard.press("Tab")
            stops += 1
            assert stops <= 10

    tab_to("#whose select")
    page.keyboard.type("Helper number 17")
    tab_to("a[data-person]")
    assert page.evaluate("document.activeElement.textContent") == "Helper number 17"
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.querySelector(location.hash || 'template')?.open")
    tab_to(".run input")
    sheet = page.evaluate("document.activeElement.closest('details').querySelector('h3').textContent")
    assert sheet.startswith("Helper number 17: ")


def test_one_run_sheet_is_printed_alone_and_the_others_stay_folded(open_page: OpenPage) -> None:
    page = open_page("planned").page
    page.evaluate("window.print = () => {}")
    sheets = page.locator("details.sheet")
    sheets.nth(1).evaluate("one => { one.open = true; }")
    sheets.nth(1).get_by_role("button", name="Print this sheet alone").click()
    page.emulate_media(media="print")
    shown = [sheets.nth(at).is_visible() for at in range(sheets.count())]
    assert shown == [at == 1 for at in range(sheets.count())]
    page.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert page.evaluate("'only' in document.body.dataset") is False


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
def test_page_one_on_paper_is_the_answers_and_why(open_page: OpenPage, sheet: str) -> None:
    page = open_page("simulated").page
    first = PdfReader(io.BytesIO(page.pdf(format=sheet))).pages[0].extract_text()
    for words in ("Moving day", "Animals home", "Can it be done", "Least time", "Money", "Next"):
        assert words in first
    assert "The day, person by person" not in first
