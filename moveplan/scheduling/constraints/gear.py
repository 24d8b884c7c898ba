"""The constraint model of gear: never more in use than there is, held gear included."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from moveplan.scheduling.constraints.tasks import Sheet


def add_gear(sheet: Sheet) -> None:
    """Write one limit for each kind of gear."""
    cp = sheet.draft.cp
    for gear, thing in enumerate(sheet.model.problem.gear):
        uses = [*_in_use(sheet, gear), *_on_hold(sheet, gear)]
        if sum(count for _, count in uses) > thing.count:
            cp.add_cumulative([use for use, _ in uses], [count for _, count in uses], thing.count)


def _in_use(sheet: Sheet, gear: int) -> Iterator[tuple[Any, int]]:
    """Give an interval and a count for each task that uses a kind of gear for some time."""
    for job, timing in zip(sheet.model.jobs, sheet.tasks, strict=True):
        count = dict(job.gear).get(gear, 0)
        if count and job.options[0].minutes:
            for piece in timing.pieces:
                yield sheet.draft.cp.new_interval_var(piece.start, piece.size, piece.end, "use"), count


def _on_hold(sheet: Sheet, gear: int) -> Iterator[tuple[Any, int]]:
    """Give an interval and a count each time a kind of gear is held from one task to another."""
    for position, job in enumerate(sheet.model.jobs):
        for at, count, until in job.opens:
            if at == gear:
                yield _held(sheet, position, until), count


def _held(sheet: Sheet, since: int, until: int) -> Any:
    """Write an interval from the start of one task to the finish of another, which is no earlier."""
    begin, end = sheet.tasks[since], sheet.tasks[until]
    known: int | None = None
    if begin.spot is not None and end.spot is not None:
        known = end.spot.finish - begin.spot.start
    size = sheet.draft.number([(0, sheet.length)], f"held {since} {until}", known)
    sheet.draft.cp.add(end.finish == begin.start + size)
    return sheet.draft.cp.new_interval_var(begin.start, size, end.finish, "held")
