from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from moveplan.errors import Lack, Problem, WayOut
from moveplan.outputs.agenda import agenda
from moveplan.outputs.data.result import result_data
from moveplan.outputs.documents.page import page_html
from tests.browser.conftest import OUTLOOKS, Opened, Violations, unfold
from tests.outputs.scene import ROWS, impossible, moving_day

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Opened]


@pytest.mark.parametrize("name", OUTLOOKS)
@pytest.mark.parametrize(("width", "dark"), [(1280, False), (390, True), (320, False)])
def test_it_opens_without_complaint_request_or_sideways_scrolling(
    open_page: OpenPage, name: str, width: int, dark: bool
) -> None:
    opened = open_page(name, width=width, dark=dark)
    assert opened.complaints == []
    assert opened.requests == [opened.first]
    assert opened.page.evaluate("window.broken === undefined")
    assert opened.page.evaluate(
        "document.documentElement.scrollWidth <= document.documentElement.clientWidth"
    )


def test_ticks_survive_a_reload_and_say_when(open_page: OpenPage) -> None:
    page = open_page("planned", width=390).page
    box = page.locator("input[data-task='fill-tubs']")
    unfold(page)
    box.check()
    page.reload()
    unfold(page)
    assert box.is_checked()
    assert (page.locator("#task-fill-tubs .facts .done-at").text_content() or "").startswith("done ")
    assert "2 of 39 done, kept in this browser." in (page.locator("#progress-words").text_content() or "")
    box.uncheck()
    page.reload()
    assert not box.is_checked()


def test_progress_is_saved_as_a_file(open_page: OpenPage, tmp_path: Path) -> None:
    page = open_page("planned").page
    unfold(page)
    page.locator("input[data-task='book-van']").check()
    page.locator("input[data-task='test-water'][data-time='3']").check()
    with page.expect_download() as download:
        page.get_by_role("button", name="Save progress as a file").click()
    download.value.save_as(tmp_path / "progress.json")
    saved: dict[str, Any] = json.loads((tmp_path / "progress.json").read_text(encoding="utf-8"))
    assert (saved["format"], saved["plan"]) == (1, "3f1c2d7a-91d5-4c57-8a44-0d9b5b1f6a20")
    records = [(one["task"], one.get("time"), one["state"]) for one in saved["records"]]
    assert records == [("book-van", None, "COMPLETED"), ("test-water", 3, "COMPLETED")]
    assert all(datetime.fromisoformat(one["at"]).tzinfo for one in saved["records"])


def test_where_storage_is_refused_it_says_so_and_shows_nothing_as_saved(
    open_page: OpenPage, files: dict[str, Path]
) -> None:
    page = open_page("planned").page
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('no'); } })"
    )
    page.goto(files["planned"].as_uri())
    assert page.locator("#storage-refused").is_visible()
    unfold(page)
    page.locator("input[data-task='book-van']").check()
    assert (page.locator("#progress-words").text_content() or "").endswith("not kept.")
    page.reload()
    assert not page.locator("input[data-task='book-van']").is_checked()


def test_the_list_can_be_narrowed_to_one_person_and_to_what_is_open(open_page: OpenPage) -> None:
    page = open_page("planned").page
    page.get_by_role("button", name="Unfold all days").click()
    page.locator("#only-person").select_option("per")
    visible = page.locator(".task:visible").evaluate_all("tasks => tasks.map((task) => task.id)")
    assert sorted(visible) == sorted(f"task-{row.id}" for row in ROWS if "per" in row.people)
    page.locator("input[data-task='drain-display']").check()
    page.locator("#hide-done").check()
    assert not page.locator("#task-drain-display").is_visible()
    assert not page.locator("#no-scripts").is_visible()


