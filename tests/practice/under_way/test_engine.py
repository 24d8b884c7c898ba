"""What is left of a move: waits that run by themselves have run since what they wait for was done."""

from __future__ import annotations

import pytest

from moveplan import pipeline
from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.records import Accepted, Done, Entry, Record
from moveplan.journal.state import state_of
from moveplan.network.task import State
from moveplan.practice.compose import project_of
from moveplan.practice.under_way.engine import Underway, under_way
from moveplan.practice.under_way.story import Story, told
from tests.journal.replay import EXAMPLES, SETTINGS, Replay, outlook_of

HEATERS, WARM = "hang-heaters", "warm-stored"
LATER_MIN = 1800


def _left(*records: Record, later_min: int) -> Underway:
    outlook = outlook_of("house_move")
    snapshot = Replay(outlook, (1.0, 1.0), seed=1).snapshot
    every = (Accepted(at=outlook.now, schedule=snapshot_data(snapshot)), *records)
    state = state_of([Entry(number, record) for number, record in enumerate(every, start=1)])
    planned = snapshot.task(HEATERS)
    assert planned is not None
    story = Story(state, snapshot, snapshot, planned.finish + later_min)
    plan, _ = pipeline.begin(EXAMPLES / "house_move.yaml", SETTINGS)
    return under_way(project_of(told(plan, story)), story)


@pytest.mark.parametrize("early_min", [0, 30, 120])
def test_water_that_warms_by_itself_is_not_said_to_wait_since_the_heaters_were_hung(early_min: int) -> None:
    """Nobody logs that water gets warm; looked at thirty hours later, it has."""
    planned = outlook_of("house_move").schedule.of(HEATERS)
    left = _left(Done(at=planned.finish - early_min, task=HEATERS), later_min=LATER_MIN)
    assert [link for link in left.broken if link.after == WARM] == []
    wait = next(task for task in left.rest.network.tasks if task.id == WARM)
    assert wait.not_before is not None
    assert wait.not_before <= planned.finish - early_min


@pytest.mark.parametrize(("later_min", "state"), [(15, State.IN_PROCESS), (LATER_MIN, State.COMPLETED)])
def test_a_wait_by_itself_runs_and_ends_though_nobody_says_so(later_min: int, state: State) -> None:
    hung = outlook_of("house_move").schedule.of(HEATERS).finish
    left = _left(Done(at=hung, task=HEATERS), later_min=later_min)
    assert left.states[WARM] is state
    assert left.real[WARM].start == hung


def test_what_is_late_itself_is_still_said_to_be() -> None:
    network = outlook_of("house_move").project.network
    planned = {one.task: one for one in outlook_of("house_move").schedule.placements}
    tight = next(
        link
        for link in network.links
        if link.max_gap_min is not None
        and link.relation.from_finish
        and link.max_gap_min < LATER_MIN
        and planned[link.after].people
    )
    left = _left(
        Done(at=planned[HEATERS].finish, task=tight.before),
        later_min=LATER_MIN,
    )
    assert tight.after in {link.after for link in left.broken}
