"""The aim of even weeks before a tied day as a linear expression over the constraint model."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from moveplan.scheduling.constraints.tasks import Sheet
from moveplan.scheduling.objective.weeks import Load, loads, needs, share, week_of


def add_uneven(sheet: Sheet) -> Any:
    """Write the person-minutes beyond an even share of each week; the tied days have to be given."""
    found = loads(sheet.model)
    if not found or sheet.given.days is None:
        return 0
    tags = {job.tag for job in sheet.model.jobs if job.tag >= 0}
    end = min(sheet.model.day_of(sheet.given.days[tag].start) for tag in tags)
    by_week: dict[int, list[Any]] = {}
    total: Any = 0
    for load in found:
        for week, literal in _weeks(sheet, load, end).items():
            by_week.setdefault(week, []).append((load.work, literal))
        total += load.work * _too_far(sheet, load)
    even = share(sheet.model, end, found)
    return total + sum(_beyond(sheet, works, even) for _, works in sorted(by_week.items()))


def _weeks(sheet: Sheet, load: Load, end: int) -> dict[int, Any]:
    """Write one literal for each week in which a task may begin."""
    model, start, timing = sheet.model, sheet.grid.start, sheet.tasks[load.position]
    first = week_of(model, end, start + sheet.early[load.position])
    last = week_of(model, end, start + sheet.late[load.position])
    known = None if timing.spot is None else week_of(model, end, timing.spot.start)
    literals = {}
    for week in range(last, first + 1):
        literal = sheet.draft.literal(f"week {week}", None if known is None else week == known)
        low, high = _days(sheet, end, week)
        sheet.draft.cp.add_linear_constraint(timing.start, low, high).only_enforce_if(literal)
        literals[week] = literal
    sheet.draft.cp.add_exactly_one(list(literals.values()))
    return literals


def _days(sheet: Sheet, end: int, week: int) -> tuple[int, int]:
    """Give the first and the last moment of a week, from the start of the problem on; the last has no end."""
    days = sheet.model.day_starts
    first, behind = end - 7 * (week + 1), end - 7 * week
    low = 0 if first <= 0 else days[first] - sheet.grid.start
    return low, (days[behind] - sheet.grid.start - 1 if week else sheet.length)


def _beyond(sheet: Sheet, works: Sequence[tuple[int, Any]], even: int) -> Any:
    """Write what the work of a week is beyond the even share."""
    values = {variable.index: value for variable, value in sheet.draft.known}
    known = None
    if all(literal.index in values for _, literal in works):
        known = max(0, sum(work * values[literal.index] for work, literal in works) - even)
    most = sum(work for work, _ in works)
    beyond = sheet.draft.number([(0, most)], "beyond", known)
    sheet.draft.cp.add(beyond >= sum(work * literal for work, literal in works) - even)
    return beyond


def _too_far(sheet: Sheet, load: Load) -> Any:
    """Write whether a task stands farther ahead of all that needs it than makes sense."""
    timing = sheet.tasks[load.position]
    near = []
    for head, to_finish, gap in needs(sheet.model, load.position):
        other = sheet.tasks[head]
        ahead = None
        if timing.spot is not None and other.spot is not None:
            moment = other.spot.finish if to_finish else other.spot.start
            ahead = moment - gap - timing.spot.finish <= load.reach
        literal = sheet.draft.literal("near", ahead)
        end = other.finish if to_finish else other.start
        sheet.draft.cp.add(end - gap - timing.finish <= load.reach).only_enforce_if(literal)
        near.append((literal, ahead))
    known = None if any(is_near is None for _, is_near in near) else not any(is_near for _, is_near in near)
    far = sheet.draft.literal("far", known)
    sheet.draft.cp.add_bool_or([far, *(literal for literal, _ in near)])
    return far
