from __future__ import annotations

import base64
import hashlib
import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal
from html.parser import HTMLParser

import pytest

from moveplan.network.task import State
from moveplan.outputs.documents.page import page_html
from moveplan.outputs.outlook import Drift, Moved, Outlook, Slipped, Verdict
from moveplan.outputs.wording.escape import clean
from tests.outputs.hostile import NAMES, hostile
from tests.outputs.scene import REASONS, ROUTES, ROWS, bare, impossible, minutes, moving_day, risk

VOID = {"meta", "link", "input", "br"}


class Page(HTMLParser):
    """Tags, attributes and texts of a page; complains about tags that do not close."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.texts: list[str] = []
        self.open: list[str] = []
        self.content: dict[str, str] = {}
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append(data)
        if self.open and self.open[-1] in ("style", "script"):
            self.content[self.open[-1]] = data

    @property
    def words(self) -> str:
        return " ".join(" ".join(self.texts).split())


def unsafe() -> Outlook:
    outlook = moving_day()
    tang = ROUTES[1]
    short = minutes(300, 400, 500)
    stops = tuple(
        replace(stop, safe=replace(stop.safe, estimate=short)) if stop.safe else stop for stop in tang.stops
    )
    project = replace(outlook.project, routes=(replace(tang, stops=stops),))
    return replace(outlook, project=project, verdict=Verdict.UNSAFE, problems=REASONS)


PAGES: dict[str, Callable[[], Outlook]] = {
    "planned": moving_day,
    "simulated": lambda: replace(moving_day(), risk=risk(10000)),
    "impossible": impossible,
    "bare": bare,
    "unsafe": unsafe,
    "hostile": lambda: hostile(replace(moving_day(), risk=risk(10000))),
}


@pytest.fixture(params=PAGES)
def page(request: pytest.FixtureRequest) -> Page:
    found = Page(page_html(PAGES[request.param]()))
    assert found.open == []
    return found


def test_the_policy_lets_in_this_style_and_this_script_and_nothing_else(page: Page) -> None:
    (policy,) = [a["content"] for _, a in page.tags if a.get("http-equiv") == "Content-Security-Policy"]
    digests = {
        tag: base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        for tag, text in page.content.items()
    }
    assert policy == (
        f"default-src 'none'; style-src 'sha256-{digests['style']}'; script-src 'sha256-{digests['script']}'; "
        "img-src data:; base-uri 'none'; form-action 'none'"
    )


def test_no_attribute_carries_style_or_script_and_no_address_leads_outside(page: Page) -> None:
    for tag, attributes in page.tags:
        assert "style" not in attributes
        assert not [name for name in attributes if name.startswith("on")]
        assert "src" not in attributes
        assert attributes.get("href", "#").startswith(("#", "data:,")), tag


def _boxes(page: Page) -> Iterator[tuple[str, dict[str, str]]]:
    """Give the box of each task with the id of the task in whose line it stands."""
    task = ""
    for tag, attributes in page.tags:
        if tag == "li" and attributes.get("id", "").startswith("task-"):
            task = attributes["id"].removeprefix("task-")
        elif tag == "input" and task and "data-time" not in attributes:
            yield task, attributes


def test_ids_are_unique_and_every_inner_address_is_there(page: Page) -> None:
    ids = Counter(attributes["id"] for _, attributes in page.tags if "id" in attributes)
    assert [key for key, count in ids.items() if count > 1] == []
    addresses = {a["href"][1:] for _, a in page.tags if a.get("href", "").startswith("#")}
    assert addresses - set(ids) == set()


def test_every_task_has_a_box_a_name_and_its_steps() -> None:
    page = Page(page_html(moving_day()))
    boxes = [task for task, _ in _boxes(page)]
    assert Counter(boxes) == Counter(row.id for row in ROWS if row.id != "test-water")
    times = [a["data-time"] for tag, a in page.tags if tag == "input" and "data-time" in a]
    assert times == [str(number) for number in range(1, 15)]
    for row in ROWS:
        assert row.title in page.words
        for step in row.steps:
            assert step in page.words


def test_the_page_says_what_the_documents_say() -> None:
    words = Page(page_html(moving_day())).words
    assert "It can be done" in words
    assert "€252" in words
    assert "Fall-back day Saturday 29 May 2027" in words
    assert "Go or no-go Fri, 21 May, 18:00 Fri, 21 May, 20:00 Per Olin, Una Harte" in words
    assert "7 h 50 min to 15 h" in words
    assert "The van stops on the way with animals aboard" in words
    assert "a stand of this size in chipboard" in words
    assert "How sure is it?" not in words


def test_drift_from_what_was_accepted_is_told() -> None:
    seen = moving_day()
    task = next(one for one in seen.schedule.placements if one.task == "fill-tubs")
    drift = Drift(
        moved=(Moved("fill-tubs", "Fill <the> tubs", task.start - 60, task.start, None),),
        milestones=(Slipped("ready", 0, 3 * 1440), Slipped("settled", 0, -90)),
        dangers=(),
        first_accepted=task.start - 10_000,
        cost_more=Decimal("12.50"),
    )
    page = Page(page_html(replace(seen, drift=drift)))

    assert "ready 3 days later; settled 1 h 30 min earlier; €13 more." in page.words
    assert "1 moved from the schedule in force Fill <the> tubs : from" in page.words
    assert "Against the first" not in Page(page_html(seen)).words


def test_a_ribbon_says_container_minutes_used_and_left_and_what_binds() -> None:
    titles = [text for text in Page(page_html(moving_day())).texts if "; 1 × " in text or "; 2 × " in text]
    assert any(re.search(r"× .+ \d\d:\d\d – \d\d:\d\d, .+ used, .+ left; \w+", text) for text in titles)
    over = [text for text in Page(page_html(unsafe())).texts if "over by 2 h" in text]
    assert over


def test_every_person_has_a_run_sheet_and_every_container_a_label() -> None:
    page = Page(page_html(moving_day()))
    classes = Counter(a.get("class", "") for _, a in page.tags)
    assert [name for name in classes if name.startswith("sheet ")] == [
        "sheet sheet-1",
        "sheet sheet-2",
        "sheet sheet-3",
    ]
    numbered = [
        number
        for at, text in enumerate(page.texts)
        if text == "The same for "
        for number in page.texts[at + 1].split()
    ]
    assert len(numbered) == len(set(numbered)) >= classes["alike"] > 0
    assert classes["label"] + len(numbered) == sum(len(route.stops[1].numbers) for route in ROUTES)
    assert "keep at 25.5 °C / 77.9 °F" in page.words


def test_what_is_done_says_so_and_cannot_be_unticked() -> None:
    outlook = replace(moving_day(), states={"check-floor": State.COMPLETED, "book-van": State.CANCELLED})
    page = Page(page_html(outlook))
    box = dict(_boxes(page))
    assert {"checked", "disabled"} <= set(box["check-floor"])
    assert "disabled" in box["book-van"]
    assert "dropped: not to be done" in page.words


@pytest.mark.parametrize(
    ("outlook", "headline"),
    [
        (impossible(), "It cannot be done as written"),
        (unsafe(), "It is not safe as planned"),
        (replace(impossible(), verdict=Verdict.UNDECIDED), "Undecided: no schedule was found"),
    ],
)
def test_what_cannot_be_followed_says_so_first_and_offers_no_list(outlook: Outlook, headline: str) -> None:
    page = Page(page_html(outlook))
    assert page.words.index(headline) < page.words.index(REASONS[0].message)
    assert "hire the van until 18:00; tried, it works" in page.words
    assert not [a for tag, a in page.tags if tag == "input"]
    assert "Run sheets" not in page.words


def test_an_animal_over_its_safe_time_is_named_in_words() -> None:
    page = Page(page_html(unsafe()))
    assert "too late by 2 h" in page.words
    assert [a for tag, a in page.tags if tag == "polygon" and a["class"] == "over"]


def test_hostile_names_come_out_as_themselves_and_add_no_element() -> None:
    calm = Page(page_html(moving_day()))
    text = page_html(hostile(moving_day()))
    assert text.encode("utf-8")  # half a pair of UTF-16 has no bytes
    wild = Page(text)
    assert [
        tag for tag, _ in wild.tags if tag in ("script", "style", "img", "body", "meta", "link", "iframe")
    ] == [tag for tag, _ in calm.tags if tag in ("script", "style", "img", "body", "meta", "link", "iframe")]
    for tag in ("a", "b", "h3", "table"):  # a title in a picture appears where a name is cut
        assert [name for name, _ in wild.tags].count(tag) == [name for name, _ in calm.tags].count(tag)
    for name in NAMES:
        assert " ".join(clean(name).split()) in wild.words


def test_the_same_outlook_gives_the_same_page_and_a_small_one() -> None:
    text = page_html(moving_day())
    assert text == page_html(moving_day())
    assert len(text.encode()) < 150_000
