"""The form of a plan file: what is opened in it is saved as the same plan, and a new plan can be filled in."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from moveplan.outputs.documents.form import form_html
from moveplan.plan.move import Plan
from moveplan.planfile import read_plan
from tests.browser.conftest import Opened, Violations

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Opened]
ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.yaml"))
WHOLE = ROOT / "tests" / "planfile" / "full_plan.yaml"
NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001


@pytest.fixture(scope="module")
def form(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("form") / "form.html"
    path.write_text(form_html("my_move.yaml"), encoding="utf-8", newline="\n")
    return path


def as_told(plan: Plan) -> Plan:
    """Leave out where things stand in the file."""
    tasks = tuple(
        replace(task, line=0, after=tuple(replace(one, line=0) for one in task.after)) for task in plan.tasks
    )
    return replace(plan, lines={}, tasks=tasks)


def text_in(opened: Opened) -> str:
    opened.page.click("#show")
    return opened.page.input_value("#text")


@pytest.mark.parametrize("example", [*EXAMPLES, WHOLE], ids=lambda path: path.stem)
def test_a_plan_that_is_opened_is_saved_as_the_same_plan(
    open_page: OpenPage, form: Path, example: Path, tmp_path: Path
) -> None:
    opened = open_page(form)
    opened.page.set_input_files("#open", str(example))
    opened.page.wait_for_function("document.getElementById('said').textContent.includes('is open')")
    saved = tmp_path / example.name
    saved.write_text(text_in(opened), encoding="utf-8")
    for table in (*example.parent.glob("*.csv"), *example.parent.glob("*.toml")):
        shutil.copy(table, tmp_path)
    assert as_told(read_plan(saved, NOW)) == as_told(read_plan(example, NOW))
    assert opened.complaints == []


def test_a_new_plan_is_filled_in_and_saved(
    open_page: OpenPage, form: Path, tmp_path: Path, violations: Violations
) -> None:
    opened = open_page(form)
    page = opened.page

    def fill(path: str, text: str) -> None:
        box = page.locator(f'[data-path="{path}"]')
        box.evaluate(
            "one => { for (let at = one; at; at = at.parentElement) if (at.tagName === 'DETAILS') at.open = true; }"
        )
        if box.evaluate("one => one.tagName") == "SELECT":
            box.select_option(text)
        else:
            box.fill(text)
            box.blur()

    fill(".title", "Reef: the “move” #1")
    fill(".timezone", "Europe/Dublin")
    fill("dates.move-day", "2027-03-13")
    page.click('[data-entry="places.new"] > summary')
    fill("places.new.distance", "25")
    page.click('[data-entry="systems.reef"] > summary')
    for key, text in (("length", "120"), ("width", "60 cm"), ("height", "55")):
        fill(f"systems.reef.tank.{key}", text)
    page.click('[data-add="livestock"]')
    page.click('[data-add="livestock"]')
    fill("livestock.livestock.kind", "frogspawn")
    fill("livestock.livestock.count", "2")
    fill("livestock.livestock-2.kind", "tang")
    fill("livestock.livestock-2", "zeb")
    fill("people.me.hours", "{mon-fri: 18:00-21:00}")
    fill("people.friend.cares", "yes")
    fill("vehicles.van.payload", "800")
    with page.expect_download() as held:
        page.click("#save")
    saved = tmp_path / held.value.suggested_filename
    held.value.save_as(saved)
    assert saved.name == "my_move.yaml"
    plan = read_plan(saved, NOW)
    assert plan.title == "Reef: the “move” #1"
    assert plan.id.count("-") == 4
    assert [(one.id, one.kind, one.count) for one in plan.livestock] == [
        ("livestock", "large-polyp-coral", 2),
        ("zeb", "tang", 1),
    ]
    assert [one.cares for one in plan.people] == [True, True]
    assert plan.vehicles[0].payload_kg == 800
    assert opened.complaints == []
    assert [url for url in opened.requests if not url.startswith(("file:", "blob:"))] == []
    assert violations(page, False, "screen") == []
    assert violations(page, True, "screen") == []


def test_us_units_make_bare_numbers_theirs(open_page: OpenPage, form: Path) -> None:
    opened = open_page(form)
    opened.page.select_option('[data-path=".units"]', "us")
    opened.page.click('[data-entry="vehicles.van"] > summary')
    box = opened.page.locator('[data-path="vehicles.van.payload"]')
    box.fill("2200")
    box.blur()
    assert box.input_value() == "2200 lb"


def test_what_is_missing_is_marked_and_nothing_is_saved(open_page: OpenPage, form: Path) -> None:
    opened = open_page(form)
    opened.page.click("#save")
    assert "Something is missing" in opened.page.inner_text("#said")
    assert opened.page.locator('[data-entry="systems.reef"]').evaluate("one => one.open")


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("a: [1, 2", "line 1: a bracket or quotation mark is not closed"),
        ("a: 1\n  b: 2\n", "cannot be read"),
        ("a: &x 1\n", "anchors, repeats and tags are not read in a plan"),
        ("just text\n", "neither a key with a value nor a list"),
    ],
)
def test_a_file_that_is_none_is_told(
    open_page: OpenPage, form: Path, tmp_path: Path, content: str, said: str
) -> None:
    opened = open_page(form)
    file = tmp_path / "broken.yaml"
    file.write_text(content, encoding="utf-8")
    opened.page.set_input_files("#open", str(file))
    opened.page.wait_for_function("document.getElementById('said').textContent.includes('broken.yaml')")
    assert said in opened.page.inner_text("#said")


def test_texts_of_any_sign_come_back(open_page: OpenPage, form: Path, tmp_path: Path) -> None:
    """Also what YAML would take for something else, and what HTML would."""
    hostile = (
        "</script><b>x",
        "a: b # c",
        "'q' \"d\" \\",
        "yes",
        "~",
        "12:30",
        "- x",
        "{x}",
        "鰭 🐠",
        "\u202eabc\u2028d",
        "a\tb",
    )
    opened = open_page(form)
    for text in hostile:
        opened.page.evaluate("text => { plan.set('title', text); }", text)
        file = tmp_path / "plan.yaml"
        whole = opened.page.evaluate("() => planText()")
        file.write_text(whole, encoding="utf-8")
        again = opened.page.evaluate("text => readYaml(text).get('title')", whole)
        assert again == text
        from moveplan.planfile.text import composed

        read = composed(whole)[0].value
        assert isinstance(read, dict)
        assert read["title"].value == text
    page = form_html("my_move.yaml", 'title: "</script><script>alert(1)</script>"\n')
    assert "</script><script>alert" not in page
