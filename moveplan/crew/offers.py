"""A new plan beside the one in force, made again as the day goes on: offered, never forced."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Callable, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from datetime import datetime
from pathlib import Path
from typing import Any

from moveplan.crew.room import Room
from moveplan.outputs.wording.journal import fill
from moveplan.times import to_minutes

PAUSE_S = 60.0
"""Least time from one new plan to the next: it takes a core for some seconds; assumed. [s]"""
LONGEST_S = 300.0
"""A plan that is not made by then is not offered; assumed. [s]"""
NAMED = 3
"""How many of the tasks that move are named. [-]"""


class Offers:
    """Has a new plan made whenever records came, one at a time.

    Parameters
    ----------
    make : callable
        Makes a plan from what is done, and says what it would change; an empty text where nothing would.
    clock : callable
        Of the pauses. [s]
    """

    def __init__(self, make: Callable[[], str], clock: Callable[[], float] = time.monotonic) -> None:
        self.make, self.clock = make, clock
        self.text = ""
        self.known: tuple[int, str] | None = None
        self.last = -PAUSE_S
        self.running: Future[str] | None = None
        self.beside = ThreadPoolExecutor(1)

    def look(self, said: str, line: int = 0) -> str:
        """Give what is offered now.

        Parameters
        ----------
        said : str
            All that the journal says, as phones know it.
        line : int
            Where the journal says that the schedule in force was accepted: what was offered before is void.
        """
        if self.running and self.running.done():
            self.text = "" if self.running.exception() else self.running.result()
            self.running = None
        if self.known is None or self.known[0] != line:
            self.text, self.running, self.known = "", None, (line, said)
        if said != self.known[1] and not self.running and self.clock() >= self.last + PAUSE_S:
            self.known, self.last = (line, said), self.clock()
            self.running = self.beside.submit(self.make)
        return self.text


def replanned(room: Room, now: int) -> str:
    """Make a new plan in a process of its own, so that the page answers meanwhile, and say what it would change.

    Parameters
    ----------
    now : int
        UTC. [min]
    """
    moment = datetime.fromtimestamp(60 * now, room.known.zone).isoformat()
    command = [sys.executable, "-m", "moveplan", "show", str(room.plan), "--json", "--now", moment]
    made = subprocess.run(command, timeout=LONGEST_S, check=False, capture_output=True)  # noqa: S603 - no shell
    return words_of(json.loads(made.stdout), room.plan, room, now)


def words_of(plan: Mapping[str, Any], path: Path, room: Room, now: int) -> str:
    """Say what a new plan would change; nothing where no task moves.

    Parameters
    ----------
    plan : Mapping of str to object
        As ``show --json`` gives it.
    path : Path
        The plan file.
    now : int
        UTC. [min]
    """
    tasks = {task["id"]: task for task in plan.get("tasks", ())}
    rows = [
        row for row in (plan.get("drift") or {}).get("moved", ()) if "from" in row and row["task"] in tasks
    ]
    rows.sort(key=lambda row: str(row["to"]))
    values = {
        "settled": _minute((plan.get("milestones") or {}).get("settled")),
        "count": len(rows),
        "moved": [
            (tasks[row["task"]]["title"], _minute(row["from"]), _minute(row["to"])) for row in rows[:NAMED]
        ],
        "file": path.name,
    }
    return " ".join(fill("offer", room.known.zone, now, values).split()) if rows else ""


def _minute(said: str | None) -> int | None:
    return None if said is None else to_minutes(datetime.fromisoformat(said))
