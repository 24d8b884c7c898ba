"""What the terminal shows of a schedule: values for the text templates, and JSON for other programs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from moveplan.cli.terminal.findings import estimate_data, print_json
from moveplan.cli.terminal.paper import laid_out, show_text
from moveplan.errors import PlanFileError, Problem
from moveplan.estimate import Estimate
from moveplan.near import near_names
from moveplan.network.task import Kind, Task
from moveplan.outputs.agenda import agenda
from moveplan.outputs.data.result import result_data
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.water import priced
from moveplan.outputs.wording.documents import render
from moveplan.outputs.wording.facts import facts_of
from moveplan.scheduling.schedule import Placement
from moveplan.times import MINUTES_A_DAY, at_local, to_local

MARKS = {Kind.WORK: "o", Kind.WAIT: "=", Kind.TRAVEL: ">", Kind.HOLD_POINT: "#", Kind.REST: "~"}
_TWO_SCREENS, _SCREEN_COLUMNS = 48, 80
"""What "why" says at most: two screens of an ordinary terminal. [lines], [columns]"""
_LESS_AND_LESS = ((99, 999), (4, 12), (3, 8), (3, 5), (2, 4), (2, 2), (1, 1), (1, 0))
"""How deep its reasons go, and how many tasks and choices it names, until two screens hold it. [-], [-]"""


@dataclass(frozen=True, slots=True)
class _Line:
    """One line of ``show``."""

    task: Task
    placement: Placement
    mark: str
    length: str
    room_min: int | None
    seldom: float | None


@dataclass(frozen=True, slots=True)
class _Week:
    """One week, or one moving day, of ``show``."""

    start: int
    lines: tuple[_Line, ...]


def print_schedule(outlook: Outlook, *, as_json: bool) -> None:
    """Print the weeks, then the moving day."""
    if as_json:
        print_json(result_data(outlook))
        return
    lines = sorted(_lines(outlook), key=lambda line: (line.placement.start, line.placement.finish))
    extra = {
        "weeks": tuple(_weeks(outlook, [line for line in lines if not line.task.day])),
        "days": tuple(_days(outlook, [line for line in lines if line.task.day])),
        "titles": {task.id: task.title for task in outlook.project.network.tasks},
    }
    show_text(render(outlook, "text", "terminal/show.txt.j2", extra))


def _lines(outlook: Outlook) -> Iterator[_Line]:
    facts = facts_of(outlook.project)
    lines = agenda(outlook)
    tasks = {task.id: task for task in outlook.project.network.tasks}
    for placement in outlook.schedule.placements:
        task = tasks[placement.task]
        line = lines.line(task.id)
        length = facts.duration(task.minutes)
        if task.repeats:
            length += f" × {task.repeats.times}, every {facts.duration(task.repeats.every_min)}"
        yield _Line(
            task,
            placement,
            MARKS[task.kind],
            length,
            None if line is None or task.repeats else line.room_min,
            None if line is None else line.seldom,
        )


def _days(outlook: Outlook, lines: list[_Line]) -> Iterator[_Week]:
    """Part the lines of moving days by the local day on which they begin."""
    zone = outlook.project.plan.zone
    for _, held in groupby(lines, key=lambda line: to_local(line.placement.start, zone).date()):
        own = tuple(held)
        yield _Week(own[0].placement.start, own)


def _weeks(outlook: Outlook, lines: list[_Line]) -> Iterator[_Week]:
    zone = outlook.project.plan.zone
    starts: dict[int, list[_Line]] = {}
    for line in lines:
        local = to_local(line.placement.start, zone)
        monday = at_local(local.date(), 0, zone) - local.weekday() * MINUTES_A_DAY
        starts.setdefault(monday, []).append(line)
    for monday, held in starts.items():
        yield _Week(monday + MINUTES_A_DAY // 2, tuple(held))


def print_why(outlook: Outlook, task_id: str, *, as_json: bool) -> None:
    """Print where a task's duration and date come from."""
    task = _find(outlook, task_id)
    links = outlook.project.network.links
    extra = {
        "task": task,
        "chain": list(_chain(task.estimate, 1, "")),
        "placement": next((one for one in outlook.schedule.placements if one.task == task_id), None),
        "times": outlook.times.get(task_id),
        "choices": [one for one in priced(outlook.project) if task_id in one.choice.tasks],
        "before": [link for link in links if link.after == task_id],
        "after": [link for link in links if link.before == task_id],
        "titles": {one.id: one.title for one in outlook.project.network.tasks},
    }
    if as_json:
        data = next(row for row in result_data(outlook)["tasks"] if row["id"] == task_id)
        print_json(data | {"why": estimate_data(task.estimate)})
        return
    show_text(_on_two_screens(outlook, extra))


def _on_two_screens(outlook: Outlook, extra: dict[str, Any]) -> str:
    """Say as much as two screens hold: the first reasons and the first tasks; the data have all of them."""
    text = ""
    for depth, most in _LESS_AND_LESS:
        chain = [row for row in extra["chain"] if row[0] <= depth]
        cut = {"chain": chain, "left_out": len(extra["chain"]) - len(chain), "most": most}
        text = render(outlook, "text", "terminal/why.txt.j2", extra | cut)
        if len(laid_out(text, _SCREEN_COLUMNS).splitlines()) <= _TWO_SCREENS:
            break
    return text


def _find(outlook: Outlook, task_id: str) -> Task:
    tasks = {task.id: task for task in outlook.project.network.tasks}
    if task_id in tasks:
        return tasks[task_id]
    nearest = near_names(task_id, tasks)
    remedy = f"did you mean {' or '.join(nearest)}?" if nearest else "moveplan show lists the tasks"
    raise PlanFileError(
        (Problem(f'there is no task "{task_id}"', "", remedy),), outlook.project.plan.file_name
    )


def _chain(value: Estimate, depth: int, name: str) -> Iterator[tuple[int, str, Estimate]]:
    yield depth, name, value
    for inner, part in value.inputs:
        yield from _chain(part, depth + 1, inner)
