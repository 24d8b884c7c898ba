from __future__ import annotations

from dataclasses import replace
from datetime import date

from moveplan.journal.now.failure import Failed, Works
from moveplan.journal.records import Back, Begun, Done, Dropped, Met, Note, Out, Record, Tended, Undo
from moveplan.journal.state import TaskState, effective, state_of
from moveplan.network.task import State
from tests.journal.builders import T0, entries


def test_a_task_from_begun_to_done() -> None:
    found = state_of(entries(Begun(at=T0, task="a"), Done(at=T0 + 50, task="a"))).of("a")
    assert found == TaskState(State.COMPLETED, T0, T0 + 50, 50)


def test_a_duration_that_was_said_counts_more_than_the_clock() -> None:
    found = state_of(entries(Begun(at=T0, task="a"), Done(at=T0 + 50, task="a", took_min=20))).of("a")
    assert found.took_min == 20


def test_done_without_begun_has_no_duration() -> None:
    assert state_of(entries(Done(at=T0, task="a"))).of("a") == TaskState(State.COMPLETED, None, T0)


def test_recurring_care_counts_each_time_once() -> None:
    found = state_of(
        entries(*(Done(at=T0 + at, task="a", time=time) for at, time in ((0, 1), (9, 2), (12, 2))))
    ).of("a")
    assert found.state is State.IN_PROCESS
    assert found.times == ((1, T0), (2, T0 + 9))


def test_dropped_then_done_after_all() -> None:
    records = entries(Dropped(at=T0, task="a", reason="no"), Done(at=T0 + 5, task="a"))
    assert state_of(records[:1]).of("a") == TaskState(State.CANCELLED, reason="no")
    assert state_of(records).of("a").state is State.COMPLETED


def test_a_hold_point_keeps_who_signed_and_why() -> None:
    met = Met(at=T0, task="a", by="Ines", reason="meter broken", lacking=("ph must be 8",))
    assert state_of(entries(met)).of("a") == TaskState(
        State.COMPLETED, None, T0, by="Ines", reason="meter broken", lacking=("ph must be 8",)
    )


def test_undo_and_its_undo() -> None:
    rows = entries(Begun(at=T0, task="a"), Undo(at=T0, line=1), Undo(at=T0, line=2))
    assert state_of(rows[:2]).of("a") == TaskState()
    assert state_of(rows).of("a").state is State.IN_PROCESS


def test_an_undo_reaches_back_only() -> None:
    rows = entries(Undo(at=T0, line=2), Note(at=T0, text="later"), Undo(at=T0, line=3), Undo(at=T0, line=99))
    assert [entry.line for entry in effective(rows)] == [2]


def test_who_is_back_is_out_on_the_other_days_only_in_whatever_order_it_came() -> None:
    def day(number: int) -> date:
        return date(2027, 3, number)

    out = Out(at=T0, person="tom", first=day(12), last=day(15))
    back = Back(at=T0 + 30, person="tom", first=day(13), last=day(13))
    left = (replace(out, last=day(12)), replace(out, first=day(14)))
    assert state_of(entries(out, back)).facts == state_of(entries(back, out)).facts == left
    again = Out(at=T0 + 60, person="tom", first=day(13), last=day(13))
    assert state_of(entries(out, back, again)).facts == (*left, again)
    other: Record = replace(back, person="ines")
    assert state_of(entries(out, other, replace(back, first=day(1), last=day(11)))).facts == (out,)
    assert state_of(entries(out, replace(back, first=day(1), last=day(30)))).facts == ()


def test_what_works_again_works_in_whatever_order_it_came() -> None:
    rows = (Works(at=T0 + 9, what="vehicle", name="van"), Failed(at=T0, what="vehicle", name="van"))
    assert state_of(entries(*rows)).failures == ()
    assert state_of(entries(rows[1])).failures == rows[1:]


def test_the_state_of_nothing() -> None:
    assert state_of(()).last is None
    assert state_of(()).of("a") == TaskState()


def test_a_container_has_no_air_until_it_is_on_and_a_mended_device_gives_back_only_its_own() -> None:
    off = Tended(at=T0 + 5, container="B1", what="air-off")
    on = Tended(at=T0 + 30, container="B1", what="air-on")
    dead = Note(at=T0, text="B1: device dead", trouble="device-dead", container="B1")
    mended = Works(at=T0 + 20, what="device-dead", name="B1")
    for records, airless in (
        ((off,), {"B1": T0 + 5}),
        ((dead,), {"B1": T0}),
        ((off, dead), {"B1": T0}),
        ((dead, mended), {}),
        ((off, dead, mended), {"B1": T0 + 5}),
        ((off, dead, on), {}),
        ((on, off, dead, mended, replace(off, at=T0 + 40)), {"B1": T0 + 40}),
    ):
        assert state_of(entries(*records)).airless == airless
    assert state_of(entries(off, dead, on)).troubles == (dead,)
    assert state_of(entries(dead, mended)).troubles == ()
