"""Own tasks do not wait for themselves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from graphlib import CycleError, TopologicalSorter

from moveplan.planfile.draft import Draft
from moveplan.planfile.fill.tasks import link_line
from moveplan.planfile.problems import Fault
from moveplan.planfile.schema.tasks import LinkEntry, TaskEntry

_MOST_CIRCLES = 20
"""Most circles of waiting told at once. Chosen. [-]"""
_LONGEST_CIRCLE = 12
"""Most tasks of a circle that are named. Chosen. [-]"""


def nothing_waits_for_itself(draft: Draft) -> Iterator[Fault]:
    """No circle of tasks where each waits for the finish of the one before.

    Circles with other relations or negative gaps may be sound; whether they are, the network tells.
    """
    tasks = dict(draft.entry.tasks or {})
    waits = {
        task_id: {link.task for link in task.after if _plain(link)} & tasks.keys()
        for task_id, task in tasks.items()
    }
    for _circle in range(_MOST_CIRCLES):
        try:
            TopologicalSorter({task_id: sorted(before) for task_id, before in waits.items()}).prepare()
        except CycleError as error:
            circle: list[str] = error.args[1]
            yield _worded(draft, tasks, circle)
            for task_id in circle:
                waits.pop(task_id, None)
                tasks.pop(task_id, None)
            waits = {task_id: before & tasks.keys() for task_id, before in waits.items()}
        else:
            return


def _plain(link: LinkEntry) -> bool:
    return link.relation == "FINISHTOSTART" and link.gap is not None and link.gap >= 0


def _worded(draft: Draft, tasks: Mapping[str, TaskEntry], circle: list[str]) -> Fault:
    members = circle[1:]
    steps = [
        (later, earlier, _line(draft, tasks, later, earlier))
        for earlier, later in zip(circle, members, strict=False)
    ]
    start = max(range(len(steps)), key=lambda position: steps[position][2])
    ordered = [*steps[start::-1], *steps[:start:-1]]
    later, earlier, line = ordered[0]
    if len(ordered) == 1:
        return Fault(line, ("tasks", later, "after"), f"{later} waits for itself", f"remove {earlier}")
    lines = [line for _later, _earlier, line in ordered[1:]]
    texts = [f"{a} waits for {b} (line {line})" for (a, b, _line), line in zip(ordered, lines, strict=False)]
    if len(texts) > _LONGEST_CIRCLE:
        texts[_LONGEST_CIRCLE:] = [f"so on over {len(texts) - _LONGEST_CIRCLE} more"]
    texts.append(f"{ordered[-1][0]} waits for {ordered[-1][1]}")
    which = "the two" if len(ordered) == 2 else "these links"
    message = f"{', '.join(texts[:-1])} and {texts[-1]}"
    return Fault(line, ("tasks", later, "after"), message, f"remove one of {which}")


def _line(draft: Draft, tasks: Mapping[str, TaskEntry], later: str, earlier: str) -> int:
    node = draft.node("tasks", later)
    for position, link in enumerate(tasks[later].after):
        if link.task == earlier and _plain(link) and node is not None:
            return link_line(node, position)
    return node.line if node else 0
