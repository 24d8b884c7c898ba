"""Two phones and one journal: a real server, two browsers, a network that is cut, a server started again."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from moveplan.journal.records import Begun, Counted, Done, MovedDates, Undo
from moveplan.journal.state import state_of
from moveplan.journal.taking.slip import read_slip
from moveplan.network.task import State
from moveplan.outputs.accepted import snapshot_of_outlook
from tests.browser.card import lid_on, start
from tests.browser.house import House, moment
from tests.journal.replay import outlook_of

pytestmark = pytest.mark.browser
SOON_MS = 15000
TASK = "agree-plan"


def _state(house: House) -> State:
    return state_of(house.entries()).of(TASK).state


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    start = next(one.start for one in outlook_of("house_move").schedule.placements if one.task == TASK)
    found = House(tmp_path, start + 60)
    found.start()
    yield found
    found.stop()


@pytest.fixture
def phone(browser: Browser, house: House) -> Iterator[Callable[[str], Page]]:
    contexts = []

    def _open(person: str) -> Page:
        context = browser.new_context(viewport={"width": 390, "height": 900})
        contexts.append(context)
        page = context.new_page()
        page.clock.install(time=moment(house.now - 55))
        page.goto(house.address(person))
        return page

    yield _open
    for context in contexts:
        context.close()


def test_two_phones_and_the_journal_agree(house: House, phone: Callable[[str], Page]) -> None:
    ines, tomas = phone("ines"), phone("tomas")
    expect(ines.get_by_label("I am")).to_be_disabled()
    plan = tomas.locator("input[data-task='agree-plan']").first
    expect(plan).not_to_be_checked()
    ines.get_by_role("button", name="Done").click()
    expect(plan).to_be_checked(timeout=SOON_MS)
    assert _state(house) is State.COMPLETED

    ines.get_by_role("button", name="Take back").click()
    expect(plan).not_to_be_checked(timeout=SOON_MS)
    assert _state(house) is State.NEEDS_ACTION

    ines.context.set_offline(True)
    ines.get_by_role("button", name="Begun").click()
    expect(ines.locator("#card-status")).to_contain_text("record waits to be sent", timeout=15000)
    assert _state(house) is State.NEEDS_ACTION
    ines.context.set_offline(False)
    expect(ines.locator("#card-status")).to_contain_text("none waits", timeout=15000)
    assert _state(house) is State.IN_PROCESS

    house.stop()
    ines.get_by_role("button", name="Done").click()
    expect(ines.locator("#card-status")).to_contain_text("record waits to be sent", timeout=15000)
    house.start()
    expect(plan).to_be_checked(timeout=30000)
    assert _state(house) is State.COMPLETED
    kinds = [type(entry.record).__name__ for entry in house.entries()]
    assert kinds == ["Accepted", "Done", "Undo", "Begun", "Done"]


def test_a_phone_that_is_a_minute_ahead_records_the_minute_of_the_computer(
    house: House, browser: Browser
) -> None:
    """Else what it closes lasts a minute longer on phones than at the terminal, which takes nothing from later."""
    page = browser.new_page()
    page.clock.install(time=moment(house.now + 1))
    with page.expect_response("**/records*"):
        page.goto(house.address("ines"))
    page.wait_for_timeout(1500)
    page.get_by_role("button", name="Begun").click()
    expect(page.locator("#card-last")).to_contain_text("Last: begun")
    expect(page.locator("#card-status")).to_contain_text("none waits", timeout=SOON_MS)
    (entry,) = [one for one in house.entries() if isinstance(one.record, Begun)]
    assert entry.source == f"card begun {TASK} {house.now} 0 ines"
    assert entry.record.at == house.now
    expect(page.locator("#card-status")).not_to_contain_text("clock")
    page.close()


def test_what_the_computer_wrote_never_comes_back_from_a_phone_that_is_loaded_again(
    house: House, phone: Callable[[str], Page]
) -> None:
    house.write(Done(at=house.now, task=TASK))
    before = house.entries()
    ines = phone("ines")
    for _ in range(2):
        expect(ines.locator(f"input[data-task='{TASK}']")).to_be_checked(timeout=SOON_MS)
        expect(ines.locator("#card-status")).to_contain_text("none waits", timeout=SOON_MS)
        expect(ines.get_by_role("button", name="Take back")).to_be_disabled()
        ines.reload()
    assert house.entries() == before

    house.write(Undo(at=house.now, line=before[-1].line))
    expect(ines.locator(f"input[data-task='{TASK}']")).not_to_be_checked(timeout=SOON_MS)
    ines.reload()
    expect(ines.locator("#card-status")).to_contain_text("none waits", timeout=SOON_MS)
    assert _state(house) is State.NEEDS_ACTION


def test_two_who_record_one_task_without_a_network_are_told_so_and_both_are_in_the_journal(
    house: House, phone: Callable[[str], Page]
) -> None:
    pages = [phone("ines"), phone("tomas")]
    for page in pages:
        page.context.set_offline(True)
        page.locator(f"input[data-task='{TASK}']").evaluate("box => box.click()")
    for page in pages:
        page.context.set_offline(False)
    for page in pages:
        expect(page.locator("#card-told")).to_contain_text("was recorded by two: ", timeout=SOON_MS)
        expect(page.locator("#card-status")).to_contain_text("none waits", timeout=SOON_MS)
    kinds = [type(entry.record).__name__ for entry in house.entries()]
    assert kinds == ["Accepted", "Done", "Done"]


def test_what_fails_on_one_phone_is_on_the_other_with_the_ways_on(
    house: House, phone: Callable[[str], Page]
) -> None:
    ines, tomas = phone("ines"), phone("tomas")
    ines.get_by_text("Something is wrong").click()
    ines.locator("#card-thing").select_option(label="Hired long van")
    ines.locator("#card-fails").click()
    for page in (ines, tomas):
        expect(page.locator("#card-failed")).to_contain_text("FAILED", timeout=SOON_MS)
        expect(page.locator("#card-failed")).to_contain_text("another vehicle:")
    ines.get_by_text("Something is wrong").click()
    ines.locator("#card-thing").select_option(label="Bea Lindqvist")
    ines.locator("#card-fails").click()
    expect(tomas.locator("#card-failed")).to_contain_text("Bea Lindqvist is not there.", timeout=SOON_MS)
    ines.get_by_role("button", name="Take back").click()
    ines.get_by_role("button", name="Take back").click()
    expect(tomas.locator("#card-failed")).to_be_hidden(timeout=SOON_MS)
    assert state_of(house.entries()).failures == ()


def test_once_the_dates_have_moved_phones_send_nobody_to_the_old_day(
    house: House, phone: Callable[[str], Page]
) -> None:
    ines = phone("ines")
    expect(ines.get_by_role("button", name="Done")).to_be_enabled()
    house.write(MovedDates(at=house.now, days=14))
    expect(ines.locator("#card-no")).to_contain_text("THE DATES HAVE MOVED by 14 days", timeout=SOON_MS)
    expect(ines.locator("#card-title")).to_have_text("The dates have moved")
    expect(ines.locator("#card-work")).to_be_hidden()
    expect(ines.locator("#card-then li")).to_have_count(0)
    ines.reload()
    expect(ines.locator("#card-title")).to_have_text("The dates have moved")
    house.write(Undo(at=house.now, line=len(house.entries())))
    expect(ines.get_by_role("button", name="Done")).to_be_enabled(timeout=SOON_MS)


def test_a_new_plan_is_offered_and_forces_nothing(house: House, phone: Callable[[str], Page]) -> None:
    page = phone("tomas")
    before = page.locator("#card-title").inner_text()
    expect(page.locator("#card-offer")).to_have_text("")
    house.offer = "A new plan, made at 14:05 from what is done"
    expect(page.locator("#card-offer")).to_have_text(house.offer, timeout=SOON_MS)
    assert page.locator("#card-title").inner_text() == before
    house.offer = ""
    expect(page.locator("#card-offer")).to_have_text("", timeout=SOON_MS)


def test_animals_that_are_lost_leave_the_counts_of_the_phones(tmp_path: Path, browser: Browser) -> None:
    begin = start("load-animals-van")
    snapshot = snapshot_of_outlook(outlook_of("house_move"))
    before = [
        Done(at=task.finish, task=task.id)
        for task in snapshot.tasks
        if task.finish <= begin and task.times == 1
    ]
    house = House(tmp_path, begin + 60, before)
    house.start()
    page = browser.new_page()
    page.clock.install(time=moment(house.now))
    page.goto(house.address("bea"))
    stay = max(snapshot.stays, key=lambda one: max((count for _, count in one.containers), default=0))
    number, count = max(stay.containers, key=lambda one: one[1])
    row = page.locator(f"[data-container='{number}']")
    other = browser.new_page()
    other.clock.install(time=moment(house.now))
    other.goto(house.address("tomas"))
    on_other = other.locator(f"[data-container='{number}']")
    expect(row).to_contain_text(f"{count} × {stay.name}", timeout=SOON_MS)
    expect(on_other).to_contain_text(f"{count} × {stay.name}", timeout=SOON_MS)
    on_other.get_by_role("button", name="Air, place, loss").click()
    other.get_by_label("Which").select_option(label=stay.name)
    other.get_by_role("button", name="Lost", exact=True).click()
    expect(row).to_contain_text(f"{count - 1} × {stay.name}", timeout=SOON_MS)
    lost = [one.record for one in house.entries() if isinstance(one.record, Counted)]
    assert lost == [Counted(at=house.now, group=stay.group, change=-1, container=number)]
    other.get_by_role("button", name="Take back").click()
    expect(row).to_contain_text(f"{count} × {stay.name}", timeout=SOON_MS)
    other.close()
    assert state_of(house.entries()).lost == {}
    house.write(Counted(at=house.now, group=stay.group, change=-1))
    page.clock.run_for(2000)
    expect(row).to_contain_text(f"{count - 1} × {stay.name}", timeout=2000)
    expect(page.locator("#card-late")).to_contain_text("; as it goes settled ", timeout=SOON_MS)
    house.write(Counted(at=house.now, group=stay.group, change=1 - stay.count))
    page.clock.run_for(2000)
    expect(row).not_to_contain_text(f"1 × {stay.name}", timeout=2000)
    page.close()
    house.stop()


def test_a_new_plan_that_is_taken_is_told_and_loaded_and_what_was_not_sent_still_lands(
    house: House, phone: Callable[[str], Page]
) -> None:
    """One record is sent by the page of the old plan, one is left to the new page, which does not know its task."""
    ines, tomas = phone("ines"), phone("tomas")
    ines.context.set_offline(True)
    ines.get_by_role("button", name="Done").click()
    gone = (ines.locator("#card-title").inner_text()).partition(". ")[2]
    outlook = outlook_of("house_move")
    task = next(one.id for one in outlook.project.network.tasks if one.title == gone)
    ines.get_by_role("button", name="Begun").click()
    expect(ines.locator("#card-status")).to_contain_text("2 records wait to be sent", timeout=SOON_MS)
    house.accept(replace(outlook, states={**outlook.states, task: State.CANCELLED}))
    load = tomas.get_by_role("button", name="Load the new plan")
    expect(load).to_be_visible(timeout=SOON_MS)
    expect(tomas.locator("#card-offer")).to_contain_text("A new plan was taken.")
    tomas.get_by_role("button", name="5 min earlier", exact=True).click()
    load.click()
    expect(load).to_be_hidden(timeout=SOON_MS)
    lid_on(tomas.locator("[data-container]").first)
    expect(tomas.locator("#card-status")).to_contain_text("none waits", timeout=SOON_MS)

    ines.goto("about:blank")  # the old page is gone before the network is back
    ines.context.set_offline(False)
    ines.goto(house.address("ines"))
    expect(ines.locator("#card-status")).to_contain_text("none waits", timeout=SOON_MS)
    for _ in range(2):
        expect(tomas.locator("input[data-task='agree-plan']").first).to_be_checked(timeout=SOON_MS)
        tomas.reload()
    records = [entry.record for entry in house.entries()]
    assert [type(one).__name__ for one in records] == ["Accepted", "Accepted", "Shut", "Begun", "Done"]
    assert isinstance(records[3], Begun)
    assert (records[3].task, _state(house)) == (task, State.COMPLETED)


def test_a_page_of_the_plan_before_goes_on_until_the_new_one_is_loaded(
    house: House, phone: Callable[[str], Page]
) -> None:
    ines = phone("ines")
    outlook = outlook_of("house_move")
    house.accept(
        replace(outlook, states={**outlook.states, outlook.project.network.tasks[-1].id: State.CANCELLED})
    )
    expect(ines.get_by_role("button", name="Load the new plan")).to_be_visible(timeout=SOON_MS)
    ines.get_by_role("button", name="Done").click()
    expect(ines.locator("#card-status")).to_contain_text("none waits", timeout=SOON_MS)
    assert _state(house) is State.COMPLETED
    ines.get_by_role("button", name="Load the new plan").click()
    expect(ines.get_by_role("button", name="Load the new plan")).to_be_hidden(timeout=SOON_MS)
    assert ines.locator("input[data-task='agree-plan']").is_checked()
    assert [type(entry.record).__name__ for entry in house.entries()] == ["Accepted", "Accepted", "Done"]


def test_who_is_not_in_the_plan_any_more_keeps_the_records_and_is_told(
    house: House, phone: Callable[[str], Page]
) -> None:
    page = phone("ines")
    tokens = house.room.tokens
    assert isinstance(tokens, dict)
    del tokens[next(token for token, one in tokens.items() if one == "ines")]
    page.get_by_role("button", name="Done").click()
    status = page.locator("#card-status")
    expect(status).to_contain_text("This address holds no more: ask for a new one", timeout=SOON_MS)
    expect(status).to_contain_text("1 record waits to be sent")
    page.get_by_role("button", name="Copy progress").click()
    marks = read_slip(page.locator("#card-text").input_value(), [house.room.index])
    assert [(mark.kind, mark.name) for mark in marks] == [("done", TASK)]
    assert _state(house) is State.NEEDS_ACTION
