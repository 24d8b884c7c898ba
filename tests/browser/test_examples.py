from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Locator

from tests.browser.conftest import Opened, Violations, unfold

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Opened]
ZONE = ZoneInfo("Europe/Dublin")
EXAMPLES = Path(__file__).parents[2] / "examples"
RUNS = {"house_move": "10000", "house_move_into_larger_tank": "0", "impossible_dates": "0"}
STATUSES = {"house_move": 0, "house_move_into_larger_tank": 0, "impossible_dates": 1}


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The examples as a keeper would build them, with all runs of the simulation or none.

    Few runs would leave it to chance on which side of the accepted risk a plan lies, and so which page there is.
    """
    folders = {name: tmp_path_factory.mktemp(name) for name in RUNS}
    for name, folder in folders.items():
        plan = str(EXAMPLES / f"{name}.yaml")
        command = [
            sys.executable,
            "-m",
            "moveplan",
            "build",
            plan,
            "--runs",
            RUNS[name],
            "--solver-seconds",
            "0.2",
            "--out",
            str(folder),
        ]
        done = subprocess.run(
            command, check=False, capture_output=True, text=True, cwd=EXAMPLES.parent, timeout=600
        )
        assert done.returncode == STATUSES[name], done.stdout + done.stderr
    return folders


def _result(folder: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((folder / "result.json").read_text(encoding="utf-8"))
    return found


def _minutes(text: str) -> float:
    return datetime.fromisoformat(text).timestamp() / 60


@pytest.mark.parametrize("name", RUNS)
@pytest.mark.parametrize(("width", "dark"), [(1280, True), (320, False)])
def test_an_example_opens_without_complaint_or_request(
    open_page: OpenPage, built: dict[str, Path], name: str, width: int, dark: bool
) -> None:
    opened = open_page(built[name] / "index.html", width=width, dark=dark)
    assert opened.complaints == []
    assert opened.requests == [opened.first]
    assert opened.page.evaluate(
        "document.documentElement.scrollWidth <= document.documentElement.clientWidth"
    )


@pytest.mark.parametrize("name", RUNS)
def test_text_of_twice_the_size_still_fits_the_page(
    open_page: OpenPage, built: dict[str, Path], name: str
) -> None:
    page = open_page(built[name] / "index.html").page
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    cut = page.evaluate(
        """() => Array.from(document.querySelectorAll("main :not(svg *)")).filter((one) => {
             const style = getComputedStyle(one);
             return style.overflowX === "hidden" && one.scrollWidth > one.clientWidth + 1
               && !style.clipPath.startsWith("inset"); }).map((one) => one.outerHTML.slice(0, 100))"""
    )
    assert cut == []


@pytest.mark.parametrize("name", ["house_move", "house_move_into_larger_tank"])
def test_the_page_of_a_whole_move_is_small(built: dict[str, Path], name: str) -> None:
    """Some 120 tasks with steps, links, run sheets, labels and the crew's card: a page to be sent by mail."""
    assert (built[name] / "index.html").stat().st_size < 400_000


@pytest.mark.parametrize("name", ["house_move", "house_move_into_larger_tank"])
def test_folded_a_whole_move_is_at_most_sixty_screens_of_a_phone(
    open_page: OpenPage, built: dict[str, Path], name: str
) -> None:
    page = open_page(built[name] / "index.html").page
    page.set_viewport_size({"width": 360, "height": 640})
    assert page.evaluate("document.documentElement.scrollHeight") <= 60 * 640


def test_the_checklist_of_a_house_move_is_short_enough_to_be_printed(built: dict[str, Path]) -> None:
    text = (built["house_move"] / "checklist.md").read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 450
    for task in _result(built["house_move"])["tasks"]:
        assert f"**{task['title']}**: " in text
        for step in task["steps"]:
            assert step in text.replace("\\_", "_")


