"""Any sequence of records leaves plan and journal consistent, whatever is cut off, undone or written twice."""

from __future__ import annotations

import contextlib
import tempfile
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from moveplan.errors import MoveplanError
from moveplan.journal.file.coding import decoded, encoded
from moveplan.journal.file.store import append, journal_path, read_journal
from moveplan.journal.now.failure import Failed, Works
from moveplan.journal.now.next_up import next_up
from moveplan.journal.records import (
    Begun,
    Counted,
    Done,
    Dropped,
    Entry,
    Met,
    MovedDates,
    MovedDay,
    MovedMoment,
    Note,
    Opened,
    Out,
    Reading,
    Record,
    Shut,
    Spent,
    Tended,
    Undo,
    Vehicle,
)
from moveplan.journal.state import JournalState, state_of
from moveplan.journal.taking.vetting import undo_of, vetted
from moveplan.network.task import State
from tests.journal.builders import PLAN_ID, T0, accepted, known, plan_file, snapshot

TASKS = [task.id for task in snapshot().tasks]
MOMENTS = st.integers(T0 - 3000, T0 + 9000)
TEXTS = st.text(max_size=40)
NAMES = st.sampled_from([*TASKS, "gone"])
DAYS = st.dates(date(2026, 1, 1), date(2028, 1, 1))
RECORDS = st.one_of(
    st.builds(Begun, at=MOMENTS, task=NAMES),
    st.builds(Done, at=MOMENTS, task=NAMES, took_min=st.none() | st.integers(0, 5000), time=st.none()),
    st.builds(Done, at=MOMENTS, task=st.just("daily-look"), time=st.integers(1, 4)),
    st.builds(Dropped, at=MOMENTS, task=NAMES, reason=TEXTS),
    st.builds(Met, at=MOMENTS, task=NAMES, by=TEXTS, reason=TEXTS),
    st.builds(
        Reading,
        at=MOMENTS,
        what=st.just("temperature"),
        value=st.floats(0, 40),
        unit=st.just("°C"),
        said=TEXTS,
        system=st.sampled_from(["", "reef"]),
    ),
    st.builds(MovedMoment, at=MOMENTS, what=st.just("keys-back"), to=MOMENTS),
    st.builds(MovedDay, at=MOMENTS, what=st.just("move-day"), day=DAYS),
    st.builds(MovedDates, at=MOMENTS, days=st.integers(-400, 400)),
    st.builds(Out, at=MOMENTS, person=st.sampled_from(["ines", "tim"]), first=DAYS, last=DAYS),
    st.builds(Vehicle, at=MOMENTS, vehicle=st.just("van"), payload_kg=st.none() | st.floats(1, 9000)),
    st.builds(Counted, at=MOMENTS, group=st.just("clowns"), change=st.integers(-3, 3), reason=TEXTS),
    st.builds(Shut, at=MOMENTS, group=st.just("clowns")),
    st.builds(Opened, at=MOMENTS, group=st.just("clowns")),
    st.builds(Shut, at=MOMENTS, container=st.sampled_from(["B1", "B2"])),
    st.builds(Opened, at=MOMENTS, container=st.sampled_from(["B1", "B9"])),
    st.builds(Tended, at=MOMENTS, container=st.just("B1"), what=st.just("moved"), where=TEXTS),
    st.builds(Spent, at=MOMENTS, amount=st.just("12.50"), item=TEXTS),
    st.builds(Note, at=MOMENTS, text=TEXTS),
    st.builds(
        Failed,
        at=MOMENTS,
        what=st.sampled_from(["vehicle", "tank", "power"]),
        name=st.sampled_from(["van", "reef", "mill"]),
        until=st.none() | MOMENTS,
    ),
    st.builds(Works, at=MOMENTS, what=st.just("vehicle"), name=st.just("van")),
)


@given(record=RECORDS, source=TEXTS)
@settings(max_examples=200)
def test_every_record_survives_its_line(record: Record, source: str) -> None:
    line = encoded(record, PLAN_ID, source)
    assert "\n" not in line
    assert decoded(line, PLAN_ID) == (record, source)


@given(records=st.lists(RECORDS | st.builds(Undo, at=MOMENTS, line=st.integers(0, 30)), max_size=25))
@settings(max_examples=100)
def test_any_records_have_a_state_and_something_next(records: Sequence[Record]) -> None:
    entries = [Entry(number, record) for number, record in enumerate(records, start=1)]
    state = state_of(entries)
    assert state_of(entries) == state
    found = next_up(snapshot(), state, T0)
    assert 0 <= found.done <= found.total <= len(TASKS)


@given(records=st.lists(RECORDS, min_size=1, max_size=8), at=st.data())
@settings(max_examples=60)
def test_undoing_everything_leaves_nothing(records: Sequence[Record], at: st.DataObject) -> None:
    entries = [Entry(number, record) for number, record in enumerate(records, start=1)]
    order = at.draw(st.permutations(range(1, len(records) + 1)))
    undone = [Entry(len(records) + n, Undo(at=T0, line=line)) for n, line in enumerate(order, start=1)]
    assert state_of([*entries, *undone]) == JournalState()


class Journals(RuleBasedStateMachine):
    """Logs like the command line does, over a file that crashes now and then."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.plan = plan_file(Path(self.folder.name))
        self.written: list[Record] = []
        self.now = T0

    def teardown(self) -> None:
        self.folder.cleanup()

    @initialize()
    def accept(self) -> None:
        self._add(accepted())

    def _add(self, record: Record) -> None:
        append(self.plan, PLAN_ID, lambda _: [(record, "")])
        self.written.append(record)

    @rule(record=RECORDS, hours=st.integers(0, 6))
    def log(self, record: Record, hours: int) -> None:
        self.now += 60 * hours
        state = state_of(read_journal(self.plan, PLAN_ID).entries)
        with contextlib.suppress(MoveplanError):
            self._add(vetted(record, state, known(), self.now))

    @rule(back=st.integers(0, 5))
    def undo(self, back: int) -> None:
        entries = read_journal(self.plan, PLAN_ID).entries
        line = entries[-1 - back].line if back < len(entries) else None
        with contextlib.suppress(MoveplanError):
            self._add(undo_of(line, entries, self.now))

    @rule(cut=st.integers(1, 30))
    def crash_while_writing(self, cut: int) -> None:
        half = encoded(Note(at=self.now, text="never finished"), PLAN_ID)[:-cut]
        with journal_path(self.plan).open("ab") as file:
            content = journal_path(self.plan).read_bytes()
            file.write((b"" if content.endswith(b"\n") else b"\n") + half.encode())

    @invariant()
    def nothing_is_lost(self) -> None:
        journal = read_journal(self.plan, PLAN_ID)
        assert [entry.record for entry in journal.entries] == self.written
        again = read_journal(self.plan, PLAN_ID)
        assert state_of(again.entries) == state_of(journal.entries)
        lines = [entry.line for entry in journal.entries]
        assert lines == sorted(set(lines))

    @invariant()
    def what_is_done_was_said_to_be(self) -> None:
        entries = read_journal(self.plan, PLAN_ID).entries
        state = state_of(entries)
        said = {entry.record.task for entry in entries if isinstance(entry.record, Done | Met)}
        assert {name for name, found in state.tasks.items() if found.state is State.COMPLETED} <= said
        assert self.plan.read_text() == f"id: {PLAN_ID}\ntitle: Small invented reef\n"


TestJournals = Journals.TestCase
TestJournals.settings = settings(max_examples=1000, stateful_step_count=12)
