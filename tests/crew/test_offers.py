"""A new plan is made beside the one in force, one at a time, and says what it would change."""

from __future__ import annotations

import threading
from pathlib import Path
from typing import Any

from moveplan.crew.offers import PAUSE_S, Offers, replanned, words_of
from moveplan.crew.room import room_of
from moveplan.journal.file.store import append
from moveplan.journal.records import Begun
from moveplan.times import iso
from tests.journal.builders import OWN_ID, PLAN_ID, T0, accepted, own_plan, plan_file


def _wait(offers: Offers) -> None:
    assert offers.running is not None
    offers.running.result(20)


def test_one_plan_at_a_time_is_made_of_what_came_and_a_pause_lies_between() -> None:
    made: list[int] = []
    going = threading.Event()
    time = [0.0]

    def make() -> str:
        going.wait(20)
        made.append(len(made) + 1)
        return f"plan {made[-1]}"

    offers = Offers(make, lambda: time[0])
    assert offers.look("a") == ""
    assert offers.running is None  # nothing came since it was started
    for said in ("a b", "a b c"):
        assert offers.look(said) == ""
    going.set()
    _wait(offers)
    assert offers.look("a b c") == "plan 1"
    assert made == [1]
    time[0] += PAUSE_S
    assert offers.look("a b c") == "plan 1"
    _wait(offers)
    assert offers.look("a b c") == "plan 2"
    time[0] += PAUSE_S
    assert offers.look("a b c") == "plan 2"
    assert offers.running is None


def test_a_plan_that_cannot_be_made_is_not_offered() -> None:
    def make() -> str:
        raise ValueError("none")

    offers = Offers(make)
    offers.look("a")
    offers.look("b")
    assert offers.running is not None
    assert isinstance(offers.running.exception(20), ValueError)
    assert offers.look("b") == ""


def test_what_a_new_plan_would_change_is_said_and_how_it_is_taken(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    append(plan, PLAN_ID, lambda _: [(accepted(), "")])
    room = room_of(plan, PLAN_ID, b"secret")

    def moved(task: str, before: int, after: int) -> dict[str, Any]:
        return {
            "task": task,
            "from": iso(T0 + before, room.known.zone),
            "to": iso(T0 + after, room.known.zone),
        }

    data = {
        "tasks": [{"id": "a", "title": "Fill the tank"}, {"id": "b", "title": "Release the fish"}],
        "milestones": {"settled": iso(T0 + 400, room.known.zone)},
        "drift": {"moved": [moved("b", 300, 360), moved("a", 60, 120)]},
    }
    said = words_of(data, plan, room, T0)
    assert said.startswith("A new plan, made at ")
    assert "2 tasks move, first “Fill the tank”: " in said
    assert said.index("Fill the tank") < said.index("Release the fish")
    assert said.endswith("moveplan record reef.yaml accept.")
    assert words_of({**data, "drift": {"moved": []}}, plan, room, T0) == ""


def test_a_day_that_runs_late_is_planned_anew_in_a_process_of_its_own(tmp_path: Path) -> None:
    plan = own_plan(tmp_path)
    room = room_of(plan, OWN_ID, b"secret")
    begun = next(task.start for task in room.snapshot.tasks if task.id == "dig") + 90
    append(plan, OWN_ID, lambda _: [(Begun(at=begun, task="dig"), "")])
    said = replanned(room, begun)
    assert "“Fill it”: 11:30 instead of 10:00." in said
