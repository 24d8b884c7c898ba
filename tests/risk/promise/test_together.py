"""What is promised together: how often it is kept, by a count of its own, and what follows by hand."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import datetime
from functools import cache
from math import sqrt
from pathlib import Path

import numpy as np
import pytest

from moveplan.estimate import Estimate
from moveplan.outputs.data.result import result_json
from moveplan.pipeline import judge
from moveplan.practice.project import Project
from moveplan.risk.assess import risk_summary
from moveplan.risk.promise.judge import promise_of
from moveplan.risk.promise.values import HELD_MIN, Promise
from moveplan.scheduling.schedule import Schedule
from moveplan.stages.reading import Settings
from moveplan.times import to_minutes
from tests.examples import EXAMPLES, scheduled
from tests.risk.moves import own_tasks
from tests.risk.one_by_one import Slow, error

RUNS, SLOW_RUNS = 10_000, 600
FAR = 5
"""So many standard errors a start may be off: there are some hundred of them in each plan. [-]"""
LATE_RARELY = 0.015
"""What the two may differ by beside chance in a start on no moving day: rare early ends weeks after it. [-]"""
SINGLE = 4
"""So many standard errors a single break may be off: there are some fifty of them over all plans. [-]"""
MOVES = sorted(path.stem for path in EXAMPLES.glob("*.yaml") if path.stem != "impossible_dates")


@cache
def promise(name: str) -> Promise:
    found = risk_summary(*scheduled(name), runs=RUNS).promise
    assert found is not None
    return found


@pytest.mark.parametrize("name", MOVES)
def test_a_slow_simulation_of_the_result_finds_the_same_promise(name: str) -> None:
    """From ``result.json`` alone, within standard errors of both counts: three for the whole, four for each break."""
    project, schedule = scheduled(name)
    outlook = judge(project, schedule, Settings(runs=RUNS))
    data = json.loads(result_json(outlook))
    slow = Slow(data, SLOW_RUNS, seed=7)
    runs = [slow.run(number) for number in range(SLOW_RUNS)]
    told = data["promise"]

    def agrees(share: float, chance: float, errors: int = 3) -> bool:
        return abs(share - chance) <= errors * sqrt(error(chance, SLOW_RUNS) ** 2 + error(chance, RUNS) ** 2)

    assert agrees(float(np.mean([not run.broken for run in runs])), told["kept"])
    chances = {(one["what"], one["id"]): one["chance"] for one in told["breaks"]}
    for key in chances.keys() | set().union(*(run.broken for run in runs)):
        assert agrees(float(np.mean([key in run.broken for run in runs])), chances.get(key, 0.0), SINGLE), key
    unsafe = float(np.mean([any(what == "safe-time" for what, _ in run.broken) for run in runs]))
    assert agrees(unsafe, told["animals"]["chance"])
    assert agrees(float(np.mean([bool(run.past_hours) for run in runs])), data["risk"]["chances"]["overtime"])
    start = project.scheduling.start
    by = to_minutes(datetime.fromisoformat(data["milestones"]["settled"])) - start
    settled = next(at for at, task in enumerate(data["tasks"]) if task["id"] == _settling(project))
    home = {
        stay["livestock"]: stay["until"][0] for stay in data["risk"]["model"]["stays"]
    }  # by the last of each
    last = [max(run.finishes[at] for at in (settled, *home.values())) for run in runs]
    for at, task in enumerate(data["tasks"]):
        if "start_chance" in task:
            begin = to_minutes(datetime.fromisoformat(task["start"])) - start
            floor = data["risk"]["model"]["tasks"][at].get("earliest", 0.0)
            latest = begin + (HELD_MIN if floor >= begin else 0.0) + 1e-6
            reached = float(np.mean([run.starts[at] <= latest for run in runs]))
            spread = sqrt(
                error(task["start_chance"], SLOW_RUNS) ** 2 + error(task["start_chance"], RUNS) ** 2
            )
            beside = LATE_RARELY if data["risk"]["model"]["tasks"][at]["day"] < 0 else 0.0
            assert abs(reached - task["start_chance"]) <= FAR * spread + beside, task["id"]
    assert agrees(float(np.mean([finish <= by for finish in last])), told["confidence"])
    ready = to_minutes(datetime.fromisoformat(data["milestones"]["ready"])) - start
    at_ready = next(
        at for at, task in enumerate(data["tasks"]) if task["id"] == dict(project.network.milestones)["ready"]
    )
    both = [run.finishes[at_ready] <= ready and finish <= by for run, finish in zip(runs, last, strict=True)]
    assert agrees(float(np.mean(both)), told["dates_kept"])


def _settling(project: Project) -> str:
    return dict(project.network.milestones)["settled"]


@pytest.mark.parametrize("name", ["short_plan", "small_tank_move"])
def test_the_whole_breaks_no_less_than_each_part_and_no_more_than_all(name: str) -> None:
    told = promise(name)
    chances = [one.chance for one in told.breaks]
    assert max(chances) <= 1 - told.kept + 1e-6 <= sum(chances) + 2e-6
    assert chances == sorted(chances, reverse=True)
    assert told.holds is (told.kept >= told.confidence)


def test_more_confidence_promises_later() -> None:
    project, schedule = scheduled("short_plan")
    moments = []
    for confidence in (0.5, 0.8, 0.95):
        plan = replace(project.plan, confidence=confidence)
        found = promise_of(replace(project, plan=plan), schedule, 1)
        assert found is not None
        assert found.confidence == confidence
        moments.append(dict(found.milestones)["settled"])
    assert moments == sorted(set(moments))
    assert dict(promise("short_plan").likely)["settled"] <= dict(promise("short_plan").milestones)["settled"]


def _without_spread(project: Project) -> Project:
    def one(value: Estimate) -> Estimate:
        return replace(value, low=value.likely, high=value.likely)

    tasks = tuple(replace(task, estimate=one(task.estimate)) for task in project.network.tasks)
    network = replace(project.network, tasks=tasks)
    return replace(project, network=network, scheduling=replace(project.scheduling, network=network))


def test_without_spread_only_holds_and_mishaps_break_it() -> None:
    """Durations that are sure leave what says no, and what the register holds: every other run is the plan itself."""
    project, schedule = scheduled("small_tank_move")
    found = promise_of(_without_spread(project), schedule, 1)
    assert found is not None
    assert found.kept > promise("small_tank_move").kept
    told = {one.task: one for one in found.told}
    planned = {one.task: one for one in schedule.placements}
    usual = {one.task: one for one in promise("small_tank_move").told}
    later = [told[task].start - planned[task].start for task in told]
    assert max(later) < max(usual[task].start - planned[task].start for task in told)


def test_the_same_luck_meets_every_schedule() -> None:
    project, schedule = scheduled("short_plan")
    assert promise_of(project, schedule, 3) == promise_of(project, schedule, 3)
    assert promise_of(project, schedule, 3) != promise_of(project, schedule, 4)


def test_own_tasks_promise_nothing(tmp_path: Path) -> None:
    project, schedule = own_tasks(
        tmp_path, "tasks: [{id: a, duration: {low: 1 h, likely: 2 h, high: 5 h}}]\n"
    )
    assert risk_summary(project, schedule, runs=400).promise is None
    assert promise_of(project, schedule, 1) is None


def _day_tasks(project: Project, schedule: Schedule, told: Promise) -> list[float]:
    assert {one.task for one in told.told} == {task.id for task in project.network.tasks if task.day}
    return [one.chance for one in told.told]


@pytest.mark.parametrize("name", ["house_move", "short_plan", "small_tank_move"])
def test_told_starts_are_reached_in_about_half_of_the_runs(name: str) -> None:
    """What is told a later start than planned is reached in about half.

    Nobody begins before the planned start: what is told just that, such as what opens the day, is reached more often.
    """
    project, schedule = scheduled(name)
    found = risk_summary(project, schedule, runs=RUNS, seed=2).promise
    assert found is not None
    chances = _day_tasks(project, schedule, found)
    begins = {one.task: one.start for one in schedule.placements}
    inside = [0.35 <= one.chance <= 0.65 for one in found.told if one.start > begins[one.task]]
    assert len(inside) >= 0.5 * len(chances)
    assert sum(inside) >= 0.8 * len(inside)
    assert min(chances) >= 0.3
    planned = dict(found.start_chances)
    assert sum(0.35 <= planned[one.task] <= 0.65 for one in found.told) < sum(inside)


def test_told_starts_are_calibrated_for_other_luck() -> None:
    """The chances hold for runs from another seed."""
    project, schedule = scheduled("short_plan")
    one, two = (risk_summary(project, schedule, runs=RUNS, seed=seed).promise for seed in (1, 2))
    assert one is not None
    assert two is not None
    other = {told.task: told.chance for told in two.told}
    apart = [abs(told.chance - other[told.task]) for told in one.told]
    assert max(apart) <= 0.15
    assert float(np.mean(apart)) <= 4 * sqrt(0.25 / RUNS) + 0.02


def test_what_breaks_only_where_a_day_slips_has_that_day_as_its_root() -> None:
    """The keys of the tight example go back long after its day, so that only a slipped day makes them late."""
    rows = {(one.what, one.id): one for one in promise("tight_day").breaks}
    (root,) = rows["keys", "keys-back"].roots
    assert (root.what, root.id) == ("day", "2027-05-29")
    assert root.share > 0.9
    assert rows["hours", "dara"].roots == ()  # the day is too short by itself
    assert rows["day", "2027-05-29"].roots == ()
    gap = {(one.what, one.id): one for one in promise("house_move_with_gap").breaks}
    for early in (("hire", "van-out"), ("keys", "keys-back")):  # both are due before the second moving day
        assert [one.id for one in gap[early].roots] == ["2027-05-08"]
    groups = [one.chance for one in rows.values() if one.what == "safe-time"]
    animals = promise("tight_day").animals
    assert animals is not None
    assert max(groups) < animals.chance <= sum(groups) + 1e-6
