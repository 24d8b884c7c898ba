from __future__ import annotations

from moveplan.outputs.agenda import agenda
from moveplan.outputs.papers.told_once import told_once
from moveplan.pipeline import Settings, judge
from tests.examples import scheduled


def test_what_a_later_task_repeats_is_told_by_the_first_that_says_it() -> None:
    lines = agenda(judge(*scheduled("house_move_with_gap"), Settings(runs=0)))
    once = told_once(lines)
    assert once.steps
    for later, first in once.steps.items():
        line = lines.line(later)
        assert line is not None
        assert line.task.steps == first.task.steps
        assert first.number < line.number
        assert first.task.id not in once.steps
    assert once.shared == {line.task.id for line in once.steps.values()}
    for caution, first in once.care.items():
        assert first == next(line for line in lines.lines if caution in line.task.cautions)
