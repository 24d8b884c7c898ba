"""Margins behind lead tasks: all of them where there is time, and else less of the greatest that is in the way."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew, Kind, Task, Timing
from moveplan.scheduling.construct.search import Found
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.improve.result import choices
from moveplan.scheduling.objective.aims import MARGINS
from moveplan.scheduling.problem import Person, SchedulingProblem, TiedDay
from moveplan.scheduling.solve import solve
from moveplan.scheduling.state.frame import Frame, frame_of
from moveplan.scheduling.state.margins import distance, given_up, wished
from moveplan.scheduling.state.model import model_of
from moveplan.scheduling.verify import verify
from tests.network.builders import task
from tests.scheduling.instances import DAY, day, hours
from tests.scheduling.searched import searched

LITTLE_S = 0.02


def lead(name: str, margin: int, *, wait: int = 0) -> Task:
    if wait:
        return task(name, wait, kind=Kind.WAIT, timing=Timing.LATE, margin_min=margin)
    return task(name, 60, crew=Crew(1), timing=Timing.LATE, margin_min=margin)


MOVE = task("move", 60, crew=Crew(1), day="move")


def before_a_move(
    tasks: tuple[Task, ...], links: tuple[Link, ...], move_day: int, last: tuple[Task, ...] = (MOVE,)
) -> SchedulingProblem:
    """Lead tasks that one person does between nine and twelve, and a move on a day."""
    return SchedulingProblem(
        Network((*tasks, *last), links, (), (("settled", (*tasks, *last)[-1].id),)),
        0,
        (move_day + 2) * DAY,
        tuple(day(n) for n in range(move_day + 2)),
        people=(Person("p", "P", tuple(hours(n, 9, 12) for n in range(move_day + 1))),),
        tied_days=(TiedDay("move", (day(move_day),)),),
    )


def margins_by_name(frame: Frame, found: Found) -> dict[str, int]:
    return {job.task.id: found.margins[at] for at, job in enumerate(frame.model.jobs)}


ORDER = (lead("order", 20 * DAY), lead("parcel", DAY, wait=2 * DAY), lead("photograph", 5 * DAY))
LINKS = (Link("order", "parcel"), Link("parcel", "move"), Link("photograph", "move"))


def test_with_time_all_margins_are_kept() -> None:
    frame, found = searched(before_a_move(ORDER, LINKS, 40), LITTLE_S)
    assert found.margins == wished(frame.model)
    assert choices(frame, found)[0] == choices(frame, found)[0].__class__(MARGINS, 0, 0, proven=True)


def test_only_the_greatest_margin_in_the_way_gives_way() -> None:
    frame, found = searched(before_a_move(ORDER, LINKS, 12), LITTLE_S)
    kept = margins_by_name(frame, found)
    assert kept["parcel"] == DAY, "what a wait may take longer stays planned for"
    assert kept["photograph"] == 5 * DAY, "it has time enough, and is on another chain"
    assert 0 < kept["order"] < 20 * DAY
    order = next(
        spot
        for spot, job in zip(found.desk.spots, frame.model.jobs, strict=True)  # type: ignore[union-attr]
        if job.task.id == "order"
    )
    assert order is not None
    assert order.start < 5 * DAY, "the room there is, is used"


def test_a_margin_is_not_given_up_for_an_order_that_finds_no_place_without_it_either() -> None:
    """By urgency the long task begins the day, and none of it is left for the other one until five to twelve."""
    end = 12 * DAY
    tasks = (
        lead("order", 5 * DAY),
        task("long", 120, crew=Crew(1), day="move", finish_by=end + 12 * 60),
        task("short", 60, crew=Crew(1), day="move", finish_by=end + 12 * 60 - 5),
    )
    frame, found = searched(before_a_move(tasks, (Link("order", "long"),), 12, last=()), LITTLE_S)
    assert found.desk is not None
    assert found.margins == wished(frame.model)


def test_what_is_given_up_is_said_in_percent_of_all() -> None:
    frame = frame_of(model_of(before_a_move(ORDER, LINKS, 40)))
    assert given_up(frame.model, wished(frame.model)) == 0
    assert given_up(frame.model, (10 * DAY, DAY, 5 * DAY, 0)) == 39  # 10 of 26 days, rounded up
    assert given_up(frame.model, (20 * DAY, DAY - 1, 5 * DAY, 0)) == 1
    assert given_up(frame.model, ()) == 100


def test_nothing_wished_is_nothing_given_up() -> None:
    frame = frame_of(model_of(before_a_move((task("pack", 60, crew=Crew(1)),), (Link("pack", "move"),), 3)))
    assert given_up(frame.model, wished(frame.model)) == 0


@pytest.mark.parametrize(
    ("rule", "margins", "together", "expected"),
    [
        ((0, 1, True, False, 30), (60, 0), False, 60),
        ((0, 1, True, False, 90), (60, 0), False, 90),
        ((0, 1, True, False, 30), (60, 0), True, 30),
        ((0, 1, False, False, 30), (60, 0), False, 30),
        ((0, 1, True, False, -5), (60, 0), False, -5),
        ((0, 1, True, False, 30), (), False, 30),
    ],
)
def test_a_margin_lengthens_the_gap_after_a_finish_between_blocks(
    rule: tuple[int, int, bool, bool, int], margins: tuple[int, ...], together: bool, expected: int
) -> None:
    assert distance(rule, margins, together) == expected


@given(
    st.lists(st.tuples(st.integers(0, 30), st.booleans()), min_size=1, max_size=5),
    st.integers(8, 30),
)
@settings(max_examples=60, deadline=None)
def test_margins_never_make_a_plan_fail_and_those_kept_are_kept(
    rows: list[tuple[int, bool]], move_day: int
) -> None:
    tasks = tuple(lead(f"t{n}", days * DAY, wait=DAY if wait else 0) for n, (days, wait) in enumerate(rows))
    links = (*(Link(f"t{n}", f"t{n + 1}") for n in range(len(rows) - 1)), Link(f"t{len(rows) - 1}", "move"))
    problem = before_a_move(tasks, links, move_day)
    frame, found = searched(problem, LITTLE_S)
    assert found.desk is not None
    spots = {job.task.id: spot for job, spot in zip(frame.model.jobs, found.desk.spots, strict=True)}
    for link in links:
        before, after = spots[link.before], spots[link.after]
        assert before is not None
        assert after is not None
        assert after.start - before.finish >= margins_by_name(frame, found)[link.before]
    if sum(days for days, _ in rows) + 2 * len(rows) <= move_day:
        assert found.margins == wished(frame.model), "there was time for all of them"


def test_the_whole_engine_keeps_to_it() -> None:
    problem = before_a_move(ORDER, LINKS, 12)
    found = solve(problem, Effort(seconds=1))
    assert verify(problem, found) == ()
    aims = {aim.name: aim.value for aim in found.aims}
    assert 0 < aims[MARGINS] < 80
