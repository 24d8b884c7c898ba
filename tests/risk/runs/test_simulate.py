"""Runs of small networks whose outcome is known."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from moveplan.risk.prepared.net import Day, Mishap, Net, Step, Tie
from moveplan.risk.prepared.windows import Stretches, stretches_of
from moveplan.risk.runs.draw import POINTS, Floats, Loading, quantile_tables
from moveplan.risk.runs.simulate import Chunk, Simulation, critical
from moveplan.times import Interval

HOUR = 60.0


def fixed(*minutes: float) -> Floats:
    return np.repeat(np.array(minutes, dtype=float)[:, None], POINTS, axis=1)


def run(net: Net, tables: Floats, runs: int = 2, seed: int = 1) -> Chunk:
    return next(Simulation(net, tables, Loading(np.zeros((len(tables), 0))), seed).chunks(runs))


def daily(begin: int, end: int, days: int = 5) -> Stretches:
    hours = [Interval(1440 * day + begin, 1440 * day + end) for day in range(days)]
    return stretches_of(hours, 0, 1440 * days)


def test_what_misses_its_hours_waits_for_the_next() -> None:
    net = Net((Step(), Step(hours=daily(480, 600))), (Tie(0, 1),))
    chunk = run(net, fixed(540, 90))
    assert chunk.starts[1, 0] == 1440 + 480
    assert chunk.finishes[1, 0] == 1440 + 570


def test_what_just_fits_its_hours_is_done() -> None:
    net = Net((Step(), Step(hours=daily(480, 600))), (Tie(0, 1),))
    assert run(net, fixed(540, 60)).finishes[1, 0] == 600


def test_work_that_pauses_goes_on_in_the_next_hours() -> None:
    net = Net((Step(), Step(hours=daily(480, 600), pauses=True)), (Tie(0, 1),))
    chunk = run(net, fixed(540, 200))
    assert chunk.starts[1, 0] == 540
    assert chunk.finishes[1, 0] == 2 * 1440 + 480 + 20


def test_work_longer_than_any_hours_is_broken_off() -> None:
    net = Net((Step(hours=daily(480, 600)),), ())
    assert run(net, fixed(150)).finishes[0, 0] == 1440 + 480 + 30


def test_after_the_last_hours_there_is_somebody() -> None:
    net = Net((Step(floor_min=1440.0, hours=daily(480, 600, days=1)),), ())
    assert run(net, fixed(30)).finishes[0, 0] == 1440 + 30


@pytest.mark.parametrize(
    ("from_finish", "to_finish", "start"),
    [(True, False, 100 + 5), (False, False, 5), (True, True, 100 + 5 - 30), (False, True, 0)],
)
def test_every_relation(from_finish: bool, to_finish: bool, start: float) -> None:
    net = Net((Step(), Step()), (Tie(0, 1, 5.0, from_finish, to_finish),))
    assert run(net, fixed(100, 30)).starts[1, 0] == start


def test_ties_that_run_in_a_ring_are_worked_through_again() -> None:
    ring = (Tie(0, 1, 10.0, from_finish=False), Tie(1, 0, -10.0, from_finish=False))
    net = Net((Step(), Step(), Step()), (*ring, Tie(2, 1)))
    chunk = run(net, fixed(5, 5, 60))
    assert chunk.starts[:, 0].tolist() == [50.0, 60.0, 0.0]


def test_a_hold_point_is_asked_again() -> None:
    runs = 100_000
    net = Net((Step(fails=0.3, redo_min=50.0),), ())
    finishes = np.concatenate(
        [
            chunk.finishes[0].copy()
            for chunk in Simulation(net, fixed(10), Loading(np.zeros((1, 0))), 1).chunks(runs)
        ]
    )
    for times, chance in enumerate([0.7, 0.3 * 0.7, 0.3**2 * 0.7, 0.3**3]):
        share = float(np.mean(finishes == 10 + 60 * times))
        assert share == pytest.approx(chance, abs=4 * sqrt(chance * (1 - chance) / runs))


def test_a_mishap_delays_what_follows() -> None:
    runs = 100_000
    net = Net((Step(), Step()), (Tie(0, 1),), (Mishap(0.2, 45.0, 0),))
    simulation = Simulation(net, fixed(10, 10), Loading(np.zeros((2, 0))), 1)
    finishes = np.concatenate([chunk.finishes[1].copy() for chunk in simulation.chunks(runs)])
    assert set(finishes.tolist()) == {20.0, 65.0}
    assert float(np.mean(finishes == 65)) == pytest.approx(0.2, abs=4 * sqrt(0.2 * 0.8 / runs))


def test_who_waits_for_keys_does_other_work_meanwhile() -> None:
    steps = (Step(fails=0.5, redo_min=60.0), Step(), Step())
    net = Net(steps, (Tie(0, 1, freed=True), Tie(0, 2)), (Mishap(0.5, 45.0, 0),))
    chunk = run(net, fixed(10, 10, 10), 4096)
    assert set(chunk.finishes[1].tolist()) == {20.0}
    assert (chunk.finishes[2] == chunk.finishes[0] + 10).all()
    assert chunk.finishes[2].max() > 80


def test_certain_and_impossible_mishaps() -> None:
    net = Net((Step(),), (), (Mishap(1.0, 5.0, 0), Mishap(0.0, 7.0, 0)))
    assert set(run(net, fixed(10), 4096).finishes[0].tolist()) == {15.0}


def _day_net(before: float, tolerance: float = 60.0) -> Chunk:
    steps = (Step(), Step(floor_min=600.0, follows_day=True, day=0))
    days = (Day(7 * 1440.0, tolerance),)
    return run(Net(steps, (Tie(0, 1),), (), days, (0.0, 600.0)), fixed(before, 30))


def test_the_day_is_kept_where_the_preparation_is_in_time() -> None:
    chunk = _day_net(500)
    assert chunk.starts[1, 0] == 600
    assert not chunk.slipped.any()


def test_the_day_waits_a_little() -> None:
    assert _day_net(650).starts[1, 0] == 650


def test_the_day_slips_where_the_preparation_is_late() -> None:
    chunk = _day_net(700)
    assert chunk.slipped.all()
    assert chunk.starts[1, 0] == 600 + 7 * 1440


def test_the_eve_says_no() -> None:
    steps = (Step(fails=1.0, slips=True), Step(floor_min=600.0, follows_day=True, day=0))
    chunk = run(Net(steps, (Tie(0, 1),), (), (Day(1440.0, 60.0),), (0.0, 600.0)), fixed(30, 30))
    assert chunk.starts[1, 0] == 600 + 1440
    assert chunk.finishes[0, 0] == 30


def test_a_day_slips_for_nothing_that_waits_for_the_day_itself() -> None:
    """A task of no day comes between two of the day and is late; a ring elsewhere has it worked through again."""
    on_day = Step(floor_min=600.0, follows_day=True, day=0)
    steps = (on_day, Step(), Step(day=0), Step(), Step())
    ring = (Tie(3, 4, 10.0, from_finish=False), Tie(4, 3, -10.0, from_finish=False))
    net = Net(
        steps, (Tie(0, 1), Tie(1, 2), *ring), (), (Day(7 * 1440.0, 60.0),), (600.0, 630.0, 660.0, 0.0, 0.0)
    )
    assert net.rounds > 1
    chunk = run(net, fixed(30, 300, 30, 5, 5))
    assert not chunk.slipped.any()
    assert chunk.starts[2, 0] == 930


def test_overtime_is_counted() -> None:
    stated = stretches_of([Interval(0, 700)], 0, 1440, [600])
    net = Net((Step(hours=stated, runs_over=True),), (), (), (Day(1440.0, 60.0),), (0.0,))
    assert run(net, fixed(650)).any_overtime.all()
    assert not run(net, fixed(600)).any_overtime.any()


def test_each_of_two_days_slips_by_itself() -> None:
    """The first day is kept; what lies between the two is late for the second."""
    first = Step(floor_min=600.0, follows_day=True, day=0)
    second = Step(floor_min=5000.0, follows_day=True, day=1)
    days = (Day(1440.0, 60.0), Day(2880.0, 60.0))
    net = Net(
        (Step(), first, Step(), second),
        (Tie(0, 1), Tie(1, 2), Tie(2, 3)),
        (),
        days,
        (0.0, 600.0, 0.0, 5000.0),
    )
    chunk = run(net, fixed(60, 60, 4900, 60))
    assert chunk.slips[:, 0].tolist() == [False, True]
    assert chunk.starts[3, 0] == 7880


def test_the_same_seed_gives_the_same_runs() -> None:
    net = Net((Step(), Step(fails=0.1, redo_min=5.0)), (Tie(0, 1),), (Mishap(0.5, 3.0, 1),))
    tables = quantile_tables([(1, 2, 9), (3, 4, 5)])
    one, two, three = (run(net, tables, 1000, seed).finishes.copy() for seed in (7, 7, 8))
    assert np.array_equal(one, two)
    assert not np.array_equal(one, three)


def test_the_second_half_mirrors_the_first() -> None:
    chunk = run(Net((Step(),), ()), quantile_tables([(0, 5, 10)]), 1000)
    assert np.allclose(chunk.durations[0, :500] + chunk.durations[0, 500:], 10.0, atol=1e-4)


def test_antithetic_pairs_earn_their_place() -> None:
    """The mean of a path varies less over seeds than with as many independent runs."""
    net = Net((Step(), Step()), (Tie(0, 1),))
    tables = quantile_tables([(10, 20, 60), (10, 20, 60)])
    means = [float(run(net, tables, 200, seed).finishes[1].mean()) for seed in range(200)]
    alone = float(run(net, tables, 4096).finishes[1].std()) / sqrt(200)
    assert float(np.std(means)) < alone / 1.2


def test_a_late_minute_matters_only_without_slack() -> None:
    """Of two parallel tasks only the longer drives the end; before a wait for hours nothing does."""
    net = Net((Step(), Step(), Step()), (Tie(0, 2), Tie(1, 2)))
    assert critical(net, run(net, fixed(10, 20, 5)))[:, 0].tolist() == [False, True, True]
    waiting = Net((Step(), Step(hours=daily(480, 600))), (Tie(0, 1),))
    assert critical(waiting, run(waiting, fixed(10, 20)))[:, 0].tolist() == [False, True]


def test_criticality_towards_one_task() -> None:
    net = Net((Step(), Step(), Step()), (Tie(0, 1), Tie(0, 2)))
    assert critical(net, run(net, fixed(10, 5, 50)), 1)[:, 0].tolist() == [True, True, False]
