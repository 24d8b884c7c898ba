"""What could be otherwise in a plan that cannot be done, the smallest change first."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.scheduling.effort import Effort
from moveplan.scheduling.improve import result
from moveplan.scheduling.schedule import Placement
from moveplan.scheduling.state.desk import Spot
from moveplan.scheduling.state.model import Model
from moveplan.scheduling.ways_out.changes import longer_hire
from moveplan.scheduling.ways_out.ways import possible
from moveplan.times import Interval
from tests.scheduling.instances import hours, move


def test_a_vehicle_is_wanted_later_then_earlier_then_both_then_on_more_days() -> None:
    problem = move(60, 4, 1)
    (van,) = problem.vehicles
    hire = hours(30, 8, 11)
    given = replace(problem, vehicles=(replace(van, available=(hire,)),))
    way = longer_hire(given, 0)
    day = next(one for one in problem.days if one.overlaps(hire))
    tried = [way.changed(given, amount).vehicles[0].available for amount in way.amounts]
    assert tried[:3] == [
        (Interval(hire.start, day.finish),),
        (Interval(day.start, hire.finish),),
        (day,),
    ]
    lengths = [one.finish - one.start for (one,) in tried[2:]]
    assert lengths == sorted(set(lengths))
    assert tried[-1] == (Interval(problem.start, problem.horizon),)


def test_a_change_whose_schedule_breaks_a_limit_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    problem, whole = move(60, 4, 1), result.placement_of
    assert possible(problem, Effort()) is not None

    def broken(model: Model, position: int, spot: Spot) -> Placement:
        return replace(whole(model, position, spot), vehicles=("another",))

    monkeypatch.setattr(result, "placement_of", broken)
    assert possible(problem, Effort()) is None
