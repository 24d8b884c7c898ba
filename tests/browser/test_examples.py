from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import Opened

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Opened]
EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The examples as a keeper would build them, without the simulation."""
    folders = {name: tmp_path_factory.mktemp(name) for name in ("house_move", "impossible_dates")}
    for name, folder in folders.items():
        plan = str(EXAMPLES / f"{name}.yaml")
        command = [sys.executable, "-m", "moveplan", "build", plan, "--runs", "0", "--out", str(folder)]
        subprocess.run(command, check=False, capture_output=True, cwd=EXAMPLES.parent, timeout=120)
    return folders


def _result(folder: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((folder / "result.json").read_text(encoding="utf-8"))
    return found


def _minutes(text: str) -> float:
    return datetime.fromisoformat(text).timestamp() / 60


@pytest.mark.parametrize("name", ["house_move", "impossible_dates"])
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


def test_the_page_of_a_whole_move_is_small_and_quick(open_page: OpenPage, built: dict[str, Path]) -> None:
    assert (built["house_move"] / "index.html").stat().st_size < 400_000
    timing = open_page(built["house_move"] / "index.html").page.evaluate(
        "performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"
    )
    assert timing < 500


def test_what_cannot_be_done_gives_the_reasons_of_the_data(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    words = open_page(built["impossible_dates"] / "index.html").page.locator(".reasons").inner_text()
    problems = _result(built["impossible_dates"])["problems"]
    assert problems
    for problem in problems:
        assert problem["message"] in words


def test_every_task_of_the_data_is_on_the_list_with_its_steps(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    page = open_page(built["house_move"] / "index.html").page
    for task in _result(built["house_move"])["tasks"]:
        item = page.locator(f"#task-{task['id']}").text_content() or ""
        assert task["title"] in item
        for step in task["steps"]:
            assert step in item


def test_ribbons_and_blocks_agree_with_the_data_within_a_pixel(
    open_page: OpenPage, built: dict[str, Path]
) -> None:
    page, result = open_page(built["house_move"] / "index.html").page, _result(built["house_move"])
    ribbons = page.locator("a.ribbon").evaluate_all(
        "all => all.map((one) => Array.from(one.querySelectorAll('polygon')).map((shape) => "
        "[shape.getBBox().y, shape.getBBox().y + shape.getBBox().height]))"
    )
    closing = min(_minutes(animal["stays"][0]["from"]) for animal in result["livestock"])
    top = min(ends[0][0] for ends in ribbons) + 45
    for ends, animal in zip(ribbons, result["livestock"], strict=True):
        stay = animal["stays"][0]
        assert abs(ends[1][0] - top - (_minutes(stay["from"]) - closing)) < 1
        assert abs(ends[-2][1] - top - (_minutes(stay["until"]) - closing)) < 1
    tasks = {task["id"]: task for task in result["tasks"]}
    blocks = page.locator("a.block").evaluate_all(
        "all => all.map((one) => [one.dataset.task, one.querySelector('.body').getBBox().height])"
    )
    assert len(blocks) > 40
    for task, height in blocks:
        length = _minutes(tasks[task]["segments"][0]["finish"]) - _minutes(
            tasks[task]["segments"][0]["start"]
        )
        assert abs(height - 1.4 * length) < 1


def test_the_accessibility_checker_finds_nothing_in_a_whole_move(
    open_page: OpenPage, built: dict[str, Path], axe: str
) -> None:
    page = open_page(built["house_move"] / "index.html", width=390).page
    page.evaluate(axe)
    found = page.evaluate(
        "axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })"
    )
    assert [(one["id"], one["nodes"][0]["html"][:200]) for one in found["violations"]] == []
