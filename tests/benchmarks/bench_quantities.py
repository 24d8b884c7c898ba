"""How long quantities take after import, with the choice of containers: of each example, and by companies of animals.

Run: python -m tests.benchmarks.bench_quantities (never part of the test run). Seconds are those of the processor, of
all rounds in which containers are chosen for the hours of the tasks that they make,
scaled to a usual machine (bounds.py).
The bars are 0.25 s for the largest example, and 1 s for 100 companies.
"""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any
from unittest import mock

from moveplan.plan.move import Plan
from moveplan.planfile import read_plan
from moveplan.practice import compose
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.facts import Facts
from moveplan.quantities.safe_time.verdicts import _judge
from tests.properties.bounds import USUAL_S, loop_s
from tests.quantities.plans import edited

EXAMPLES = Path(__file__).parents[2] / "examples"
ROUNDS = 3
COMPANIES = (5, 10, 20, 40, 70, 100)
A_BAR_S = 0.02
BAR_EXAMPLE_S, BAR_COMPANIES_S = 0.25, 1.0
LIVESTOCK = "  corals: {name: Branching corals, kind: small-polyp-coral, count: 4, size: 8 cm}\n"
COMPANY = "  c{0}: {{kind: tang, count: 1, size: {1:g} cm, temperament: territorial}}\n"
"""Territorial fish, each of which travels by itself and is of another size."""


def companies(number: int) -> Plan:
    """A move with so many companies of animals more than the usual four."""
    more = "".join(COMPANY.format(at, 6 + 0.1 * at) for at in range(number - 4))
    return edited((LIVESTOCK, LIVESTOCK + more), ("payload: 1100 kg", "payload: 3500 kg"))


def spent(plan: Plan) -> tuple[float, float]:
    """Seconds for all quantities of a plan, and for the whole of it with its tasks: the least of some rounds."""
    parts: list[float] = []

    def timed(*args: Any, **kwargs: Any) -> Facts:
        began = time.process_time()
        found = facts_of(*args, **kwargs)
        parts.append(time.process_time() - began)
        return found

    rounds = []
    with mock.patch.object(compose, "facts_of", timed):
        for _ in range(ROUNDS):
            parts.clear()
            _judge.cache_clear()
            slow, began = loop_s() / USUAL_S, time.process_time()
            compose.project_of(plan)
            whole_s = time.process_time() - began
            slow = (slow + loop_s() / USUAL_S) / 2
            rounds.append((sum(parts) / slow, whole_s / slow))
    return min(rounds)


def _row(name: str, plan: Plan, bar_s: float | None = None) -> None:
    quantities_s, whole_s = spent(plan)
    length = "#" * round(quantities_s / A_BAR_S)
    bar = f" (bar {bar_s:g})" if bar_s else ""
    print(f"{name:32} {quantities_s:6.3f} s{bar}, with tasks {whole_s:6.3f} s  {length}")  # noqa: T201


def main() -> None:
    """Print a row for each example that moves a tank, and for more and more companies."""
    for path in sorted(EXAMPLES.glob("*.yaml")):
        plan = read_plan(path)
        if plan.systems:
            _row(path.stem, plan, BAR_EXAMPLE_S)
    for number in COMPANIES:
        _row(f"{number} companies", companies(number), BAR_COMPANIES_S if number == COMPANIES[-1] else None)


if __name__ == "__main__":
    main()
