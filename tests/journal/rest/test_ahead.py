"""How the rest of a day is forecast from what was done of it."""

from __future__ import annotations

from math import ceil

from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.journal.now.standing import Standing, standing
from moveplan.journal.records import Begun, Done, Record
from moveplan.journal.rest.ahead import DAYS_MIN, PRIOR_MIN, ahead_of
from moveplan.journal.state import state_of
from moveplan.network.task import Kind
from moveplan.outputs.accepted import snapshot_of_outlook
from tests.journal.builders import T0, entries, snapshot
from tests.journal.replay import outlook_of


def _day(done: int, over: dict[int, int]) -> Standing:
    """Carry out the first of the moving day's tasks as planned, some of them slower; asked when all are over."""
    whole = snapshot_of_outlook(outlook_of("house_move"))
    ordered = sorted(whole.tasks, key=lambda task: (task.start, task.finish, task.id))
    first = next(at for at, task in enumerate(ordered) if task.day)
    records: list[Record] = []
    for at, task in enumerate(ordered[: first + done]):
        if task.times == 1 and not task.alone:
            late = over.get(at - first, 0)
            records += [Begun(at=task.start, task=task.id), Done(at=task.finish + late, task=task.id)]
    now = max(task.finish for task in ordered[: first + done] if task.times == 1 and not task.alone) + 60
    return standing(whole, state_of(entries(*records)), now)


def _settled(found: Standing) -> int:
    spans = ahead_of(found).spans
    return spans[dict(outlook_of("house_move").project.network.milestones)["settled"]].finish


def _left_min(found: Standing) -> tuple[int, int]:
    """Work of the day that is left, and how many tasks it is. [min, -]."""
    left = [
        task.minutes
        for name, task in found.tasks.items()
        if found.is_open(name) and task.kind is Kind.WORK and abs(task.start - found.now) <= DAYS_MIN
    ]
    return sum(left), len(left)


@settings(max_examples=60, deadline=None)
@given(done=st.integers(2, 45), task=st.integers(0, 44), extra=st.integers(0, 59))
def test_one_task_moves_the_pace_by_its_extra_minutes_over_the_prior_at_most(
    done: int, task: int, extra: int
) -> None:
    """And what is forecast by that much of the work that is left, a minute of rounding a task beside."""
    before, after = _day(done, {}), _day(done, {task % done: extra})
    faster = ahead_of(after).pace - ahead_of(before).pace
    assert 0.0 <= faster <= extra / PRIOR_MIN
    left_min, tasks = _left_min(after)
    assert 0 <= _settled(after) - _settled(before) <= extra + ceil(extra / PRIOR_MIN * left_min) + tasks


def test_a_short_task_that_took_a_little_longer_does_not_move_the_evening() -> None:
    """Three tasks of 5 min, each done in 8, said 1.3 and an evening of two hours later."""
    found = standing(snapshot(), state_of(()), T0)
    assert ahead_of(found).pace == 1.0
    slow = _day(3, {0: 3, 1: 3, 2: 3})
    assert ahead_of(slow).pace < 1.05
    assert _settled(slow) - _settled(_day(3, {})) < 20


def test_an_end_that_was_logged_hours_later_is_no_pace() -> None:
    """Ines draws water for 30 min and says so four hours later: believed is twice the plan."""
    records = Begun(at=T0, task="draw-water"), Done(at=T0 + 270, task="draw-water")
    found = standing(snapshot(), state_of(entries(*records)), T0 + 280)
    assert ahead_of(found).pace == (PRIOR_MIN + 60) / (PRIOR_MIN + 30)


def test_a_day_that_takes_half_as_long_again_throughout_is_seen_to() -> None:
    plain, slow = _day(20, {}), _day(20, dict.fromkeys(range(20), 30))
    assert ahead_of(plain).pace == 1.0
    assert 1.2 < ahead_of(slow).pace <= 2.0
