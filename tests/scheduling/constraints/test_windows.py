from __future__ import annotations

from itertools import pairwise

import pytest

pytest.importorskip("ortools")

from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew
from moveplan.scheduling.constraints.tasks import Given, Sheet
from moveplan.scheduling.constraints.windows import tighten
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.state.frame import frame_of
from moveplan.scheduling.state.model import model_of
from tests.network.builders import task
from tests.scheduling.instances import DAY, day, hours, move
from tests.scheduling.searched import searched


def _sheet(problem: SchedulingProblem) -> Sheet:
    model = model_of(problem)
    return Sheet(model, Given(None, (), frame_of(model).block_of, problem.horizon), None)


def _evenings(*minutes: int) -> SchedulingProblem:
    """Tasks one after the other, by somebody who is there from six to nine on five evenings."""
    names = [f"t{n}" for n in range(len(minutes))]
    tasks = tuple(task(name, lasts, crew=Crew(1)) for name, lasts in zip(names, minutes, strict=True))
    links = tuple(Link(one, other) for one, other in pairwise(names))
    free = tuple(hours(n, 18, 21) for n in range(5))
    days = tuple(day(n) for n in range(5))
    return SchedulingProblem(Network(tasks, links), 0, 5 * DAY, days, people=(Person("p", "P", free),))


def test_a_chain_takes_an_evening_each_forwards_and_backwards() -> None:
    sheet = _sheet(_evenings(120, 120, 120))
    tighten(sheet)
    assert sheet.early == [day * DAY + 18 * 60 for day in (0, 1, 2)]
    assert sheet.late == [day * DAY + 19 * 60 for day in (2, 3, 4)]


def test_what_cannot_be_is_left_to_the_solver() -> None:
    sheet = _sheet(_evenings(120, 200))
    before = sheet.early, sheet.late
    tighten(sheet)
    assert (sheet.early, sheet.late) == before


@settings(max_examples=25, deadline=None)
@given(st.integers(20, 60), st.integers(2, 4), st.integers(0, 10_000))
def test_no_schedule_is_lost(size: int, people: int, seed: int) -> None:
    problem = move(size, people, seed)
    desk = searched(problem)[1].desk
    if desk is None:
        return
    sheet = _sheet(problem)
    tighten(sheet)
    for position, spot in enumerate(desk.spots):
        assert spot is not None
        assert sheet.early[position] <= spot.start - problem.start <= sheet.late[position]
