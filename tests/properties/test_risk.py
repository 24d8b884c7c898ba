"""The simulation against exact enumeration on small networks, and what must hold for any network."""

from __future__ import annotations

from itertools import product
from math import sqrt

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.risk.prepared.net import Net, Step, Tie
from moveplan.risk.prepared.windows import latest_start, place, place_pausing, stretches_of
from moveplan.risk.runs.draw import POINTS, Floats, Loading, quantile_tables
from moveplan.risk.runs.simulate import EPSILON, Simulation, critical
from moveplan.times import Interval
from tests.risk.quantiles import quantile_of

RUNS = 4096
Links = list[tuple[int, int, int]]


@st.composite
def networks(draw: st.DrawFn) -> tuple[list[tuple[int, int]], Links]:
    """Up to five tasks, each short or long with even chance; links run forwards, with gaps."""
    tasks = draw(st.lists(st.tuples(st.integers(0, 20), st.integers(0, 20)), min_size=1, max_size=5))
    pairs = [(one, two) for two in range(len(tasks)) for one in range(two)]
    chosen = draw(st.lists(st.sampled_from(pairs), unique=True)) if pairs else []
    return tasks, [(one, two, draw(st.integers(-5, 10))) for one, two in chosen]


def exact_finish(lasts: tuple[int, ...], links: Links) -> int:
    starts = [0] * len(lasts)
    for head in range(len(lasts)):
        for one, two, gap in links:
            if two == head:
                starts[head] = max(starts[head], starts[one] + lasts[one] + gap)
    return max(start + last for start, last in zip(starts, lasts, strict=True))


def simulated(tasks: list[tuple[int, int]], links: Links, runs: int = RUNS) -> Floats:
    half = POINTS // 2
    tables = np.array([[low] * half + [high] * half for low, high in map(sorted, tasks)], dtype=float)
    net = Net(tuple(Step() for _ in tasks), tuple(Tie(one, two, gap) for one, two, gap in links))
    chunks = Simulation(net, tables, Loading(np.zeros((len(tasks), 0))), 1).chunks(runs)
    return np.concatenate([chunk.finishes.max(axis=0) for chunk in chunks])


@settings(max_examples=60)
@given(networks())
def test_mean_is_that_of_all_cases(network: tuple[list[tuple[int, int]], Links]) -> None:
    tasks, links = network
    cases = [exact_finish(case, links) for case in product(*tasks)]
    found = simulated(tasks, links)
    assert set(found) <= set(map(float, cases))
    # Antithetic pairs: at worst both runs of a pair agree, so that the pairs are the sample.
    error = float(np.std(cases)) / sqrt(RUNS / 2)
    assert abs(float(found.mean()) - float(np.mean(cases))) <= 5 * error + 1e-9


@settings(max_examples=60)
@given(networks(), st.integers(0, 4), st.integers(1, 9))
def test_a_longer_task_never_ends_it_sooner(
    network: tuple[list[tuple[int, int]], Links], which: int, more: int
) -> None:
    tasks, links = network
    at = which % len(tasks)
    longer = [(low + more, high + more) if n == at else (low, high) for n, (low, high) in enumerate(tasks)]
    assert (simulated(longer, links, 256) >= simulated(tasks, links, 256) - EPSILON).all()


@settings(max_examples=60)
@given(networks())
def test_critical_tasks_are_those_whose_minute_moves_the_end(
    network: tuple[list[tuple[int, int]], Links],
) -> None:
    tasks, links = network
    tables = np.repeat(np.array([float(low) for low, _ in tasks])[:, None], POINTS, axis=1)
    net = Net(tuple(Step() for _ in tasks), tuple(Tie(one, two, gap) for one, two, gap in links))
    chunk = next(Simulation(net, tables, Loading(np.zeros((len(tasks), 0))), 1).chunks(2))
    flags = critical(net, chunk)[:, 0]
    lasts = tuple(low for low, _ in tasks)
    before = exact_finish(lasts, links)
    for at, flag in enumerate(flags):
        longer = tuple(last + (number == at) for number, last in enumerate(lasts))
        assert bool(flag) == (exact_finish(longer, links) > before)


@settings(max_examples=60)
@given(
    st.lists(st.floats(0, 1000), min_size=3, max_size=3).map(sorted),
    st.sampled_from([(0.0, 1.0), (0.1, 0.9), (0.05, 0.95), (0.0, 0.9)]),
)
def test_low_and_high_are_the_stated_quantiles(points: list[float], low_high: tuple[float, float]) -> None:
    low, likely, high = points
    row = quantile_tables([(low, likely, high)], low_high)[0]
    assert (np.diff(row) >= -1e-9).all()
    assert (row >= 0).all()
    if low_high == (0.0, 1.0):
        assert row[0] >= low - 1e-9
        assert row[-1] <= high + 1e-9
        return
    width = high - low
    if low_high[0] > 0 and quantile_of((low, likely, high), low_high, 0.001) > 0:
        assert abs(quantile_of((low, likely, high), low_high, low_high[0]) - low) <= 0.005 * width + 1e-6
    assert abs(quantile_of((low, likely, high), low_high, low_high[1]) - high) <= 0.005 * width + 1e-6


@st.composite
def days(draw: st.DrawFn) -> list[Interval]:
    """Disjoint hours within two thousand minutes."""
    cuts = sorted(draw(st.lists(st.integers(0, 2000), min_size=2, max_size=10, unique=True)))
    return [Interval(one, two) for one, two in zip(cuts[::2], cuts[1::2], strict=False)]


@settings(max_examples=100)
@given(days(), st.integers(0, 2000), st.integers(1, 400))
def test_work_lies_within_the_hours(hours: list[Interval], earliest: int, lasts: int) -> None:
    open_hours = stretches_of(hours, 0, 2100)
    start, finish = np.empty(1), np.empty(1)
    place(open_hours, np.array([float(earliest)]), np.array([float(lasts)]), start, finish)
    assert start[0] >= earliest
    fits = [one for one in hours if max(one.start, earliest) + lasts <= one.finish]
    if fits:
        assert start[0] == max(fits[0].start, earliest)
        assert finish[0] == start[0] + lasts
    place_pausing(open_hours, np.array([float(earliest)]), np.array([float(lasts)]), start, finish)
    worked = sum(
        max(0.0, min(one.finish, finish[0]) - max(one.start, start[0]))
        for one in [*hours, Interval(2100, 10**6)]
    )
    assert start[0] >= earliest
    assert abs(worked - lasts) < 1e-6


@settings(max_examples=100)
@given(days(), st.integers(0, 2000), st.integers(1, 400), st.booleans())
def test_latest_start_is_the_last_that_is_in_time(
    hours: list[Interval], finish: int, lasts: int, pauses: bool
) -> None:
    open_hours = stretches_of(hours, 0, 2100)
    work = np.array([float(lasts)])
    found = float(latest_start(open_hours, np.array([float(finish)]), work, pauses=pauses)[0])
    put = place_pausing if pauses else place
    start, end = np.empty(1), np.empty(1)
    if np.isfinite(found):
        put(open_hours, np.array([max(found, 0.0)]), work, start, end)
        assert end[0] <= finish + 1e-6
        put(open_hours, np.array([found + 1.0]), work, start, end)
        assert end[0] > finish
    else:
        longest = max(one.minutes for one in hours)
        put(open_hours, np.zeros(1), work, start, end)
        assert end[0] > finish or (not pauses and lasts > longest)
