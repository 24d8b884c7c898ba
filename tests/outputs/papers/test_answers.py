from __future__ import annotations

from dataclasses import replace

from moveplan.network.task import Kind, State
from moveplan.outputs.agenda import agenda
from moveplan.outputs.papers.answers import answers_of
from tests.outputs.scene import ROWS, bare, impossible, moving_day
from tests.outputs.scene_plan import at


def test_the_moving_day_is_told_from_the_first_hand_to_the_last() -> None:
    found = answers_of(moving_day(), agenda(moving_day()))
    (day,) = found.days
    own = [row for row in ROWS if row.phase == "moving-day" and row.people]
    assert found.tied
    assert day.start == min(row.start for row in own)
    assert day.finish == max(row.start + row.minutes for row in own)
    assert at("2027-05-22 00:00") < day.start < day.finish < at("2027-05-23 00:00")


def test_the_tightest_stay_is_the_one_with_the_least_minutes_to_spare() -> None:
    found = agenda(moving_day())
    tightest = answers_of(moving_day(), found).tightest
    assert tightest is not None
    assert tightest.stay.margin_min == min(one.stay.margin_min for one in found.openings)


def test_next_is_the_first_task_that_is_open_and_no_mere_wait() -> None:
    outlook = replace(moving_day(), states={})
    lines = agenda(outlook).lines
    assert answers_of(outlook, agenda(outlook)).next_line == lines[0]
    done = {line.task.id: State.COMPLETED for line in lines[:3]}
    later = answers_of(outlook, agenda(replace(outlook, states=done))).next_line
    assert later is not None
    assert later.number > 3
    assert later.task.kind is not Kind.WAIT or later.placement.people
    everything = {line.task.id: State.COMPLETED for line in lines}
    assert answers_of(outlook, agenda(replace(outlook, states=everything))).next_line is None


def test_own_tasks_have_a_busiest_day_and_nothing_scheduled_has_no_answers() -> None:
    assert not answers_of(bare(), agenda(bare())).tied
    assert answers_of(bare(), agenda(bare())).tightest is None
    nothing = answers_of(impossible(), agenda(impossible()))
    assert (nothing.days, nothing.tightest, nothing.next_line) == ((), None, None)
