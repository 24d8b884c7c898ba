from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from moveplan.journal.back import look_back
from moveplan.journal.file.kept import snapshot_data, snapshot_of
from moveplan.journal.records import Begun, Counted, Done, Dropped, Met, Spent
from moveplan.journal.state import state_of
from moveplan.science.limits import limits
from tests.journal.builders import T0, entries, snapshot

STORY = entries(
    Begun(at=T0, task="draw-water"),
    Done(at=T0 + 60, task="draw-water"),
    Done(at=T0 + 150, task="catch-fish", took_min=90),
    Done(at=T0 + 400, task="drive-van"),
    Met(at=T0 + 410, task="water-matched-reef", by="Ines", reason="meter broken", lacking=("temperature",)),
    Done(at=T0 + 460, task="release-fish", took_min=45),
    Dropped(at=T0 + 500, task="daily-look", reason="neighbour does it"),
    Counted(at=T0 + 500, group="clowns", change=-1, reason="jumped"),
    Spent(at=T0, amount="12.50", item="salt"),
    Spent(at=T0, amount="100", item="van"),
)


def test_planned_against_real() -> None:
    back = look_back(snapshot(), state_of(STORY))
    rows = {one.task.id: one for one in back.tasks}
    assert (rows["draw-water"].real_min, rows["draw-water"].later_start_min) == (60, 0)
    assert rows["draw-water"].ratio == pytest.approx(2.0)
    assert (rows["catch-fish"].later_start_min, rows["catch-fish"].later_finish_min) == (30, 60)
    assert rows["drive-van"].real_min is None
    assert back.milestones == (("settled", T0 + 350, T0 + 460),)
    assert [(phase.name, phase.done, phase.total) for phase in back.phases] == [("Test", 5, 6)]
    assert (back.phases[0].planned_min, back.phases[0].real_min) == (120, 195)
    assert back.open == 0


def test_what_was_late_and_why() -> None:
    back = look_back(snapshot(), state_of(STORY))
    assert [one.task.id for one in back.late] == [
        "drive-van",
        "release-fish",
        "water-matched-reef",
        "catch-fish",
        "draw-water",
    ]
    waited = {one.task.id: one.waited_for.id for one in back.late if one.waited_for}
    assert waited == {"release-fish": "water-matched-reef", "water-matched-reef": "drive-van"}


def test_losses_cost_and_what_was_forced_or_dropped() -> None:
    back = look_back(snapshot(), state_of(STORY))
    assert [(one.group, one.count, one.reasons) for one in back.lost] == [("clowns", 1, ("jumped",))]
    assert (back.planned_cost, back.spent) == (Decimal("135.00"), Decimal("112.50"))
    assert [one.task.id for one in back.forced] == ["water-matched-reef"]
    assert [one.task.id for one in back.dropped] == ["daily-look"]


def test_a_pace_is_learnt_from_three_measured_tasks() -> None:
    back = look_back(snapshot(), state_of(STORY))
    # 60 + 90 + 45 minutes for 30 + 60 + 30 planned
    assert [(pace.name, pace.factor, pace.tasks) for pace in back.paces] == [("pace_other_work", 1.6, 3)]
    limit = limits()[back.paces[0].name]
    assert limit.low <= back.paces[0].factor <= limit.high
    assert look_back(snapshot(), state_of(STORY[:3])).paces == ()


def test_a_pace_is_told_against_the_usual_not_against_a_plan_that_was_quicker_already() -> None:
    plan = snapshot()
    quick = replace(plan, tasks=tuple(replace(task, pace=0.5) for task in plan.tasks))
    paces = [look_back(one, state_of(STORY)).paces[0].factor for one in (plan, quick)]
    assert paces == [1.6, 0.8]  # 195 real minutes for 120 planned ones, and for 240 at the usual pace
    again = look_back(snapshot_of(snapshot_data(quick), "journal"), state_of(STORY))
    assert again.paces == look_back(quick, state_of(STORY)).paces


def test_nothing_happened() -> None:
    back = look_back(snapshot(), state_of(()))
    assert back.open == 6
    assert [*back.late, *back.dropped, *back.lost, *back.paces] == []
