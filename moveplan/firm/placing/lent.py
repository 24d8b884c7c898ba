"""Which of the firm's gear a scheduled job has out, and from when to when."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from moveplan.firm.values import Firm
from moveplan.practice.project import Project
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
    """

    gear: str
    count: int
    start: int
    finish: int
    job: str


def taken_of(firm: Firm, job: str, project: Project, schedule: Schedule) -> Iterable[Taken]:
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
            uses = [out, *_uses(project, placed, item.id)]
            finish = max(use.finish for use in uses) + one.ready_after_min
            yield Taken(item.id, min(count, item.count), min(use.start for use in uses), finish, job)


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
