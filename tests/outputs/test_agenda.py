from __future__ import annotations

from dataclasses import replace

from moveplan.outputs.agenda import agenda
from moveplan.pipeline import judge
from moveplan.risk.prepared.stays import stays_of
from moveplan.stages.reading import Settings
from tests.examples import scheduled
from tests.outputs.scene import ROWS, impossible, moving_day
from tests.outputs.scene_plan import at


def test_every_task_has_one_line_and_a_number_in_order_of_start() -> None:
    lines = agenda(moving_day()).lines
    assert sorted(line.task.id for line in lines) == sorted(row.id for row in ROWS)
    assert [line.number for line in lines] == list(range(1, len(ROWS) + 1))
    starts = [line.placement.start for line in lines]
    assert starts == sorted(starts)


def test_openings_come_in_order_of_closing_with_the_last_moment_to_open() -> None:
    found = agenda(moving_day())
    assert [opening.dated.route.livestock for opening in found.openings] == [
        "hammers",
        "clowns",
        "tang",
        "shrimp",
    ]
    assert found.openings[0].open_by == at("2027-05-22 16:30")
    assert not any(opening.over for opening in found.openings)


def test_decisions_and_the_work_of_one_person() -> None:
    found = agenda(moving_day())
    assert [line.task.id for line in found.hold_points] == ["check-health", "decide-eve", "check-leaks"]
    assert [line.task.id for line in found.work_of("per")][:3] == ["decide-eve", "pack-rock", "drain-display"]
    assert found.line("no-such-task") is None


def test_without_a_schedule_the_agenda_is_empty() -> None:
    assert agenda(impossible()).lines == ()


def test_tasks_that_the_engine_left_out_have_no_line() -> None:
    outlook = moving_day()
    schedule = replace(outlook.schedule, placements=outlook.schedule.placements[:2])
    assert len(agenda(replace(outlook, schedule=schedule)).lines) == 2


def test_room_is_counted_from_where_a_task_is_planned_and_not_from_where_it_could_begin() -> None:
    line = agenda(moving_day()).lines[0]
    assert line.times is not None
    start = line.placement.start
    late = replace(line.times, early_start=start - 50_000, late_start=start + 90, total_float_min=50_090)
    assert replace(line, times=late).room_min == 90
    assert replace(line, times=replace(late, late_start=start - 5)).room_min == 0
    assert replace(line, times=None).room_min is None


def test_no_task_has_more_room_than_animals_that_wait_for_it_in_a_closed_container() -> None:
    """Boarders have days in the network, and hours in the box in which they are driven there."""
    project, schedule = scheduled("service_firm_office_tank")
    outlook = judge(project, schedule, Settings(runs=0))
    lines = agenda(outlook)
    placed = {one.task: one for one in schedule.placements}
    bound = 0
    for stay in stays_of(project):
        closed, opened = (getattr(placed[one.task], one.edge) for one in (stay.since, stay.until))
        line = lines.line(stay.until.task)
        assert line is not None
        assert line.times is not None
        assert line.room_min is not None
        left = max(0, closed + stay.safe.estimate.low - opened)
        assert line.room_min <= left
        bound += line.times.room_min(line.placement.start) > left
    assert bound  # the network alone would have given more
