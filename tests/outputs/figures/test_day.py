from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from moveplan.outputs.agenda import agenda
from moveplan.outputs.figures.day import DayPicture, _text, day_pictures, moving_days
from tests.outputs.scene import impossible, moving_day


def picture() -> DayPicture:
    outlook = moving_day()
    (found,) = day_pictures(outlook, agenda(outlook))
    return found


def test_each_person_and_vehicle_has_a_column_with_its_own_tasks() -> None:
    columns = {column.id: [block.line.task.id for block in column.blocks] for column in picture().columns}
    assert list(columns) == ["una", "per", "cai", "van"]
    assert columns["van"] == ["load-van", "drive-over"]
    assert "catch-fish" in columns["una"]
    assert "catch-fish" not in columns["per"]


def test_a_block_is_as_long_as_its_task() -> None:
    drawn = picture()
    for column in drawn.columns:
        for block in column.blocks:
            assert block.y == drawn.scale.y(block.span.start)
            assert abs(block.height - block.span.minutes * drawn.scale.px_per_min) < 0.11


def test_a_title_never_has_more_lines_than_fit() -> None:
    for column in picture().columns:
        for block in column.blocks:
            assert len(block.text) * 15 <= block.height or block.text == (f"{block.line.number}.",)
            assert all(len(row) <= 21 for row in block.text)


@pytest.mark.parametrize(("height", "shown"), [(7.0, ()), (11.0, ("1.",)), (16.0, ("1.",)), (17.0, None)])
def test_a_block_too_low_for_its_title_has_its_number_or_nothing(
    height: float, shown: tuple[str, ...] | None
) -> None:
    line = replace(picture().columns[0].blocks[0].line, number=1)
    text = _text(line, height)
    assert text == shown if shown is not None else text[0].startswith("1. ")


def test_the_outline_has_a_corner_cut_off() -> None:
    block = replace(picture().columns[0].blocks[0], x=10.0, y=20.0, width=100.0, height=40.0)
    assert block.outline == "M10 20h91l9 9v31h-100z"


def test_without_tied_days_the_day_with_the_most_tasks_is_shown() -> None:
    outlook = moving_day()
    tasks = tuple(replace(task, day="") for task in outlook.project.network.tasks)
    untied = replace(
        outlook, project=replace(outlook.project, network=replace(outlook.project.network, tasks=tasks))
    )
    assert moving_days(agenda(untied)) == (date(2027, 5, 22),)
    assert moving_days(agenda(impossible())) == ()
