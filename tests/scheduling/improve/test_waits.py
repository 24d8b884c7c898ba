from __future__ import annotations

import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew, Kind, Task, Timing
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import Person, SchedulingProblem, TiedDay
from moveplan.scheduling.solve import solve
from moveplan.scheduling.verify import verify
from tests.network.builders import task
from tests.scheduling.instances import DAY, day, hours

MOVE_DAY = 40


def _late(name: str, kind: Kind) -> Task:
    return task(name, 60, crew=Crew(1), kind=kind, timing=Timing.LATE, margin_min=2 * DAY)


@pytest.mark.parametrize("engine", ["serial", "exact"])
def test_a_filter_is_judged_when_it_should_be_ripe_and_keys_are_fetched_when_they_are_wanted(
    engine: str,
) -> None:
    ripen = task("ripen", 7 * DAY, kind=Kind.WAIT)
    chain = (task("dose", 60, crew=Crew(1)), ripen, _late("is-ripe", Kind.HOLD_POINT))
    others = (_late("keys", Kind.HOLD_POINT), _late("pack", Kind.WORK))
    gate = task("move", 60, crew=Crew(1), day="move")
    links = (Link("dose", "ripen"), Link("ripen", "is-ripe"), Link("is-ripe", "move"))
    problem = SchedulingProblem(
        Network(
            (*chain, *others, gate),
            (*links, Link("keys", "move"), Link("pack", "move")),
            (),
            (("settled", "move"),),
        ),
        0,
        (MOVE_DAY + 2) * DAY,
        tuple(day(n) for n in range(MOVE_DAY + 2)),
        people=(Person("p", "P", tuple(hours(n, 9, 12) for n in range(MOVE_DAY + 1))),),
        tied_days=(TiedDay("move", (day(MOVE_DAY),)),),
    )
    found = solve(problem, Effort(seconds=0.3, engine=engine))  # type: ignore[arg-type]
    assert verify(problem, found) == ()
    ripe = found.of("ripen").finish
    assert ripe <= found.of("is-ripe").start < ripe + DAY
    assert found.of("is-ripe").start < (MOVE_DAY - 20) * DAY
    assert min(found.of(name).start for name in ("keys", "pack")) > (MOVE_DAY - 10) * DAY
