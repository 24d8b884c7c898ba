"""What a scheduled job takes of the firm: who and what is where, which gear is out, which water is fetched."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from moveplan.firm.roads import BASE, Roads, Site, site_of
from moveplan.firm.values import Firm
from moveplan.network.task import Kind, Task
from moveplan.practice.ledger import PURIFIED
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import MINUTES_A_DAY, Interval, to_local

STAYS_MIN = 60
"""Whoever has no more than so long beside the way to the base and back waits where they are. [min]"""


@dataclass(frozen=True, slots=True, order=True)
class Stop:
    """One stretch of somebody, or of a vehicle, at one job.

    Parameters
    ----------
    start, finish : int
        UTC. [min]
    job : str
        Whose.
    first, last : str
        Sites where it begins and ends; the base for desk work.
    worked_min : int
        Minutes of work in it, breaks and waits left out. [min]
    tasks : tuple of str
        Ids of its tasks, in order.
    moving : bool
        Whether it is of the moving day.
    """

    start: int
    finish: int
    job: str
    first: Site = BASE
    last: Site = BASE
    worked_min: int = 0
    tasks: tuple[str, ...] = ()
    moving: bool = False


@dataclass(frozen=True, slots=True)
class Taken:
    """Gear that is out.

    Parameters
    ----------
    gear : str
        Id of the gear.
    count : int
        How many.
    start, finish : int
        From leaving the base to being ready again, UTC. [min]
    job : str
        Where it is.
    """

    gear: str
    count: int
    start: int
    finish: int
    job: str


@dataclass(frozen=True, slots=True)
class Trace:
    """What one job takes.

    Parameters
    ----------
    job : str
        Which.
    people, vehicles : Mapping of str to tuple of Stop
        Stops of each, in order of time.
    gear : tuple of Taken
        The firm's gear that is out.
    water : tuple of (date, float)
        Purified water that is fetched at the base, by local day. [l]
    """

    job: str
    people: Mapping[str, tuple[Stop, ...]]
    vehicles: Mapping[str, tuple[Stop, ...]]
    gear: tuple[Taken, ...]
    water: tuple[tuple[date, float], ...]


def trace_of(firm: Firm, roads: Roads, job: str, project: Project, schedule: Schedule) -> Trace:
    """Read off a schedule what its job takes of the firm.

    Parameters
    ----------
    firm : Firm
        Whose people, vehicles and gear.
    roads : Roads
        Ways between all places.
    job : str
        Id of the job.
    project : Project
        As scheduled.
    schedule : Schedule
        Its schedule, with placements.
    """
    tasks = {task.id: task for task in project.network.tasks}
    people: dict[str, list[_Piece]] = defaultdict(list)
    vehicles: dict[str, list[_Piece]] = defaultdict(list)
    for placed in schedule.placements:
        for position, segment in enumerate(placed.segments):
            piece = _Piece(segment, tasks[placed.task])
            for one in placed.segment_people[position] if placed.segment_people else placed.people:
                people[one].append(piece)
            for one in placed.vehicles:
                vehicles[one].append(piece)
    firms = {one.id for one in firm.people}
    return Trace(
        job,
        {one: _stops(job, pieces, roads) for one, pieces in sorted(people.items()) if one in firms},
        {one: _stops(job, pieces, roads) for one, pieces in sorted(vehicles.items())},
        tuple(_taken(firm, job, project, schedule)),
        _water(project, schedule),
    )


@dataclass(frozen=True, slots=True)
class _Piece:
    time: Interval
    task: Task


def _stops(job: str, pieces: Iterable[_Piece], roads: Roads) -> tuple[Stop, ...]:
    """Join pieces between which nobody would go back to the base."""
    stops: list[Stop] = []
    for piece in sorted(pieces, key=lambda one: (one.time, one.task.id)):
        if piece.time.minutes == 0:
            continue
        here = _stop(job, piece)
        before = stops[-1] if stops else None
        if before and (
            _same_moving_day(before, here) or here.start - before.finish <= _away(roads, before, here)
        ):
            stops[-1] = _joined(before, here)
        else:
            stops.append(here)
    return tuple(stops)


def _same_moving_day(before: Stop, after: Stop) -> bool:
    """Whether nobody and nothing leaves in between: a crew stays together, and a loaded van stays where it is."""
    return before.moving and after.moving and after.start - before.finish < MINUTES_A_DAY // 2


def _away(roads: Roads, before: Stop, after: Stop) -> int:
    """Time that going back to the base in between would take, and be worth. [min]."""
    return roads.minutes(before.last, BASE) + roads.minutes(BASE, after.first) + STAYS_MIN


def _stop(job: str, piece: _Piece) -> Stop:
    task = piece.task
    return Stop(
        piece.time.start,
        piece.time.finish,
        job,
        site_of(job, task.place),
        site_of(job, task.place_after or task.place),
        0 if task.kind in (Kind.REST, Kind.WAIT) else piece.time.minutes,
        (task.id,),
        bool(task.day),
    )


def _joined(one: Stop, two: Stop) -> Stop:
    return Stop(
        one.start,
        max(one.finish, two.finish),
        one.job,
        one.first or two.first,
        two.last or one.last,
        one.worked_min + two.worked_min,
        (*one.tasks, *two.tasks),
        one.moving or two.moving,
    )


def _taken(firm: Firm, job: str, project: Project, schedule: Schedule) -> Iterable[Taken]:
    """Say what is out from setting out to washing up; whatever counts by kind, from the first use to the last."""
    placed = {one.task: one for one in schedule.placements}
    out = _out(project, placed)
    if out is None:
        return
    peaks = _peaks(project, placed)
    needed = {kind: min(count, there) for kind, count, there in project.gear_needed}
    given = {one.id: one for one in project.plan.gear}
    for one in firm.gear:
        item = given.get(one.item.id)
        if item is None:
            continue
        count = peaks.get(item.id, 0)
        if item.kind not in {given[gear].kind for gear in peaks if gear in given}:
            count = min(needed.get(item.kind, 0), item.count)
            needed[item.kind] = needed.get(item.kind, 0) - count
        if count:
            yield Taken(item.id, min(count, item.count), out.start, out.finish + one.ready_after_min, job)


def _out(project: Project, placed: Mapping[str, Placement]) -> Interval | None:
    """Find from when to when the job's gear is away from the base."""
    ends = [one for hold in project.network.holds for one in (hold.from_task, hold.until_task)]
    ends += [
        task.id for task in project.network.tasks if task.day or task.id.startswith(("set-out-", "wash-gear"))
    ]
    there = [placed[one] for one in ends if one in placed]
    return Interval(min(one.start for one in there), max(one.finish for one in there)) if there else None


