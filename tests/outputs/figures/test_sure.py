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


def test_between_two_known_chances_the_water_is_level_and_the_plan_has_a_post() -> None:
    settled = picture().rises[1]
    assert settled.planned is not None
    marks = [step.mark.y for step in settled.steps]
    assert settled.outline == (
        f"M52.0 150.0 H{marks[0]} V138.0 H{marks[1]} V90.0 H{marks[2]} V54.0 H{marks[3]} V36.0 H560.0 V150.0 Z"
    )
    placements = {one.task: one.finish for one in moving_day().schedule.placements}
    assert settled.planned.moment == placements["release-fish"]


def test_dates_stand_apart_in_proportion() -> None:
    for rise in picture().rises:
        assert rise.planned is not None
        marks = [*(step.mark for step in rise.steps), rise.planned]
        first, last = min(marks, key=lambda mark: mark.moment), max(marks, key=lambda mark: mark.moment)
        assert (first.y, last.y) == (52.0, 548.0)
        assert rise.ends == (first.moment, last.moment)
        for mark in marks:
            share = (mark.moment - first.moment) / (last.moment - first.moment)
            assert abs(mark.y - 52 - 496 * share) < 0.1


def test_a_bar_is_as_long_as_the_share_of_the_accepted_risk_that_is_used_up() -> None:
    bars = {bar.name: bar for bar in picture().bars}
    assert moving_day().project.plan.safe_time_risk == 0.05
    assert bars["Yellow-finned tang"].width == 186.0  # 3.1 % of runs, 5 % accepted, 300 px
    assert bars["Yellow-finned tang"].accepted
    assert bars["Clownfish"].width == 0.0


def test_other_chances_are_told_where_they_were_counted() -> None:
    outlook = replace(moving_day(), risk=replace(risk(10000), overtime=0.7, keys_back_missed=0.0))
    found = sure(outlook)
    assert found is not None
    assert found.others == (("overtime", 0.7), ("keys-back-missed", 0.0))


def test_a_chance_beyond_what_the_plan_accepts_is_marked() -> None:
    outlook = moving_day()
    strict = replace(outlook.project, plan=replace(outlook.project.plan, safe_time_risk=0.02))
    found = sure(replace(outlook, project=strict, risk=risk(10000)))
    assert found is not None
    assert [bar.name for bar in found.bars if not bar.accepted] == ["Yellow-finned tang"]
