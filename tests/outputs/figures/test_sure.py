from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from moveplan.outputs.figures.sure import Sure, sure
from tests.outputs.scene import moving_day, risk


def picture() -> Sure:
    found = sure(replace(moving_day(), risk=risk(10000)))
    assert found is not None
    return found


def test_without_runs_nothing_is_drawn() -> None:
    assert sure(moving_day()) is None
    assert sure(replace(moving_day(), risk=None)) is None


def test_each_cell_is_a_twentieth_of_the_runs_and_stands_where_they_are() -> None:
    outlook = moving_day()
    settled = risk(10000).settled
    assert settled is not None
    first = settled.p10 - 30
    twentieths = tuple(first + 10 * number for number in range(19))
    drawn = replace(risk(10000), settled=replace(settled, twentieths=twentieths))
    found = sure(replace(outlook, risk=drawn))
    assert found is not None
    strip = next(one for one in found.strips if one.name == "settled")
    assert len(strip.cells) == 18
    assert strip.later == 1
    assert strip.planned is not None
    widths = [width for _, width in strip.cells]
    assert max(widths) - min(widths) < 0.02
    for (x, width), (other, _) in pairwise(strip.cells):
        assert x + width == pytest.approx(other, abs=0.02)
    placements = {one.task: one.finish for one in outlook.schedule.placements}
    assert strip.planned[1] == placements["release-fish"]


def test_runs_of_another_day_are_counted_and_leave_the_hours_their_room() -> None:
    settled = risk(10000).settled
    assert settled is not None
    near = tuple(settled.p50 + number for number in range(-8, 9))
    far = (settled.p50 + 7 * 1440, settled.p50 + 7 * 1440 + 5)
    found = sure(
        replace(moving_day(), risk=replace(risk(10000), settled=replace(settled, twentieths=(*near, *far))))
    )
    assert found is not None
    strip = next(one for one in found.strips if one.name == "settled")
    assert strip.later == 3
    assert not strip.by_days
    assert 1 <= len(strip.ticks) <= 5


def test_chances_rise_with_their_moments() -> None:
    for strip in picture().strips:
        assert [chance for chance, _ in strip.steps] == [0.1, 0.5, 0.8, 0.95]
        moments = [moment for _, moment in strip.steps]
        assert moments == sorted(moments)


def test_a_bar_is_as_long_as_the_share_of_the_accepted_risk_that_is_used_up() -> None:
    bars = {bar.name: bar for bar in picture().bars}
    assert moving_day().project.plan.safe_time_risk == 0.05
    assert bars["Yellow-finned tang"].width == 186.0  # 3.1 % of runs, 5 % accepted, 300 px
    assert bars["Yellow-finned tang"].accepted
    assert bars["Clownfish"].width == 0.0


def test_a_chance_beyond_what_the_plan_accepts_is_marked() -> None:
    outlook = moving_day()
    strict = replace(outlook.project, plan=replace(outlook.project.plan, safe_time_risk=0.02))
    found = sure(replace(outlook, project=strict, risk=risk(10000)))
    assert found is not None
    assert [bar.name for bar in found.bars if not bar.accepted] == ["Yellow-finned tang"]
