from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.card import lid_on
from tests.browser.conftest import Opened, unfold

pytestmark = pytest.mark.browser
ROOT = Path(__file__).parents[2]


def _moveplan(*words: str | Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "moveplan", *map(str, words)]
    return subprocess.run(command, check=False, capture_output=True, text=True, cwd=ROOT, timeout=120)


def _records(plan: Path) -> list[dict[str, Any]]:
    text = plan.with_suffix(".journal.jsonl").read_text(encoding="utf-8")
    return [json.loads(line) for line in text.splitlines()]


def test_what_is_ticked_and_saved_on_the_page_is_in_the_journal_once_and_on_the_next_page(
    open_page: Callable[..., Opened], tmp_path: Path
) -> None:
    plan = tmp_path / "reef.yaml"
    shutil.copy(ROOT / "examples" / "house_move.yaml", plan)
    assert _moveplan("build", plan, "--runs", "0", "--out", tmp_path / "out").returncode == 0
    page = open_page(tmp_path / "out" / "index.html", width=390).page
    unfold(page)
    page.locator("input[data-task='agree-plan']").check()
    page.locator("input[data-time='1']").first.check()
    recurring = page.locator("input[data-time='1']").first.get_attribute("data-task")
    number = page.locator("[data-container]").first.get_attribute("data-container")
    group = next(
        animal["id"]
        for animal in json.loads((tmp_path / "out" / "result.json").read_text("utf-8"))["livestock"]
        for box in json.loads((tmp_path / "out" / "result.json").read_text("utf-8"))["containers"]
        if box["number"] == number and any(held.get("livestock") == animal["id"] for held in box["holds"])
    )
    lid_on(page.locator("[data-container]").first)
    held = page.locator(f"[data-container='{number}']")
    held.get_by_role("button", name="loss").evaluate("button => button.click()")
    page.locator("#card-of").evaluate("(of, group) => { of.value = group; }", f"{number}@{group}")
    page.locator("#card-loss [value=lost]").evaluate("button => button.click()")
    text = held.locator("bdi").inner_text()
    with page.expect_download() as download:
        page.get_by_role("button", name="Save progress as a file").click()
    saved = tmp_path / "progress.json"
    download.value.save_as(saved)

    first, again = _moveplan("log", plan, "--from", saved), _moveplan("log", plan, "--from", saved)
    assert (first.returncode, again.returncode) == (0, 0), first.stderr + again.stderr
    kinds = [(one["kind"], one.get("task", one.get("group"))) for one in _records(plan)]
    assert sorted(kinds) == sorted(
        [("done", "agree-plan"), ("done", recurring), ("shut", group), ("counted", group)]
    )

    assert _moveplan("build", plan, "--runs", "0", "--out", tmp_path / "out").returncode in (0, 1)
    page.reload()
    assert page.locator("input[data-task='agree-plan']").is_checked()
    assert page.locator("input[data-task='agree-plan']").is_disabled()
    # The new plan knows of what was lost: this phone, which keeps the record, does not count it again.
    animals = json.loads((tmp_path / "out" / "result.json").read_text("utf-8"))["livestock"]
    left = next(animal["count"] for animal in animals if animal["id"] == group)
    counts = ", ".join(page.locator("[data-container] bdi").all_text_contents())
    assert text.startswith("0 × ")
    assert sum(int(one) for one in re.findall(rf"(\d+){text[1:]}", counts)) == left > 0


def test_a_file_of_another_plan_is_refused_in_words(tmp_path: Path) -> None:
    plan = ROOT / "examples" / "house_move.yaml"
    saved = tmp_path / "progress.json"
    saved.write_text('{"format": 1, "plan": "elsewhere", "records": [], "containers": {}}')
    shutil.copy(plan, tmp_path / "reef.yaml")
    told = _moveplan("log", tmp_path / "reef.yaml", "--from", saved)
    assert told.returncode == 2
    assert 'it belongs to the plan "elsewhere"' in told.stderr
