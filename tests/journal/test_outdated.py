"""Signatures of a day that has moved since count no more, wherever they are read."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.next_up import next_up
from moveplan.journal.records import Accepted, Begun, Met, MovedDates, MovedDay, Out, Record
from moveplan.journal.state import state_of
from moveplan.journal.taking.known import known_of
from moveplan.journal.taking.said import all_said
from moveplan.journal.taking.slip import index_of, read_slip
from moveplan.journal.taking.vetting import NotSignedError, vetted
from moveplan.network.task import Kind, State
from tests.journal.builders import DAY, PLAN_ID, T0, entries, planned
from tests.journal.now.test_ways_on import day

GO = Met(at=T0 - 700, task="go-or-no-go", by="Ines")
KEYS = Met(at=T0 - 2 * DAY, task="keys-in-hand", by="Ines")
LATER = MovedDates(at=T0 - 600, days=14)
BACK = MovedDates(at=T0 - 500, days=-14)
ELSEWHERE = MovedDay(at=T0 - 600, what="move-day", day=date(2027, 3, 27))
FALL_BACK = MovedDay(at=T0 - 600, what="fall-back-day", day=date(2027, 3, 27))


def plan() -> Snapshot:
    """Give a moving day with a decision on its eve, and keys two days before it."""
    gates = (
        planned("keys-in-hand", -2 * DAY, 5, kind=Kind.HOLD_POINT, people=("ines",), number=10),
        planned("go-or-no-go", -720, 15, kind=Kind.HOLD_POINT, people=("ines",), number=9),
    )
    waits = {**day().waits, "no-way-back-reef": ("go-or-no-go", "keys-in-hand")}
    return replace(day(), tasks=(*gates, *day().tasks), waits=waits)


def written(*records: Record):  # type: ignore[no-untyped-def]
    accepted = Accepted(at=T0 - 3 * DAY, schedule=snapshot_data(plan()))
    return entries(accepted, KEYS, GO, *records)


@pytest.mark.parametrize(
    ("after", "counts"),
    [
        ((), True),
        ((LATER,), False),
        ((LATER, BACK), True),
        ((ELSEWHERE,), False),
        ((FALL_BACK,), True),
        ((LATER, Accepted(at=T0 - 400, schedule=snapshot_data(plan()))), False),
        ((LATER, replace(GO, at=T0 - 300)), True),
    ],
)
def test_a_signature_for_another_day_counts_no_more(after: tuple[Record, ...], counts: bool) -> None:
    lines = written(*after)
    state = state_of(lines)
    assert (state.of("go-or-no-go").state is State.COMPLETED) is counts
    assert state.of("keys-in-hand").state is State.COMPLETED  # they are in the hand on any day
    index = index_of(plan(), PLAN_ID)
    marks = read_slip(all_said(lines, plan(), index, index), (index,))
    told = [mark.back for mark in marks if (mark.kind, mark.name) == ("met", "go-or-no-go")]
    assert (False in told) is counts


def test_nothing_of_the_day_is_begun_on_a_signature_for_another_day() -> None:
    begun = Begun(at=T0 + 30, task="catch-fish")
    passed = Met(at=T0 - 650, task="no-way-back-reef", by="Ines")
    known = known_of(plan())
    assert vetted(begun, state_of(written(passed)), known, T0 + 30) == begun
    with pytest.raises(NotSignedError, match="must come before it"):
        vetted(begun, state_of(written(passed, LATER)), known, T0 + 30)


def test_who_takes_over_on_the_old_day_is_not_told_once_it_has_moved() -> None:
    out = Out(at=T0, person="tom", first=date(2027, 3, 13), last=date(2027, 3, 13))
    for after, told in (((), True), ((LATER,), False)):
        found = next_up(plan(), state_of(written(*after, out)), T0 + 10)
        assert bool(found.taken_over) is told


def test_a_schedule_that_cannot_be_read_opens_nothing_and_hides_nothing() -> None:
    accepted = Accepted(at=T0 - 3 * DAY, schedule={"tasks": [{"id": "go-or-no-go"}]})
    state = state_of(entries(accepted, GO, LATER))
    assert state.of("go-or-no-go").state is State.COMPLETED
