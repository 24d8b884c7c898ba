"""Tasks of the keeper's own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from zoneinfo import ZoneInfo

from moveplan.plan.places import ThreePoint
from moveplan.plan.tasks import OwnLink, OwnTask
from moveplan.planfile.schema.tasks import LinkEntry, TaskEntry
from moveplan.planfile.text import Node


def own_tasks(entries: Mapping[str, TaskEntry], nodes: Node | None, zone: ZoneInfo) -> tuple[OwnTask, ...]:
    """Turn tasks into values, with their lines.

    Parameters
    ----------
    entries : Mapping of str to TaskEntry
        Tasks by id.
    nodes : Node or None
        The section of the file.
    zone : ZoneInfo
        Zone of the plan's times.
    """
    places = nodes.value if nodes is not None and isinstance(nodes.value, dict) else {}
    return tuple(_task(task_id, entry, places[task_id], zone) for task_id, entry in entries.items())


def _task(task_id: str, entry: TaskEntry, node: Node, zone: ZoneInfo) -> OwnTask:
    named = () if isinstance(entry.people, int) else entry.people
    return OwnTask(
        id=task_id,
        title=entry.title or task_id,
        minutes=_whole(entry.duration),
        after=tuple(_links(entry.after, node)) if entry.after else (),
        people_count=entry.people if isinstance(entry.people, int) else 0,
        people=named,
        vehicles=entry.vehicles,
        gear=tuple((name, count) for name, count in entry.gear if count),
        place=entry.place or "",
        not_before=entry.not_before.at(zone) if entry.not_before else None,
        finish_by=entry.finish_by.at(zone) if entry.finish_by else None,
        may_pause=entry.may_pause,
        steps=entry.steps,
        line=node.line,
    )


def _whole(minutes: ThreePoint) -> ThreePoint:
    return ThreePoint(float(round(minutes.low)), float(round(minutes.likely)), float(round(minutes.high)))


def _links(entries: Iterable[LinkEntry], node: Node) -> Iterable[OwnLink]:
    for position, entry in enumerate(entries):
        yield OwnLink(entry.task, entry.relation, entry.gap, entry.at_most, link_line(node, position))


def link_line(task: Node, position: int) -> int:
    """Line of a task's link by its position in ``after``."""
    after = task.value["after"] if isinstance(task.value, dict) and "after" in task.value else task
    return after.value[position].line if isinstance(after.value, list) else after.line
