"""Two phones and one journal: a real server, two browsers, a network that is cut, a server started again."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, Page, expect

from moveplan.crew.pages import calendars_of, page_of
from moveplan.crew.room import Room, room_of
from moveplan.crew.server import Desk, application
from moveplan.journal.records import Accepted
from moveplan.journal.snapshot import snapshot_data
from moveplan.journal.state import state_of
from moveplan.journal.store import append, read_journal
from moveplan.network.task import State
from moveplan.outputs.accepted import snapshot_of_outlook
from tests.journal.replay import outlook_of

pytestmark = pytest.mark.browser
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
SOON_MS = 15000
TASK = "agree-plan"


class House:
    """A journal with its server, which can be killed and started again at the same address."""

    def __init__(self, folder: Path) -> None:
        outlook = outlook_of("house_move")
        self.plan = folder / "house_move.yaml"
        self.plan_id = outlook.project.plan.id
        data = snapshot_data(snapshot_of_outlook(outlook))
        append(self.plan, self.plan_id, lambda _: [(Accepted(at=outlook.now, schedule=data), "")])
        self.now = next(one.start for one in outlook.schedule.placements if one.task == TASK)
        self.room: Room = room_of(self.plan, self.plan_id, b"secret")
        self.app = application(
            Desk(self.room, page_of(outlook), calendars_of(outlook), lambda: self.now + 60)
        )
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]

    def start(self) -> None:
        config = uvicorn.Config(self.app, port=self.port, log_level="error", lifespan="off")
        self.server = uvicorn.Server(config)
        self.thread = threading.Thread(target=self.server.run, daemon=True)
        self.thread.start()
        while not self.server.started:
            time.sleep(0.02)

    def stop(self) -> None:
        self.server.should_exit = True
        self.thread.join(10)

    def state(self) -> State:
        return state_of(read_journal(self.plan, self.plan_id).entries).of(TASK).state


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    found = House(tmp_path)
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
        page.clock.install(time=EPOCH + timedelta(minutes=house.now + 5))
        token = next(token for token, one in house.room.tokens.items() if one == person)
        page.goto(f"http://127.0.0.1:{house.port}/{token}/")
        return page

    yield _open
    for context in contexts:
        context.close()


def test_two_phones_and_the_journal_agree(house: House, phone: Callable[[str], Page]) -> None:
    ines, tomas = phone("ines"), phone("tomas")
    expect(ines.get_by_label("I am")).to_be_disabled()
    expect(tomas.locator("#card-waits")).to_contain_text("Go through the plan")
    ines.get_by_role("button", name="Done").click()
    expect(tomas.locator("#card-waits")).to_have_text("", timeout=SOON_MS)
    assert house.state() is State.COMPLETED

    ines.get_by_role("button", name="Take back").click()
    expect(tomas.locator("#card-waits")).to_contain_text("Go through the plan", timeout=SOON_MS)
    assert house.state() is State.NEEDS_ACTION

    ines.context.set_offline(True)
    ines.get_by_role("button", name="Begun").click()
    expect(ines.locator("#card-status")).to_contain_text("record waits to be sent", timeout=15000)
    assert house.state() is State.NEEDS_ACTION
    ines.context.set_offline(False)
    expect(ines.locator("#card-status")).to_contain_text("none waits", timeout=15000)
    assert house.state() is State.IN_PROCESS

    house.stop()
    ines.get_by_role("button", name="Done").click()
    expect(ines.locator("#card-status")).to_contain_text("record waits to be sent", timeout=15000)
    house.start()
    expect(tomas.locator("#card-waits")).to_have_text("", timeout=30000)
    assert house.state() is State.COMPLETED
    kinds = [type(entry.record).__name__ for entry in read_journal(house.plan, house.plan_id).entries]
    assert kinds == ["Accepted", "Done", "Undo", "Begun", "Done"]
