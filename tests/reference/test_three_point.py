"""Three-point estimates, sums, merges and expected values, against published examples and closed forms.

Bands are four standard errors of the estimator under test, unless a line says otherwise; seeds are fixed.
"""

from __future__ import annotations

from decimal import Decimal
from math import erf, pi, sqrt

import numpy as np
import pytest

from moveplan.cost.bill import Bill, exact
from moveplan.cost.book import given
from moveplan.estimate import Provenance
from moveplan.risk.prepared.net import Mishap, Net, Step, Tie
from moveplan.risk.runs.draw import POINTS, Floats, Loading, chances, quantile_tables, scale
from moveplan.risk.runs.simulate import Simulation, critical
from moveplan.risk.summary import RegisterEntry
from tests.outputs.scene import moving_day

Estimates = dict[str, tuple[float, float, float]]

# Hillier and Lieberman, Introduction to Operations Research, ch. 22, tables 22.1 and 22.4 (recalled, the answers 44
# weeks and variance 9 confirmed by the sums): a house that is built, in weeks.
HOUSE: Estimates = {
    "A": (1, 2, 3),
    "B": (2, 3.5, 8),
    "C": (6, 9, 18),
    "D": (4, 5.5, 10),
    "E": (1, 4.5, 5),
    "F": (4, 4, 10),
    "G": (5, 6.5, 11),
    "H": (5, 8, 17),
    "I": (3, 7.5, 9),
    "J": (3, 9, 9),
    "K": (4, 4, 4),
    "L": (1, 5.5, 7),
    "M": (1, 2, 3),
    "N": (5, 5.5, 9),
}
HOUSE_LINKS = ["AB", "BC", "CD", "CE", "EF", "DG", "EH", "GH", "CI", "FJ", "IJ", "JK", "JL", "HM", "KN", "LN"]
# Heizer and Render, Operations Management, the air-pollution example (recalled): in weeks.
FILTER: Estimates = {
    "A": (1, 2, 3),
    "B": (2, 3, 4),
    "C": (1, 2, 3),
    "D": (2, 4, 6),
    "E": (1, 4, 7),
    "F": (1, 2, 9),
    "G": (3, 4, 11),
    "H": (1, 2, 3),
}
FILTER_LINKS = ["AC", "AD", "BD", "CE", "CF", "DG", "EG", "FH", "GH"]
# Anderson, Sweeney and Williams, An Introduction to Management Science, PERT chapter (recalled): in weeks.
PRODUCT: Estimates = {
    "A": (4, 5, 12),
    "B": (1, 1.5, 5),
    "C": (2, 3, 4),
    "D": (3, 4, 11),
    "E": (2, 3, 4),
    "F": (1.5, 2, 2.5),
    "G": (1.5, 3, 4.5),
    "H": (2.5, 3.5, 7.5),
    "I": (1.5, 2, 2.5),
    "J": (1, 2, 3),
}
PRODUCT_LINKS = ["AC", "AD", "AE", "CF", "DG", "BH", "EH", "HI", "FJ", "GJ", "IJ"]


def weights() -> Floats:
    """Chance of each bin of a table."""
    edges = (chances()[1:] + chances()[:-1]) / 2
    return np.diff(np.concatenate([[0.0], edges, [1.0]]))


def net_of(names: list[str], links: list[str]) -> Net:
    at = {name: number for number, name in enumerate(names)}
    return Net(tuple(Step() for _ in names), tuple(Tie(at[link[0]], at[link[1]]) for link in links))


def finishes(net: Net, tables: Floats, runs: int, seed: int = 1) -> Floats:
    loading = Loading(np.zeros((len(tables), 0)))
    chunks = Simulation(net, tables, loading, seed).chunks(runs)
    return np.concatenate([chunk.finishes.max(axis=0) for chunk in chunks])


def phi(z: float) -> float:
    return 0.5 * (1 + erf(z / sqrt(2)))


def test_moments_of_one_estimate() -> None:
    """Malcolm, Roseboom, Clark and Fazar (1959): mean (a + 4 m + b) / 6; the beta's own deviation."""
    row = quantile_tables([(2, 4, 12)])[0]
    found = float(row @ weights())
    assert found == pytest.approx(5.0, abs=0.001)
    assert sqrt(float(((row - found) ** 2) @ weights())) == pytest.approx(1.732, abs=0.001)
    assert float(np.interp(6.0, row, chances())) == pytest.approx(0.7284, abs=0.0005)


