"""A whole moving day on three phones: late, cut off, clocks wrong, pasted twice, the server killed and started.

In the end the journal and the three pages say the same, nothing is lost and nothing is there twice.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from moveplan.crew.room import shared
from moveplan.journal.records import Lid, Record
from moveplan.journal.state import state_of
from moveplan.journal.taking.slip import Mark, read_slip
from moveplan.network.task import State
from tests.browser.house import House, moment
from tests.journal.replay import Replay, outlook_of

pytestmark = pytest.mark.browser
CLOCKS = {"ines": 0, "tomas": 25, "bea": -7}
"""By how much each phone's clock is ahead. [min]"""
STEP_MIN = 12
SOON_MS = 30000

PRESS = """() => {
  const part = (name) => document.getElementById("card-" + name);
  if (part("waits").textContent) return "";
  const found = ["begun", "done", "met"].find((name) => part(name).checkVisibility() && !part(name).disabled);
  if (!found || part(found).hasAttribute("aria-disabled")) return "";
  part(found).click();
  return part("told").textContent.includes("press again") ? "asked" : found;
}"""
"""Look and press at once: another phone may record between."""
SETTLES_MS = 900
"""A little longer than a button rests that was pressed. [ms]"""


def _eve(replay: Replay) -> tuple[int, list[Record]]:
    """Carry out all that comes before the moving day."""
    first = min(task.start for task in replay.snapshot.tasks if task.day)
    for now in replay.moments():
        if now >= first - STEP_MIN:
            break
    return first, [one for one in replay.records if one.at < first]


class Crew:
    """Three phones; what was pressed on them is kept, to be found again."""

    def __init__(self, browser: Browser, house: House) -> None:
        self.house = house
        self.pages: dict[str, Page] = {}
        self.pressed: Counter[tuple[str, str]] = Counter()
        self.complaints: list[str] = []
        self.online: dict[str, bool] = {}
        for person, ahead in CLOCKS.items():
            context = browser.new_context(viewport={"width": 390, "height": 900})
            page = context.new_page()
            page.on("pageerror", lambda error: self.complaints.append(str(error)))
            page.clock.install(time=moment(house.now + ahead))
            page.goto(house.address(person))
            self.pages[person] = page
            self.online[person] = True

    def close(self) -> None:
        for page in self.pages.values():
            page.context.close()

    def later(self) -> None:
        self.house.now += STEP_MIN
        for person, page in self.pages.items():
            page.clock.set_system_time(moment(self.house.now + CLOCKS[person]))
            page.clock.run_for(1100)  # each page asks the server once a second

    def network(self, person: str, *, on: bool) -> None:
        self.online[person] = on
        self.pages[person].context.set_offline(not on)

    def act(self, person: str) -> None:
        """Press what is next: begin it, end it, or sign it; who waits presses nothing."""
        page = self.pages[person]
        name = page.evaluate(PRESS)
        if name == "asked":  # whoever signs has read nothing, and signs all the same
            page.clock.run_for(SETTLES_MS)
            name = page.evaluate(PRESS)
        if name not in ("", "asked"):
            self.pressed[person, name] += 1

    def go_on(self, chance: random.Random) -> None:
        """Let the network come and go, and most of them do something."""
        for person in self.pages:
            if chance.random() < 0.2:
                self.network(person, on=not self.online[person])
            if chance.random() < 0.85:
                self.act(person)

    def text(self, person: str) -> str:
        page = self.pages[person]
        page.get_by_role("button", name="Copy progress").click()
        return page.locator("#card-text").input_value()

    def paste(self, source: str, target: str) -> None:
        """Paste what one phone copied into another, twice."""
        text = self.text(source)
        for _ in range(2 if text else 0):
            self.pages[target].locator("#card-text").fill(text)
            self.pages[target].get_by_role("button", name="Paste progress").click()


@pytest.fixture
def crew(browser: Browser, tmp_path: Path) -> Iterator[Crew]:
    replay = Replay(outlook_of("house_move"), (1.0, 1.0), seed=4)
    now, before = _eve(replay)
    house = House(tmp_path, now, before)
    house.start_apart()
    found = Crew(browser, house)
    yield found
    found.close()
    house.kill()


def test_the_journal_and_three_pages_agree_in_the_end(crew: Crew) -> None:
    chance = random.Random(11)
    for step in range(150):
        if step in (20, 45):
            crew.house.kill()
        elif step in (26, 49):
            crew.house.start_apart()
        crew.go_on(chance)
        if step % 9 == 4:
            crew.paste(*chance.sample(list(crew.pages), 2))
        crew.later()
    for person in crew.pages:
        crew.network(person, on=True)
    _agree(crew)


def _agree(crew: Crew) -> None:
    house = crew.house
    for page in crew.pages.values():
        expect(page.locator("#card-status")).to_contain_text("none waits to be sent", timeout=SOON_MS)
    journal = shared(house.room)
    size = len(read_slip(journal, [house.room.index]))
    for page in crew.pages.values():
        expect(page.locator("#card-status")).to_contain_text(f"{size} records, none", timeout=SOON_MS)
    assert {crew.text(person) for person in crew.pages} == {journal}
    _nothing_lost_nothing_twice(crew, read_slip(journal, [house.room.index]))
    assert crew.complaints == []


def _nothing_lost_nothing_twice(crew: Crew, marks: tuple[Mark, ...]) -> None:
    entries = crew.house.entries()
    sources = [entry.source for entry in entries if entry.source]
    assert len(sources) == len(set(sources))
    from_phones = Counter(
        (mark.person, mark.kind) for mark in marks if mark.key in sources and not mark.kind.startswith("lid")
    )
    assert from_phones == crew.pressed
    assert sum(crew.pressed.values()) > 100
    state = state_of(entries)
    titles = [page.locator("#card-title").inner_text() for page in crew.pages.values()]
    assert state.of("release-fish-display-territorial").state is State.COMPLETED, titles
    assert not [entry for entry in entries if isinstance(entry.record, Lid)]