def test_the_list_can_be_ordered_by_phase_and_back_and_keeps_what_was_chosen(open_page: OpenPage) -> None:
    page = open_page("planned").page
    ids = "tasks => tasks.map((task) => task.id)"
    unfold(page)
    by_date = page.locator(".task:visible").evaluate_all(ids)
    numbers = page.locator(".task:visible > :is(label, .tick)").evaluate_all(
        "all => all.map((one) => Number(/ (\\d+)\\. /.exec(one.textContent)[1]))"
    )
    assert numbers == sorted(set(numbers))
    page.locator("#grouping").select_option("phase")
    phases = page.locator(".phase > summary").all_text_contents()
    assert phases == ["survey", "prepare", "eve", "moving-day", "aftercare"]
    assert page.locator(".phase .date").first.is_visible()
    assert sorted(page.locator(".task:visible").evaluate_all(ids)) == sorted(by_date)
    page.reload()
    assert page.locator("#grouping").input_value() == "phase"
    page.locator("#grouping").select_option("day")
    unfold(page)
    assert page.locator(".task:visible").evaluate_all(ids) == by_date


def test_ticks_of_run_sheet_and_list_are_one(open_page: OpenPage) -> None:
    page = open_page("planned", width=390).page
    unfold(page)
    line = page.locator(".run > li", has=page.locator("a[href='#task-catch-fish']")).first
    line.locator("input").check()
    box = page.locator("input[data-task='catch-fish']")
    assert box.is_checked()
    box.uncheck()
    assert not line.locator("input").is_checked()


def test_a_line_of_a_run_sheet_opens_the_steps_of_the_list(open_page: OpenPage) -> None:
    page = open_page("planned").page
    page.locator("#sheet-1 > summary").click()
    page.locator("#sheet-1 .run > li details").first.wait_for(state="attached")
    for line in page.locator("#sheet-1 .run > li").all():
        task = (line.locator("a[href^='#task-']").get_attribute("href") or "")[1:]
        listed = page.locator(f"#{task} > ol > li").all_text_contents()
        assert line.locator("details > ol > li").all_text_contents() == listed


@pytest.mark.parametrize(("width", "height"), [(360, 500), (360, 800), (768, 1024), (1280, 800)])
def test_the_first_screen_answers_when_home_how_sure_who_money_and_next(
    open_page: OpenPage, width: int, height: int
) -> None:
    page = open_page("simulated", width=width).page
    page.set_viewport_size({"width": width, "height": height})
    rows = page.locator(".answers dl > div")
    words = [" ".join(text.split()) for text in rows.all_inner_texts()]
    heads = [
        text.partition(":")[0].partition(" Sat")[0] for text in page.locator(".answers dt").all_inner_texts()
    ]
    assert heads == ["Moving day", "Animals home", "Can it be done", "Least time", "Money", "Next"]
    assert "Saturday 22 May 2027" in words[0]
    assert re.search(r"\d\d:\d\d – \d\d:\d\d", words[0])
    assert "Yes" in words[2]
    assert "Cleaner shrimp" in words[3] or "Hammer" in words[3] or "Clownfish" in words[3]
    last = rows.last.bounding_box()
    assert last is not None
    assert last["y"] + last["height"] <= height
    ways = page.locator(".ways a").evaluate_all(
        "all => all.map((one) => one.getBoundingClientRect()).map((box) => [box.height, box.bottom])"
    )
    assert all(tall >= 44 for tall, _ in ways)
    assert max(bottom for _, bottom in ways) <= height


def test_the_present_task_of_a_person_is_one_tap_away_on_the_day(open_page: OpenPage) -> None:
    page = open_page("planned", width=360).page
    page.clock.install(time=datetime.fromisoformat("2027-05-22T08:00:00+01:00"))
    page.reload()
    page.set_viewport_size({"width": 360, "height": 800})
    page.locator(".ways a[data-person='per']").click()
    assert page.get_by_label("I am").locator("option:checked").inner_text() == "Per Olin"
    title = page.locator("#card-title").bounding_box()
    assert title is not None
    assert 0 <= title["y"] < 800


def test_a_link_into_what_is_folded_unfolds_it(open_page: OpenPage) -> None:
    page = open_page("planned").page
    assert not page.locator("#task-book-van").is_visible()
    page.evaluate("location.hash = '#task-book-van'")
    page.locator("#task-book-van").wait_for(state="visible")


