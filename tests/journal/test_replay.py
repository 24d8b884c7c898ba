"""Whole moves replayed with lateness: at every asking everybody is sent to the right task, as the network has it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.journal.file.kept import snapshot_data, snapshot_of
from moveplan.journal.now.next_up import next_up
from moveplan.journal.now.standing import standing
from moveplan.journal.records import Entry
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
        for person in replay.snapshot.people:
            right, turn = replay.asked(person, now), first.get(person)
            sent = turn.item.task.id if turn is not None and turn.ready else None
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


def test_a_day_that_starts_late_is_behind_by_that_much() -> None:
    replay = Replay(outlook_of("house_move"), (1.0, 1.0), seed=1)
    first = next(task for task in replay.snapshot.tasks if task.id == "record-morning-display")
    for now in replay.moments():
        if now >= first.start:
            break
    entries = [Entry(number, record) for number, record in enumerate(replay.records, start=1)]
    state = state_of(entries)
    assert next_up(replay.snapshot, state, first.start).behind_min == 0
    behind = [next_up(replay.snapshot, state, first.finish + late).behind_min for late in (0, 40)]
    assert behind[1] == behind[0] + 40
    ends = [
        {name: end for name, _, end in next_up(replay.snapshot, state, first.finish + late).milestones}
        for late in (0, 400)
    ]
    assert ends[1]["settled"] > ends[0]["settled"]


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
