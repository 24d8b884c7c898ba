"""Parts set free and put back: what is kept stays within the gear, and the schedule grows shorter."""

from __future__ import annotations

import pytest

from moveplan.scheduling.construct.search import search
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.exact.repairs import Repaired, can_be_repaired, handed_on, repaired
from moveplan.scheduling.improve.result import schedule_of
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Engine
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.state.frame import Frame, frame_of
from moveplan.scheduling.state.model import Model, model_of
from moveplan.scheduling.verify import verify
from tests.scheduling.graded import graded, graded_with_gaps
from tests.scheduling.instances import move

HARD = (60, 1, 2.1, 0.75, 0.2)
"""Its shortest schedule, proven, takes 162; a short search of the serial engine ends above that."""


def _begun(problem: SchedulingProblem) -> tuple[Frame, Desk]:
    frame = frame_of(model_of(problem))
    effort = Effort(seconds=0.1, engine="serial")
    found = search(frame, effort, Meter(effort))
    assert found.desk is not None
    return frame, found.desk


def _repaired(frame: Frame, desk: Desk, seconds: float, least: int = 0) -> Repaired:
    return repaired(frame.model, desk, frame.block_of, Effort(), seconds, least)


def _length(desk: Desk) -> int:
    return max(spot.finish for spot in desk.spots if spot is not None)


def _in_use(model: Model, order: set[tuple[int, int]], kind: int) -> int:
    """The most of one kind that is in use at once when each task begins as early as the order alone allows."""
    lasts = [job.options[0].minutes for job in model.jobs]
    early = [0] * len(lasts)
    for _ in lasts:
        for giver, taker in order:
            early[taker] = max(early[taker], early[giver] + lasts[giver])
    counts = [dict(job.gear).get(kind, 0) for job in model.jobs]
    return max(
        sum(
            count
            for start, last, count in zip(early, lasts, counts, strict=True)
            if start <= moment < start + last
        )
        for moment in early
    )


@pytest.mark.parametrize("seed", range(6))
def test_tasks_that_keep_to_the_order_never_use_more_than_there_is(seed: int) -> None:
    problem = graded(30, seed, 1.8, 0.75, 0.2)
    frame, desk = _begun(problem)
    order = handed_on(frame.model, desk)
    for kind, thing in enumerate(problem.gear):
        assert _in_use(frame.model, order, kind) <= thing.count
    spots = desk.spots
    assert all(spots[a].finish <= spots[b].start for a, b in order)  # type: ignore[union-attr]


def test_without_the_order_they_would() -> None:
    problem = graded(30, 0, 1.8, 0.75, 0.2)
    frame, _ = _begun(problem)
    assert any(_in_use(frame.model, set(), kind) > thing.count for kind, thing in enumerate(problem.gear))


def test_repairs_shorten_what_the_serial_engine_found() -> None:
    problem = graded(*HARD)
    frame, desk = _begun(problem)
    found = _repaired(frame, desk, 2.0)
    assert found.shorter
    assert _length(found.desk) < _length(desk)
    assert verify(problem, schedule_of(found.desk, (), Engine.EXACT, Meter(Effort()))) == ()


def test_greatest_gaps_are_kept() -> None:
    problem = graded_with_gaps(30, 1, 0.75, 0.25, 0.06, 0.5)
    frame, desk = _begun(problem)
    found = _repaired(frame, desk, 0.5)
    assert found.tried
    assert _length(found.desk) <= _length(desk)
    assert verify(problem, schedule_of(found.desk, (), Engine.EXACT, Meter(Effort()))) == ()


def test_the_same_twice_and_never_worse_with_more() -> None:
    frame, desk = _begun(graded(*HARD))
    some, again, more = (_repaired(frame, desk, seconds) for seconds in (0.5, 0.5, 1.5))
    assert some.desk.spots == again.desk.spots
    assert some.tried == again.tried < more.tried
    assert _length(more.desk) <= _length(some.desk)


def test_nothing_is_tried_where_the_bound_is_reached() -> None:
    frame, desk = _begun(graded(*HARD))
    assert _repaired(frame, desk, 1.0, _length(desk)).tried == 0


def test_an_interrupt_ends_the_repairs_with_the_best() -> None:
    frame, desk = _begun(graded(*HARD))
    found = repaired(frame.model, desk, frame.block_of, Effort(interrupted=lambda: True), 5.0, 0)
    assert found.interrupted
    assert found.tried == 1
    assert _length(found.desk) <= _length(desk)


def test_people_and_days_are_left_to_others() -> None:
    assert can_be_repaired(model_of(graded(*HARD)))
    assert not can_be_repaired(model_of(move(60, 2, 1)))
