"""A moving day that moves: everybody is asked again, and what is done keeps its words."""

from __future__ import annotations

import pytest

from moveplan import pipeline
from moveplan.journal.back import look_back
from moveplan.journal.file.agreed import agreed
from moveplan.journal.file.kept import snapshot_data, snapshot_of
from moveplan.journal.records import Accepted, Done, Entry, MovedDates, Record
from moveplan.journal.state import JournalState, state_of
from moveplan.network.task import Kind
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.outlook import Outlook
from moveplan.planfile.reader import read_plan
from moveplan.practice.compose import project_of
from moveplan.practice.under_way.story import Story, told
from tests.journal.replay import EXAMPLES, SETTINGS, outlook_of

EXAMPLE = "house_move"
DAY = 1440


def _after(*records: Record) -> tuple[Outlook, JournalState]:
    """Accept the example, let something happen, and build it again."""
    first = snapshot_of_outlook(outlook_of(EXAMPLE))
    rows = (Accepted(at=first.now, schedule=snapshot_data(first)), *records)
    state = state_of([Entry(number, record) for number, record in enumerate(rows, start=1)])
    told_then = agreed([first], state)
    story = Story(state, first, first, max(one.at for one in rows), agreed=told_then)
    plan, _ = pipeline.begin(EXAMPLES / f"{EXAMPLE}.yaml", SETTINGS)
    project = project_of(told(plan, story))
    hung, again = pipeline.renew(project, story, SETTINGS)
    return pipeline.judge_again(hung, again, story, SETTINGS), state


def test_everybody_is_asked_again_and_what_is_done_is_not_retold() -> None:
    first = snapshot_of_outlook(outlook_of(EXAMPLE))
    booked = first.task("book-vehicle-van")
    assert booked is not None
    done = (
        Done(at=booked.start - DAY, task="agree-plan"),
        Done(at=booked.finish, task="book-vehicle-van", took_min=45),
    )
    slipped, _ = _after(*done, MovedDates(at=booked.finish + 60, days=14))
    tasks = {task.id: task for task in slipped.project.network.tasks}
    telling = tasks["tell-new-day-1"]
    assert "27 March 2027" in telling.steps[0]
    assert "Tomas Reddy and Bea Lindqvist" in telling.steps[1]
    assert "Ines Farrow" not in telling.steps[1]  # she asks
    assert "a day that cannot be moved costs €95" in " ".join(telling.steps)
    assert "the change is free; within 7 days it would cost €95, as is assumed" in " ".join(telling.steps)
    placed = {one.task: one for one in slipped.schedule.placements}
    assert placed["tell-new-day-1"].finish <= placed["go-or-no-go"].start
    assert "13 March 2027" in tasks["book-vehicle-van"].steps[0]
    not_slipped, _ = _after(*done)
    assert not [task.id for task in not_slipped.project.network.tasks if task.id.startswith("tell-new-day")]


def test_water_that_was_mixed_for_an_earlier_day_is_said_to_be_too_old() -> None:
    first = snapshot_of_outlook(outlook_of(EXAMPLE))
    mixed = first.task("mix-water-1")
    assert mixed is not None
    over = tuple(
        Done(at=task.finish, task=task.id)
        for task in first.tasks
        if task.finish <= mixed.finish and task.kind is Kind.WORK and task.times == 1
    )
    slipped, _ = _after(*over, MovedDates(at=mixed.finish + 60, days=28))
    told = [one.message for one in slipped.problems if one.message.startswith("water is older than it keeps")]
    assert len(told) == 1
    assert "“Fill cans with" in told[0]


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (3, "Hired long van hears it 3 days ahead: the change is free; within 3 days it would cost €40."),
        (2, "Hired long van hears it 2 days ahead: the change costs €40."),
    ],
)
def test_what_a_promise_costs_to_break_hangs_on_when_it_is_told(days: int, said: str) -> None:
    first = snapshot_of_outlook(outlook_of(EXAMPLE))
    day = min(task.start for task in first.tasks if task.day)
    entries = [
        Entry(1, Accepted(at=first.now, schedule=snapshot_data(first))),
        Entry(2, MovedDates(at=day - days * DAY, days=14)),
    ]
    plan = read_plan(EXAMPLES / f"{EXAMPLE}.yaml", changes=("vehicles.van.late-change=40 EUR within 3 days",))
    project = project_of(told(plan, Story(state_of(entries), first, first, day - days * DAY)))
    (telling,) = (task for task in project.network.tasks if task.id == "tell-new-day-1")
    assert said in " ".join(telling.steps)


def test_looking_back_measures_what_was_last_agreed_before_it_was_begun() -> None:
    first = snapshot_of_outlook(outlook_of(EXAMPLE))
    booked = first.task("book-vehicle-van")
    assert booked is not None
    done = Done(at=booked.finish + 10, task="book-vehicle-van", took_min=45)
    slipped, state = _after(
        Done(at=booked.start - DAY, task="agree-plan"), done, MovedDates(at=booked.finish + 60, days=14)
    )
    last = snapshot_of(snapshot_data(snapshot_of_outlook(slipped)), "journal")
    both = agreed([first, last], state)
    assert both.task("book-vehicle-van") == booked
    assert both.task("drive-van") == last.task("drive-van") != first.task("drive-van")
    back = {one.task.id: one for one in look_back(both, state).tasks}
    assert back["book-vehicle-van"].later_finish_min == 10
