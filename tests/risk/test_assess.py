"""Risk of whole projects: what is told, that it is told the same twice, and what follows by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest

from moveplan.estimate import Estimate
from moveplan.hours import merged
from moveplan.network.task import Timing
from moveplan.plan.risks import RiskChange
from moveplan.practice.compose import on_day
from moveplan.practice.project import Project
from moveplan.risk.assess import risk_summary
from moveplan.risk.prepared.compile import loading_of, prepare
from moveplan.risk.register.ranked import register_of
from moveplan.risk.runs.simulate import Simulation
from moveplan.risk.summary import RiskSummary
from moveplan.scheduling.schedule import Engine, Schedule, Status
from moveplan.times import Interval
from tests.examples import NAMES, scheduled
from tests.outputs.scene import moving_day
from tests.risk.measures import taken
from tests.risk.moves import changed, own_tasks

SCENE = moving_day()
RUNS = 4000


def chances(risk: RiskSummary) -> dict[str, float]:
    return {entry.id: entry.probability for entry in risk.register}


def test_without_runs_there_is_the_register_alone() -> None:
    found = risk_summary(SCENE.project, SCENE.schedule)
    assert found.runs == 0
    assert found.settled is None
    assert found.register


def test_without_a_schedule_there_is_the_register_alone() -> None:
    found = risk_summary(SCENE.project, Schedule(Status.UNKNOWN, Engine.SERIAL), runs=RUNS)
    assert found.runs == 0


def test_the_same_seed_tells_the_same() -> None:
    one, two = (risk_summary(*scheduled("house_move"), runs=RUNS, seed=5) for _ in range(2))
    assert one == two
    assert one != risk_summary(*scheduled("house_move"), runs=RUNS, seed=6)


@pytest.mark.parametrize("name", ["house_move", "short_plan"])
def test_a_move_is_told_in_full(name: str) -> None:
    project, schedule = scheduled(name)
    found = risk_summary(project, schedule, runs=RUNS)
    assert found.runs == RUNS
    for dates in (found.ready, found.settled, found.finish):
        assert dates is not None
        assert dates.p10 <= dates.p50 <= dates.p80 <= dates.p95
    assert {task for task, _ in found.criticality} == {task.id for task in project.network.tasks}
    assert {group for group, _ in found.over_limit} == {route.livestock for route in project.routes}
    assert found.start_by
    assert found.notes
    assert found.day_missed is not None
    assert 0 < found.day_missed < 0.5
    settled = dict(project.network.milestones)["settled"]
    assert dict(found.criticality)[settled] == 1.0
    losses = [entry.expected_loss for entry in found.register]
    assert losses == sorted(losses, reverse=True)


def test_every_number_has_a_standard_error() -> None:
    found = risk_summary(*scheduled("house_move"), runs=RUNS)
    names = {name for name, _ in found.errors}
    assert {"ready.p50", "settled.p80", "finish.p95", "cost.p80", "over-limit", "second-hire"} <= names
    assert {f"start-by.{one.task}" for one in found.start_by} <= names


def test_start_by_dates_are_in_time_with_the_stated_confidence() -> None:
    """A long lead begun by its date: more confidence asks for an earlier date."""
    project, schedule = scheduled("house_move")
    sure, surer = (
        {
            one.task: one.latest
            for one in risk_summary(
                replace(project, plan=replace(project.plan, confidence=confidence)), schedule, runs=RUNS
            ).start_by
        }
        for confidence in (0.5, 0.95)
    )
    assert sure.keys() == surer.keys()
    assert all(surer[task] <= sure[task] for task in sure)
    assert any(surer[task] < sure[task] for task in sure)


def test_a_start_by_date_is_the_need_less_the_quantile_of_the_work() -> None:
    """Mixing and ripening, then the tubs are filled: drawn here from the betas themselves."""
    runs = 20_000
    found = risk_summary(SCENE.project, SCENE.schedule, runs=runs)
    latest = {one.task: one.latest for one in found.start_by}["mix-water"]
    dice = np.random.default_rng(11)
    total = np.zeros(runs)
    for task in ("mix-water", "ripen-mix"):
        one = SCENE.project.network.task(task).estimate
        rise = 4 * (one.likely - one.low) / (one.high - one.low)
        total += one.low + (one.high - one.low) * dice.beta(1 + rise, 5 - rise, runs)
    in_time = float(np.mean(latest + total <= SCENE.schedule.of("fill-tubs").start))
    assert in_time == pytest.approx(0.9, abs=4 * (0.9 * 0.1 * 2 / runs) ** 0.5)


def test_containers_are_safe_where_the_safe_time_is_long() -> None:
    def longer(project: Project, factor: float) -> Project:
        routes = tuple(
            replace(
                route,
                stops=tuple(
                    replace(stop, safe=replace(stop.safe, estimate=_times(stop.safe.estimate, factor)))
                    if stop.safe
                    else stop
                    for stop in route.stops
                ),
            )
            for route in project.routes
        )
        return replace(project, routes=routes)

    safe = risk_summary(longer(SCENE.project, 20), SCENE.schedule, runs=RUNS)
    assert all(share == 0 for _, share in safe.over_limit)
    assert chances(safe)["safe-time-passed"] == 0
    never = risk_summary(longer(SCENE.project, 0.1), SCENE.schedule, runs=RUNS)
    assert all(share == 1 for _, share in never.over_limit)


def _times(estimate: Estimate, factor: float) -> Estimate:
    return replace(
        estimate, low=factor * estimate.low, likely=factor * estimate.likely, high=factor * estimate.high
    )


def test_a_sheltered_mishap_is_no_time_in_containers() -> None:
    def over(holding: bool) -> float:
        register = tuple(
            replace(entry, probability=1.0, delay_min=3000, holding=holding)
            for entry in register_of(SCENE.project, SCENE.schedule)
            if entry.id == "road-closed"
        )
        found = risk_summary(SCENE.project, SCENE.schedule, runs=RUNS, register=register)
        return chances(found)["safe-time-passed"]

    assert over(holding=False) == 1.0
    assert over(holding=True) < 0.1


def test_a_hire_that_is_too_short_is_seen() -> None:
    project = SCENE.project
    van = replace(project.plan.vehicles[0], hire_until=SCENE.schedule.of("rebuild-tank").finish)
    short = replace(project, plan=replace(project.plan, vehicles=(van,)))
    found = risk_summary(short, SCENE.schedule, runs=RUNS)
    assert found.second_hire is not None
    assert found.second_hire > 0.9
    assert chances(found)["hire-window-missed"] == found.second_hire


def test_measures_lower_the_simulated_cost() -> None:
    register = register_of(SCENE.project, SCENE.schedule)
    without = risk_summary(SCENE.project, SCENE.schedule, RUNS, 1, register)
    with_pump = risk_summary(SCENE.project, SCENE.schedule, RUNS, 1, taken(register, ("second-air-pump",)))
    assert without.cost is not None
    assert with_pump.cost is not None
    assert with_pump.cost.mean < without.cost.mean


def test_the_mean_cost_of_mishaps_is_their_expected_loss() -> None:
    """One mishap that delays nothing: the mean is probability times cost within four standard errors."""
    change = RiskChange("fine", event="A fine", probability=0.25, cost=Decimal(100), tasks=("drive-over",))
    plan = replace(SCENE.project.plan, risks=(change,), people=SCENE.project.plan.people)
    register = tuple(
        entry
        for entry in register_of(replace(SCENE.project, plan=plan), SCENE.schedule)
        if entry.id == "fine"
    )
    project = replace(SCENE.project, plan=plan, routes=())
    found = risk_summary(project, SCENE.schedule, 20_000, 1, register)
    assert found.cost is not None
    assert abs(found.cost.mean - 25) <= Decimal(str(4 * 100 * (0.25 * 0.75 / 20_000) ** 0.5))


def test_own_tasks_have_no_common_cause_and_no_day(tmp_path: Path) -> None:
    text = "tasks:\n  - {id: a, duration: {low: 1 h, likely: 2 h, high: 6 h}}\n  - {id: b, duration: 3 h, after: [a]}\n"
    project, schedule = own_tasks(tmp_path, text)
    assert not loading_of(project).causes.any()
    found = risk_summary(project, schedule, runs=20_000)
    assert found.register == ()
    assert found.day_missed is None
    assert found.start_by == ()
    assert dict(found.criticality) == {"a": 1.0, "b": 1.0}
    assert found.finish is not None
    mean_min = (60 + 4 * 120 + 360) / 6 + 180
    assert found.finish.p10 < project.scheduling.start + mean_min < found.finish.p95


def test_low_and_high_as_quantiles_widen_the_dates(tmp_path: Path) -> None:
    text = "tasks:\n  - {id: a, duration: {low: 10 h, likely: 20 h, high: 60 h}}\n"
    widths = []
    for head in ("", "low-high: P10-P90\n"):
        found = risk_summary(*own_tasks(tmp_path, head + text), runs=RUNS).finish
        assert found is not None
        widths.append(found.p95 - found.p10)
    assert widths[1] > 1.3 * widths[0]


def test_hours_are_kept_in_every_run(tmp_path: Path) -> None:
    """Work before the moving day keeps each person's hours, but for half an hour, and two hours on the eve."""
    evenings, shorter = "mon-fri: 18:00-21:30", "mon-fri: 18:00-21:00"
    project, schedule = changed(tmp_path, "house_move_into_larger_tank", evenings, shorter)
    ready = prepare(project, schedule, register_of(project, schedule))
    slipped = on_day(project, ready.days[0].other).scheduling.people
    people = {
        one.id: merged((*one.available, *two.available))
        for one, two in zip(project.scheduling.people, slipped, strict=True)
    }
    start = project.scheduling.start
    chunk = next(Simulation(ready.net, ready.tables, ready.loading, 1).chunks(400))
    checked, late = 0, 0
    eves = [Interval(span.start - 1440, span.start) for span in ready.days[0].spans]
    for task in project.network.tasks:
        stands = schedule.of(task.id)
        if (
            task.day
            or not stands.people
            or task.may_pause
            or task.repeats
            or ready.net.steps[ready.at[task.id]].fails
        ):
            continue
        at = ready.at[task.id]
        begins = chunk.starts[at] + start
        ends = begins + chunk.durations[at]
        for begin, end in zip(begins.tolist(), ends.tolist(), strict=True):
            for name in stands.people:
                own = people[name]
                if begin < own[-1].finish:
                    inside = any(one.start <= begin and end <= one.finish + 30 + 1e-6 for one in own)
                    over = any(
                        one.start <= begin
                        and end <= one.finish + 120 + 1e-6
                        and eve.start < one.finish <= eve.finish
                        for one in own
                        for eve in eves
                    )
                    assert inside or over, task.id
                    checked += 1
                    late += not inside
    assert checked > 1000
    assert 0 < late < checked / 20


