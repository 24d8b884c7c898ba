from __future__ import annotations

import re
from dataclasses import replace

import networkx as nx

from moveplan.outputs.agenda import agenda
from moveplan.outputs.figures import waiting as module
from moveplan.outputs.figures.waiting import Waiting, waiting
from tests.outputs.scene import CRITICAL, ROWS, impossible, moving_day


def picture() -> Waiting:
    outlook = moving_day()
    found = waiting(outlook, agenda(outlook))
    assert found is not None
    return found


def test_every_task_has_a_box_below_all_that_it_waits_for() -> None:
    found = picture()
    assert sorted(box.row.line.task.id for box in found.boxes) == sorted(row.id for row in ROWS)
    boxes = {box.row.line.number: box for box in found.boxes}
    for box in found.boxes:
        for number in box.row.numbers:
            if number < box.row.line.number:
                assert boxes[number].y + boxes[number].height < box.y


def test_boxes_do_not_overlap() -> None:
    boxes = picture().boxes
    for at, one in enumerate(boxes):
        for other in boxes[at + 1 :]:
            beside = one.x + one.width <= other.x or other.x + other.width <= one.x
            assert beside or one.y + one.height <= other.y or other.y + other.height <= one.y


def test_lines_lead_from_foot_to_head_and_tell_everything_that_waits() -> None:
    found = picture()
    boxes = {box.row.line.number: box for box in found.boxes}
    drawn = nx.DiGraph((thread.before, thread.after) for thread in found.threads)
    for thread in found.threads:
        numbers = [float(text) for text in re.findall(r"-?[\d.]+", thread.path)]
        one, other = boxes[thread.before], boxes[thread.after]
        assert one.x <= numbers[0] <= one.x + one.width
        assert abs(numbers[1] - one.y - one.height) < 0.1
        assert abs(numbers[-1] - other.y) < 0.1
    for row in found.rows:
        for number in row.numbers:
            if number < row.line.number:
                assert nx.has_path(drawn, number, row.line.number)


def test_the_deciding_chain_is_marked_and_the_numbers_are_said() -> None:
    found = picture()
    assert {box.row.line.task.id for box in found.boxes if box.row.driving} == CRITICAL
    numbers = {box.row.line.number: box.row.line.task.id for box in found.boxes}
    driving = {(numbers[thread.before], numbers[thread.after]) for thread in found.threads if thread.driving}
    assert driving == {("fill-tubs", "switch-off"), ("switch-off", "pack-corals")}
    (fish,) = [box for box in found.boxes if box.row.line.task.id == "pack-corals"]
    assert numbers[int(fish.after.split(", ")[-1])] == "switch-off"


def test_nothing_is_drawn_without_a_schedule() -> None:
    assert waiting(impossible(), agenda(impossible())) is None


def test_too_many_tasks_for_a_picture_keep_the_table() -> None:
    outlook = moving_day()
    found = agenda(outlook)
    many = replace(found, lines=found.lines * (module._MOST_BOXES // len(found.lines) + 1))
    large = waiting(outlook, many)
    assert large is not None
    assert (large.boxes, len(large.rows)) == ((), len(many.lines))
