"""What could be otherwise in a plan that cannot be done, the smallest change first."""

from __future__ import annotations

from dataclasses import replace

from moveplan.scheduling.changes import longer_hire
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
