"""What a schedule costs as a linear expression: hire of vehicles by the local day, pay of people by the minute."""

from __future__ import annotations

from typing import Any

from moveplan.scheduling.constraints.tasks import Sheet
from moveplan.scheduling.state.model import Model

SCALE = 60
"""Pay is by the hour and counts by the minute: in so many parts of a hundredth of the currency. [-]"""


def add_money(sheet: Sheet) -> Any:
    """Write hire and pay, in sixtieths of a hundredth of the currency."""
    total: Any = 0
    for vehicle, wheels in enumerate(sheet.model.problem.vehicles):
        if wheels.cents_per_day:
            total += SCALE * wheels.cents_per_day * sum(_hired_days(sheet, vehicle))
    for job, timing in zip(sheet.model.jobs, sheet.tasks, strict=True):
        for person, present in timing.presence.items():
            wage = sheet.model.problem.people[person].cents_per_hour
            if not wage:
                continue
            if timing.options:
                for literal, option in zip(timing.options, job.options, strict=True):
                    both = _both(sheet, present, literal, timing, person, option.minutes)
                    total += wage * option.minutes * both
            else:
                total += wage * job.options[0].minutes * len(timing.pieces) * present
    return total


def _both(sheet: Sheet, present: Any, literal: Any, timing: Any, person: int, minutes: int) -> Any:
    known = None
    if timing.spot is not None:
        worked = sum(end - begin for begin, end in timing.spot.segments)
        known = person in timing.spot.crews[0] and worked == minutes
    both = sheet.draft.literal("both", known)
    sheet.draft.cp.add_bool_or(present.negated(), literal.negated(), both)
    return both


def _hired_days(sheet: Sheet, vehicle: int) -> list[Any]:
    """Write one literal a day on which a vehicle could be used; a task implies that of its days."""
    model = sheet.model
    hired: dict[int, Any] = {}
    for job, timing in zip(model.jobs, sheet.tasks, strict=True):
        if vehicle not in job.vehicles:
            continue
        for number, piece in enumerate(timing.pieces):
            ends = [(piece.start, 0)]
            if job.options[0].minutes and _crosses(sheet, vehicle):
                ends.append((piece.end - 1, 1))
            for expression, is_end in ends:
                stand = _on_day(sheet, timing, number, bool(is_end), expression, vehicle)
                for day, literal in stand.items():
                    if day not in hired:
                        known = _used(sheet, vehicle, day) if timing.spot is not None else None
                        hired[day] = sheet.draft.literal(f"hired {vehicle} {day}", known)
                    sheet.draft.cp.add_implication(literal, hired[day])
    return list(hired.values())


def _crosses(sheet: Sheet, vehicle: int) -> bool:
    hours = sheet.model.vehicles[vehicle]
    return any(
        sheet.model.day_of(begin) != sheet.model.day_of(end - 1)
        for begin, end in zip(hours.starts, hours.finishes, strict=True)
    )


def _used(sheet: Sheet, vehicle: int, day: int) -> bool:
    return any(
        timing.spot is not None
        and vehicle in job.vehicles
        and any(
            sheet.model.day_of(begin) <= day <= sheet.model.day_of(max(begin, end - 1))
            for begin, end in timing.spot.segments
        )
        for job, timing in zip(sheet.model.jobs, sheet.tasks, strict=True)
    )


def _open_days(model: Model, vehicle: int, first: int, last: int) -> list[int]:
    """List the local days between two, both counted, on which a vehicle can be had."""
    hours = model.vehicles[vehicle]
    days: set[int] = set()
    for begin, end in zip(hours.starts, hours.finishes, strict=True):
        days.update(range(max(first, model.day_of(begin)), min(last, model.day_of(end - 1)) + 1))
    return sorted(days)


def _on_day(
    sheet: Sheet, timing: Any, number: int, is_end: bool, expression: Any, vehicle: int
) -> dict[int, Any]:
    """Write one literal for each local day on which a moment of a task may lie, in the hours of its vehicle."""
    model, start = sheet.model, sheet.grid.start
    position = sheet.tasks.index(timing)
    first = model.day_of(start + (sheet.early[position] if number == 0 else 0))
    last = model.day_of(sheet.given.latest - 1)
    if number == 0 and not is_end:
        last = min(last, model.day_of(start + sheet.late[position]))
    known: int | None = None
    if timing.spot is not None:
        begin, end = (
            timing.spot.segments[number]
            if len(timing.pieces) > 1
            else (timing.spot.start, timing.spot.finish)
        )
        known = model.day_of(max(begin, end - 1) if is_end else begin)
    literals = {}
    for day in _open_days(model, vehicle, max(0, first), last):
        literal = sheet.draft.literal(f"day {day}", None if known is None else day == known)
        begins = model.day_starts[day] - start
        ends = model.day_starts[day + 1] - start if day + 1 < len(model.day_starts) else sheet.length + 1
        sheet.draft.cp.add_linear_constraint(expression, begins, ends - 1).only_enforce_if(literal)
        literals[day] = literal
    sheet.draft.cp.add_exactly_one(list(literals.values()))
    return literals