@pytest.mark.parametrize(
    ("estimates", "links", "weeks", "path", "variance", "deadline", "chance"),
    [
        (HOUSE, HOUSE_LINKS, 44, "ABCEFJLN", 9.0, 47, 0.8413),
        (FILTER, FILTER_LINKS, 15, "ACEGH", 112 / 36, 16, 0.7146),
        (PRODUCT, PRODUCT_LINKS, 17, "AEHIJ", 2.7222, 20, 0.9655),
    ],
    ids=["house", "filter", "product"],
)
def test_textbook_networks(
    estimates: Estimates,
    links: list[str],
    weeks: float,
    path: str,
    variance: float,
    deadline: float,
    chance: float,
) -> None:
    """The books' own reckoning: mean durations, the critical path, its variance, the normal chance."""
    names = list(estimates)
    net = net_of(names, links)
    means = quantile_tables(list(estimates.values())) @ weights()
    tables = np.repeat(means[:, None], POINTS, 1)
    chunk = next(Simulation(net, tables, Loading(np.zeros((len(names), 0))), 1).chunks(2))
    assert float(chunk.finishes.max()) == pytest.approx(weeks, abs=0.005)
    found = "".join(name for name, on in zip(names, critical(net, chunk)[:, 0], strict=True) if on)
    assert found == path
    spread = sum(((estimates[name][2] - estimates[name][0]) / 6) ** 2 for name in found)
    assert spread == pytest.approx(variance, abs=0.0001)
    assert phi((deadline - weeks) / sqrt(spread)) == pytest.approx(chance, abs=0.0001)


def test_house_percentiles() -> None:
    """The 44-week house by beta-PERT: figures of an independent run of a million, standard errors of both counted."""
    runs, theirs = 200_000, 1_000_000
    net = net_of(list(HOUSE), HOUSE_LINKS)
    found = finishes(net, quantile_tables(list(HOUSE.values())), runs)
    for level, weeks in ((0.1, 40.63), (0.5, 44.19), (0.8, 46.81), (0.9, 48.21), (0.95, 49.37)):
        error = sqrt(level * (1 - level) * (1 / runs + 1 / theirs))
        rounded = 0.005 * 0.14  # half a unit of the last figure times the greatest density of the finish
        assert float(np.mean(found <= weeks)) == pytest.approx(level, abs=3 * error + rounded)
    error = 2.94 * sqrt(1 / runs + 1 / theirs)
    assert float(found.mean()) == pytest.approx(44.32, abs=3 * error + 0.005)


def test_house_is_never_shorter_than_its_path() -> None:
    """Merging paths make the mean later than the 44 weeks of the mean durations."""
    found = finishes(net_of(list(HOUSE), HOUSE_LINKS), quantile_tables(list(HOUSE.values())), 20_000)
    assert float(found.mean()) > 44.0 + 4 * float(found.std()) / sqrt(20_000)


@pytest.mark.parametrize(
    ("other", "mean", "deviation"), [((10.0, 2.0), 10 + 2 / sqrt(pi), 1.651), ((9.0, 3.0), 10.993, 1.993)]
)
def test_merge_of_two_normals(other: tuple[float, float], mean: float, deviation: float) -> None:
    """Clark (1961), Operations Research 9, 145-162: the greater of N(10, 2) and another; 2 / sqrt(pi) by itself."""
    runs = 400_000
    tables = np.array([10 + 2 * scale(), other[0] + other[1] * scale(), np.zeros(POINTS)])
    found = finishes(net_of(["A", "B", "C"], ["AC", "BC"]), tables, runs)
    assert float(found.mean()) == pytest.approx(mean, abs=4 * deviation / sqrt(runs) + 0.0005)
    assert float(found.std()) == pytest.approx(deviation, abs=4 * deviation / sqrt(2 * runs) + 0.0005)


