"""One number for one container, wherever people read it: label, load plan, run sheets, whereabouts and countdown."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable, Iterable
from pathlib import Path

import pytest

from tests.browser.conftest import Opened, unfold

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Opened]
ROOT = Path(__file__).parents[2]
EXAMPLES = ("house_move", "small_tank_move", "larger_tank_same_spot")
NUMBER = re.compile(r"\b([A-Z])(\d+)(?:–\1(\d+))?")
"""``X4`` or, for a row of them, ``X4–X7``."""


@pytest.fixture(scope="module", params=EXAMPLES)
def folder(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp(request.param)
    plan = ROOT / "examples" / f"{request.param}.yaml"
    command = (sys.executable, "-m", "moveplan", "build", plan, "--solver-seconds", "0.2", "--out", out)
    done = subprocess.run(command, check=False, capture_output=True, text=True, cwd=ROOT, timeout=600)
    assert done.returncode == 0, done.stdout + done.stderr
    return out


def _numbers(texts: Iterable[str]) -> set[str]:
    """Every number that is written out or lies in a row."""
    return {
        f"{letter}{number}"
        for text in texts
        for letter, first, last in NUMBER.findall(text)
        for number in range(int(first), int(last or first) + 1)
    }


def test_each_container_has_one_label_and_its_number_everywhere(open_page: OpenPage, folder: Path) -> None:
    page = open_page(folder / "index.html").page
    unfold(page)
    result = json.loads((folder / "result.json").read_text("utf-8"))
    every = {one["number"] for one in result["containers"]}
    of_animals = {
        one["number"] for one in result["containers"] if any("livestock" in held for held in one["holds"])
    }
    assert of_animals
    assert of_animals < every

    labels = page.locator("#labels .label svg.big text").all_text_contents()
    assert sorted(number for number in labels if number[0] != "S") == sorted(every)

    items = [item for load in result["loads"] for item in load["items"]]
    loaded = [item["container"] for item in items if "container" in item]
    listed = page.locator("#loads tbody td b").all_text_contents()
    assert [number for number in listed if number in every] == loaded

    animals = _numbers(page.locator("#animals tr.animal td:nth-of-type(2)").all_text_contents())
    assert animals == of_animals
    counted = page.locator("#animals tr.animal .left").count()
    assert counted == page.locator("#animals tr.animal").count()

    listed_tasks = page.locator("#todo .task").evaluate_all(
        "all => all.map((one) => [one.id, one.textContent])"
    )
    steps = {task: _numbers([text]) & every for task, text in listed_tasks}
    assert every <= set().union(*steps.values())

    page.emulate_media(media="print")
    lines = page.locator("#sheets .run > li:has(a)").evaluate_all(
        "all => all.map((one) => [one.querySelector('a').hash.slice(1), one.innerText])"
    )
    assert len([task for task, _ in lines if steps[task]]) > 10
    for task, printed in lines:
        assert _numbers([printed]) & every == steps[task], task
