"""Which tasks a failure holds up, and until when they are held."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from moveplan.journal.failure import POWER, TANK, VEHICLE, Failed
from moveplan.journal.snapshot import Snapshot
from moveplan.journal.standing import Standing
from moveplan.network.task import Kind


def held_up(failure: Failed, snapshot: Snapshot, found: Standing) -> frozenset[str]:
    """Name the open tasks that wait until something works again.

    Of a vehicle these are its drives, one that is on the road included, and what loads it for them; of a tank what
    fills it, and all that comes after its filling; of a place without power what starts there, what comes after that,
    and what opens containers there.

    Parameters
    ----------
    failure : Failed
        What failed.
    snapshot : Snapshot
        The schedule in force.
    found : Standing
        How its tasks stand.
    """
    roots = {
        VEHICLE: _of_vehicle,
        TANK: _of_tank,
        POWER: _of_power,
    }[failure.what](failure.name, snapshot, found)
    return frozenset(
        name
        for name in roots
        if found.is_open(name) and (not found.runs(name) or found.tasks[name].kind is Kind.TRAVEL)
    )


def held_until(failures: Iterable[Failed], snapshot: Snapshot, found: Standing) -> Mapping[str, int]:
    """Give the moment before which each held task is not planned, UTC. [min].

    Parameters
    ----------
    failures : iterable of Failed
        What has failed and does not work again.
    snapshot, found : Snapshot, Standing
        The schedule in force, and how its tasks stand.
    """
    floors: dict[str, int] = {}
    for failure in failures:
        for name in held_up(failure, snapshot, found):
            floors[name] = max(floors.get(name, 0), failure.planned_on)
    return floors


def _of_vehicle(vehicle: str, snapshot: Snapshot, found: Standing) -> Iterator[str]:
    drives = [
        task.id
        for task in snapshot.tasks
        if task.kind is Kind.TRAVEL and vehicle in task.vehicles and found.is_open(task.id)
    ]
    before = _before(drives, found)
    for task in snapshot.tasks:
        if task.id in drives or (vehicle in task.vehicles and task.id in before):
            yield task.id


def _of_tank(water: str, snapshot: Snapshot, found: Standing) -> Iterator[str]:
    stands = snapshot.premises.water(water) if snapshot.premises else None
    fills = [task for task, into, _ in stands.pours if into > 0] if stands else []
    filling = [name for name in fills if name in found.tasks and found.tasks[name].times == 1]
    yield from filling
    yield from _after(filling, found)


def _of_power(place: str, snapshot: Snapshot, found: Standing) -> Iterator[str]:
    name = snapshot.premises.places.get(place, place) if snapshot.premises else place
    starts = [task for where, task in snapshot.premises.powered if where == name] if snapshot.premises else []
    yield from starts
    yield from _after([task for task in starts if task in found.tasks and found.is_open(task)], found)
    for stay in snapshot.stays:
        task = found.tasks.get(stay.open_task)
        if task is not None and task.place == name:
            yield task.id


def _before(names: Iterable[str], found: Standing) -> set[str]:
    """Name all that comes before some tasks."""
    seen: set[str] = set()
    waiting = list(names)
    while waiting:
        for tie in found.ties.get(waiting.pop(), ()):
            if tie.before not in seen:
                seen.add(tie.before)
                waiting.append(tie.before)
    return seen


def _after(names: Iterable[str], found: Standing) -> set[str]:
    """Name all that comes after some tasks."""
    following: dict[str, list[str]] = {}
    for after, ties in found.ties.items():
        for tie in ties:
            following.setdefault(tie.before, []).append(after)
    seen: set[str] = set()
    waiting = list(names)
    while waiting:
        for after in following.get(waiting.pop(), ()):
            if after not in seen and after in found.tasks:
                seen.add(after)
                waiting.append(after)
    return seen
