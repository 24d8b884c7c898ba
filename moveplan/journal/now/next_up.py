"""What to do now, by what is done: whose turn it is, what it waits for, how late the day runs, and where it ends.

Reads the accepted schedule and the records; never solves, and imports nothing heavy.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from moveplan.journal.file.snapshot import PlannedTask, Snapshot
from moveplan.journal.now.held_up import held_until, stuck
from moveplan.journal.now.standing import Standing, Wait, standing
from moveplan.journal.now.takeover import TakenOver, not_there, taken_over
from moveplan.journal.now.travelling import Travelling, left_in, pressing, travelling
from moveplan.journal.now.turns import Item, Turn, coming_to, turns_of
from moveplan.journal.now.ways_on import WaysOn, ways_on
from moveplan.journal.records import MovedDates, MovedDay, Note
from moveplan.journal.rest.ahead import DAYS_MIN, Ahead, ahead_of
from moveplan.journal.state import JournalState
from moveplan.journal.waters.judged import lacking
from moveplan.network.task import Kind, State
from moveplan.times import to_local

NEAR_MIN = 7 * 1440
"""Hold points planned within this are near. [min]"""


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """A hold point that is near.

    Parameters
    ----------
    task : PlannedTask
        The hold point.
    at : int
        When it is expected, UTC. [min]
    lacks : tuple of str
        Limits that the last readings do not show to be kept.
    waits : tuple of Wait
        What has to be done before.
    """

    task: PlannedTask
    at: int
    lacks: tuple[str, ...]
    waits: tuple[Wait, ...]


@dataclass(frozen=True, slots=True)
class NextUp:
    """What to do now and next.

    Parameters
    ----------
    now : int
        UTC. [min]
    done, total : int
        How many tasks are done, and how many there are, dropped ones left out.
    behind_min : int
        By how much later than planned what the day is for is forecast. [min]
    pace : float
        How much longer the day's work takes than planned.
    milestones : tuple of (str, int, int)
        Those that are ahead: name, planned and expected, UTC. [min]
    running : tuple of Item
        What has begun, waits that run by themselves included.
    turns : tuple of Turn
        Of each person what is theirs now, then what follows.
    coming : Mapping of str to int
        When the day of those begins who are not there yet, UTC. [min]
    away : frozenset of str
        Who is recorded as not there today.
    unsaid : tuple of (PlannedTask, PlannedTask)
        What nobody logged though what waits for it has begun, each with that; waits that run by themselves are not
        asked for.
    hold_points : tuple of HoldPoint
        Near ones, in order.
    travelling : tuple of Travelling
        Those without air first, then the least time left.
    lost : tuple of (str, int)
        Animals that are fewer than planned in words that were agreed: name of the group, and by how many.
    troubles : tuple of Note
        What went wrong with devices and containers and was not mended.
    ways_on : tuple of WaysOn
        What there is to do about each failure.
    taken_over : tuple of TakenOver
        Tasks within a day of now whose crew is another than planned, because somebody is not there.
    unlogged : PlannedTask or None
        The last that was planned before today, where nothing was logged before today.
    moved : tuple of MovedDates or MovedDay
        Moves of the moving day that the accepted schedule does not know: its hours send nobody any more.
    """

    now: int
    done: int
    total: int
    behind_min: int
    pace: float
    milestones: tuple[tuple[str, int, int], ...]
    running: tuple[Item, ...]
    turns: tuple[Turn, ...]
    coming: Mapping[str, int]
    away: frozenset[str]
    unsaid: tuple[tuple[PlannedTask, PlannedTask], ...]
    hold_points: tuple[HoldPoint, ...]
    travelling: tuple[Travelling, ...]
    lost: tuple[tuple[str, int], ...] = ()
    troubles: tuple[Note, ...] = ()
    ways_on: tuple[WaysOn, ...] = ()
    taken_over: tuple[TakenOver, ...] = ()
    unlogged: PlannedTask | None = None
    moved: tuple[MovedDates | MovedDay, ...] = ()

    @property
    def first(self) -> tuple[Turn, ...]:
        """Of each person the first."""
        return tuple(
            turn for at, turn in enumerate(self.turns) if at == 0 or self.turns[at - 1].person != turn.person
        )


def next_up(snapshot: Snapshot, state: JournalState, now: int) -> NextUp:
    """Work out what to do now.

    Parameters
    ----------
    now : int
        UTC. [min]
    """
    snapshot, over = taken_over(snapshot, state, now)
    found = standing(snapshot, state, now)
    held = held_until(state.failures, snapshot, found)
    rest = ahead_of(found, held)
    counted = [name for name in found.tasks if found.states[name].state is not State.CANCELLED]
    items = _items(found, rest)
    waiting = stuck(state.failures, snapshot, found)
    closed = travelling(snapshot, state, found, rest)
    zone = ZoneInfo(snapshot.zone)
    coming = coming_to(snapshot.people, found, zone)
    turns = turns_of(snapshot.people, items, found, waiting, pressing(closed), coming)
    if state.moved:
        turns = tuple(turn for turn in turns if turn.runs or (turn.item.time and not turn.waits))
    running = [Item(found.tasks[name], rest.spans[name]) for name in counted if found.runs(name)]
    return NextUp(
        now=now,
        done=sum(found.states[name].state is State.COMPLETED for name in counted),
        total=len(counted),
        behind_min=0 if state.moved else _behind(snapshot, found, rest),
        pace=rest.pace,
        milestones=tuple(
            (name, found.tasks[task].finish, rest.spans[task].finish)
            for name, task in snapshot.milestones.items()
            if task in found.tasks and found.is_open(task)
        ),
        running=tuple(sorted(running, key=lambda item: (item.span.finish, item.task.id))),
        turns=turns,
        coming=coming,
        away=frozenset(not_there(state, to_local(now, zone).date())),
        unsaid=tuple(
            (found.tasks[name], found.tasks[after])
            for name, after in found.unsaid.items()
            if not found.tasks[name].alone
        ),
        hold_points=() if state.moved else tuple(_hold_points(found, state, rest)),
        travelling=closed,
        lost=tuple(_lost(snapshot, state)),
        troubles=state.troubles,
        ways_on=ways_on(snapshot, state, found, held),
        taken_over=tuple(row for row in over if row.task.start - now <= DAYS_MIN and not state.moved),
        unlogged=None if state.moved else found.unlogged(zone),
        moved=state.moved,
    )


def _items(found: Standing, rest: Ahead) -> list[Item]:
    """List what is open, in planned order; of recurring care the time that is due, then those to come."""
    items = []
    for name, task in found.tasks.items():
        if not found.is_open(name):
            continue
        if task.times == 1:
            items.append(Item(task, rest.spans[name]))
            continue
        done = dict(found.states[name].times)
        for number, piece in enumerate(task.segments, start=1):
            over = number < len(task.segments) and task.segments[number].start <= found.now
            if number not in done and not over:
                items.append(Item(task, piece, number))
    return sorted(items, key=_planned_start)


def _planned_start(item: Item) -> tuple[int, int, str]:
    start = item.span.start if item.time else item.task.start
    return start, item.task.number, item.task.id


def _behind(snapshot: Snapshot, found: Standing, rest: Ahead) -> int:
    """Tell how late the day runs: by how much later than planned what it is for is forecast, slack taken off.

    That is the opening of each container and the end at which all are settled; where a plan has neither, what is
    planned last.
    """
    day = [
        name
        for name, task in found.tasks.items()
        if found.is_open(name) and task.times == 1 and abs(task.start - found.now) <= DAYS_MIN
    ]
    settled = snapshot.milestones.get("settled")
    ends = {settled, *(stay.open_task for stay in snapshot.stays)} if settled else set(day[-1:])
    return max([0, *(rest.spans[name].finish - found.tasks[name].finish for name in day if name in ends)])


def _lost(snapshot: Snapshot, state: JournalState) -> Iterator[tuple[str, int]]:
    for stay in {one.group: one for one in snapshot.stays}.values():
        less = stay.count - sum(left_in(stay, state.lost.get(stay.group, ())).values())
        if less > 0:
            yield stay.name, less


def _hold_points(found: Standing, state: JournalState, rest: Ahead) -> Iterator[HoldPoint]:
    titles = {name: task.title for name, task in found.tasks.items()}
    for name, task in found.tasks.items():
        if task.kind is Kind.HOLD_POINT and found.is_open(name) and task.start - found.now <= NEAR_MIN:
            lacks = tuple(map(str, lacking(task.gates, state.readings, found.now, found.ended, titles)))
            yield HoldPoint(task, rest.spans[name].start, lacks, found.waits(name))
