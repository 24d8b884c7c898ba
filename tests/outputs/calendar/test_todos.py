from __future__ import annotations

from datetime import date

from moveplan.network.task import Kind, State
from moveplan.outputs.calendar.event import ToDo
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.calendar.source import Source
from moveplan.outputs.calendar.todos import to_dos
from moveplan.outputs.calendar.words import Wording
from moveplan.outputs.outlook import Outlook
from tests.outputs.calendar.scene import at, item, outlook


def made(seen: Outlook) -> dict[str, ToDo]:
    return {to_do.key: to_do for to_do in to_dos(Source(seen, CalendarOptions(), Wording()))}


def test_one_a_task_and_one_an_occurrence_of_care_but_none_for_waits() -> None:
    assert list(made(outlook())) == [
        "mix-water", "pack-trays", "go-or-no-go", "drive", "settled",
        "test-water/1", "test-water/2", "test-water/3",
    ]  # fmt: skip


def test_due_is_the_last_working_day() -> None:
    found = made(outlook())

    assert found["pack-trays"].due == date(2027, 3, 12)
    assert found["test-water/2"].due == date(2027, 3, 15)
    assert found["settled"].due == date(2027, 3, 13)
    late = made(outlook([item("a", "2027-03-06 22:00", 120), item("b", "2027-03-06 00:00", 0)]))
    assert (late["a"].due, late["b"].due) == (date(2027, 3, 6), date(2027, 3, 6))


def test_progress_is_told_with_the_time_of_completion() -> None:
    finish = at("2027-03-06 12:00")
    states = {"mix-water": State.COMPLETED, "drive": State.IN_PROCESS}
    found = made(outlook(states=states, now=finish + 60))

    assert (found["mix-water"].state, found["mix-water"].completed) == (State.COMPLETED, finish)
    assert (found["drive"].state, found["drive"].completed) == (State.IN_PROCESS, None)
    assert found["pack-trays"].state is State.NEEDS_ACTION
    assert made(outlook(states=states, now=finish - 60))["mix-water"].completed == finish - 60


def test_titles_are_those_of_events() -> None:
    hold = made(outlook([item("check", "2027-03-06 22:00", 5, kind=Kind.HOLD_POINT)]))["check"]

    assert hold.words.title == "Hold point: Check"
