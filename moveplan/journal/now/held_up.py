"""Which tasks a failure holds up, and until when they are held."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from moveplan.journal.file.snapshot import PlannedTask, Snapshot
from moveplan.journal.now.failure import POWER, TANK, VEHICLE, Failed
from moveplan.journal.now.standing import Standing
from moveplan.network.reach import reached
from moveplan.network.task import Kind


@dataclass(frozen=True, slots=True)
class Hangs:
    """What hangs on a thing, whatever has happened.

    Parameters
    ----------
    tasks : tuple of str
        Ids of tasks that wait for it themselves.
    roots : tuple of str
        Ids of tasks that wait for it with all that comes after them.
    lasting : bool
        Whether what comes after them waits even where they are done.
    early : tuple of str
        Ids of tasks that wait, while one of ``tasks`` is open, until it is sure: they cannot be undone.
    """

    tasks: tuple[str, ...] = ()
    roots: tuple[str, ...] = ()
    lasting: bool = False
    early: tuple[str, ...] = ()


def hangs_on(what: str, name: str, snapshot: Snapshot) -> Hangs:
    """Name what hangs on a thing.

    Of a vehicle these are its drives and what loads it for them, and what is done behind the point of no return where
    they begin; of a tank what fills it, and all that comes after its filling; of a place without power what starts
    there, what comes after that, and what opens containers there.

    Parameters
    ----------
    what, name : str
        ``vehicle``, ``tank`` or ``power``, and its id.
    """
    stands = snapshot.premises
    if what == VEHICLE:
        own = [task for task in snapshot.tasks if name in task.vehicles]
        drives = [task for task in own if task.kind is Kind.TRAVEL]
        before = reached([task.id for task in drives], lambda name: snapshot.waits.get(name, ()))
        tasks = tuple(task.id for task in own if task in drives or task.id in before)
        return Hangs(tasks, early=tuple(_no_way_back(drives, before, snapshot)))
    if what == TANK:
        water = stands.water(name) if stands else None
        times = {task.id: task.times for task in snapshot.tasks}
        fills = (task for task, into, _ in (water.pours if water else ()) if into > 0)
        return Hangs((), tuple(task for task in fills if times.get(task) == 1), lasting=True)
    if what != POWER or stands is None:
        return Hangs()
    place = stands.places.get(name, name)
    at = {task.id for task in snapshot.tasks if task.place == place}
    return Hangs(
        tuple(stay.open_task for stay in snapshot.stays if stay.open_task in at),
        tuple(task for where, task in stands.powered if where == place),
    )


def stops(snapshot: Snapshot) -> frozenset[str]:
    """Name what stops where it has begun and is held up: it puts something in that has to come out, or takes water off.

    It loads a vehicle, or fills a tank, or drains one that has animals in it.  Catching goes on: who is half caught is
    better off boxed, and goes back from there.
    """
    stands = snapshot.premises
    if stands is None:
        return frozenset()
    fills = {task for water in stands.waters for task, into, _ in water.pours if into > 0}
    named = {*fills, *dict(stands.loads), *_lowers(snapshot)}
    return frozenset(task.id for task in snapshot.tasks if task.id in named and task.times == 1)


def _lowers(snapshot: Snapshot) -> Iterator[str]:
    """Name what throws away water of a tank in which animals still are, as it is planned."""
    starts = {task.id: task.start for task in snapshot.tasks}
    for water in snapshot.premises.waters if snapshot.premises else ():
        shut = [stay.shut for stay in snapshot.stays if stay.places and stay.places[0][0] == water.place]
        for task, into, away in water.pours:
            if away > 0 and not into and task in starts and starts[task] < max(shut, default=starts[task]):
                yield task


def _no_way_back(drives: list[PlannedTask], before: set[str], snapshot: Snapshot) -> Iterator[str]:
    """Name what cannot be undone where some drives begin: the decisions before them, and what comes after those.

    Nothing that recurs, loads, or lets animals out: who is in a container is cared for, or goes back.
    """
    there = {(task.place, task.day) for task in drives if task.day}
    own = [task for task in snapshot.tasks if (task.place, task.day) in there]
    points = [task.id for task in own if task.kind is Kind.HOLD_POINT and task.id in before]
    following = following_of(snapshot)
    after = reached(points, lambda name: following.get(name, ())).union(points)
    after.difference_update(stay.open_task for stay in snapshot.stays)
    for task in own:
        once = task.kind in (Kind.WORK, Kind.HOLD_POINT) and task.times == 1
        if once and task.id in after and not task.vehicles:
            yield task.id


def held_up(failure: Failed, snapshot: Snapshot, found: Standing) -> frozenset[str]:
    """Name the open tasks that wait until something works again, with what stops and a drive that is on the road."""
    hangs = hangs_on(failure.what, failure.name, snapshot)
    roots = [name for name in hangs.roots if name in found.tasks and (hangs.lasting or found.is_open(name))]
    sure = failure.until is not None and failure.until > found.now
    waits = not sure and any(name in found.tasks and found.is_open(name) for name in hangs.tasks)
    early = hangs.early if waits else ()
    following, halted = following_of(snapshot), stops(snapshot)
    return frozenset(
        name
        for name in (*hangs.tasks, *early, *roots, *reached(roots, lambda name: following.get(name, ())))
        if name in found.tasks
        and found.is_open(name)
        and (not found.runs(name) or found.tasks[name].kind is Kind.TRAVEL or name in halted)
    )


@dataclass(frozen=True, slots=True)
class Stuck:
    """What keeps somebody from a task.

    Parameters
    ----------
    name : str
        What to print.
    rings : str
        Id of who calls for another: who was to drive, else to do the first task that it holds up; empty: nobody.
    early : bool
        Whether the task could be done without, and waits because it cannot be undone.
    stops : bool
        Whether it has begun, and stops.
    """

    failure: Failed
    name: str
    rings: str
    early: bool = False
    stops: bool = False


def stuck(failures: Iterable[Failed], snapshot: Snapshot, found: Standing) -> Mapping[str, Stuck]:
    """Name the tasks that a failure holds up, and those that wait for one of them.

    Parameters
    ----------
    failures : iterable of Failed
        What has failed and does not work again.
    """
    rows: dict[str, Stuck] = {}
    following = {
        before: [one for one in several if one in found.tasks and found.is_open(one) and not found.runs(one)]
        for before, several in following_of(snapshot).items()
    }
    for failure in failures:
        held = sorted(
            (found.tasks[name] for name in held_up(failure, snapshot, found)),
            key=lambda task: (task.kind is not Kind.TRAVEL, task.start, task.number),
        )
        names = [task.id for task in held]
        rings = next((person for task in held for person in task.people), "")
        early = hangs_on(failure.what, failure.name, snapshot).early
        for name in (*names, *reached(names, lambda name: following.get(name, ()))):
            halts = found.runs(name) and found.tasks[name].kind is not Kind.TRAVEL
            rows.setdefault(name, Stuck(failure, name_of(failure, snapshot), rings, name in early, halts))
    return rows


def name_of(failure: Failed, snapshot: Snapshot) -> str:
    """Say what failed."""
    places = snapshot.premises.places if snapshot.premises else {}
    names = {VEHICLE: snapshot.vehicles, TANK: snapshot.systems, POWER: places}[failure.what]
    return names.get(failure.name, failure.name)


def held_until(failures: Iterable[Failed], snapshot: Snapshot, found: Standing) -> Mapping[str, int]:
    """Give the moment before which each held task is not planned, UTC. [min].

    Parameters
    ----------
    failures : iterable of Failed
        What has failed and does not work again.
    """
    floors: dict[str, int] = {}
    for failure in failures:
        for name in held_up(failure, snapshot, found):
            floors[name] = max(floors.get(name, 0), failure.planned_on)
    return floors


def following_of(snapshot: Snapshot) -> Mapping[str, list[str]]:
    """Name what waits for each task."""
    following: dict[str, list[str]] = {}
    for after, several in snapshot.waits.items():
        for before in several:
            following.setdefault(before, []).append(after)
    return following
