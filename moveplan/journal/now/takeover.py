"""Who takes over where somebody is not there: out of every crew that is not done, from that moment on.

What two were to do is done by those who are left, joined by whoever has nothing planned then, or has a skill that
nobody left in the crew has.  Fewer hands take longer.  What has begun stays with those who were there then, whoever
is back since.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from zoneinfo import ZoneInfo

from moveplan.journal.file.snapshot import PlannedTask, Snapshot
from moveplan.journal.now.standing import OPEN, Standing, standing, state_in
from moveplan.journal.records import Out
from moveplan.journal.state import JournalState
from moveplan.network.task import Kind, State
from moveplan.times import Interval, to_local

Lacks = tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class TakenOver:
    """One task whose crew is another than planned.

    Parameters
    ----------
    task : PlannedTask
        With the crew that is there.
    out, joins : tuple of str
        Ids of who is not there, and of who comes in.
    planned : int
        How many people it takes.
    lacks : tuple of (str, int)
        Skills of which too few are there, and how many are missing.
    """

    task: PlannedTask
    out: tuple[str, ...]
    joins: tuple[str, ...]
    planned: int
    lacks: Lacks

    @property
    def cannot(self) -> bool:
        """Whether those who are there cannot do it: nobody is left, or nobody with a skill that it needs."""
        return not self.task.people or bool(self.lacks)


def taken_over(snapshot: Snapshot, state: JournalState, now: int) -> tuple[Snapshot, tuple[TakenOver, ...]]:
    """Take who is not there out of every crew.

    Parameters
    ----------
    now : int
        UTC. [min]

    Returns
    -------
    Snapshot
        With the crews that are there; the same where everybody is.
    tuple of TakenOver
        The tasks of others, in planned order.
    """
    if not state.returned and not any(isinstance(one, Out) for one in state.facts):
        return snapshot, ()
    kept = dict[str, TakenOver]()
    away = not_there(state, to_local(now, ZoneInfo(snapshot.zone)).date())
    for task in sorted(snapshot.tasks, key=lambda one: one.id):
        found = state_in(state, task)
        if found.state is State.IN_PROCESS and found.begun is not None and task.times == 1:
            then = (row for row in _Away(snapshot, state, found.begun, found.begun).rows())
            kept |= {row.task.id: _rejoined(row, away) for row in then if row.task.id == task.id}
            snapshot = _replaced(snapshot, kept)
    rows = {name: row for name, row in kept.items() if not away.isdisjoint(row.out)}
    rows |= {row.task.id: row for row in _Away(snapshot, state, now).rows()}
    snapshot = _replaced(snapshot, rows)
    tasks = tuple(task for task in snapshot.tasks if task.people or task.kind is not Kind.REST)
    ordered = sorted(rows.values(), key=lambda row: (row.task.start, row.task.number, row.task.id))
    return replace(snapshot, tasks=tasks), tuple(one for one in ordered if one.task.kind is not Kind.REST)


def standing_there(snapshot: Snapshot, state: JournalState, now: int) -> Standing:
    """Work out how all tasks stand for those who are there: nothing waits for a break of somebody who is not.

    Parameters
    ----------
    now : int
        UTC. [min]
    """
    return standing(taken_over(snapshot, state, now)[0], state, now)


def _rejoined(row: TakenOver, away: Collection[str]) -> TakenOver:
    """Let who is back join what was begun without them, where a skill is short in it."""
    back = tuple(one for one in row.out if one not in away) if row.lacks else ()
    return replace(row, task=replace(row.task, people=(*row.task.people, *back)))


def _replaced(snapshot: Snapshot, rows: Mapping[str, TakenOver]) -> Snapshot:
    return replace(
        snapshot, tasks=tuple(rows[task.id].task if task.id in rows else task for task in snapshot.tasks)
    )


def not_there(state: JournalState, day: date, then: int | None = None) -> set[str]:
    """Name by id who is out on a day.

    Parameters
    ----------
    then : int or None
        As it was known at this moment, UTC; None: as it is known now. [min]
    """
    outs = [one for one in state.facts if isinstance(one, Out)]
    if then is not None:
        outs += [out for out, back in state.returned if back > then]
        outs = [one for one in outs if one.at <= then]
    return {one.person for one in outs if one.first <= day <= one.last}


class _Away:
    """Crews on days on which somebody is not there."""

    def __init__(self, snapshot: Snapshot, state: JournalState, now: int, then: int | None = None) -> None:
        self._state = state
        self._then = then
        self._now = now
        self._zone = ZoneInfo(snapshot.zone)
        self._skills = snapshot.skills
        self._people = sorted(snapshot.people)
        ordered = sorted(snapshot.tasks, key=lambda one: (one.start, one.number, one.id))
        self._open = [task for task in ordered if self._is_open(task)]
        self._busy: dict[str, list[tuple[str, Interval]]] = {person: [] for person in self._people}
        for task in self._open:
            for person in task.people:
                self._busy.setdefault(person, []).append((task.id, self._span(task)))

    def _is_open(self, task: PlannedTask) -> bool:
        found = state_in(self._state, task)
        later = self._then is not None and found.done is not None and found.done > self._then
        return found.state in OPEN or later

    def rows(self) -> Iterator[TakenOver]:
        """Go through what is open, in planned order: who takes one task over is busy then for the next."""
        for task in self._open:
            span = self._span(task)
            out = self._out(span)
            if out.isdisjoint(task.people):
                continue
            left = tuple(person for person in task.people if person not in out)
            hands, needs = task.hands or len(task.people), dict(task.needs)
            joins = tuple(self._joining(task, left, span, self._here(span, out)))
            for person in joins:
                self._busy[person].append((task.id, span))
            crew = (*left, *joins)
            lacks = tuple((skill, short) for skill, short in self._short(crew, needs).items() if short > 0)
            yield TakenOver(
                _with(task, crew, hands), tuple(one for one in task.people if one in out), joins, hands, lacks
            )

    def _span(self, task: PlannedTask) -> Interval:
        """When it is to happen: planned, or from now on where that is over; of recurring care its next time."""
        piece = next((one for one in task.segments if one.finish > self._now), task.segments[-1])
        start = max(piece.start, min(self._now, piece.start + 1440))
        return Interval(start, max(piece.finish, start))

    def _out(self, span: Interval) -> set[str]:
        return not_there(self._state, to_local(span.start, self._zone).date(), self._then)

    def _here(self, span: Interval, out: Collection[str]) -> list[str]:
        """Name who has something to do on that day anyway, first who has nothing planned at that time."""
        day = to_local(span.start, self._zone).date()
        here = [
            person
            for person in self._people
            if person not in out
            and any(to_local(one.start, self._zone).date() == day for _, one in self._busy[person])
        ]
        return sorted(here, key=lambda person: not self._free(person, span))

    def _free(self, person: str, span: Interval) -> bool:
        return not any(one.overlaps(span) for _, one in self._busy[person])

    def _joining(
        self, task: PlannedTask, left: tuple[str, ...], span: Interval, here: list[str]
    ) -> Iterator[str]:
        """Choose who joins: for each skill that is short who has it, then who is free, up to the planned number."""
        hands, needs, crew = task.hands or len(task.people), dict(task.needs), list(left)
        if task.kind is Kind.REST:
            return
        for person in here:
            short = {skill for skill, count in self._short(crew, needs).items() if count > 0}
            if person not in crew and not short.isdisjoint(self._skills.get(person, ())):
                crew.append(person)
                yield person
        for person in here:
            if person not in crew and len(crew) < hands and (self._free(person, span) or not crew):
                crew.append(person)
                yield person

    def _short(self, crew: Iterable[str], needs: Mapping[str, int]) -> dict[str, int]:
        able = {skill: sum(skill in self._skills.get(one, ()) for one in crew) for skill in needs}
        return {skill: count - able[skill] for skill, count in needs.items()}


def _with(task: PlannedTask, crew: tuple[str, ...], hands: int) -> PlannedTask:
    """Give a task another crew; work with fewer hands lasts longer in proportion."""
    if task.kind is not Kind.WORK or task.times > 1 or not 0 < len(crew) < hands:
        return replace(task, people=crew)
    slower_min = round((hands / len(crew) - 1.0) * task.minutes)
    last = task.segments[-1]
    return replace(
        task,
        people=crew,
        segments=(*task.segments[:-1], Interval(last.start, last.finish + slower_min)),
        minutes=task.minutes + slower_min,
        slower_min=slower_min,
    )
