"""The card of a page, as tests of it go about it."""

from __future__ import annotations

from playwright.sync_api import Locator, Page, expect

from moveplan.journal.taking.slip import Mark, index_of, slip_text
from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.outputs.accepted import snapshot_of_outlook
from tests.journal.replay import outlook_of


def start(task: str) -> int:
    return next(one.start for one in outlook_of("house_move").schedule.placements if one.task == task)


def title(page: Page) -> str:
    return page.locator("#card-title").inner_text().partition(". ")[2]


def text_of(page: Page) -> str:
    page.get_by_role("button", name="Copy progress").click()
    return page.locator("#card-text").input_value()


def paste(page: Page, text: str) -> str:
    page.locator("#card-text").fill(text)
    page.get_by_role("button", name="Paste progress").click()
    return page.locator("#card-told").inner_text()


def ends_with(name: str, task: str) -> frozenset[str]:
    """Ids of what is over by the end of a task of an example, and may still run when it begins."""
    links = outlook_of(name).project.network.links
    return frozenset(
        one.before for one in links if one.after == task and one.relation is Relation.FINISHTOFINISH
    )


def up_to(page: Page, task: str, *, alone: bool = False) -> None:
    """Paste that all is done which was planned to be over by then, what runs by itself too where that is asked.

    What is over by the end of the task is done a moment before it.
    """
    snapshot = snapshot_of_outlook(outlook_of("house_move"))
    begin, near = start(task), ends_with("house_move", task)
    marks = [
        Mark(min(one.finish, begin), "met" if one.kind is Kind.HOLD_POINT else "done", one.id, 0, "ines")
        for one in snapshot.tasks
        if one.times == 1 and (alone or not one.alone) and (one.finish <= begin or one.id in near)
    ]
    plan_id = outlook_of("house_move").project.plan.id
    assert "are new" in paste(page, slip_text(marks, index_of(snapshot, plan_id)))


def lid_on(row: Locator) -> None:
    """Put the lid on a container that nothing is recorded to fill yet: that is asked once."""
    button = row.locator(".lid-on")
    for _ in range(2):
        expect(button).not_to_have_attribute("aria-disabled", "true")
        button.evaluate("button => button.click()")
