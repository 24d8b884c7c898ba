"""Checks any schedule from ``result.json`` alone; imports nothing of the program.

Run as ``python verifier.py result.json``: prints each fault on a line of its own, and ends with status 1 if there
is any.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Any

Result = dict[str, Any]
FINISH_FIRST = {"FINISHTOSTART", "FINISHTOFINISH"}
FINISH_LAST = {"FINISHTOFINISH", "STARTTOFINISH"}


def minute(text: str) -> int:
    """UTC minutes of an ISO 8601 moment."""
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError(text)
    return int(moment.timestamp() // 60)


def faults(result: Result) -> Iterator[str]:
    """Every limit that the schedule breaks."""
    tasks = {task["id"]: task for task in result["tasks"]}
    if len(tasks) != len(result["tasks"]):
        yield "two tasks have one id"
    for task in result["tasks"]:
        yield from _of_task(task)
    for link in result["links"]:
        yield from _of_link(link, tasks)
    for kind in ("people", "vehicles"):
        for who in result[kind]:
            yield from _of_diary(kind, who, result["tasks"])
    for gear in result["gear"]:
        yield from _of_gear(gear, result)
    yield from _of_solver(result)


def _pieces(task: Result) -> list[tuple[int, int]]:
    return [(minute(piece["start"]), minute(piece["finish"])) for piece in task["segments"]]


def _of_task(task: Result) -> Iterator[str]:
    pieces = _pieces(task)
    if (pieces[0][0], pieces[-1][1]) != (minute(task["start"]), minute(task["finish"])):
        yield f"{task['id']}: its segments do not span it"
    if any(one[1] > two[0] for one, two in pairwise(pieces)) or any(end < begin for begin, end in pieces):
        yield f"{task['id']}: its segments overlap"
    worked = sum(end - begin for begin, end in pieces)
    times = task.get("repeats", {}).get("times", 1)
    if worked > task["minutes"] * times:
        yield f"{task['id']}: takes {worked} min in place of {task['minutes'] * times}"
    if "early_start" in task:
        dates = [minute(task[key]) for key in ("early_start", "start", "late_start")]
        if dates != sorted(dates):
            yield f"{task['id']}: does not stand between its early and its late start"
        if task["total_float_minutes"] != dates[2] - dates[0]:
            yield f"{task['id']}: its float is not late start less early start"


def _of_link(link: Result, tasks: dict[str, Result]) -> Iterator[str]:
    before, after = tasks[link["from"]], tasks[link["to"]]
    begin = minute(before["finish" if link["relation"] in FINISH_FIRST else "start"])
    end = minute(after["finish" if link["relation"] in FINISH_LAST else "start"])
    least, most = link["min_gap_minutes"], link["max_gap_minutes"]
    if least is not None and end - begin < least:
        yield f"{link['from']} to {link['to']}: {end - begin} min, at least {least}"
    if most is not None and end - begin > most:
        yield f"{link['from']} to {link['to']}: {end - begin} min, at most {most}"


def _of_diary(kind: str, who: Result, tasks: list[Result]) -> Iterator[str]:
    """Within the hours, and one thing at a time."""
    hours = [(minute(piece["start"]), minute(piece["finish"])) for piece in who["available"]]
    visits = [
        (begin, end, task["id"])
        for task in tasks
        for piece, (begin, end) in zip(task["segments"], _pieces(task), strict=True)
        if who["id"] in piece.get(kind, task[kind])
    ]
    for begin, end, name in visits:
        if not any(first <= begin and end <= last for first, last in hours):
            yield f"{who['id']}: has no time for {name}"
    for one, two in pairwise(sorted(visits)):
        if one[1] > two[0]:
            yield f"{who['id']}: does {one[2]} and {two[2]} at once"


def _of_gear(gear: Result, result: Result) -> Iterator[str]:
    steps: list[tuple[int, int]] = []
    for task in result["tasks"]:
        count = task["gear"].get(gear["id"], 0)
        pieces = _pieces(task) if "repeats" in task else [(minute(task["start"]), minute(task["finish"]))]
        steps += [step for begin, end in pieces for step in ((begin, count), (end, -count))]
    for hold in result["holds"]:
        if hold["gear"] == gear["id"]:
            steps += [(minute(hold["start"]), hold["count"]), (minute(hold["finish"]), -hold["count"])]
    in_use, there = 0, gear["count"] + gear["to_get"]
    for _, change in sorted(steps):
        in_use += change
        if in_use > there:
            yield f"{gear['id']}: {in_use} in use, there are {there}"
            return


def _of_solver(result: Result) -> Iterator[str]:
    solver = result["solver"]
    if solver["bound_minutes"] > solver["makespan_minutes"]:
        yield "the bound lies above the finish"
    for aim in solver["aims"]:
        if aim["bound"] > aim["value"] or aim["proven"] != (aim["bound"] == aim["value"]):
            yield f"{aim['aim']}: the bound does not fit"
    if solver["status"] == "OPTIMAL" and not all(aim["proven"] for aim in solver["aims"]):
        yield "called optimal without proof"


def main(path: str) -> int:
    """Check one file."""
    found = list(faults(json.loads(Path(path).read_text(encoding="utf-8"))))
    sys.stdout.write("".join(f"{fault}\n" for fault in found))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
