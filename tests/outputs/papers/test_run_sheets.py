from __future__ import annotations

from moveplan.outputs.agenda import agenda
from moveplan.outputs.papers.run_sheets import run_sheets_of
from tests.outputs.scene import impossible, moving_day


def test_a_sheet_holds_what_its_person_takes_part_in_on_the_moving_day() -> None:
    outlook = moving_day()
    found = agenda(outlook)
    sheets = run_sheets_of(outlook, found)
    assert [sheet.person.id for sheet in sheets] == [
        person.id for person in outlook.project.scheduling.people
    ]
    for sheet in sheets:
        listed = [line.task.id for line in sheet.lines]
        wanted = [
            line.task.id for line in found.work_of(sheet.person.id) if line.task.day and not line.task.repeats
        ]
        assert listed == wanted
        assert sheet.start == sheet.lines[0].placement.start
        assert sheet.finish >= sheet.lines[-1].placement.segments[0].finish


def test_the_care_of_a_sheet_is_that_of_its_tasks_each_once() -> None:
    for sheet in run_sheets_of(moving_day(), agenda(moving_day())):
        named = {key for line in sheet.lines for key in line.task.cautions}
        ids = [caution.id for caution in sheet.cautions]
        assert set(ids) == named & {caution.id for caution in moving_day().project.cautions}
        assert len(ids) == len(set(ids))


def test_places_are_those_a_person_comes_to_in_order() -> None:
    for sheet in run_sheets_of(moving_day(), agenda(moving_day())):
        drives = [line for line in sheet.lines if line.task.place_after]
        assert set(sheet.places) >= {line.task.place_after for line in drives}
        assert sheet.places[0] == next(line.task.place for line in sheet.lines if line.task.place)


def test_without_a_schedule_there_is_none() -> None:
    assert run_sheets_of(impossible(), agenda(impossible())) == ()
