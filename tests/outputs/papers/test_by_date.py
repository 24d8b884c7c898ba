from __future__ import annotations

from dataclasses import replace
from datetime import date

from moveplan.outputs.agenda import agenda
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.papers.by_date import Part, parts_of
from moveplan.times import Interval
from tests.outputs.scene import ROWS, bare, impossible, moving_day


def _parts(outlook: Outlook) -> tuple[Part, ...]:
    return parts_of(outlook, agenda(outlook))


def test_the_list_is_divided_at_the_moving_day_and_its_numbers_only_rise() -> None:
    parts = _parts(moving_day())
    assert [part.kind for part in parts] == ["before", "moving", "after"]
    numbers = [entry.line.number for part in parts for day in part.days for entry in day.entries]
    assert numbers == list(range(1, len(ROWS) + 1))
    assert [day.date for day in parts[1].days] == [date(2027, 5, 22)]


def test_weeks_are_counted_from_the_week_of_the_move() -> None:
    before, _, after = _parts(moving_day())
    assert [week.weeks for week in before.weeks] == sorted(
        {week.weeks for week in before.weeks}, reverse=True
    )
    assert before.weeks[-1].weeks == 0
    assert [week.weeks for week in after.weeks] == sorted({week.weeks for week in after.weeks})


def test_a_caution_is_told_in_full_once_a_day_where_it_first_applies() -> None:
    cautions = {caution.id for caution in moving_day().project.cautions}
    for part in _parts(moving_day()):
        for day in part.days:
            full = [caution.id for entry in day.entries for caution in entry.care]
            assert len(full) == len(set(full))
            seen: set[str] = set()
            for entry in day.entries:
                named = {key for key in entry.line.task.cautions if key in cautions}
                assert {caution.id for caution in entry.care} == named - seen
                assert set(entry.again) == named & seen
                seen |= named


def test_openings_stand_on_the_day_of_closing_and_nowhere_else() -> None:
    outlook = moving_day()
    days = [day for part in _parts(outlook) for day in part.days]
    assert [day.openings for day in days if day.openings] == [agenda(outlook).openings]


def test_care_that_recurs_is_named_on_each_later_day_of_the_list_on_which_it_is_due() -> None:
    outlook = moving_day()
    later = 3 * 1440
    placements = tuple(
        replace(
            one,
            start=one.start + later,
            finish=one.finish + later,
            segments=tuple(Interval(span.start + later, span.finish + later) for span in one.segments),
        )
        if one.task == "return-van"
        else one
        for one in outlook.schedule.placements
    )
    parts = _parts(replace(outlook, schedule=replace(outlook.schedule, placements=placements)))
    found = {day.date: [line.task.id for line in day.recurring] for part in parts for day in part.days}
    assert {day for day, tasks in found.items() if tasks} == {date(2027, 5, 26)}
    assert found[date(2027, 5, 26)] == ["test-water"]


def test_between_two_moving_days_there_is_a_part_of_its_own() -> None:
    outlook = moving_day()
    first = agenda(outlook).lines[0].task.id
    tasks = tuple(
        replace(task, day="first-day") if task.id == first else task for task in outlook.project.network.tasks
    )
    project = replace(outlook.project, network=replace(outlook.project.network, tasks=tasks))
    parts = _parts(replace(outlook, project=project))
    assert [part.kind for part in parts] == ["moving", "between", "moving", "after"]
    assert len({part.key for part in parts}) == 4


def test_own_tasks_have_one_part_and_nothing_scheduled_has_none() -> None:
    assert [part.kind for part in _parts(bare())] == ["all"]
    assert _parts(impossible()) == ()
