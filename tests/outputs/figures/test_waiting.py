from __future__ import annotations

from moveplan.outputs.agenda import agenda
from moveplan.outputs.figures.waiting import Waiting, waiting
from tests.outputs.scene import CRITICAL, ROWS, impossible, moving_day


def picture() -> Waiting:
    outlook = moving_day()
    found = waiting(outlook, agenda(outlook))
    assert found is not None
    return found


def test_every_task_has_a_row_and_every_link_an_arc_between_its_rows() -> None:
    found = picture()
    assert len(found.rows) == len(ROWS)
    y = {row.line.task.id: row.y for row in found.rows}
    assert len(found.arcs) == len(moving_day().project.network.links)
    for arc in found.arcs:
        numbers = arc.path.replace("M", "").replace("C", "").split()
        assert (float(numbers[1]), float(numbers[-1])) == (y[arc.link.before], y[arc.link.after])


def test_the_deciding_chain_is_marked() -> None:
    found = picture()
    assert {row.line.task.id for row in found.rows if row.driving} == CRITICAL
    driving = [(arc.link.before, arc.link.after) for arc in found.arcs if arc.driving]
    assert driving == [("fill-tubs", "switch-off"), ("switch-off", "pack-corals")]


def test_nothing_is_drawn_without_a_schedule() -> None:
    assert waiting(impossible(), agenda(impossible())) is None
