"""Plans with nobody to spare and with crowds, and every example: pictures and pages stay readable."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

import pytest

from moveplan import pipeline
from moveplan.outputs.documents.page import page_html
from tests.browser.conftest import Opened, unfold
from tests.browser.test_measures import OUTSIDE

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Opened]
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
SETTINGS = pipeline.Settings(runs=500)

OVERLAPPING = """() => {
  const found = [];
  for (const svg of document.querySelectorAll(".drawing svg")) {
    const words = Array.from(svg.querySelectorAll("text")).filter((one) => one.textContent.trim());
    const boxes = words.map((one) => one.getBoundingClientRect());
    for (let a = 0; a < boxes.length; a++) for (let b = a + 1; b < boxes.length; b++) {
      const across = Math.min(boxes[a].right, boxes[b].right) - Math.max(boxes[a].left, boxes[b].left);
      const down = Math.min(boxes[a].bottom, boxes[b].bottom) - Math.max(boxes[a].top, boxes[b].top);
      if (across > 2 && down > 4) found.push([words[a].textContent, words[b].textContent]);
    }
  }
  return found;
}"""
"""Pairs of words that cover each other by more than the room between letters and the edge of their box."""

CROSSED = """() => {
  const pieces = (path) => {
    let x = 0, y = 0;
    const found = [];
    for (const [, what, numbers] of path.getAttribute("d").matchAll(/([MLHVv])([^MLHVv]*)/g)) {
      const [a, b] = numbers.trim().split(/[ ,]+/).map(Number), from = [x, y];
      if (what === "H") x = a;
      else if (what === "V") y = a;
      else if (what === "v") y += a;
      else [x, y] = [a, b];
      if (what !== "M") found.push([from, [x, y]]);
    }
    return found;
  };
  const runsThrough = ([from, to], box, half) => {
    let [enters, leaves] = [0, 1];
    [[box.x, box.x + box.width], [box.foot - 9, box.foot]].forEach(([low, high], axis) => {
      const way = to[axis] - from[axis], wide = way ? 0 : half;
      const at = way ? [low, high].map((edge) => (edge - from[axis]) / way).sort((a, b) => a - b)
        : from[axis] > low - wide && from[axis] < high + wide ? [0, 1] : [1, 0];
      [enters, leaves] = [Math.max(enters, at[0]), Math.min(leaves, at[1])];
    });
    return leaves > enters;
  };
  const found = [];
  for (const svg of document.querySelectorAll("#day svg")) {
    const lines = Array.from(svg.querySelectorAll(".hours path, .thread path, .knot path")).flatMap((path) =>
      pieces(path).map((ends) => [ends, parseFloat(getComputedStyle(path).strokeWidth) / 2, path.parentNode]));
    for (const text of svg.querySelectorAll(".knot text")) {
      const drawn = text.getBBox(), foot = text.y.baseVal[0].value;
      const box = { x: drawn.x, width: drawn.width, foot };
      for (const [ends, half, of] of lines)
        if (runsThrough(ends, box, half)) found.push([text.textContent, of.getAttribute("class"), ends.join()]);
    }
  }
  return found;
}"""
"""Numbers of the day, 12 px high with figures of 9 px, through which a line runs: hours, people, work, ties."""


def _crowd(text: str) -> str:
    """Let thirty people help, those that the plan has before all others."""
    more = "".join(
        f"  hand-{number}:\n    name: Helper number {number}\n    lifts: yes\n"
        f"    hours: {{sat: 10:00-16:00}}\n    moving-day: 07:00-20:00\n"
        for number in range(27)
    )
    return re.sub(r"(?ms)^people:\n.*?(?=^\S)", lambda found: found[0].rstrip() + f"\n{more}", text, count=1)


def _many(text: str) -> str:
    """Let thirty groups of animals live in the tank."""
    more = "".join(
        f"  snails-{number}: {{name: Snails of shelf {number}, kind: cerith-snail, count: 2, size: 2 cm}}\n"
        for number in range(24)
    )
    return text.replace("\nlivestock:\n", f"\nlivestock:\n{more}", 1)


LONG = " of the old harbour quarter where the lamp stands by the long grey wall and the tide turns"


def long_names(text: str) -> str:
    """Give everything a name of eighty characters that ends as its neighbours' names do."""
    return re.sub(
        r'(?m)(\bname: |^title: )([^,}\n"]+)',
        lambda found: found[1] + (found[2].strip() + LONG)[:80].strip().ljust(80, "x"),
        text,
    )


class Case(NamedTuple):
    """A plan file by its name, made from an example."""

    name: str
    example: str
    change: Callable[[str], str]