def test_what_is_written_once_stands_wherever_it_belongs(open_page: OpenPage, built: dict[str, Path]) -> None:
    folder = built["house_move"]
    written = (folder / "index.html").read_text(encoding="utf-8")
    page = open_page(folder / "index.html").page
    told = page.locator("#todo .mind").all_text_contents()
    full: dict[str, str] = {}
    for text in told:
        head, _, words = text.removeprefix("Care, ").partition(": ")
        if not text.startswith("Care as above"):
            assert len(words) > 40
            assert full.setdefault(head.lower(), words) == words
            assert written.count(words) == 1
    sheets = page.locator("#sheets .care-full li").all_text_contents()
    assert len(sheets) > len(set(sheets)) > 1
    for text in sheets:
        head, _, words = text.partition(". ")
        assert full[head.lower()] == words
    assert page.locator(".same").count() == 0
    titles = page.locator(".knot").evaluate_all(
        """all => all.map((one) => [one.querySelector("title").textContent,
             document.querySelector(one.getAttribute("href")).querySelector("label, .tick").textContent.trim()])"""
    )
    assert len(titles) > 40
    assert all(title == line for title, line in titles)


def test_every_container_has_a_label_of_its_own(open_page: OpenPage, built: dict[str, Path]) -> None:
    folder = built["house_move"]
    page = open_page(folder / "index.html").page
    numbers = page.locator("#labels .label .big").all_text_contents()
    said = page.locator("#labels summary").text_content() or ""
    assert said == f"{len(numbers)} labels, {numbers[0]} to {numbers[-1]}"
    used = {use["number"] for use in _result(folder)["containers"]}
    assert used <= set(numbers)
    assert len(numbers) == len(set(numbers))
    assert page.locator(".alike").count() == 0
    places = page.locator("#labels .label").evaluate_all(
        "all => all.map((one) => one.querySelectorAll('div').length)"
    )
    assert min(places) >= 2


