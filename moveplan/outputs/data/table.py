"""``tasks.csv``: every task as a row, for a spreadsheet.

RFC 4180, with a byte order mark, by which spreadsheets know UTF-8. A cell that a spreadsheet would take for a
formula gets an apostrophe in front, so that text from a plan stays text (OWASP, "CSV Injection", recalled).
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator

from moveplan.network.task import State
from moveplan.outputs.agenda import agenda
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.wording.escape import one_line
from moveplan.times import to_local

HEAD = (
    "task", "title", "phase", "kind", "place", "start", "finish", "minutes", "low", "high", "people", "vehicles",
    "waits for", "may slip (min)", "state", "chance",
)  # fmt: skip
"""Names of the columns; durations are minutes, times those of the plan's zone, ``chance`` the share of the runs that
begin it by then."""
STATES = {
    State.NEEDS_ACTION: "to do",
    State.IN_PROCESS: "begun",
    State.COMPLETED: "done",
    State.CANCELLED: "dropped",
}
"""How far tasks are, in words of a spreadsheet."""
_OPENS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def tasks_csv(outlook: Outlook) -> bytes:
    """Write the tasks in the order in which they begin.

    Parameters
    ----------
    outlook : Outlook
        What was found; without a schedule there are no rows below the head.
    """
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\r\n").writerows([HEAD, *map(_safe, _rows(outlook))])
    return text.getvalue().encode("utf-8-sig")


def _safe(row: Iterable[str]) -> list[str]:
    return [f"'{cell}" if cell.startswith(_OPENS_A_FORMULA) else cell for cell in row]


def _rows(outlook: Outlook) -> Iterator[list[str]]:
    plan, network = outlook.project.plan, outlook.project.network
    tasks = {task.id: task for task in network.tasks}
    people = {one.id: one.name or one.id for one in plan.people}
    vehicles = {one.id: one.name or one.id for one in plan.vehicles}
    places = {one.id: one.name or one.id for one in plan.places}
    lines, chances = agenda(outlook), outlook.start_chances()
    before: dict[str, list[str]] = {}
    for link in network.links:
        before.setdefault(link.after, []).append(link.before)
    for placed in sorted(outlook.schedule.placements, key=lambda one: (one.start, one.finish, one.task)):
        task, line = tasks[placed.task], lines.line(placed.task)
        yield [
            task.id,
            one_line(task.title),
            one_line(task.phase),
            task.kind.value,
            one_line(places.get(task.place, "")),
            f"{to_local(placed.start, plan.zone):%Y-%m-%d %H:%M}",
            f"{to_local(placed.finish, plan.zone):%Y-%m-%d %H:%M}",
            str(task.minutes),
            f"{task.estimate.low:.0f}",
            f"{task.estimate.high:.0f}",
            "; ".join(one_line(people[one]) for one in placed.people),
            "; ".join(one_line(vehicles[one]) for one in placed.vehicles),
            "; ".join(dict.fromkeys(before.get(task.id, ()))),
            "" if line is None or line.room_min is None else str(line.room_min),
            STATES[outlook.states.get(task.id, State.NEEDS_ACTION)],
            f"{chances[task.id]:.2f}" if task.id in chances else "",
        ]
