"""Network quality rules of the GAO Schedule Assessment Guide on every example.

GAO-16-89G (2015), best practices 1 to 7: all activities captured and sequenced, resources assigned, no lags in place of
logic, a valid critical path, reasonable float.  The rules are recalled, not quoted.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.estimate import Estimate
from moveplan.network.arcs import arcs_of
from moveplan.network.graph import Network
from moveplan.network.passes import early_starts
from moveplan.network.task import Kind
from moveplan.scheduling.dates import critical
from moveplan.scheduling.dates.order import resource_order
from tests.examples import project, scheduled

NAMES = (
    "house_move",
    "house_move_into_larger_tank",
    "house_move_with_gap",
    "larger_tank_other_spot",
    "larger_tank_same_spot",
    "service_firm_office_tank",
    "short_plan",
    "shut_down_and_restart",
    "small_tank_move",
)
every_example = pytest.mark.parametrize("name", NAMES)


@every_example
def test_no_open_ends(name: str) -> None:
    """Best practice 2: every activity but the first has a predecessor, every one but the last a successor."""
    network = project(name).network
    followed, waits = {link.before for link in network.links}, {link.after for link in network.links}
    assert [task.id for task in network.tasks if task.id not in waits] == ["agree-plan"]
    ends = [task.id for task in network.tasks if task.id not in followed]
    assert len(ends) == 1
    assert ends[0] in ("look-back", "look-back-in")


@every_example
def test_no_start_and_no_finish_dangles(name: str) -> None:
    """Best practice 2: something drives each start, and each finish drives something."""
    network = project(name).network
    driving = {link.before for link in network.links if link.relation.from_finish}
    driven = {
        link.after for link in network.links if not link.relation.to_finish and link.min_gap_min is not None
    }
    ids = [task.id for task in network.tasks]
    assert [task for task in ids if task not in driven] == ["agree-plan"]
    assert [task for task in ids if task not in driving] in (["look-back"], ["look-back-in"])


@every_example
def test_every_task_has_people_or_is_a_wait_or_a_hold_point(name: str) -> None:
    """Best practice 3: resources are assigned to all activities that need them."""
    for task in project(name).network.tasks:
        assert task.crew is not None or task.kind in (Kind.WAIT, Kind.HOLD_POINT), task.id


@every_example
def test_no_negative_gap_stands_in_for_logic(name: str) -> None:
    """Best practice 2: no leads; a least gap is never below zero."""
    assert [link for link in project(name).network.links if (link.min_gap_min or 0) < 0] == []


@every_example
def test_hard_dates_are_few_and_come_from_the_plan(name: str) -> None:
    """Best practice 2: date constraints only where the plan sets them."""
    dated = [task for task in project(name).network.tasks if task.not_before or task.finish_by]
    assert len(dated) <= 6
    assert all(task.where for task in dated)


@every_example
def test_the_critical_path_is_valid(name: str) -> None:
    """Best practice 6: a minute more on a task rated +1 moves the finish of the network one minute.

    On the network with its resource order and without calendars or dates, as the guide tests it.
    """
    found, plan = scheduled(name)
    assert plan.placements, plan.reasons
    links = (*found.network.links, *(order.link for order in resource_order(found.scheduling, plan)))
    tasks = tuple(replace(task, not_before=None, finish_by=None, day="") for task in found.network.tasks)
    plain = tuple(replace(link, max_gap_min=None) for link in links)
    network = Network(tasks, plain)
    base = _finish(network)
    longer = [_finish(_with(network, task.id)) - base for task in network.tasks]
    assert set(longer) == {0, 1}
    chain = [task.id for task, change in zip(network.tasks, longer, strict=True) if change]
    assert len(chain) > 3


def _with(network: Network, task_id: str) -> Network:
    def grown(estimate: Estimate) -> Estimate:
        return replace(estimate, likely=estimate.likely + 1, high=max(estimate.high, estimate.likely + 1))

    tasks = tuple(
        replace(task, estimate=grown(task.estimate)) if task.id == task_id else task for task in network.tasks
    )
    return replace(network, tasks=tasks)


def _finish(network: Network) -> int:
    starts = early_starts(arcs_of(network))
    return max(start + task.minutes for start, task in zip(starts, network.tasks, strict=False))


@every_example
def test_a_task_delayed_by_its_float_moves_no_milestone_and_every_date_has_a_driver(name: str) -> None:
    """Best practice 7: float is what a task may slip; best practice 2: every date can be traced."""
    found, plan = scheduled(name)
    times = critical.times(found.scheduling, plan)
    drivers = {"link", "person", "vehicle", "gear", "hours", "date", "day", "start", "margin", "choice"}
    for task in found.network.tasks:
        own = times[task.id]
        assert own.total_float_min >= own.free_float_min >= 0, task.id
        assert own.late_start - own.early_start == own.total_float_min
        assert own.driver.kind in drivers
    milestones = [task for _, task in found.network.milestones]
    assert all(times[task].late_finish >= plan.of(task).finish for task in milestones)
