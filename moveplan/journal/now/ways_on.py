"""Ways on from a failure: hold where they are, mend or replace it in time, other water that runs, or a holding place.

Each is reckoned from the records and the accepted schedule, without a solver: until when the animals last where they
are, by when the failure has to be over for the rest to follow in time, and how long it takes to go back.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.another import Another, another
from moveplan.journal.now.failure import POWER, TANK, VEHICLE, Failed
from moveplan.journal.now.held_up import following_of, held_up, name_of
from moveplan.journal.now.standing import Standing
from moveplan.journal.now.travelling import Travelling, travelling
from moveplan.journal.premises import PlannedWater
from moveplan.journal.rest.ahead import ahead_of
from moveplan.journal.state import JournalState
from moveplan.network.reach import reached
from moveplan.network.task import Kind, State

FARTHEST_MIN = 4 * 1440
"""How far ahead the latest moment is looked for; animals that last so long are not what is urgent. [min]"""
RUNS_SHARE = 0.5
"""A tank with less than this share of its water, what stands in tubs included, is no way back; assumed. [-]"""


@dataclass(frozen=True, slots=True)
class Back:
    """Water that animals could go into instead.

    Parameters
    ----------
    name, place : str
        Of the tank, and where it stands.
    takes_min : int
        How long it takes to get them there: what was done since has to be undone. [min]
    runs : bool
        Whether it runs as it stands; else its water has to be poured back first.
    spare_min : int or None
        What is left of the safe times then, negative where it comes too late; None: nothing is closed. [min]
    decide_by : int or None
        The last moment to choose it, UTC; None: nothing is closed. [min]
    """

    name: str
    place: str
    takes_min: int
    runs: bool
    spare_min: int | None
    decide_by: int | None


@dataclass(frozen=True, slots=True)
class WaysOn:
    """What there is to do about one failure.

    Parameters
    ----------
    name : str
        What to print.
    held : tuple of str
        Ids of the tasks that wait for it.
    inside : bool
        Whether the tank that failed may still have animals in it.
    boxes : tuple of Travelling
        Animals in closed containers, the least time first.
    kg : float
        What these containers weigh together; 0: not known. [kg]
    aboard : bool
        Whether they stand in the vehicle that failed, or it is on the road.
    over_by : int or None
        The latest moment at which it may be over so that all are home in time, UTC; None: nothing is closed. [min]
    home_then : int or None
        When the last animal is home if it is over as planned, UTC; None: not known. [min]
    short : tuple of Travelling
        Containers that would not last if it is over as planned.
    backs : tuple of Back
        Other water, the quickest first.
    another : Another or None
        Where another vehicle may come from; None: it is no vehicle that failed.
    """

    failure: Failed
    name: str
    held: tuple[str, ...]
    inside: bool
    boxes: tuple[Travelling, ...]
    kg: float
    aboard: bool
    over_by: int | None
    home_then: int | None
    short: tuple[Travelling, ...]
    backs: tuple[Back, ...]
    another: Another | None

    @property
    def tightest(self) -> Travelling | None:
        """The container that lasts least where it stands."""
        return next((one for one in self.boxes if one.left_min is not None), None)


def ways_on(
    snapshot: Snapshot, state: JournalState, found: Standing, held: Mapping[str, int]
) -> tuple[WaysOn, ...]:
    """Reckon what there is to do about each failure.

    Parameters
    ----------
    held : Mapping of str to int
        Until when tasks are held, by all failures, UTC. [min]
    """
    return tuple(_ways(failure, snapshot, state, found, held) for failure in state.failures)


def _ways(
    failure: Failed, snapshot: Snapshot, state: JournalState, found: Standing, held: Mapping[str, int]
) -> WaysOn:
    own = held_up(failure, snapshot, found)
    rest = ahead_of(found, held)
    boxes = travelling(snapshot, state, found, rest)
    weights = snapshot.premises.weights if snapshot.premises else {}
    last = snapshot.milestones.get("settled", "")
    name = name_of(failure, snapshot)
    return WaysOn(
        failure=failure,
        name=name,
        held=tuple(task for task in found.tasks if task in own),
        inside=failure.what == TANK and _inside(failure.name, snapshot, found),
        boxes=boxes,
        kg=sum(weights.get(number, 0.0) for number in {one.number for one in boxes}),
        aboard=failure.what == VEHICLE
        and (any(one.where == name for one in boxes) or any(_on_the_road(task, found) for task in own)),
        over_by=_over_by(failure, own, snapshot, state, found, held) if own else None,
        home_then=rest.spans[last].finish if last in rest.spans and found.is_open(last) else None,
        short=tuple(one for one in boxes if one.spare_min is not None and one.spare_min < 0),
        backs=tuple(sorted(_backs(failure, snapshot, found, boxes), key=lambda one: one.takes_min)),
        another=another(failure.name, snapshot, state, found) if failure.what == VEHICLE else None,
    )


def _over_by(
    failure: Failed,
    own: frozenset[str],
    snapshot: Snapshot,
    state: JournalState,
    found: Standing,
    held: Mapping[str, int],
) -> int | None:
    """Find the latest end of a failure with which no container is opened too late, by halving.

    A schedule that was made since it failed is planned around its end: what hangs on it, and what comes after that, may
    begin as much earlier as it is over before then.
    """
    others = tuple(one for one in state.failures if one is not failure)
    following = following_of(snapshot) if failure.at <= snapshot.now else {}
    behind = own | reached(own, lambda name: following.get(name, ()))
    around = failure.planned_on if failure.at <= snapshot.now else found.now

    def least(moment: int) -> int | None:
        then = replace(state, failures=(*others, replace(failure, until=moment)))
        gained = dict.fromkeys(behind, max(around - moment, 0))
        rest = ahead_of(found, {**held, **dict.fromkeys(own, moment)}, gained)
        spare = [
            one.spare_min for one in travelling(snapshot, then, found, rest) if one.spare_min is not None
        ]
        return min(spare, default=None)

    low, high = found.now, found.now + FARTHEST_MIN
    at_once, at_last = least(low), least(high)
    if at_once is None or at_last is None or at_last >= 0:
        return None
    while at_once >= 0 and high - low > 1:
        middle = (low + high) // 2
        spare = least(middle)
        low, high = (middle, high) if spare is None or spare >= 0 else (low, middle)
    return low


def _backs(
    failure: Failed, snapshot: Snapshot, found: Standing, boxes: tuple[Travelling, ...]
) -> Iterator[Back]:
    left = [one.left_min for one in boxes if one.left_min is not None]
    for water in snapshot.premises.waters if snapshot.premises else ():
        where = water.place_after if _moved(water, found) else water.place
        if not _takes_in(water, where, failure, snapshot, found, boxes):
            continue
        undone = _to_undo(water, where, found)
        takes = _release_min(snapshot, found) + undone
        spare = min(left) - takes if left else None
        yield Back(water.name, where, takes, not undone, spare, None if spare is None else found.now + spare)


def _takes_in(
    water: PlannedWater,
    where: str,
    failure: Failed,
    snapshot: Snapshot,
    found: Standing,
    boxes: tuple[Travelling, ...],
) -> bool:
    """Whether a tank stands where the containers are, holds its water, and is not what failed."""
    broken = failure.what == TANK and failure.name == water.id
    dark = failure.what == POWER and name_of(failure, snapshot) == where
    places = {one.where for one in boxes}
    if broken or dark or not where or (places and where not in places):
        return False
    drained = (
        water.full
        and not _moved(water, found)
        and any(
            away > 0 and found.tasks[task].day and task in found.begun
            for task, _, away in water.pours
            if task in found.tasks
        )
    )
    held = water.litres * water.full + sum(
        into - away for task, into, away in water.pours if _done(task, found)
    )
    return not drained and water.litres > 0 and held / water.litres >= RUNS_SHARE


def _inside(name: str, snapshot: Snapshot, found: Standing) -> bool:
    """Whether some animals have not been taken out of a tank yet, or are in it again."""
    water = snapshot.premises.water(name) if snapshot.premises else None
    if water is None:
        return False
    if _moved(water, found):
        return any(_done(stay.open_task, found) for stay in snapshot.stays)
    return any(not _done(stay.shut_task, found) for stay in snapshot.stays)


def _moved(water: PlannedWater, found: Standing) -> bool:
    """Whether a tank has been filled where it goes to."""
    return not water.full or any(into > 0 and _done(task, found) for task, into, _ in water.pours)


def _on_the_road(task: str, found: Standing) -> bool:
    return found.runs(task) and found.tasks[task].kind is Kind.TRAVEL


def _done(task: str, found: Standing) -> bool:
    return task in found.states and found.states[task].state is State.COMPLETED


def _to_undo(water: PlannedWater, place: str, found: Standing) -> int:
    """How long it takes to undo the work of the day since the point of no return, by all who are there. [min]."""
    if not water.full or _moved(water, found):
        return 0
    day = [task for task in found.tasks.values() if task.day and task.place == place]
    passed = [
        at for task in day if task.kind is Kind.HOLD_POINT and (at := found.ended.get(task.id)) is not None
    ]
    work = [
        task
        for task in day
        if task.kind is Kind.WORK and passed and found.begun.get(task.id, -1) >= min(passed)
    ]
    hands = {person for task in work for person in task.people}
    return -(-sum(task.minutes * len(task.people) for task in work) // max(len(hands), 1))


def _release_min(snapshot: Snapshot, found: Standing) -> int:
    """How long the animals take from container to tank: the longest planned opening. [min]."""
    opens = {stay.open_task for stay in snapshot.stays}
    return max((found.tasks[name].minutes for name in opens if name in found.tasks), default=0)