def test_sum_of_two_triangulars() -> None:
    """Mean 8 and variance 7 / 3 exactly; the distribution by numerical convolution of the two densities."""
    runs = 400_000
    at = chances()
    row = np.where(at < 0.2, 2 + 5 * np.sqrt(0.2 * at), 7 - 5 * np.sqrt(0.8 * (1 - at)))
    tables = np.array([row, row])
    found = finishes(net_of(["A", "B"], ["AB"]), tables, runs)
    step = 0.001
    x = np.arange(2, 7, step) + step / 2
    density = np.where(x < 3, 2 * (x - 2) / 5, 2 * (7 - x) / 20)
    below = np.cumsum(np.convolve(density, density)) * step**2
    totals = 4 + step * (np.arange(len(below)) + 1.5)
    assert float(found.mean()) == pytest.approx(8.0, abs=4 * sqrt(7 / 3 / runs))
    assert float(found.var()) == pytest.approx(7 / 3, rel=4 * sqrt(2 / runs) + 0.001)
    for level in (0.5, 0.8):
        exact_at = float(np.interp(level, below, totals))
        error = sqrt(level * (1 - level) / runs)
        assert float(np.mean(found <= exact_at)) == pytest.approx(level, abs=4 * error)


@pytest.mark.parametrize(("share", "deviation"), [(0.0, 3.0), (0.3, 4.892), (1.0, 7.667)])
def test_common_cause_widens_a_path(share: float, deviation: float) -> None:
    """Variance of a sum with equal correlations, sum s_i^2 + rho sum s_i s_j, on the house's critical path."""
    runs = 200_000
    on_path = [HOUSE[name] for name in "ABCEFJLN"]
    sigmas = np.array([(high - low) / 6 for low, _, high in on_path])
    tables = sigmas[:, None] * scale()[None, :]
    loading = Loading(np.full((len(sigmas), 1), sqrt(share)))
    net = net_of(list("ABCEFJLN"), ["AB", "BC", "CE", "EF", "FJ", "JL", "LN"])
    chunks = Simulation(net, tables, loading, 1).chunks(runs)
    found = np.concatenate([chunk.durations.sum(axis=0) for chunk in chunks])
    assert float(found.std()) == pytest.approx(deviation, rel=4 / sqrt(2 * runs) + 0.0005)


def test_expected_monetary_value() -> None:
    """Four independent yes-or-no risks: 460, variance sum p (1 - p) I^2, none of them in 0.6703 of the runs."""
    risks = [(0.10, 800.0), (0.05, 3000.0), (0.20, 150.0), (0.02, 10_000.0)]
    runs = 200_000
    net = Net((Step(),), (), tuple(Mishap(probability) for probability, _ in risks))
    simulation = Simulation(net, np.zeros((1, POINTS)), Loading(np.zeros((1, 0))), 1)
    prices = np.array([price for _, price in risks])
    found = np.concatenate([prices @ chunk.happened for chunk in simulation.chunks(runs)])
    deviation = sqrt(sum(p * (1 - p) * price**2 for p, price in risks))
    assert deviation == pytest.approx(1564.8, abs=0.05)
    assert float(found.mean()) == pytest.approx(460.0, abs=4 * deviation / sqrt(runs))
    assert float(np.mean(found == 0)) == pytest.approx(0.6703, abs=4 * sqrt(0.6703 * 0.3297 / runs) + 0.00005)
    entries = [
        RegisterEntry("r", "e", "t", p, Decimal(str(price)), 0, "a", "", Provenance.GIVEN)
        for p, price in risks
    ]
    assert sum(entry.expected_loss for entry in entries) == Decimal("460.00")


@pytest.mark.parametrize(
    ("per_mile", "amount"),
    [
        ("0.45", "67.50"),  # HMRC approved mileage for cars and vans, first 10,000 miles, tax year 2025-26
        ("0.725", "108.75"),  # US IRS business mileage 2026, announced 29 December 2025
    ],
)
def test_published_mileage_rates(per_mile: str, amount: str) -> None:
    """150 miles at a published rate a mile; a mile is 1.609344 km exactly."""
    bill = Bill(moving_day().project.plan)
    a_km = Decimal(per_mile) / Decimal("1.609344")
    bill.add(
        "distance-van", "vehicles", exact(150 * 1.609344, 1), given(a_km, "km"), "distance", vehicle="van"
    )
    assert bill.lines[0].amount == Decimal(amount)


def test_one_path_is_always_critical() -> None:
    """Van Slyke (1963), Operations Research 11, 839-860: on a single path every task is critical in every run."""
    net = net_of(["A", "B", "C"], ["AB", "BC"])
    simulation = Simulation(net, quantile_tables([(1, 2, 3)] * 3), Loading(np.zeros((3, 0))), 1)
    for chunk in simulation.chunks(5000):
        assert critical(net, chunk).all()
