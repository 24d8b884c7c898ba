"""The independent check of gear over all jobs; shares no code with what lends it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from moveplan.errors import Fault
from moveplan.firm.values import Firm
from moveplan.plan.supplies import GearItem
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement, Schedule


def gear_kept(firm: Firm, schedules: Mapping[str, tuple[Project, Schedule]]) -> Iterator[Fault]:
    """Count containers that are held, over all jobs at once, each with the time until it is ready again.

    Parameters
    ----------
    firm : Firm
        Its gear.
    schedules : Mapping of str to (Project, Schedule)
        Each job as it was scheduled.
    """
    for one in firm.gear:
        changes: list[tuple[int, int, str]] = []
        for job, (project, schedule) in schedules.items():
            stands = {row.task: row for row in schedule.placements}
            ordered = _ordered(project, one.item.id)
            stays = _containers(project, stands, one.item.id, one.ready_after_min)
            if stays is None:
                stays = _held(project, stands, one.item.id, one.ready_after_min)
            for start, finish, count in stays:
                changes += [(start, count, job), (finish, -count, job)]
            if ordered:
                changes += [(-1, -ordered, job)]
            changes += _by_kind(one.item, one.ready_after_min, job, project, schedule)
        now = 0
        for at, count, job in sorted(changes):
            now += count
            if now > one.item.count:
                yield Fault("firm-gear", (one.item.id, job), (now, one.item.count, at))
                break


def _containers(
    project: Project, stands: Mapping[str, Placement], gear: str, ready_after_min: int
) -> list[tuple[int, int, int]] | None:
    """Give each container of the ledger from its filling to being ready, joined by its number; None: it has none."""
    uses = [use for use in project.ledger.containers if use.vessel.gear == gear]
    if not uses:
        return None
    found: dict[str, list[tuple[int, int]]] = {}
    for use in uses:
        ends = [stands[one].finish for one in (use.until_task, *use.also) if one in stands]
        if use.from_task in stands and ends:
            span = (stands[use.from_task].start, max(ends) + ready_after_min)
            found.setdefault(use.vessel.number, []).append(span)
    stays: list[tuple[int, int, int]] = []
    for spans in found.values():
        first, last = min(spans)
        for start, finish in sorted(spans)[1:]:
            if start > last:
                stays.append((first, last, 1))
                first = start
            last = max(last, finish)
        stays.append((first, last, 1))
    return stays


def _held(
    project: Project, stands: Mapping[str, Placement], gear: str, ready_after_min: int
) -> list[tuple[int, int, int]]:
    return [
        (stands[hold.from_task].start, stands[hold.until_task].finish + ready_after_min, hold.count)
        for hold in project.network.holds
        if hold.gear == gear and hold.from_task in stands and hold.until_task in stands
    ]


def _by_kind(
    item: GearItem, ready_after_min: int, job: str, project: Project, schedule: Schedule
) -> list[tuple[int, int, str]]:
    """Count pumps, heaters and the like, which are told by kind alone, as out through the whole moving day."""
    kinds = {
        one.kind for one in project.plan.gear if any(hold.gear == one.id for hold in project.network.holds)
    }
    needed = {kind: needed for kind, needed, _ in project.gear_needed}
    lent = next((one.count for one in project.plan.gear if one.id == item.id), 0)
    same = [one.id for one in project.plan.gear if one.kind == item.kind and not one.clients]
    if item.kind in kinds or not same or same[0] != item.id:
        return []
    count = min(needed.get(item.kind, 0), lent)
    tagged = {task.id for task in project.network.tasks if task.day}
    rows = [row for row in schedule.placements if row.task in tagged]
    if not count or not rows:
        return []
    finish = max(row.finish for row in rows) + ready_after_min
    return [(min(row.start for row in rows), count, job), (finish, -count, job)]


def _ordered(project: Project, gear: str) -> int:
    """Count what a job orders for itself beyond what the firm lends it."""
    lent = next((item.count for item in project.plan.gear if item.id == gear), 0)
    there = next((item.count for item in project.scheduling.gear if item.id == gear), lent)
    return max(there - lent, 0)
