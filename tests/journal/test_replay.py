"""Whole moves replayed with lateness: at every asking everybody is sent to the right task, as the network has it."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from moveplan.journal.file.kept import snapshot_data, snapshot_of
from moveplan.journal.now.next_up import next_up
from moveplan.journal.now.standing import standing
from moveplan.journal.records import Entry
from moveplan.journal.rest.ahead import ahead_of
from moveplan.journal.state import state_of
from moveplan.network.task import Kind
from moveplan.outputs.accepted import snapshot_of_outlook
from tests.journal.replay import EXAMPLES, Replay, outlook_of

MOVES = sorted(path.stem for path in EXAMPLES.glob("*.yaml") if path.stem != "impossible_dates")


@pytest.mark.parametrize("example", MOVES)
@pytest.mark.parametrize("slow", [(0.9, 1.3), (1.4, 2.2)], ids=["mild", "late"])
def test_everybody_is_sent_to_the_right_task(example: str, slow: tuple[float, float]) -> None:
    replay = Replay(outlook_of(example), slow, seed=7)
    askings = 0
    for now in replay.moments():
        entries = [Entry(number, record) for number, record in enumerate(replay.records, start=1)]
        found = next_up(replay.snapshot, state_of(entries), now)
        first = {turn.person: turn for turn in found.first}
        together = {turn.person: turn.item for turn in found.first if turn.ready}
        for person, item in together.items():
            running = [turn.item.task.id for turn in found.first if turn.runs]
            assert item.task.id in running or {together.get(one) for one in item.task.people} == {item}, (
                now,
                person,
            )
        coming = replay.coming(now)
        for person in replay.snapshot.people:
            if person in coming:
                assert first[person].item.task.id == replay.begins_with(person), (now, person)
                continue
            right, turn = replay.asked(person, now), first.get(person)
            there = turn is not None and coming.keys().isdisjoint(turn.item.task.people)
            sent = turn.item.task.id if turn is not None and turn.ready and there else None
            assert there or turn is None or turn.item.planned > now, (now, person)
            if right is not None and replay.tasks[right].kind is Kind.HOLD_POINT and right in replay.until:
                continue  # signing has no beginning in the journal
            if right in replay.until and replay.tasks[right].repeats is not None:
                continue
            assert sent == right, (now, person)
            askings += 1
    assert replay.last in replay.ended
    assert askings > 100


@pytest.mark.parametrize("example", ["house_move", "larger_tank_other_spot"])
def test_an_accepted_schedule_keeps_every_link_of_a_pair(example: str) -> None:
    """Cans are loaded some minutes after the first is full, and for as long as they are filled: two links of a pair."""
    outlook = outlook_of(example)
    network = outlook.project.network
    kept = snapshot_of(snapshot_data(snapshot_of_outlook(outlook)), "")
    wanted = {
        (link.before, link.after, link.relation, link.min_gap_min)
        for link in network.links
        if link.min_gap_min is not None
    }
    found = {
        (tie.before, tie.after, tie.relation, tie.gap_min)
        for several in kept.ties.values()
        for tie in several
    }
    assert found == wanted


def test_the_day_is_behind_by_as_much_as_what_it_is_for_is_forecast_later() -> None:
    """What is late and holds nobody up makes no day late; what is not made up does, to the minute."""
    replay = Replay(outlook_of("house_move"), (1.0, 1.0), seed=1)
    first = next(task for task in replay.snapshot.tasks if task.id == "record-morning-display")
    for now in replay.moments():
        if now >= first.start:
            break
    state = state_of([Entry(number, record) for number, record in enumerate(replay.records, start=1)])
    ends = {stay.open_task for stay in replay.snapshot.stays} | {replay.snapshot.milestones["settled"]}
    behind = []
    for late in range(0, 400, 20):
        found = next_up(replay.snapshot, state, first.start + late)
        snapshot, now = replay.snapshot, first.start + late
        spans = ahead_of(standing(snapshot, state, now)).spans
        behind.append(found.behind_min)
        assert found.behind_min == max(
            spans[task.id].finish - task.finish for task in snapshot.tasks if task.id in ends
        )
        settled = next(end - planned for name, planned, end in found.milestones if name == "settled")
        assert found.behind_min >= settled
    assert behind[0] == 0
    assert behind[-1] > 200
    assert all(0 <= later - before <= 20 for before, later in pairwise(behind))


def test_a_task_that_is_not_through_is_never_ready() -> None:
    """Break the rule on purpose: a hold point that is taken away lets its followers through."""
    replay = Replay(outlook_of("house_move"), (1.0, 1.0), seed=1)
    point = "no-way-back-display"
    now = next(now for now in replay.moments() if point in replay.until)
    entries = [Entry(number, record) for number, record in enumerate(replay.records, start=1)]
    held = standing(replay.snapshot, state_of(entries), now)
    assert point in held.waits_for("corals-out-display")
    assert "drive-van" not in held.ended
    freed = replace(replay.snapshot, waits={**replay.snapshot.waits, "corals-out-display": ()})
    assert standing(freed, state_of(entries), now).waits_for("corals-out-display") == ()