def test_what_is_planned_late_does_not_begin_early() -> None:
    project, schedule = scheduled("house_move")
    ready = prepare(project, schedule, ())
    chunk = next(Simulation(ready.net, ready.tables, ready.loading, 1).chunks(1000))
    for task in project.network.tasks:
        if task.timing is Timing.LATE:
            planned = schedule.of(task.id).start - project.scheduling.start
            assert (chunk.starts[ready.at[task.id]] >= planned).all()


def test_a_slipped_day_is_the_fall_back_day() -> None:
    project, schedule = scheduled("house_move")
    ready = prepare(project, schedule, ())
    assert project.plan.dates is not None
    assert ready.days[0].other == project.plan.dates.fall_back_day


def test_without_a_fall_back_day_the_move_slips_by_a_week() -> None:
    project, schedule = scheduled("house_move")
    assert project.plan.dates is not None
    plan = replace(project.plan, dates=replace(project.plan.dates, fall_back_day=None))
    ready = prepare(replace(project, plan=plan), schedule, ())
    assert ready.days[0].slip_days == 7


@pytest.mark.parametrize("name", [name for name in NAMES if name != "impossible_dates"])
def test_nothing_is_planned_later_than_the_date_by_which_it_has_to_begin(name: str) -> None:
    project, schedule = scheduled(name)
    for one in risk_summary(project, schedule, runs=RUNS).start_by:
        assert schedule.of(one.task).start <= one.latest
