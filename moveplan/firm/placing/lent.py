"""Which of the firm's gear a scheduled job has out, and from when to when."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from moveplan.firm.values import Firm, FirmGear
from moveplan.hours import merged
from moveplan.outputs.livestock import in_use
from moveplan.practice.ledger.entries import InUse
from moveplan.practice.project import Project
from moveplan.quantities.containers.vessels import Use
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import Interval


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
    numbers : tuple of str
        On the labels of containers.
    spare : bool
        Whether it is lent only where it is left over: new water stands in bought bins otherwise.
    """

    gear: str
    count: int
    start: int
    finish: int
    job: str
    numbers: tuple[str, ...] = ()
    spare: bool = False


def taken_of(firm: Firm, job: str, project: Project, schedule: Schedule) -> Iterable[Taken]:
    """Say what is out, containers by the ledger; what came for the moving day from setting out to washing up.

    Parameters
    ----------
    job : str
        Where it goes.
    """
    placed = {one.task: one for one in schedule.placements}
    out = _out(project, placed)
    if out is None:
        return
    given = {one.id: one for one in project.plan.gear}
    uses: dict[str, list[InUse]] = defaultdict(list)
    for use in project.ledger.containers:
        uses[use.vessel.gear].append(use)
    for one in firm.gear:
        if one.item.id in given and one.item.id in uses:
            lent = min(given[one.item.id].count, one.item.count)
            yield from _containers(one, lent, uses[one.item.id], out, placed, job)
    others = [one for one in firm.gear if one.item.id in given and one.item.id not in uses]
    yield from _by_kind(others, out, project, placed, job)


def _containers(
    gear: FirmGear,
    lent: int,
    uses: Iterable[InUse],
    out: Interval,
    placed: Mapping[str, Placement],
    job: str,
) -> Iterator[Taken]:
    """Follow each number from its first use to being washed and dry; what is beyond those lent was ordered."""
    stays: dict[str, list[Interval]] = {}
    needed: set[str] = set()
    for use in uses:
        span = in_use(use, placed)
        if span is None:
            continue
        if span.overlaps(out):
            span = Interval(min(span.start, out.start), max(span.finish, out.finish))
        stays.setdefault(use.vessel.number, []).append(
            Interval(span.start, span.finish + gear.ready_after_min)
        )
        if use.vessel.use is not Use.MIXED:
            needed.add(use.vessel.number)
    together: dict[tuple[int, int, bool], list[str]] = defaultdict(list)
    for number in list(stays)[:lent]:
        for stay in merged(stays[number]):
            together[stay.start, stay.finish, number not in needed].append(number)
    for (start, finish, spare), numbers in sorted(together.items()):
        yield Taken(gear.item.id, len(numbers), start, finish, job, tuple(numbers), spare)


def _by_kind(
    gear: Iterable[FirmGear], out: Interval, project: Project, placed: Mapping[str, Placement], job: str
) -> Iterator[Taken]:
    """Take what has no number, by what is held or by kind; between two uses others may have it."""
    peaks = _peaks(project, placed)
    needed = {kind: min(count, there) for kind, count, there in project.gear_needed}
    given = {one.id: one for one in project.plan.gear}
    for one in gear:
        item = given[one.item.id]
        count = peaks.get(item.id, 0)
        if item.kind not in {given[other].kind for other in peaks if other in given}:
            count = min(needed.get(item.kind, 0), item.count)
            needed[item.kind] = needed.get(item.kind, 0) - count
        if count:
            uses = [out, *_uses(project, placed, item.id)]
            for stay in merged([Interval(use.start, use.finish + one.ready_after_min) for use in uses]):
                yield Taken(item.id, min(count, item.count), stay.start, stay.finish, job)


def _out(project: Project, placed: Mapping[str, Placement]) -> Interval | None:
    """Find from when to when everything that is set out for a moving day is away from the base."""
    there = [
        placed[task.id]
        for task in project.network.tasks
        if (task.day or task.id.startswith(("set-out-", "wash-gear"))) and task.id in placed
    ]
    return Interval(min(one.start for one in there), max(one.finish for one in there)) if there else None


def _uses(project: Project, placed: Mapping[str, Placement], gear: str) -> Iterator[Interval]:
    """Give what is held of one kind of gear; water stands in tubs days before anything else is set out."""
    for hold in project.network.holds:
        if hold.gear == gear and hold.from_task in placed and hold.until_task in placed:
            yield Interval(placed[hold.from_task].start, placed[hold.until_task].finish)


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