def test_without_scripts_it_is_still_a_complete_list(open_page: OpenPage) -> None:
    page = open_page("planned", scripts=False).page
    assert page.locator(".task").count() == len(ROWS)
    assert page.locator("#no-scripts").is_visible()
    assert not page.locator(".tools").is_visible()


def test_everything_can_be_reached_and_ticked_by_keyboard(open_page: OpenPage) -> None:
    page = open_page("planned").page
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    found = []
    for _ in range(10):
        page.keyboard.press("Tab")
        found.append(page.evaluate("document.activeElement.dataset.person || ''"))
    assert {person for person in found if person} == {"una", "per", "cai"}
    unfold(page)
    page.locator("input[data-task='book-van']").focus()
    page.keyboard.press("Space")
    assert page.locator("input[data-task='book-van']").is_checked()


def test_touch_targets_of_the_list_are_large(open_page: OpenPage) -> None:
    page = open_page("planned", width=390).page
    unfold(page)
    height = "labels => labels.map((label) => label.getBoundingClientRect().height)"
    heights = page.locator("#todo .task label").evaluate_all(height)
    assert len(heights) == len(ROWS) - 1 + 14
    heights += page.locator(".run label").evaluate_all(height)
    assert min(heights) >= 44


def _minutes(text: str) -> float:
    return datetime.fromisoformat(text).timestamp() / 60


def test_ribbons_end_where_the_data_say_within_a_pixel(open_page: OpenPage) -> None:
    page = open_page("planned").page
    drawn = page.locator("a.ribbon").evaluate_all(
        """ribbons => ribbons.map((ribbon) => [ribbon.dataset.animals.trim().split(" "),
             Array.from(ribbon.querySelectorAll("polygon")).map((shape) => {
             const box = shape.getBBox(); return [box.y, box.y + box.height]; })])"""
    )
    animals = result_data(OUTLOOKS["planned"]())["livestock"]
    zero = min(_minutes(animal["stays"][0]["from"]) for animal in animals) - 45
    top = min(ends[0][0] for _, ends in drawn)
    by_name = {name: ends for names, ends in drawn for name in names}
    for animal in animals:
        ends = by_name[animal["id"]]
        for (y0, y1), stop in list(zip(ends, animal["route"], strict=True))[1:-1]:
            assert abs(y0 - top - (_minutes(stop["from"]) - zero)) < 1
            assert abs(y1 - top - (_minutes(stop["until"]) - zero)) < 1


def test_stretches_of_the_day_are_as_long_as_the_data_say_within_a_pixel(open_page: OpenPage) -> None:
    """A stretch is drawn a pixel short at both ends, so that two in a row stay two."""
    page = open_page("planned").page
    drawn = page.locator("a.knot").evaluate_all(
        """knots => knots.map((knot) => {
             const { y, height } = knot.querySelector("path").getBBox();
             return [knot.getAttribute("href").slice(6), y, height]; })"""
    )
    tasks = {task["id"]: task for task in result_data(OUTLOOKS["planned"]())["tasks"]}
    first = min(drawn, key=lambda row: row[1])
    for task, y, height in drawn:
        assert abs(height - max(1.1 * tasks[task]["minutes"] - 2, 1)) < 1
        later = _minutes(tasks[task]["start"]) - _minutes(tasks[first[0]]["start"])
        assert abs(y - first[1] - 1.1 * later) < 1


def test_cost_bars_are_in_proportion(open_page: OpenPage) -> None:
    bars = (
        open_page("planned")
        .page.locator("#cost .bar .fill")
        .evaluate_all("bars => bars.map((bar) => [Number(bar.dataset.amount), bar.getBBox().width])")
    )
    assert [amount for amount, _ in bars] == [38.08, 190, 38.5, -15]
    for amount, width in bars:
        assert abs(width - 300 * abs(amount) / 190) < 1