CASES = (
    *(Case(path.stem, path.stem, str) for path in EXAMPLES),
    Case("thirty-people", "house_move", _crowd),
    Case("thirty-groups", "small_tank_move", _many),
    Case("long-names", "house_move", long_names),
)


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Build all of them once."""
    folder = tmp_path_factory.mktemp("crowded")
    found = {}
    for case in CASES:
        source = next(path for path in EXAMPLES if path.stem == case.example)
        plan = folder / f"{case.name}.yaml"
        text = re.sub(
            r"(?m)^(\s*(?:prices|livestock|gear|kinds)-file: )",
            rf"\1{source.parent}/",
            source.read_text("utf-8"),
        )
        plan.write_text(case.change(text), encoding="utf-8")
        found[case.name] = plan.with_suffix(".html")
        outlook = pipeline.outlook_of(plan, SETTINGS)
        assert outlook.follow or case.example == "impossible_dates", case.name
        found[case.name].write_text(page_html(outlook), encoding="utf-8")
    return found


@pytest.mark.parametrize("name", [case.name for case in CASES if case.example != "impossible_dates"])
def test_the_first_screen_and_its_ways_on_fit_a_small_phone(
    open_page: OpenPage, pages: dict[str, Path], name: str
) -> None:
    page = open_page(pages[name], width=360).page
    page.set_viewport_size({"width": 360, "height": 500})
    boxes = page.locator(".answers dl > div, .ways a:visible").evaluate_all(
        "all => all.map((one) => [one.tagName, one.getBoundingClientRect().height, one.getBoundingClientRect().bottom])"
    )
    assert len(boxes) > 6
    assert max(bottom for _, _, bottom in boxes) <= 500
    assert min(tall for tag, tall, _ in boxes if tag == "A") >= 44


@pytest.mark.parametrize("name", [case.name for case in CASES])
@pytest.mark.parametrize("width", [360, 1280])
def test_no_word_of_a_picture_is_cut_or_covered_and_nothing_leaves_the_screen(
    open_page: OpenPage, pages: dict[str, Path], name: str, width: int
) -> None:
    opened = open_page(pages[name], width=width)
    unfold(opened.page)
    assert opened.complaints == []
    assert opened.page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    assert opened.page.evaluate(OUTSIDE) == []
    assert opened.page.evaluate(OVERLAPPING) == []


@pytest.mark.parametrize("name", [case.name for case in CASES if case.example != "impossible_dates"])
def test_a_small_phone_shows_the_whole_width_of_every_picture_and_of_the_list_of_a_load(
    open_page: OpenPage, pages: dict[str, Path], name: str
) -> None:
    page = open_page(pages[name], width=360).page
    unfold(page)
    beside = page.locator(".drawing, #loads .wide").evaluate_all(
        "all => all.map((one) => [one.getAttribute('aria-label'), one.scrollWidth - one.clientWidth])"
    )
    assert len(beside) > 1
    assert [one for one in beside if one[1] > 1] == []


GREYS = """() => {
  const light = (colour) => {
    const [r, g, b] = colour.match(/[\\d.]+/g).map((v) => v / 255)
      .map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const found = {};
  for (const item of document.querySelectorAll("#loads .item")) {
    const shape = getComputedStyle(item.querySelector("rect"));
    const step = item.classList.contains("livestock") ? "animals" : item.getAttribute("class").match(/step-\\d/)[0];
    found[step] = [light(shape.fill), shape.strokeDasharray];
  }
  return found;
}"""
LEAST_STEP = 1.25
"""Contrast of one grey to the next that a laser printer's dots still show; assumed. [-]"""


def test_steps_of_loading_are_told_apart_on_grey_paper(open_page: OpenPage, pages: dict[str, Path]) -> None:
    page = open_page(pages["house_move"]).page
    page.emulate_media(media="print")
    found = page.evaluate(GREYS)
    animals = found.pop("animals")
    assert set(found) == {"step-1", "step-2", "step-3"}
    greys = [found[step][0] for step in sorted(found)]
    assert greys == sorted(greys)
    for dark, bright in pairwise(greys):
        assert (bright + 0.05) / (dark + 0.05) >= LEAST_STEP
    assert animals[1] != "none"
    assert all(dashes == "none" for _, dashes in found.values())


def test_words_that_cover_each_other_are_seen(open_page: OpenPage, pages: dict[str, Path]) -> None:
    page = open_page(pages["short_plan"]).page
    unfold(page)
    page.evaluate(
        """() => { const word = document.querySelector(".drawing svg text");
             word.parentNode.append(word.cloneNode(true)); }"""
    )
    assert len(page.evaluate(OVERLAPPING)) == 1


@pytest.mark.parametrize("name", [case.name for case in CASES if case.example != "impossible_dates"])
def test_no_line_of_the_day_runs_through_a_number(
    open_page: OpenPage, pages: dict[str, Path], name: str
) -> None:
    page = open_page(pages[name]).page
    assert page.locator("#day .knot text").count() > 0
    assert page.evaluate(CROSSED) == []


@pytest.mark.parametrize("line", ["M48 {y}H440", "M{x} 0V2000", "M48 {low}L440 {high}"])
def test_a_line_through_a_number_is_seen(open_page: OpenPage, pages: dict[str, Path], line: str) -> None:
    page = open_page(pages["short_plan"]).page
    x, foot = page.locator("#day .knot text").first.evaluate(
        "one => [one.getBBox().x + 4, one.y.baseVal[0].value]"
    )
    path = line.format(x=x, y=foot - 4, low=foot - 4, high=foot - 4.5)
    page.evaluate("(path) => document.querySelector('#day .hours path').setAttribute('d', path)", path)
    assert [one[1] for one in page.evaluate(CROSSED)].count("hours") >= 1
