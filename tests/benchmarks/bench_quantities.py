"""How long all quantities of each example take after import, and what one group of animals costs.

Run: python -m tests.benchmarks.bench_quantities (never part of the test run). The bar is 100 ms for the largest.
"""

from __future__ import annotations

import time
from pathlib import Path

from moveplan.planfile import read_plan
from moveplan.practice.compose import project_of

EXAMPLES = Path(__file__).parents[2] / "examples"
ROUNDS = 5


def main() -> None:
    """Print the least of some rounds for each example that moves a tank."""
    from moveplan.quantities import assemble

    spent: list[float] = []
    reckon = assemble._system_facts

    def timed(*args: object, **kwargs: object) -> object:
        began = time.perf_counter()
        try:
            return reckon(*args, **kwargs)  # type: ignore[arg-type]
        finally:
            spent.append(time.perf_counter() - began)

    assemble._system_facts = timed  # type: ignore[assignment]
    for path in sorted(EXAMPLES.glob("*.yaml")):
        plan = read_plan(path)
        if not plan.systems:
            continue
        rounds = []
        for _ in range(ROUNDS):
            spent.clear()
            project_of(plan)
            rounds.append(sum(spent))
        groups = max(len(plan.livestock), 1)
        least_ms = 1000 * min(rounds)
        print(f"{path.stem:32} {least_ms:7.1f} ms, {least_ms / groups:5.2f} ms a group of animals")  # noqa: T201


if __name__ == "__main__":
    main()
