"""The schedule that people are told keeps every limit, or is not told."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

import numpy as np
import pytest

from moveplan.door import door
from moveplan.errors import FaultError
from moveplan.practice.project import Project
from moveplan.risk.assess import risk_summary
from moveplan.risk.prepared.compile import prepare
from moveplan.risk.prepared.stays import stays_of
from moveplan.risk.promise.judge import promise_of
from moveplan.risk.promise.told import SOON_MIN
from moveplan.risk.promise.values import HELD_MIN, Promise
from moveplan.risk.register.ranked import register_of
from moveplan.risk.runs.simulate import Simulation
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Schedule
from moveplan.stages.told import Told, told_of
from moveplan.times import to_local
from tests.examples import scheduled

EFFORT = Effort()
TOLD = ["short_plan", "small_tank_move"]
ERROR = 0.04
"""More than three standard errors of a share of the first runs and of 4,000 others. [-]"""


@cache
def promised(name: str) -> tuple[Project, Schedule, Promise]:
    project, schedule = scheduled(name)
    promise = promise_of(project, schedule, 1)
    assert promise is not None
    return project, schedule, promise


@cache
def told(name: str) -> Told:
    found = told_of(*promised(name), EFFORT)
    assert found is not None
    return found


@pytest.mark.parametrize("name", TOLD)
def test_every_limit_is_kept_at_the_told_times(name: str) -> None:
    assert door.faults_of(told(name).project, told(name).schedule) == ()


@pytest.mark.parametrize("name", TOLD)
def test_the_moving_day_stands_where_the_promise_tells_it(name: str) -> None:
    _, planned, promise = promised(name)
    found = told(name).schedule
    for one in promise.told:
        assert (found.of(one.task).start, found.of(one.task).finish) == (one.start, one.finish)
        assert found.of(one.task).people == planned.of(one.task).people


@pytest.mark.parametrize("name", TOLD)
def test_what_is_over_before_the_moving_day_stays(name: str) -> None:
    _, planned, promise = promised(name)
    first = min(one.start for one in promise.told)
    before = [one for one in planned.placements if one.finish <= first]
    assert before
    assert all(told(name).schedule.of(one.task) == one for one in before)


def asked_for(project: Project, schedule: Schedule) -> set[tuple[str, date]]:
    """Who helps, with each local day for which they are asked."""
    people = {one.id: one for one in project.scheduling.people}
    places = {task.id: task.place for task in project.network.tasks}
    return {
        (person, to_local(piece.start, project.plan.zone).date())
        for one in schedule.placements
        for piece, crew in zip(
            one.segments, one.segment_people or (one.people,) * len(one.segments), strict=True
        )
        for person in crew
        if people[person].is_asked(places[one.task])
    }


@pytest.mark.parametrize("name", TOLD)
def test_nobody_is_asked_for_more_days_because_the_moving_day_is_told_later(name: str) -> None:
    """What follows the moving day is placed by the same aims as before, the days of those who help among them."""
    project, planned, _ = promised(name)
    assert len(asked_for(told(name).project, told(name).schedule)) <= len(asked_for(project, planned))


@pytest.mark.parametrize("name", TOLD)
def test_told_durations_lie_between_likely_and_high(name: str) -> None:
    project = told(name).project
    longer = [task for task in project.network.tasks if task.planned_min is not None]
    assert longer
    for task in longer:
        assert round(task.estimate.likely) <= task.minutes <= round(task.estimate.high)


@pytest.mark.parametrize("name", TOLD)
def test_animals_are_told_to_be_in_containers_within_the_low_end_of_their_safe_time(name: str) -> None:
    found = told(name)
    for stay in stays_of(found.project):
        begin, end = found.schedule.of(stay.since.task), found.schedule.of(stay.until.task)
        since = begin.start if stay.since.edge == "start" else begin.finish
        until = end.start if stay.until.edge == "start" else end.finish
        assert until - since <= stay.safe.estimate.low


@pytest.mark.parametrize("name", TOLD)
def test_what_follows_the_moving_day_is_told_no_sooner_than_half_of_the_runs_begin_it(name: str) -> None:
    project, planned, promise = promised(name)
    prepared = prepare(project, planned, register_of(project, planned))
    simulation = Simulation(prepared.net, prepared.tables, prepared.loading, 9)
    starts = np.concatenate([chunk.starts.copy() for chunk in simulation.chunks(4000)], axis=1)
    first = min(one.start for one in promise.told)
    once = [task.id for task in project.network.tasks if not task.day and task.repeats is None]
    after = [task for task in once if first < planned.of(task).start < first + SOON_MIN]
    assert promise.after
    assert {task for task, _ in promise.after} < set(after)
    for task in after:
        by = prepared.since_start(told(name).schedule.of(task).start) + HELD_MIN
        assert np.mean(starts[prepared.at[task]] <= by) > 0.5 - ERROR, task


@pytest.mark.parametrize("name", TOLD)
def test_the_door_asks_that_nothing_is_told_sooner_than_it_can_begin(name: str) -> None:
    project, planned, _ = promised(name)
    model = risk_summary(project, planned, runs=200).model
    found = told(name)
    door.check_reached(found.project, found.schedule, model)
    held = max(model["tasks"], key=lambda row: row.get("earliest", 0))["id"]
    sooner = tuple(
        replace(one, start=planned.of(held).start - 1440) if one.task == held else one
        for one in found.schedule.placements
    )
    with pytest.raises(FaultError) as raised:
        door.check_reached(found.project, replace(found.schedule, placements=sooner), model)
    assert [(fault.code, fault.tasks) for fault in raised.value.faults] == [("told-too-soon", (held,))]


def test_times_beyond_the_hours_of_somebody_are_not_told() -> None:
    project, schedule, promise = promised("small_tank_move")
    last = max(promise.told, key=lambda one: one.finish)
    late = tuple(
        replace(one, start=one.start + 600, finish=one.finish + 600) if one == last else one
        for one in promise.told
    )
    assert told_of(project, schedule, replace(promise, told=late), EFFORT) is None


def test_a_stay_beyond_its_safe_time_is_not_told() -> None:
    project, schedule, promise = promised("small_tank_move")
    ends = {stay.until.task for stay in stays_of(project)}
    late = tuple(
        replace(one, start=one.start + 6000, finish=one.finish + 6000) if one.task in ends else one
        for one in promise.told
    )
    assert told_of(project, schedule, replace(promise, told=late), EFFORT) is None


@pytest.mark.parametrize("broken", ["long_fasts", "long_days"])
def test_nothing_is_told_that_animals_or_people_do_not_bear(
    monkeypatch: pytest.MonkeyPatch, broken: str
) -> None:
    """What is told may push the first meal after the move back, or somebody's evening, here too far."""
    project, planned, promise = promised(TOLD[0])

    def found(_: Project, schedule: Schedule) -> tuple[object, ...]:
        return () if schedule is planned else (object(),)

    monkeypatch.setattr(f"moveplan.stages.told.{broken}", found)
    assert told_of(project, planned, promise, EFFORT) is None