def test_every_wait_is_told_and_the_chain_that_decides_reaches_the_milestone(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    page, result = open_page(built["house_move"] / "index.html").page, _result(built["house_move"])
    numbers = dict(
        page.locator("#todo .task").evaluate_all(
            "all => all.map((one) => [one.id.slice(5), / (\\d+)\\. /"
            ".exec(one.querySelector('label, .tick').textContent)[1]])"
        )
    )
    told = page.locator(".all-links li").all_text_contents()
    for link in result["links"]:
        row = next(one for one in told if one.endswith(f": {link['why']}"))
        wait = rf"\b{numbers[link['to']]} after {numbers[link['from']]}\b"
        assert re.search(wait, row.removesuffix(link["why"])), link
    chains = page.locator("#waiting .chain").evaluate_all(
        "all => all.map((one) => Array.from(one.querySelectorAll('li a')).map((line) => line.hash.slice(6)))"
    )
    tasks = {task["id"]: task for task in result["tasks"]}
    assert len(chains) == len(result["milestones"])
    for chain in chains:
        starts = [_minutes(tasks[task]["start"]) for task in chain]
        assert starts == sorted(starts)
        assert len(chain) > 3
        assert tasks[chain[-1]]["finish"][:10] == tasks[chain[0]]["start"][:10]


def test_the_hold_point_of_the_cycle_stands_where_the_data_say(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    folder = built["house_move_into_larger_tank"]
    page, tasks = (
        open_page(folder / "index.html").page,
        {task["id"]: task for task in _result(folder)["tasks"]},
    )
    svg = page.locator("#filters .drawing").first
    boxes = [
        svg.locator(f".trace.{what}").evaluate("one => one.getBBox().y") for what in ("ammonia", "nitrite")
    ]
    hold = svg.locator(".bar-across").evaluate("one => one.getBBox().y")
    band = svg.locator(".perhaps").evaluate("one => [one.getBBox().y, one.getBBox().height]")
    ripen = tasks["ripen-display"]["estimate"]
    per_minute = band[1] / (ripen["high"] - ripen["low"])
    dosed = _minutes(tasks["dose-ammonia-display"]["finish"])
    assert abs(boxes[0] - boxes[1]) < 1
    assert abs(band[0] - boxes[0] - ripen["low"] * per_minute) < 1
    assert abs(hold - boxes[0] - (_minutes(tasks["cycle-done-display"]["start"]) - dosed) * per_minute) < 1


def test_how_sure_says_what_the_data_say(open_page: OpenPage, built: dict[str, Path]) -> None:
    page, result = open_page(built["house_move"] / "index.html").page, _result(built["house_move"])
    bars = page.locator("#sure .bar .fill").evaluate_all("all => all.map((one) => one.getBBox().width)")
    shares = list(result["risk"]["livestock_over_limit"].values())
    assert len(bars) == len(shares) > 0
    for width, share in zip(bars, shares, strict=True):
        assert abs(width - 300 * min(share / 0.05, 1)) < 1
    strips = page.locator("#sure .strip").evaluate_all(
        """all => all.map((one) => [one.dataset.name, Array.from(one.querySelectorAll(".cell")).map((cell) => {
             const box = cell.getBoundingClientRect(); return [box.left, box.right]; }),
             one.querySelector(".post").getBoundingClientRect().left])"""
    )
    tasks = {task["id"]: _minutes(task["finish"]) for task in result["tasks"]}
    assert [name for name, _, _ in strips] == ["ready", "settled", "finish"]
    for name, cells, post in strips:
        assert len(cells) >= 10
        p10, p50 = (_minutes(result["risk"][name][key]) for key in ("p10", "p50"))
        per_minute = (cells[8][1] - cells[0][1]) / max(p50 - p10, 1)  # cell 0 ends at 10 %, cell 8 at 50 %
        planned = max(tasks.values()) if name == "finish" else p10 + (post - cells[0][1]) / per_minute
        assert min(tasks.values()) <= planned <= max(tasks.values())
        if name == "settled":
            assert any(abs(planned - moment) * per_minute < 2 for moment in tasks.values())


def test_what_cannot_be_done_gives_the_reasons_of_the_data(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    reasons = open_page(built["impossible_dates"] / "index.html").page.locator(".reasons")
    words, told = reasons.inner_text(), reasons.text_content() or ""
    problems = _result(built["impossible_dates"])["problems"]
    assert problems
    for problem in problems:
        assert problem["where"] in words
        assert all(f"“{title}”" in told for title in re.findall("“(.+?)”", problem["message"]))
    assert "missing" in words
    assert "tried, it works" in words


def test_every_task_of_the_data_is_on_the_list_with_its_steps(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    page = open_page(built["house_move"] / "index.html").page
    for task in _result(built["house_move"])["tasks"]:
        item = page.locator(f"#task-{task['id']}").text_content() or ""
        assert task["title"] in item
        for step in task["steps"]:
            assert step in item


def test_ribbons_and_stretches_agree_with_the_data_within_a_pixel(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    page, result = open_page(built["house_move"] / "index.html").page, _result(built["house_move"])
    ribbons = page.locator("a.ribbon").evaluate_all(
        "all => all.map((one) => [one.dataset.animals.trim().split(' '), "
        "Array.from(one.querySelectorAll('polygon')).map((shape) => "
        "[shape.getBBox().y, shape.getBBox().y + shape.getBBox().height])])"
    )
    closing = min(_minutes(animal["stays"][0]["from"]) for animal in result["livestock"])
    top = min(ends[0][0] for _, ends in ribbons) + 45
    drawn = {name: ends for names, ends in ribbons for name in names}
    assert sorted(drawn) == sorted(animal["id"] for animal in result["livestock"])
    for animal in result["livestock"]:
        ends = drawn[animal["id"]]
        stay = animal["stays"][0]
        assert abs(ends[1][0] - top - (_minutes(stay["from"]) - closing)) < 1
        assert abs(ends[-2][1] - top - (_minutes(stay["until"]) - closing)) < 1
    tasks = {task["id"]: task for task in result["tasks"]}
    knots = page.locator("a.knot").evaluate_all(
        """all => all.map((one) => [one.getAttribute("href").slice(6), one.querySelector("path").getBBox().height,
             one.querySelector("path").getAttribute("d").split("M").length - 1])"""
    )
    assert len(knots) > 40
    for task, height, hands in knots:
        (stretch, *_) = tasks[task]["segments"]
        length = _minutes(stretch["finish"]) - _minutes(stretch["start"])
        assert abs(height - max(1.1 * length - 2, 1)) < 1
        assert hands == len(tasks[task]["people"])


def test_a_ribbon_is_as_wide_as_its_minutes_are_to_those_of_the_scarcest(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    page, result = open_page(built["house_move"] / "index.html").page, _result(built["house_move"])
    ribbons = page.locator("a.ribbon").evaluate_all(
        """all => all.map((one) => [one.dataset.animals.trim().split(" ")[0],
             Array.from(one.querySelectorAll("polygon.closed, polygon.over")).map((shape) => {
             const at = Array.from(shape.points).map((point) => point.x); return [at[1] - at[0], at[2] - at[3]]; })])"""
    )
    animals = {animal["id"]: animal for animal in result["livestock"]}
    least = min(animal["stays"][0]["safe_low_minutes"] for animal in animals.values())
    widest = max(width for _, pieces in ribbons for piece in pieces for width in piece)
    for name, pieces in ribbons:
        stay = animals[name]["stays"][0]
        left = stay["safe_low_minutes"] - (_minutes(stay["until"]) - _minutes(stay["from"]))
        assert left > 0
        assert abs(pieces[-1][1] - widest * min(left / least, 1)) < 1


def test_whereabouts_weeks_and_filters_are_whole_on_a_small_screen_and_their_texts_large_enough(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    page = open_page(built["house_move"] / "index.html", width=360).page
    unfold(page)
    for section in ("animals", "weeks", "filters"):
        picture = page.locator(f"#{section} .drawing").first
        assert picture.evaluate("one => one.scrollWidth <= one.clientWidth + 1"), section
        _large_enough(picture)


def test_each_ribbon_is_named_beside_the_picture_in_the_same_order_with_the_time_left_at_each_change(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    page, result = open_page(built["house_move"] / "index.html", width=360).page, _result(built["house_move"])
    names = {animal["id"]: animal["name"] for animal in result["livestock"]}
    drawn = page.locator("a.ribbon").evaluate_all(
        "all => all.map((one) => one.dataset.animals.trim().split(' '))"
    )
    keys = page.locator("#animals .key li")
    assert keys.count() == len(drawn) > 3
    for members, key in zip(drawn, keys.all_text_contents(), strict=True):
        told, _, left = key.partition(": ")
        assert [one.partition(" ")[2] for one in told.split(", ")] == [names[member] for member in members]
        assert re.fullmatch(r"[^,]+ left at \d\d:\d\d(, [^,]+ at \d\d:\d\d){2}", left)


def _large_enough(picture: Locator) -> None:
    sizes = picture.locator("text").evaluate_all(
        "all => all.map((one) => parseFloat(getComputedStyle(one).fontSize) * one.getScreenCTM().a)"
    )
    turned = picture.locator("text[transform]").evaluate_all(
        "all => all.map((one) => parseFloat(getComputedStyle(one).fontSize) * Math.abs(one.getScreenCTM().b))"
    )
    assert min(size for size in sizes + turned if size) >= 10.9


def test_pools_and_beads_of_the_weeks_stand_where_the_data_say(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    page, result = open_page(built["house_move"] / "index.html").page, _result(built["house_move"])
    tasks = {task["id"]: task for task in result["tasks"]}
    drawn = page.locator("#weeks a.pool").evaluate_all(
        """all => all.map((one) => {
             const pool = one.querySelector("rect"), beads = one.querySelector(".bead");
             const at = pool ? [pool.y.baseVal.value, pool.y.baseVal.value + pool.height.baseVal.value]
               : beads.getAttribute("d").split("M").slice(1).map((bead) => parseFloat(bead.split(" ")[1]));
             return [one.getAttribute("href").slice(6), Boolean(pool), at]; })"""
    )
    assert {bool(pool) for _, pool, _ in drawn} == {True, False}
    words = page.locator("#weeks a.day").evaluate_all(
        """all => all.map((one) => [one.getAttribute("href").slice(6), one.querySelectorAll("tspan").length])"""
    )
    lines = {datetime.fromisoformat(tasks[task]["start"]).date(): count for task, count in words}
    assert len(lines) == len(words) > 20
    for task, pool, ys in drawn:
        for y, moment in zip(ys, _drawn_moments(tasks[task], pool=pool), strict=True):
            assert abs(y - _height_of_days(min(one["start"] for one in result["tasks"]), moment, lines)) < 1


def _height_of_days(first: str, moment: str, lines: dict[date, int]) -> float:
    """A day without words is 12 px tall, one with words 17 px a line and 3 px; the picture begins at 40 px."""
    begin, at = datetime.fromisoformat(first).date(), datetime.fromisoformat(moment).astimezone(ZONE)
    days = [begin + timedelta(days=number) for number in range((at.date() - begin).days + 1)]
    *before, own = (17 * lines[day] + 3 if day in lines else 12 for day in days)
    midnight, next_midnight = (
        datetime.combine(at.date() + timedelta(days=number), time(), ZONE).timestamp() for number in (0, 1)
    )
    return 40 + sum(before) + own * (at.timestamp() - midnight) / (next_midnight - midnight)


def _drawn_moments(task: dict[str, Any], *, pool: bool) -> list[str]:
    return [task["start"], task["finish"]] if pool else [one["start"] for one in task["segments"]]


def test_the_load_plan_lists_and_draws_what_the_data_load(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    page, result = open_page(built["house_move"] / "index.html").page, _result(built["house_move"])
    (load,) = result["loads"]
    listed = page.locator("#loads tbody tr").evaluate_all(
        "all => all.map((row) => Array.from(row.cells).slice(1, 3).map((cell) => cell.textContent))"
    )
    assert [name for name, _ in listed] == [item["name"] for item in load["items"]]
    for (_, mass), item in zip(listed, load["items"], strict=True):
        assert abs(float(mass.removesuffix(" kg")) - item["kg"]) < 0.06
    names = {f"{order}. {item['name']}" for order, item in enumerate(load["items"], start=1)}
    titles = page.locator("#loads .item title").evaluate_all("all => all.map((one) => one.textContent)")
    assert titles
    assert {title.rpartition(", ")[0] for title in titles} <= names
    inside = page.locator("#loads svg").evaluate(
        """svg => { const floor = svg.querySelector(".floor").getBBox();
             return Array.from(svg.querySelectorAll(".item rect")).map((one) => one.getBBox()).every((box) =>
               box.x >= floor.x - .1 && box.y >= floor.y - .1 && box.x + box.width <= floor.x + floor.width + .1
               && box.y + box.height <= floor.y + floor.height + .1); }"""
    )
    assert inside


def test_cost_bars_of_a_whole_move_add_up_to_the_data(open_page: OpenPage, built: dict[str, Path]) -> None:
    page, result = open_page(built["house_move"] / "index.html").page, _result(built["house_move"])
    bars = page.locator("#cost .bar .fill").evaluate_all(
        "all => all.map((one) => [Number(one.dataset.amount), one.getBBox().width])"
    )
    assert abs(sum(amount for amount, _ in bars) - result["cost"]["total"]) < 0.01
    greatest = max(abs(amount) for amount, _ in bars)
    assert all(abs(width - 300 * abs(amount) / greatest) < 1 for amount, width in bars)


@pytest.mark.parametrize(
    ("name", "width", "dark", "media"),
    [("house_move", 320, True, "screen"), ("house_move_into_larger_tank", 1280, False, "print")],
)
def test_the_accessibility_checker_finds_nothing_in_a_whole_move(
    open_page: OpenPage,
    built: dict[str, Path],
    violations: Violations,
    name: str,
    width: int,
    dark: bool,
    media: str,
) -> None:
    page = open_page(built[name] / "index.html", width=width, dark=dark).page
    assert violations(page, dark, media) == []
