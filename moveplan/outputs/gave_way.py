"""Promises to people, and sums of gear and water, that a late day breaks: told on top, because the list goes on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from moveplan.errors import Fault, Problem
from moveplan.practice.project import Project

SAID = {
    "no-break": ("{who} has no break on a long day", "sit down and eat before driving or lifting"),
    "handles-no-animals": ("{who} is at the animals and is not used to it: {tasks}", "show how first, and stay beside"),
    "not-the-keepers": ("somebody else than the keeper decides or signs: {tasks}", "call the keeper first"),
    "water-stale": ("water is older than it keeps when it is poured: {tasks}", "mix new in time, and use none of it"),
    "all-rest": ("everybody rests at once", "let one stay with the animals"),
}  # fmt: skip
"""What is broken, and what to do about it, by code."""
OTHERS = "water, gear, heat or air does not add up as it goes now ({codes})"


def told(faults: Iterable[Fault], project: Project) -> Iterator[Problem]:
    """Tell what gave way, each kind once for each person.

    Parameters
    ----------
    faults : iterable of Fault
        What the checks of a late schedule found.
    project : Project
        For names and titles.
    """
    names = {one.id: one.name for one in project.plan.people}
    titles = {task.id: f"“{task.title}”" for task in project.network.tasks}
    rows: dict[tuple[str, str], list[str]] = {}
    others: dict[str, None] = {}
    for fault in faults:
        if fault.code not in SAID:
            others[fault.code.replace("-", " ")] = None
            continue
        who = fault.ids[0] if fault.ids and fault.code in ("no-break", "handles-no-animals") else ""
        rows.setdefault((fault.code, who), []).extend(titles.get(task, task) for task in fault.tasks)
    for (code, who), tasks in rows.items():
        message, remedy = SAID[code]
        yield Problem(message.format(who=names.get(who, who), tasks=", ".join(tasks[:4])), "", remedy)
    if others:
        yield Problem(OTHERS.format(codes=", ".join(others)), "", "look at what stands there, and make do")
