from __future__ import annotations

import io
import math
import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PageObject, PdfReader

from moveplan.outputs.agenda import agenda
from moveplan.outputs.documents.labels import labels_of
from moveplan.outputs.documents.page import page_html
from moveplan.outputs.documents.printing import find_browser, printed
from moveplan.outputs.documents.shopping import shopping
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.papers.run_sheets import run_sheets_of
from moveplan.pipeline import Settings, outlook_of
from moveplan.scheduling.effort import Effort
from tests.browser.conftest import Opened, chromium
from tests.browser.test_crowded import long_names
from tests.browser.test_measures import LEAST_PAPER_PT
from tests.outputs.crowd import crowded
from tests.outputs.scene import ROUTES, ROWS, moving_day

pytestmark = pytest.mark.browser
SIZES = {"A4": (595, 842), "letter": (612, 792)}  # ISO 216 (210 mm by 297 mm) and 8.5 in by 11 in, in points
LONG_HEAD = len("runsheet1")
LABELS_A_SHEET = {"A4": 8, "letter": 6}
"""Labels of 105 mm by 74 mm (ISO 216, A7) in two columns: four rows on 297 mm, three on 279 mm."""
PAGES_A_PERSON = 2
"""A run sheet is one sheet of paper, printed on both sides."""
Pages = dict[str, list[str]]


def _letters(text: str) -> str:
    """Letters and digits only: how a PDF breaks lines and joins letters does not count."""
    return re.sub(r"[\W_]+", "", text).casefold()


@pytest.fixture(scope="module", params=["A4", "letter"])
def pages(request: pytest.FixtureRequest) -> Pages:
    chromium()
    outlook = moving_day()
    country = "US" if request.param == "letter" else "IE"
    outlook = replace(
        outlook, project=replace(outlook.project, plan=replace(outlook.project.plan, country=country))
    )
    return _read(outlook, SIZES[request.param])


def _read(outlook: Outlook, size: tuple[int, int]) -> Pages:
    browser = find_browser()
    assert browser is not None
    found: Pages = {}
    for name, data in printed(outlook, browser).items():
        reader = PdfReader(io.BytesIO(data))
        for page in reader.pages:
            assert tuple(round(float(side)) for side in page.mediabox[2:]) == size
        found[name] = [_letters(page.extract_text()) for page in reader.pages]
    return found


def test_each_file_has_the_expected_pages(pages: Pages, request: pytest.FixtureRequest) -> None:
    """One run sheet a person, and as many sheets as its labels fill."""
    outlook = moving_day()
    paper = request.node.callspec.params["pages"]
    labels = math.ceil(len(labels_of(outlook, agenda(outlook).openings)) / LABELS_A_SHEET[paper])
    lengths = {name: len(texts) for name, texts in pages.items()}
    expected = {"checklist.pdf": 2, "run-sheets.pdf": 3, "labels.pdf": labels, "load-plan.pdf": 1}
    assert lengths == {**expected, "shopping-list.pdf": 1}


def _on_one_page(texts: list[str], *words: str) -> bool:
    wanted = [_letters(word) for word in words]
    return any(all(word in text for word in wanted) for text in texts)


def test_no_task_of_the_checklist_is_cut_by_the_end_of_a_page(pages: Pages) -> None:
    for row in ROWS:
        assert _on_one_page(pages["checklist.pdf"], row.title, *row.steps), row.title


def test_each_person_has_one_page_with_every_line_whole(pages: Pages) -> None:
    outlook = moving_day()
    for person, text in zip(outlook.project.scheduling.people, pages["run-sheets.pdf"], strict=True):
        assert _letters(person.name) in text[:40]
        lines = [line for line in agenda(outlook).work_of(person.id) if line.task.day]
        assert lines
        for line in lines:
            assert _on_one_page([text], line.task.title, *line.task.steps[-1:]), line.task.title


@pytest.fixture(scope="module")
def whole_move() -> Outlook:
    chromium()
    plan = Path(__file__).parents[2] / "examples" / "house_move.yaml"
    return outlook_of(plan, Settings(runs=0, effort=Effort(seconds=0.1)))