def test_run_sheets_printed_from_the_page_say_the_sign_of_being_done_and_where(
    open_page: OpenPage, tmp_path: Path
) -> None:
    outlook = moving_day()
    plan = outlook.project.plan
    places = tuple(replace(one, address=f"12 {one.name} Lane") for one in plan.places)
    outlook = replace(outlook, project=replace(outlook.project, plan=replace(plan, places=places)))
    path = tmp_path / "sheets.html"
    path.write_text(page_html(outlook), encoding="utf-8")
    page = open_page(path).page
    page.emulate_media(media="print")
    page.evaluate("document.body.dataset.print = 'sheets'; window.dispatchEvent(new Event('beforeprint'))")
    said = page.locator("#sheets").inner_text()
    for line in agenda(outlook).lines:
        if line.task.day and line.placement.people and line.task.steps:
            assert line.task.steps[-1] in said, line.task.title
            assert all(step not in said for step in line.task.steps[:-1]), line.task.title
    assert all(f"12 {one.name} Lane" in said for one in places if one.name in said)


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
@pytest.mark.parametrize(("part", "pages"), [("sheets", (3, 5)), ("labels", (2, 2)), ("loads", (1, 2))])
def test_each_part_prints_on_its_own(
    open_page: OpenPage, sheet: str, part: str, pages: tuple[int, int]
) -> None:
    """Of the labels there are ten, eight to a sheet."""
    page = open_page("planned").page
    page.evaluate(f"document.body.dataset.print = '{part}'")
    count = page.pdf(format=sheet, prefer_css_page_size=False).count(b"/Type /Page\n")
    assert pages[0] <= count <= pages[1]


@pytest.mark.parametrize("name", ["simulated", "impossible"])
@pytest.mark.parametrize(
    ("width", "dark", "media"),
    [(1280, False, "screen"), (1280, True, "screen"), (320, False, "screen"), (1280, False, "print")],
)
def test_the_accessibility_checker_finds_nothing(
    open_page: OpenPage, violations: Violations, name: str, width: int, dark: bool, media: str
) -> None:
    page = open_page(name, width=width, dark=dark).page
    assert violations(page, dark, media) == []


def test_each_cell_of_a_stacked_table_is_labelled_by_the_head_of_its_column(open_page: OpenPage) -> None:
    """On a narrow screen the head of a table is hidden, and each cell says it."""
    page = open_page("simulated", width=360).page
    unfold(page)
    tables = page.locator("table.stack").evaluate_all(
        """all => all.map((table) => {
             const heads = Array.from(table.tHead.rows[0].cells).map((head) => `"${head.textContent}: "`);
             return Array.from(table.tBodies[0].querySelectorAll("tr:not(.note) td")).map((cell) =>
               [heads[cell.cellIndex], getComputedStyle(cell, "::before").content]); })"""
    )
    assert len(tables) >= 3
    for cells in tables:
        assert cells
        assert [said for head, said in cells if said != head] == []


def test_of_several_reasons_the_first_is_open_and_all_are_counted_on_the_first_screen(
    open_page: OpenPage, tmp_path: Path
) -> None:
    long, short = (Lack(f"{minutes} min are missing", 0, 60, 60 + minutes, 60) for minutes in (90, 30))
    way = WayOut(
        "hire the van for longer", "1 day of hire", writes=(("vehicles.van.hire", "all day"),), remain=1
    )
    problems = (
        Problem("late", "", "", (way,), long),
        Problem("small", "", "", (replace(way, remain=0),), short),
    )
    path = tmp_path / "several.html"
    path.write_text(page_html(replace(impossible(), problems=problems)), encoding="utf-8")
    page = open_page(path, width=360).page
    page.set_viewport_size({"width": 360, "height": 500})
    assert page.locator(".verdict > p").first.inner_text() == (
        "2 reasons, most time missing first: 1 h 30 min, 30 min."
    )
    folded = page.locator(".reasons > li > details")
    assert folded.evaluate_all("all => all.map((one) => one.open)") == [True, False]
    assert page.locator(".reasons .ruler").count() == 2
    assert "tried: it ends this one, 1 other remains" in folded.first.inner_text()
    bottom = page.locator(".way-outs").first.evaluate("one => one.getBoundingClientRect().bottom")
    assert bottom <= 500
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    folded.nth(1).locator("summary").first.click()
    assert "tried, it works" in folded.nth(1).inner_text()
