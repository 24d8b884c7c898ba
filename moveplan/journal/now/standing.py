"""How the tasks of an accepted schedule stand to each other now: what is through, and what waits for what.

Computed from the records and the network; the clock only ends least gaps and waits that run by themselves.  A wait
that somebody logged as begun ends when somebody logs its end.  A task that nobody logged is taken for done once
something that waits for it has begun; a hold point never is.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from moveplan.journal.file.snapshot import PlannedTask, Snapshot, Tie
from moveplan.journal.state import JournalState, TaskState
from moveplan.network.link import Relation
from moveplan.network.task import Kind, State
from moveplan.times import local_day, to_local

OPEN = (State.NEEDS_ACTION, State.IN_PROCESS)


def state_in(state: JournalState, task: PlannedTask) -> TaskState:
    """Tell how far a task is; recurring care is done with its last time."""
    found = state.of(task.id)
    if found.state is State.IN_PROCESS and len(found.times) >= task.times > 1:
        last = max(at for _, at in found.times)
        return TaskState(State.COMPLETED, found.begun, last, found.took_min, found.times)
    return found


@dataclass(frozen=True, slots=True)
class Wait:
    """One thing that a task waits for.

    Parameters
    ----------
    before : PlannedTask
        What comes before it.
    begin : bool
        Whether the begin of that is enough.
    since, until : int or None
        Where it has ended, or begun: when, and until when it holds the other back all the same, UTC; None: not known
        yet. [min]
    """

    before: PlannedTask
    begin: bool = False
    since: int | None = None
    until: int | None = None

    @property
    def weight(self) -> tuple[bool, bool, int]:
        """How much it holds back: which of two waits for the same counts."""
        return self.until is None, not self.begin, self.until or 0


@dataclass(frozen=True, slots=True)
class Standing:
    """How all tasks stand now.

    Parameters
    ----------
    tasks : Mapping of str to PlannedTask
        By id, in order of their planned start.
    ties : Mapping of str to tuple of Tie
        What each task waits for.
    states : Mapping of str to TaskState
        As the records say.
    unsaid : Mapping of str to str
        Tasks that nobody logged and that are taken for done, each with a task that waited for it and has begun.
    begun, ended : Mapping of str to int
        When tasks began and ended, as far as they have, waits that run by themselves included, UTC. [min]
    now : int
        UTC. [min]
    """

    tasks: Mapping[str, PlannedTask]
    ties: Mapping[str, tuple[Tie, ...]]
    states: Mapping[str, TaskState]
    unsaid: Mapping[str, str]
    begun: Mapping[str, int]
    ended: Mapping[str, int]
    now: int

    def is_open(self, name: str) -> bool:
        """Whether a task is still to be done."""
        return self.states[name].state in OPEN and name not in self.unsaid and name not in self.ended

    def runs(self, name: str) -> bool:
        """Whether a task has begun and not ended."""
        return self.is_open(name) and name in self.begun and self.tasks[name].times == 1

    def waits(self, name: str) -> tuple[Wait, ...]:
        """Give what is not through yet of all that a task waits for, each task once."""
        waits: dict[str, Wait] = {}
        for tie in self.ties.get(name, ()):
            until = self._through(tie)
            if until is None or until > self.now:
                since = None if until is None else self.ended.get(tie.before, self.begun.get(tie.before))
                one = Wait(self.tasks[tie.before], tie.relation is not Relation.FINISHTOSTART, since, until)
                waits[tie.before] = max(waits.get(tie.before, one), one, key=lambda wait: wait.weight)
        return tuple(waits.values())

    def waits_for(self, name: str) -> tuple[str, ...]:
        """Name what is not through yet of all that a task waits for."""
        return tuple(wait.before.id for wait in self.waits(name))

    def free_at(self, name: str) -> int | None:
        """Moment from which all that a task waits for is through, UTC; None: not known yet. [min]."""
        moments = [self._through(tie) for tie in self.ties.get(name, ())]
        known = [at for at in moments if at is not None]
        return None if len(known) < len(moments) else max(known, default=self.tasks[name].start)

    def open_before(self, name: str) -> tuple[str, ...]:
        """Name all open tasks that come before a task, the nearest first."""
        found: dict[str, None] = {}
        waiting = [name]
        while waiting:
            for before in self.waits_for(waiting.pop(0)):
                if before not in found and self.is_open(before):
                    found[before] = None
                    waiting.append(before)
        return tuple(found)

    def unlogged(self, zone: ZoneInfo) -> PlannedTask | None:
        """Find the last of what is open of the days before; None: something was logged then, or nothing is open."""
        today = local_day(to_local(self.now, zone).date(), zone).start
        logged = [at for one in self.states.values() for at in (one.begun, one.done) if at is not None]
        rows = [
            task
            for name, task in self.tasks.items()
            if self.is_open(name) and task.times == 1 and not task.alone and task.finish <= today
        ]
        if min(logged, default=today) < today:
            return None
        return max(rows, key=lambda task: (task.start, task.number), default=None)

    def over_by(self, name: str) -> int:
        """Moment by which a task that nobody logged was over, as what waits for it had begun, UTC. [min]."""
        after = self.unsaid[name]
        return self.begun[after] if after in self.begun else self.over_by(after)

    def _through(self, tie: Tie) -> int | None:
        """Moment from which a tie holds its task back no more; None: not known yet."""
        before = self.tasks[tie.before]
        if self.states[tie.before].state is State.CANCELLED or tie.before in self.unsaid:
            return self.now
        after = self.tasks[tie.after]
        begun, ended = self.begun.get(tie.before), self.ended.get(tie.before)
        if tie.relation is Relation.FINISHTOSTART:
            return None if ended is None else ended + tie.gap_min
        if tie.relation is Relation.STARTTOSTART:
            return None if begun is None else begun + tie.gap_min
        if tie.relation is Relation.FINISHTOFINISH and ended is not None:
            return ended + tie.gap_min - after.minutes
        return (
            None if begun is None else begun + (0 if ended else tie.gap_min + before.minutes - after.minutes)
        )


def standing(snapshot: Snapshot, state: JournalState, now: int) -> Standing:
    """Work out how all tasks stand.

    Parameters
    ----------
    now : int
        UTC. [min]
    """
    tasks = {one.id: one for one in sorted(snapshot.tasks, key=lambda one: (one.start, one.finish, one.id))}
    states = {name: state_in(state, task) for name, task in tasks.items()}
    ties = {
        after: tuple(tie for tie in several if tie.before in tasks)
        for after, several in snapshot.ties.items()
        if after in tasks
    }
    begun: dict[str, int] = {}
    ended: dict[str, int] = {}
    for name, task in tasks.items():
        _as_logged(task, states[name], begun, ended, now)
    found = Standing(tasks, ties, states, _unsaid(tasks, ties, states), begun, ended, now)
    while any(_runs_alone(found, task, begun, ended) for task in tasks.values() if task.alone):
        pass
    return found


def _as_logged(
    task: PlannedTask, found: TaskState, begun: dict[str, int], ended: dict[str, int], now: int
) -> None:
    first = found.begun if found.begun is not None else found.done
    if first is not None:
        begun[task.id] = first
    if found.state is State.COMPLETED and found.done is not None:
        ended[task.id] = found.done
    elif task.times > 1 and found.state in OPEN and task.finish <= now:
        ended[task.id] = task.finish  # care that was missed is not made up for
        begun.setdefault(task.id, task.start)


def _runs_alone(found: Standing, task: PlannedTask, begun: dict[str, int], ended: dict[str, int]) -> bool:
    """Let a wait run by itself once all that it waits for is through; whether that is news."""
    if task.id in begun or found.states[task.id].state not in OPEN:
        return False
    since = found.free_at(task.id)
    over = found.over_by(task.id) if task.id in found.unsaid else found.now
    if task.id in found.unsaid:
        since = over if since is None else min(since, over)
    if since is None or since > found.now:
        return False
    begun[task.id] = since
    if task.id in found.unsaid or since + task.minutes <= found.now:
        ended[task.id] = min(since + task.minutes, over)
    return True


def _unsaid(
    tasks: Mapping[str, PlannedTask], ties: Mapping[str, tuple[Tie, ...]], states: Mapping[str, TaskState]
) -> dict[str, str]:
    over: dict[str, str] = {}
    since = {
        name: one.begun if one.begun is not None else one.done
        for name, one in states.items()
        if tasks[name].times == 1
    }
    waiting = [(name, at) for name, at in since.items() if at is not None]
    while waiting:
        after, at = waiting.pop()
        for tie in ties.get(after, ()):
            before = tasks[tie.before]
            if (
                tie.relation is Relation.FINISHTOSTART
                and states[tie.before].state in OPEN
                and before.kind is not Kind.HOLD_POINT
                and before.times == 1
                and tie.before not in over
                and (since[tie.before] or at) <= at  # what was begun after that was not over then
            ):
                over[tie.before] = after
                waiting.append((tie.before, at))
    return over
