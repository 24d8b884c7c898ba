from __future__ import annotations

from dataclasses import replace

from moveplan.outputs.figures.sure import Sure, sure
from tests.outputs.scene import moving_day, risk


def picture() -> Sure:
    found = sure(replace(moving_day(), risk=risk(10000)))
    assert found is not None
    return found


def test_without_runs_nothing_is_drawn() -> None:
    assert sure(moving_day()) is None
    assert sure(replace(moving_day(), risk=None)) is None


def test_the_water_stands_as_high_as_the_chance() -> None:
    for rise in picture().rises:
        assert [(150 - step.y) / 120 for step in rise.steps] == [0.1, 0.5, 0.8, 0.95]
        moments = [step.mark.moment for step in rise.steps]
        assert moments == sorted(moments)


def test_between_two_known_chances_the_water_is_level() -> None:
    settled = picture().rises[1]
    assert settled.outline == (
        "M12.0 150.0 H12.0 V138.0 H119.2 V90.0 H280.0 V54.0 H548.0 V36.0 H560.0 V150.0 Z"
    )


def test_dates_stand_apart_in_proportion() -> None:
    settled = picture().rises[1]
    first, half, most, last = settled.steps
    assert (first.mark.y, last.mark.y) == (12.0, 548.0)
    assert abs((half.mark.y - first.mark.y) / (last.mark.y - first.mark.y) - 60 / 300) < 0.001
    assert abs((most.mark.y - first.mark.y) / (last.mark.y - first.mark.y) - 150 / 300) < 0.001


def test_a_bar_is_as_long_as_the_chance_of_staying_within_the_safe_time() -> None:
    bars = {bar.name: bar for bar in picture().bars}
    assert bars["Yellow-finned tang"].width == 290.7
    assert bars["Yellow-finned tang"].accepted
    assert bars["Pair of clownfish"].width == 300.0


def test_a_chance_beyond_what_the_plan_accepts_is_marked() -> None:
    outlook = moving_day()
    strict = replace(outlook.project, plan=replace(outlook.project.plan, safe_time_risk=0.02))
    found = sure(replace(outlook, project=strict, risk=risk(10000)))
    assert found is not None
    assert [bar.name for bar in found.bars if not bar.accepted] == ["Yellow-finned tang"]
