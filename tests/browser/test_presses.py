"""Presses that are not meant, or not yet: a second tap of a finger, work that waits, a day that cannot be right."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from moveplan.journal.taking.slip import Mark, index_of, read_slip
from moveplan.outputs.accepted import snapshot_of_outlook
from tests.browser.card import start, text_of, title, up_to
from tests.browser.conftest import Phone
from tests.journal.replay import outlook_of

pytestmark = pytest.mark.browser
SETTLES_MS = 900
"""A little longer than a button rests that was pressed. [ms]"""


def _tap(page: Page, name: str, *, key: str = "") -> None:
    """Press at once, as a finger or a key does, which wait for nothing."""
    button = page.locator(f"#card-{name}")
    if key:
        button.focus()
        page.keyboard.press(key)
    else:
        button.dispatch_event("click")


def _marks(page: Page) -> tuple[Mark, ...]:
    outlook = outlook_of("house_move")
    return read_slip(text_of(page), [index_of(snapshot_of_outlook(outlook), outlook.project.plan.id)])


@pytest.mark.parametrize("key", ["", "Enter", " "])
def test_the_second_tap_is_not_for_the_next_task_and_a_meant_one_is_taken(phone: Phone, key: str) -> None:
    page = phone("Ines Farrow", start("agree-plan"))
    before = title(page)
    for _ in range(2):
        _tap(page, "done", key=key)
    following = title(page)
    assert following != before
    assert page.locator("#card-last").inner_text().startswith(f"Last: done, {before}")
    expect(page.locator("#card-done")).to_be_disabled()  # to whoever hears the page; it keeps the focus
    assert page.locator("#card-told").inner_text().startswith("Not taken: ")
    page.clock.run_for(SETTLES_MS)
    expect(page.locator("#card-done")).to_be_enabled()
    _tap(page, "done", key=key)
    assert page.locator("#card-last").inner_text().startswith(f"Last: done, {following}")
    for _ in range(2):
        _tap(page, "back")
    assert page.locator("#card-last").inner_text().startswith(f"Last: done, {before}")
    assert [mark.back for mark in _marks(page)].count(True) == 1


def test_the_second_tap_signs_nothing_that_is_asked(phone: Phone) -> None:
    page = phone("Ines Farrow", start("water-matched-display"))
    up_to(page, "water-matched-display", alone=True)
    expect(page.locator("#card-gate")).to_be_visible()
    page.clock.run_for(SETTLES_MS)
    gate = title(page)
    for _ in range(2):
        _tap(page, "met")
    assert title(page) == gate
    page.clock.run_for(SETTLES_MS)
    _tap(page, "met")
    assert page.locator("#card-last").inner_text().startswith(f"Last: met, {gate}")


def test_the_card_tells_when_animals_are_home_at_this_pace(phone: Phone) -> None:
    task = "corals-out-display"
    page = phone("Ines Farrow", start(task))
    up_to(page, task, alone=True)
    snapshot = snapshot_of_outlook(outlook_of("house_move"))

    def told() -> int:
        found = re.search(
            r"Animals home about (\d\d):(\d\d) at this pace", page.locator("#card-alone").inner_text()
        )
        assert found
        return 60 * int(found[1]) + int(found[2])

    home = snapshot.task(snapshot.milestones["settled"])
    assert home is not None
    in_time = told()
    assert in_time == home.finish % 1440  # in March clocks of the plan's zone show UTC
    page.clock.fast_forward("30:00")
    late = re.search(r"(\d+) min behind", page.locator("#card-behind").inner_text())
    assert late
    assert in_time < told() <= in_time + int(late[1]) + 5


@pytest.mark.parametrize("name", ["begun", "done"])
def test_work_that_waits_is_recorded_only_when_it_is_said_twice(phone: Phone, name: str) -> None:
    page = phone("Tomas Reddy", start("agree-plan"))
    waits = page.locator("#card-waits").inner_text()
    page.locator(f"#card-{name}").click()
    assert page.locator("#card-told").inner_text() == f"{waits} Press again to record it all the same."
    assert page.locator("#card-last").inner_text() == ""
    page.get_by_role("button", name="5 min earlier", exact=True).click()
    page.locator(f"#card-{name}").click()  # something else came between: asked again
    assert page.locator("#card-last").inner_text() == ""
    page.locator(f"#card-{name}").click()
    assert page.locator("#card-last").inner_text().startswith(f"Last: {name}, ")


def test_a_day_long_before_the_moving_day_is_asked_about(phone: Phone) -> None:
    """Her first task is of the moving day; what is to be done before that day is recorded with no such question."""
    long_before = start("lay-hoses-display") - 30 * 1440
    page = phone("Bea Lindqvist", long_before)
    page.locator("#card-done").click()
    assert re.search(
        r"It is planned for 13 Mar 2027 \d\d:\d\d, and this clock says 11 Feb 2027\. "
        r"Press again to record it all the same\.$",
        page.locator("#card-told").inner_text(),
    )
    assert page.locator("#card-last").inner_text() == ""
    page = phone("Ines Farrow", long_before)
    page.locator("#card-done").click()
    assert "It is planned for" not in page.locator("#card-told").inner_text()
    assert len(_marks(page)) == 1