def _check_sheets(outlook: Outlook, sheets: list[str]) -> None:
    """Each person has one sheet of paper; every page names whose it is and the plan; care stands there in full."""
    project = outlook.project
    pages_of = Counter(text[:LONG_HEAD] for text in sheets)
    assert set(pages_of) == {
        f"runsheet{number}" for number, _ in enumerate(project.scheduling.people, start=1)
    }
    assert max(pages_of.values()) <= PAGES_A_PERSON
    assert all(_letters(f"{project.plan.title}: plan of") in text for text in sheets)
    reached = [one.phone for one in project.plan.people if one.phone]
    assert reached
    assert all(_letters(phone) in text for text in sheets for phone in reached)
    named = {key for line in agenda(outlook).lines if line.task.day for key in line.task.cautions}
    for caution in project.cautions:
        assert caution.id not in named or _on_one_page(sheets, caution.text)


@pytest.mark.parametrize("country", ["IE", "US"])
def test_no_row_of_a_whole_move_is_cut_on_either_paper(whole_move: Outlook, country: str) -> None:
    project = whole_move.project
    outlook = replace(whole_move, project=replace(project, plan=replace(project.plan, country=country)))
    pages = _read(outlook, SIZES["letter" if country == "US" else "A4"])

    for line in agenda(outlook).lines:
        assert _on_one_page(pages["checklist.pdf"], line.task.title, *line.task.steps), line.task.title
        if line.task.day and line.placement.people:
            done_when = line.task.steps[-1:]
            assert _on_one_page(pages["run-sheets.pdf"], line.task.title, *done_when), line.task.title
    _check_sheets(outlook, pages["run-sheets.pdf"])
    for route in project.routes:
        assert _on_one_page(
            pages["labels.pdf"], "this side up", route.name, "open by", "planned", "closed at"
        )
    for load in project.loads:
        for item in load.items:
            assert _on_one_page(pages["load-plan.pdf"], item.name)
    (list_of_things,) = pages["shopping-list.pdf"]
    for row in shopping(outlook):
        assert _letters(f"{row.name} {row.whose} {row.need}") in list_of_things, row.name


@pytest.mark.parametrize("country", ["IE", "US"])
@pytest.mark.parametrize(
    ("name", "things"), [("service_firm_office_tank", 30), ("house_move", 50), ("several_systems", 50)]
)
def test_a_load_of_some_fifty_things_is_one_page_on_either_paper_and_no_word_of_it_is_small(
    name: str, things: int, country: str
) -> None:
    chromium()
    plan = Path(__file__).parents[2] / "examples" / f"{name}.yaml"
    outlook = outlook_of(plan, Settings(runs=0, effort=Effort(seconds=0.1)))
    project = outlook.project
    outlook = replace(outlook, project=replace(project, plan=replace(project.plan, country=country)))
    assert project.loads
    assert all(len(load.items) >= things for load in project.loads)
    browser = find_browser()
    assert browser is not None
    pages = PdfReader(io.BytesIO(printed(outlook, browser)["load-plan.pdf"])).pages
    assert len(pages) == len(project.loads)
    for page, load in zip(pages, project.loads, strict=True):
        told = [_letters(page.extract_text())]
        assert all(_on_one_page(told, item.name, item.number) for item in load.items)
        assert min(size for _, size, _ in _words_at(page)) >= LEAST_PAPER_PT - 0.05


def test_a_run_sheet_of_long_names_is_one_sheet_of_paper_too_with_the_own_name_whole(tmp_path: Path) -> None:
    example = Path(__file__).parents[2] / "examples" / "house_move.yaml"
    plan = tmp_path / "long.yaml"
    plan.write_text(long_names(example.read_text(encoding="utf-8")), encoding="utf-8")
    outlook = outlook_of(plan, Settings(runs=0, effort=Effort(seconds=0.1)))
    sheets = _read(outlook, SIZES["A4"])["run-sheets.pdf"]
    assert max(Counter(text[:LONG_HEAD] for text in sheets).values()) <= PAGES_A_PERSON
    for person in outlook.project.plan.people:
        assert len(person.name) == 80
        assert _on_one_page(sheets, person.name)


