"""What a moving day is missed for, on networks whose answer is plain."""

from __future__ import annotations

import numpy as np

from moveplan.risk.prepared.net import Day, Mishap, Net, Step, Tie
from moveplan.risk.prepared.windows import stretches_of
from moveplan.risk.runs.causes import lost_by
from moveplan.risk.runs.draw import POINTS, Floats, Loading
from moveplan.risk.runs.simulate import Chunk, Simulation
from moveplan.times import Interval

DAY = (Day(slip_min=10_080.0, tolerance_min=60.0),)


def fixed(*minutes: float) -> Floats:
    return np.repeat(np.array(minutes, dtype=float)[:, None], POINTS, axis=1)


def chain(middle: Step, *mishaps: Mishap, begins: float = 500.0) -> Net:
    """Something, then something else that is planned at 100 min, then the moving day."""
    steps = (Step(), middle, Step(floor_min=begins, day=0))
    return Net(steps, (Tie(0, 1), Tie(1, 2)), mishaps, DAY, (0.0, 100.0, begins))


def run(net: Net, tables: Floats, runs: int = 2) -> Chunk:
    return next(Simulation(net, tables, Loading(np.zeros((len(tables), 0))), 1).chunks(runs))


def test_the_task_that_lost_the_time_is_named_not_the_one_that_waited_for_it() -> None:
    """Water 500 min instead of 100 makes the mixing after it late, and with it the day."""
    net = chain(Step())
    chunk = run(net, fixed(500, 100, 50))
    assert chunk.slipped.all()
    assert lost_by(net, chunk).tolist() == [2, 0, 0]
    assert chunk.lacking_min.tolist() == [[100.0, 100.0]]


def test_of_two_preparations_the_later_is_named() -> None:
    net = Net(
        (Step(), Step(), Step(floor_min=500.0, day=0)),
        (Tie(0, 2), Tie(1, 2)),
        days=DAY,
        planned_min=(0.0, 0.0, 500.0),
    )
    assert lost_by(net, run(net, fixed(600, 700, 50))).tolist() == [0, 2, 0]


def test_a_no_on_the_eve_is_a_cause_itself() -> None:
    net = chain(Step(fails=0.5, slips=True))
    chunk = run(net, fixed(100, 10, 50), runs=2000)
    counts = lost_by(net, chunk)
    assert counts.tolist() == [0, np.count_nonzero(chunk.slipped), 0]
    assert 900 < counts[1] < 1100


def test_a_task_that_missed_its_hours_lost_the_time_unless_another_made_it_miss_them() -> None:
    hours = stretches_of([Interval(0, 200), Interval(1440, 1640)], 0, 2880)
    net = chain(Step(hours=hours))
    assert lost_by(net, run(net, fixed(180, 90, 50))).tolist() == [2, 0, 0]


def test_a_mishap_counts_for_the_task_it_strikes() -> None:
    net = chain(Step(), Mishap(0.25, 500.0, 1), begins=300.0)
    chunk = run(net, fixed(100, 50, 50), runs=2000)
    assert lost_by(net, chunk).tolist() == [0, np.count_nonzero(chunk.happened[0]), 0]


def test_a_run_with_two_missed_days_is_counted_once() -> None:
    steps = (Step(), Step(floor_min=500.0, day=0), Step(), Step(floor_min=20_000.0, day=1))
    net = Net(
        steps, (Tie(0, 1), Tie(1, 2), Tie(2, 3)), days=DAY * 2, planned_min=(0.0, 500.0, 550.0, 20_000.0)
    )
    chunk = run(net, fixed(600, 50, 30_000, 50))
    assert chunk.slips.all()
    assert lost_by(net, chunk).tolist() == [2, 0, 0, 0]


def test_no_day_no_cause() -> None:
    net = Net((Step(), Step()), (Tie(0, 1),))
    assert lost_by(net, run(net, fixed(600, 50))).sum() == 0
