"""A journal with its server for the tests in a browser."""

from __future__ import annotations

import multiprocessing
import socket
import threading
import time
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

import uvicorn

from moveplan.crew.pages import calendars_of, page_of
from moveplan.crew.room import Room, room_of
from moveplan.crew.server import Desk, application
from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.file.store import append, read_journal
from moveplan.journal.records import Accepted, Entry, Record
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.outlook import Outlook
from tests.journal.replay import outlook_of

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


class House:
    """A journal with its server, which can be killed and started again at the same address."""

    def __init__(self, folder: Path, now: int, before: Sequence[Record] = ()) -> None:
        outlook = outlook_of("house_move")
        self.plan = folder / "house_move.yaml"
        self.plan_id = outlook.project.plan.id
        data = snapshot_data(snapshot_of_outlook(outlook))
        append(
            self.plan,
            self.plan_id,
            lambda _: [(one, "") for one in (Accepted(at=outlook.now, schedule=data), *before)],
        )
        self._now = multiprocessing.Value("q", now)
        self.room: Room = room_of(self.plan, self.plan_id, b"secret")
        self.offer = ""
        self.page = page_of(outlook)
        calendars = calendars_of(outlook)
        self.app = application(
            Desk(
                self.room,
                lambda person: self.page(person),
                calendars.get,
                lambda: self.now,
                lambda *_: self.offer,
            )
        )
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]

    @property
    def now(self) -> int:
        """Minute of its clock, in a process of its own too. [min]."""
        return int(self._now.value)

    @now.setter
    def now(self, minute: int) -> None:
        self._now.value = minute

    def accept(self, outlook: Outlook) -> None:
        """Take another plan at the computer, beside the server that runs."""
        data = snapshot_data(snapshot_of_outlook(outlook))
        self.write(Accepted(at=self.now, schedule=data))
        self.page = page_of(outlook)

    def write(self, record: Record) -> None:
        """Write a record at the computer, beside the server that runs."""
        append(self.plan, self.plan_id, lambda _: [(record, "")])

    def start(self) -> None:
        self.server = self._server()
        self.thread = threading.Thread(target=self.server.run, daemon=True)
        self.thread.start()
        while not self.server.started:
            time.sleep(0.02)

    def stop(self) -> None:
        self.server.should_exit = True
        self.thread.join(10)

    def start_apart(self) -> None:
        """Serve from a process of its own, which can be killed in the middle of anything."""
        self.apart = multiprocessing.get_context("fork").Process(
            target=lambda: self._server().run(), daemon=True
        )
        self.apart.start()
        while True:
            with socket.socket() as asked:
                if asked.connect_ex(("127.0.0.1", self.port)) == 0:
                    return
            time.sleep(0.02)

    def kill(self) -> None:
        """Kill it without a word: what it had not written is gone."""
        self.apart.kill()
        self.apart.join(10)

    def _server(self) -> uvicorn.Server:
        return uvicorn.Server(uvicorn.Config(self.app, port=self.port, log_level="error", lifespan="off"))

    def address(self, person: str) -> str:
        token = next(token for token, one in self.room.tokens.items() if one == person)
        return f"http://127.0.0.1:{self.port}/{token}/"

    def entries(self) -> tuple[Entry, ...]:
        return read_journal(self.plan, self.plan_id).entries


def moment(minute: int) -> datetime:
    """Give a minute as the clock of a page takes it."""
    return EPOCH + timedelta(minutes=minute)
