"""``tasks.csv`` as a spreadsheet and a program read it."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

from moveplan.network.task import State
from moveplan.outputs.data.table import HEAD, tasks_csv
from moveplan.outputs.outlook import Outlook
from moveplan.times import to_local
from tests.outputs.hostile import hostile
from tests.outputs.scene import impossible, moving_day


def rows(outlook: Outlook) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(tasks_csv(outlook).decode("utf-8-sig"), newline="")))


def test_every_task_is_a_row_in_the_order_of_time() -> None:
    outlook = moving_day()
    found = rows(outlook)
    assert tuple(found[0]) == HEAD
    assert {row["task"] for row in found} == {one.task for one in outlook.schedule.placements}
    assert [row["start"] for row in found] == sorted(row["start"] for row in found)
    tasks = {task.id: task for task in outlook.project.network.tasks}
    placed = {one.task: one for one in outlook.schedule.placements}
    for row in found:
        task, one = tasks[row["task"]], placed[row["task"]]
        assert row["title"] == task.title
        assert row["minutes"] == str(task.minutes)
        assert row["start"] == f"{to_local(one.start, outlook.project.plan.zone):%Y-%m-%d %H:%M}"
        assert len(row["people"].split("; ")) == max(1, len(one.people))
        waits = {link.before for link in outlook.project.network.links if link.after == task.id}
        assert set(filter(None, row["waits for"].split("; "))) == waits


def test_states_are_plain_words() -> None:
    outlook = moving_day()
    first, second, *_ = (one.task for one in outlook.schedule.placements)
    states = {first: State.COMPLETED, second: State.IN_PROCESS}
    told = {row["task"]: row["state"] for row in rows(replace(outlook, states=states))}
    assert (told.pop(first), told.pop(second)) == ("done", "begun")
    assert set(told.values()) == {"to do"}


def test_without_a_schedule_there_is_the_head_alone() -> None:
    assert rows(impossible()) == []
    assert tasks_csv(impossible()).decode("utf-8-sig") == ",".join(HEAD) + "\r\n"


def test_text_of_a_plan_is_never_a_formula_nor_another_row() -> None:
    outlook = hostile(moving_day())
    text = tasks_csv(outlook).decode("utf-8-sig")
    read = list(csv.reader(io.StringIO(text, newline="")))
    assert len(read) == len(outlook.schedule.placements) + 1
    assert {len(row) for row in read} == {len(HEAD)}
    cells = [cell for row in read for cell in row]
    assert any(cell.startswith("'=cmd") for cell in cells)
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t", "\r"))]
    assert not [cell for cell in cells if "\n" in cell or "\x1b" in cell]
