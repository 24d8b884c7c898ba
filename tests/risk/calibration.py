"""How often the starts that people are told are reached, on moves made at random.

``python -m tests.risk.calibration 200`` tells it of so many keepers. Their plans are those of the ledger's tests; the
schedule is the quick engine's; what is told comes of the runs of one seed and is held against those of another.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Literal

import numpy as np
import yaml

from moveplan.pipeline import compose
from moveplan.planfile import read_plan
from moveplan.planfile.editor import plan_schema
from moveplan.practice.compose import on_day
from moveplan.practice.project import Project
from moveplan.risk.assess import risk_summary
from moveplan.risk.prepared.compile import Prepared, prepare
from moveplan.risk.register.ranked import register_of
from moveplan.risk.runs.simulate import Simulation
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.solve import solve
from moveplan.stages.told import told_of
from tests.ledger.keepers import keeper, known

RUNS = 10_000
SEEDS = 1, 9
LEAST, MOST = 0.35, 0.65
HELD_MIN = 5
"""What the clock holds back counts as reached up to so much later, by the contract of the result. [min]"""
Grade = Literal["inside", "held", "too seldom", "too often"]


@dataclass(frozen=True, slots=True)
class ToldStart:
    """One start that people are told.

    Parameters
    ----------
    keeper : int
        Number of the plan.
    task : str
        Id.
    reached : float
        Share of the runs of other luck in which it begins by then.
    earlier : float
        Share of them in which it begins by the moment of the grid before.
    """

    keeper: int
    task: str
    reached: float
    earlier: float

    @property
    def grade(self) -> Grade:
        """Say how it was: held is what is not begun before its told time, and so reached more often."""
        if self.reached < LEAST:
            return "too seldom"
        if self.reached <= MOST:
            return "inside"
        return "held" if self.earlier < LEAST else "too often"


@cache
def _definitions() -> dict[str, object]:
    found: dict[str, object] = plan_schema()["$defs"]
    return found


def of_keeper(number: int) -> tuple[Project, Schedule] | None:
    """Schedule a keeper's move on its first day; None where the quick engine finds no place for it.

    Parameters
    ----------
    number : int
        Of the keeper.
    """
    with TemporaryDirectory() as folder:
        path = Path(folder) / "plan.yaml"
        path.write_text(yaml.safe_dump(known(keeper(number), _definitions()), sort_keys=False), "utf-8")
        project = compose(read_plan(path))
    if project.impossible or project.plan.dates is None:
        return None
    hung = on_day(project, project.plan.dates.move_days[0])
    found = solve(hung.scheduling, Effort(seconds=0.05, engine="serial"))
    return (hung, found) if found.placements else None


def told_starts(number: int, project: Project, schedule: Schedule) -> list[ToldStart] | None:
    """Give what people are told of a move, and how often it is reached; None where it is told as planned.

    Parameters
    ----------
    number : int
        Of the keeper.
    project, schedule : Project, Schedule
        The move.
    """
    promise = risk_summary(project, schedule, RUNS, SEEDS[0]).promise
    if promise is None or told_of(project, schedule, promise, Effort()) is None:
        return None
    prepared = prepare(project, schedule, register_of(project, schedule))
    starts = _starts(prepared)
    return [
        ToldStart(
            number,
            one.task,
            float(np.mean(row <= begin + _held(prepared, at, begin) + 1e-6)),
            float(np.mean(row <= begin - project.scheduling.grid_min + 1e-6)),
        )
        for one in promise.told
        for at in (prepared.at[one.task],)
        for row, begin in ((starts[at], prepared.since_start(one.start)),)
    ]


def _starts(prepared: Prepared) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    simulation = Simulation(prepared.net, prepared.tables, prepared.loading, SEEDS[1])
    return np.concatenate([chunk.starts.copy() for chunk in simulation.chunks(RUNS)], axis=1)


def _held(prepared: Prepared, at: int, begin: float) -> int:
    return HELD_MIN if prepared.net.steps[at].floor_min >= begin else 0


def calibrated(numbers: Iterable[int]) -> Iterator[tuple[int, list[ToldStart] | None]]:
    """Give the told starts of those keepers whose move has a schedule.

    Parameters
    ----------
    numbers : iterable of int
        Of the keepers.
    """
    for number in numbers:
        found = of_keeper(number)
        if found is not None:
            yield number, told_starts(number, *found)


def main(count: int) -> int:
    """Tell how well the starts of so many keepers are told."""
    grades: Counter[str] = Counter()
    as_planned = 0
    for number, starts in calibrated(range(count)):
        as_planned += starts is None
        grades.update(one.grade for one in starts or ())
        for one in starts or ():
            if one.grade.startswith("too"):
                sys.stdout.write(f"{number} {one.task} {one.reached:.3f} {one.earlier:.3f}\n")
        sys.stdout.flush()
    sys.stdout.write(f"{dict(grades)}, {as_planned} moves told as planned\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