def test_what_the_buttons_of_a_page_print_is_whole_where_somebody_rides_along(
    whole_move: Outlook, open_page: Callable[..., Opened], tmp_path: Path
) -> None:
    path = tmp_path / "index.html"
    path.write_text(page_html(whole_move), encoding="utf-8")
    opened = open_page(path)
    page = opened.page
    page.evaluate("window.print = () => {}")
    printed_of = {}
    for part in ("todo", "sheets", "labels", "loads"):
        page.locator(f".prints button[data-print='{part}']").click()
        reader = PdfReader(io.BytesIO(page.pdf(format="A4")))
        printed_of[part] = [_letters(one.extract_text()) for one in reader.pages]
    assert opened.complaints == []

    lines = agenda(whole_move)
    sheets = run_sheets_of(whole_move, lines)
    assert any(sheet.rides for sheet in sheets)
    for line in lines.lines:
        assert _on_one_page(printed_of["todo"], line.task.title, *line.task.steps), line.task.title
        done_when = line.task.steps[-1:]
        on_sheets = any(line in sheet.lines for sheet in sheets)
        assert not on_sheets or _on_one_page(printed_of["sheets"], line.task.title, *done_when)
    labels = labels_of(whole_move, lines.openings)
    assert len(printed_of["labels"]) == math.ceil(len(labels) / LABELS_A_SHEET["A4"])
    assert "".join(printed_of["labels"]).count("thissideup") == len(labels)
    for load in whole_move.project.loads:
        for item in load.items:
            assert _on_one_page(printed_of["loads"], item.name)


def test_labels_and_loads_are_whole(pages: Pages) -> None:
    for route in ROUTES:
        assert _on_one_page(pages["labels.pdf"], route.name, "this side up")
    for load in moving_day().project.loads:
        for item in load.items:
            assert _on_one_page(pages["load-plan.pdf"], item.name)


EDGE_PT = 12.0
"""The outer 4.2 mm of a sheet, on which printers print nothing; common practice, no source. [pt]"""


def _crowd_with_addresses() -> Outlook:
    """Twelve people who all give a number, and places with long addresses."""
    outlook = crowded(moving_day(), 12)
    plan = outlook.project.plan
    people = tuple(
        replace(person, phone=f"+353 1 000 03{number:02}") for number, person in enumerate(plan.people)
    )
    places = tuple(
        replace(place, address=f"{number} Second Quay behind the old hall, Old Weir Quarter, Invented Bay")
        for number, place in enumerate(plan.places, start=1)
    )
    plan = replace(plan, people=people, places=places)
    return replace(outlook, project=replace(outlook.project, plan=plan))


def _words_at(page: PageObject) -> list[tuple[float, float, str]]:
    """Give height, size and words of each text on a page. [pt, pt]."""
    found = []

    def note(text: str, about: list[float], line: list[float], _font: object, size: float) -> None:
        if text.strip():
            height = line[4] * about[1] + line[5] * about[3] + about[5]
            found.append((height, size * abs(about[0] * line[0]), text.strip()))

    page.extract_text(visitor_text=note)
    return found


@pytest.mark.parametrize("country", ["IE", "US"])
def test_phones_addresses_and_version_stand_on_every_page_that_is_not_cut_up_and_touch_nothing(
    country: str,
) -> None:
    chromium()
    outlook = _crowd_with_addresses()
    plan = replace(outlook.project.plan, country=country)
    outlook = replace(outlook, project=replace(outlook.project, plan=plan))
    browser = find_browser()
    assert browser is not None
    files = printed(outlook, browser)
    files.pop("labels.pdf")  # eight a sheet, each cut out: no margin is left
    assert set(files) == {"checklist.pdf", "run-sheets.pdf", "load-plan.pdf", "shopping-list.pdf"}
    reached = [(one.name, one.phone) for one in plan.contacts] + [(plan.people[0].name, plan.people[0].phone)]
    for name, data in files.items():
        for page in PdfReader(io.BytesIO(data)).pages:
            told = _letters(page.extract_text())
            assert _letters(f"{plan.title}: plan of") in told, name
            for whom, number in reached:
                assert _letters(f"{whom} {number}") in told, name
            for place in plan.places:
                assert _letters(place.address) in told, name
            heights = [height for height, _, _ in _words_at(page)]
            assert min(heights) >= EDGE_PT
            assert max(heights) <= float(page.mediabox[3]) - EDGE_PT - 6
    heads = 0
    for page in PdfReader(io.BytesIO(files["run-sheets.pdf"])).pages:
        words = _words_at(page)
        ((head, size, _),) = [one for one in words if one[1] > 12.5][:1] or [(0.0, 0.0, "")]
        margin = [height for height, _, text in words if "first page" in text.replace("\ufb01", "fi")]
        heads += bool(head)
        assert not head or min(margin) > head + size / 2
    assert heads == len(run_sheets_of(outlook, agenda(outlook)))