def _peaks(project: Project, placed: Mapping[str, Placement]) -> dict[str, int]:
    """Count how many of each kind of gear are in use at once, at most."""
    rows = [
        (hold.gear, hold.count, placed[hold.from_task].start, placed[hold.until_task].finish)
        for hold in project.network.holds
        if hold.from_task in placed and hold.until_task in placed
    ]
    rows += [
        (gear, count, placed[task.id].start, placed[task.id].finish)
        for task in project.network.tasks
        for gear, count in task.gear
        if task.id in placed
    ]
    return {gear: _peak([row[1:] for row in rows if row[0] == gear]) for gear in {row[0] for row in rows}}


def _peak(rows: Iterable[tuple[int, int, int]]) -> int:
    changes = sorted(
        change for count, start, finish in rows for change in ((finish, 0, -count), (start, 1, count))
    )
    most = now = 0
    for _, _, count in changes:
        now += count
        most = max(most, now)
    return most


def _water(project: Project, schedule: Schedule) -> tuple[tuple[date, float], ...]:
    """Add up what is fetched on each day; a job that makes its own water fetches none."""
    made = project.plan.water_making
    if made is None or made.rate_l_day > 0:
        return ()
    litres: dict[date, float] = defaultdict(float)
    poured: dict[str, float] = defaultdict(float)
    for pour in project.ledger.pours:
        if pour.target == PURIFIED:
            poured[pour.task] += pour.litres
    for placed in schedule.placements:
        for segment in placed.segments if placed.task in poured else ():
            litres[to_local(segment.start, project.plan.zone).date()] += poured[placed.task]
    return tuple(sorted((day, round(amount, 1)) for day, amount in litres.items()))
