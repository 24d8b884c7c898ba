from __future__ import annotations

from dataclasses import replace

import pytest

pytest.importorskip("ortools")

from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.scheduling.constraints.tasks import Given
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.exact.exact import Exact
from moveplan.scheduling.objective.aims import MONEY, values
from moveplan.times import Interval
from tests.scheduling.instances import DAY, move
from tests.scheduling.searched import searched

LITTLE = Effort(seconds=0.2)
HOURS = {
    "by day": tuple(Interval(n * DAY + 7 * 60, n * DAY + 20 * 60) for n in range(70)),
    "kept for weeks": (Interval(8 * DAY, 60 * DAY),),
    "over each night": tuple(Interval(n * DAY + 12 * 60, (n + 1) * DAY + 11 * 60) for n in range(69)),
}


@pytest.mark.parametrize("hours", HOURS)
@settings(max_examples=6, deadline=None)
@given(size=st.integers(20, 40), people=st.integers(2, 4), seed=st.integers(0, 1000))
def test_the_model_counts_what_the_schedule_costs(hours: str, size: int, people: int, seed: int) -> None:
    problem = move(size, people, seed)
    wheels = replace(problem.vehicles[0], available=HOURS[hours])
    frame, found = searched(replace(problem, vehicles=(wheels,)), LITTLE.seconds)
    if found.desk is None:
        return
    assert dict(found.values)[MONEY] > 0
    given_days = Given(found.days, found.margins, frame.block_of, problem.horizon)
    answer = Exact(frame.model, given_days, found.desk, LITTLE, 0.3, (MONEY,)).run()
    assert answer.desk is not None
    (aim,) = (one for one in answer.aims if one.name == MONEY)
    assert aim.value == dict(values(answer.desk))[MONEY] <= dict(found.values)[MONEY]
    assert aim.bound <= aim.value
