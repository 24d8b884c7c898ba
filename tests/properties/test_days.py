"""Days on which anything happens: whatever is logged, taken back, moved and accepted, a build has an answer."""

from __future__ import annotations

import contextlib
import re

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule

from moveplan import pipeline
from moveplan.errors import MoveplanError, PlanFileError
from moveplan.journal.file.agreed import agreed
from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.failure import Failed, Works
from moveplan.journal.now.next_up import next_up
from moveplan.journal.now.standing import standing
from moveplan.journal.records import (
    Accepted,
    Counted,
    Entry,
    MovedDates,
    Opened,
    Out,
    Record,
    Shut,
)
from moveplan.journal.state import JournalState, state_of
from moveplan.journal.taking.answers import Answers, signers_in
from moveplan.journal.taking.known import known_of
from moveplan.journal.taking.up_to import up_to
from moveplan.journal.taking.vetting import undo_of, vetted
from moveplan.network.task import State
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.outlook import Outlook
from moveplan.practice.compose import project_of
from moveplan.practice.under_way.story import Story, told
from moveplan.times import to_local
from tests.journal.replay import EXAMPLES, SETTINGS, Replay, outlook_of

EXAMPLE = "small_tank_move"
PEOPLE = ("dara", "milo")


def _history() -> list[Record]:
    replay = Replay(outlook_of(EXAMPLE), (1.0, 1.2), seed=1)
    for _ in replay.moments():
        pass
    return replay.records


class Days(RuleBasedStateMachine):
    """Goes on with a move as it was planned, and lets come between what comes between."""

    @initialize(begun=st.sampled_from([0.0, 0.35, 0.5, 0.6, 0.7]))
    def accept_first(self, begun: float) -> None:
        self.kept: list[Snapshot] = []
        self.entries: list[Entry] = []
        self.ahead = _history()
        self.now = outlook_of(EXAMPLE).now
        self._accept(outlook_of(EXAMPLE))
        self._go_on(round(begun * len(self.ahead)))

    @property
    def state(self) -> JournalState:
        return state_of(self.entries)

    def _log(self, record: Record) -> None:
        with contextlib.suppress(MoveplanError):
            self._write(vetted(record, self.state, known_of(self.kept[-1]), self.now))

    def _write(self, record: Record) -> None:
        self.entries.append(Entry(len(self.entries) + 1, record))

    def _accept(self, outlook: Outlook) -> None:
        self.kept.append(snapshot_of_outlook(outlook))
        self._write(Accepted(at=self.now, schedule=snapshot_data(self.kept[-1])))

    def _go_on(self, count: int) -> None:
        for record in self.ahead[:count]:
            self.now = max(self.now, record.at)
            self._log(record)
        del self.ahead[:count]

    @rule(count=st.integers(1, 20), late_min=st.sampled_from([0, 0, 20, 90, 300]))
    def go_on(self, count: int, late_min: int) -> None:
        self._go_on(count)
        self.now += late_min

    @rule(back=st.integers(0, 2))
    def undo(self, back: int) -> None:
        line = self.entries[-1 - back].line if back < len(self.entries) - 1 else None
        with contextlib.suppress(MoveplanError):
            record = undo_of(line, tuple(self.entries), self.now)
            if not any(isinstance(one.record, Accepted) and one.line == record.line for one in self.entries):
                self._write(record)

    @rule(person=st.sampled_from(PEOPLE))
    def falls_out(self, person: str) -> None:
        day = to_local(self.now, outlook_of(EXAMPLE).project.plan.zone).date()
        self._log(Out(at=self.now, person=person, first=day, last=day))

    @rule(at=st.integers(0, 30), shut=st.booleans())
    def lid(self, at: int, shut: bool) -> None:
        numbers = sorted({number for stay in self.kept[-1].stays for number, _ in stay.containers})
        self._log((Shut if shut else Opened)(at=self.now, container=numbers[at % len(numbers)]))

    @rule(at=st.integers(0, 5))
    def loses(self, at: int) -> None:
        groups = sorted(self.kept[-1].groups)
        self._log(Counted(at=self.now, group=groups[at % len(groups)], change=-1))

    @rule(works=st.booleans())
    def vehicle(self, works: bool) -> None:
        name = next(iter(self.kept[-1].vehicles))
        self._log((Works if works else Failed)(at=self.now, what="vehicle", name=name))

    @precondition(
        lambda self: not any(self.state.of(task.id).begun for task in self.kept[-1].tasks if task.day)
    )
    @rule(weeks=st.sampled_from([1, 2]))
    def moves(self, weeks: int) -> None:
        self._log(MovedDates(at=self.now, days=7 * weeks))

    @rule(ahead=st.integers(0, 60))
    def catches_up(self, ahead: int) -> None:
        """Everything before a task is done, and every hold point on the way signed, in one call."""
        last, state = self.kept[-1], self.state
        found = standing(last, state, self.now)
        tasks = [name for name in found.tasks if found.is_open(name)]
        if not tasks:
            return
        task = tasks[ahead % len(tasks)]
        try:
            records = up_to(task, "", last, state, self.now)
        except PlanFileError as error:
            numbers = signers_in(re.findall(r"--met (\S+)", str(error)))
            signed = {one.id: numbers[str(one.number)] for one in last.tasks if str(one.number) in numbers}
            records = up_to(task, "", last, state, self.now, Answers(signed, "nothing was read"))
        for record in records:
            self._write(vetted(record, self.state, known_of(last), self.now))
        left = standing(last, self.state, self.now)
        waited = [left.tasks[name] for name in left.open_before(task)]
        assert all(one.alone or one.times > 1 for one in waited)

    @rule(accept=st.booleans())
    def build(self, accept: bool) -> None:
        state, last = self.state, self.kept[-1]
        story = Story(state, self.kept[0], last, self.now, agreed=agreed(self.kept, state))
        plan, _ = pipeline.begin(EXAMPLES / f"{EXAMPLE}.yaml", SETTINGS)
        hung, again = pipeline.renew(project_of(told(plan, story)), story, SETTINGS)
        outlook = pipeline.judge_again(hung, again, story, SETTINGS)
        assert outlook.schedule.placements or outlook.problems
        if again.late:
            assert outlook.schedule.placements
        done = {name for name, found in state.tasks.items() if found.state is State.COMPLETED}
        assert {name for name in done if name in outlook.states} <= {
            name for name, found in outlook.states.items() if found is State.COMPLETED
        }
        if accept and outlook.schedule.placements:
            self._accept(outlook)

    @rule()
    def nobody_who_is_out_is_sent(self) -> None:
        state, zone = self.state, outlook_of(EXAMPLE).project.plan.zone
        found = next_up(self.kept[-1], state, self.now)
        today = to_local(self.now, zone).date()
        out = {one.person for one in state.facts if isinstance(one, Out) and one.first <= today <= one.last}
        for turn in found.turns:
            begins = to_local(max(turn.item.span.start, self.now), zone).date()
            assert turn.person not in out or begins > today


TestDays = Days.TestCase
TestDays.settings = settings(max_examples=6, stateful_step_count=10, deadline=None)
