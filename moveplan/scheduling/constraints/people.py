"""The constraint model of who does what: crews, working hours, work that pauses, recurring care."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice
from math import comb
from typing import Any

from moveplan.network.task import Repeat
from moveplan.scheduling.constraints.ranges import Range, pausing_starts, shared, starts
from moveplan.scheduling.constraints.tasks import Piece, Sheet, Timing, plain_timing, stretch
from moveplan.scheduling.constraints.windows import staffed_starts
from moveplan.scheduling.construct.finder import CREWS_TRIED
from moveplan.scheduling.state.crews import crews
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.model import Job


def add_tasks(sheet: Sheet) -> None:
    """Write every task with its start, finish, crew and hours."""
    for position, job in enumerate(sheet.model.jobs):
        if job.task.repeats is not None:
            timing = _recurring(sheet, position, job, job.task.repeats)
        elif job.task.may_pause and (job.pool or job.vehicles):
            timing = _pausing(sheet, position, job)
        else:
            timing = _at_once(sheet, position, job)
        sheet.tasks.append(timing)


def _at_once(sheet: Sheet, position: int, job: Job) -> Timing:
    ranges = sheet.window(position)
    hours = staffed_starts(sheet, job, job.span.least)
    timing = plain_timing(sheet, position, job, ranges if hours is None else shared(ranges, hours))
    if job.task.crew:
        _presence(sheet, job, timing)
    choices = timing.options or [None]
    for option, literal in zip(job.options, choices, strict=True):
        extra = [] if literal is None else [literal]
        for person, present in timing.presence.items():
            own = shared(ranges, starts(sheet.grid, sheet.model.people[person], option.minutes))
            sheet.draft.within(timing.number, own, [present, *extra])
        for vehicle in job.vehicles if extra else ():
            own = starts(sheet.grid, sheet.model.vehicles[vehicle], option.minutes)
            sheet.draft.within(timing.number, own, extra)
    return timing


def _presence(sheet: Sheet, job: Job, timing: Timing) -> None:
    """Choose a crew: its size, those named, and its skills."""
    cp, crew = sheet.draft.cp, job.task.crew
    for person in job.pool:
        known = None if timing.spot is None else person in timing.spot.crews[0]
        timing.presence[person] = sheet.draft.literal(f"{job.task.id} by {person}", known)
    count: Any = max(job.options[0].count, len(job.named))
    if timing.options:
        count = sum(
            literal * max(option.count, len(job.named))
            for literal, option in zip(timing.options, job.options, strict=True)
        )
    cp.add(sum(timing.presence.values()) == count)
    for person in job.named:
        cp.add(timing.presence[person] == 1)
    for skill, number in crew.skills if crew else ():
        able = [literal for at, literal in timing.presence.items() if skill in sheet.model.skills[at]]
        cp.add(sum(able) >= number)


def _crews_of(sheet: Sheet, job: Job, count: int, spot: Spot | None) -> list[tuple[int, ...]]:
    """Crews worth a literal each, the one of the known schedule among them."""
    if not job.task.crew:
        return [()]
    found = list(islice(crews(sheet.model, job, count, job.pool, lambda at: (at,)), CREWS_TRIED))
    if comb(len(job.pool), count) > CREWS_TRIED:
        sheet.draft.restricted = True
    if spot is not None and len(spot.crews[0]) == count and spot.crews[0] not in found:
        found.append(spot.crews[0])
    return found


def _pausing(sheet: Sheet, position: int, job: Job) -> Timing:
    """Work that pauses: one literal for each crew, size and elapsed time."""
    spot, window = sheet.spot(position), sheet.window(position)
    desk = sheet.desk or Desk(sheet.model)
    number = sheet.draft.number(window, f"start {job.task.id}", _number(sheet, spot))
    choices: list[tuple[Any, int, tuple[int, ...]]] = []
    for option in job.options:
        for crew in _crews_of(sheet, job, option.count, spot):
            classes = pausing_starts(sheet.grid, desk.common(crew, job.vehicles), option.minutes)
            for elapsed, ranges in classes.items():
                fitting = shared(window, ranges)
                if fitting:
                    known = None if spot is None else _stands(sheet, spot, crew, elapsed, fitting)
                    literal = sheet.draft.literal(f"{job.task.id} {elapsed}", known)
                    sheet.draft.within(number, fitting, [literal])
                    choices.append((literal, elapsed, crew))
            sheet.draft.restricted |= len(crew) > 1
    sheet.draft.cp.add_exactly_one([literal for literal, _, _ in choices])
    start = sheet.moment(number)
    size = sum(literal * elapsed for literal, elapsed, _ in choices)
    piece = stretch(sheet, start, size, (job.span.least, None), spot)
    timing = Timing(number, start, piece.end, [piece], spot=spot)
    for person in job.pool:
        known = None if spot is None else person in spot.crews[0]
        present = sheet.draft.literal(f"{job.task.id} by {person}", known)
        sheet.draft.cp.add(sum(literal for literal, _, crew in choices if person in crew) == present)
        timing.presence[person] = present
    return timing


def _stands(sheet: Sheet, spot: Spot, crew: tuple[int, ...], elapsed: int, ranges: Sequence[Range]) -> bool:
    number = sheet.grid.number(spot.start)
    inside = any(low <= number <= high for low, high in ranges)
    return inside and spot.crews[0] == crew and spot.finish - spot.start == elapsed


def _number(sheet: Sheet, spot: Spot | None) -> int | None:
    return None if spot is None else sheet.grid.number(spot.start)


def _recurring(sheet: Sheet, position: int, job: Job, repeat: Repeat) -> Timing:
    """Recurring care by one crew; each time near the moment it should be."""
    option, spot = job.options[0], sheet.spot(position)
    first = shared_or(sheet.window(position), staffed_starts(sheet, job, option.minutes))
    number = sheet.draft.number(first, f"start {job.task.id}", _number(sheet, spot))
    start = sheet.moment(number)
    last = sheet.grid.number(sheet.grid.start + sheet.length)
    pieces = [Piece(start, option.minutes, start + option.minutes)]
    numbers = [number]
    for time in range(1, repeat.times):
        known = None if spot is None else sheet.grid.number(spot.segments[time][0])
        other = sheet.draft.number([(0, last)], f"start {job.task.id} {time}", known)
        begin = sheet.moment(other)
        sheet.draft.cp.add_linear_constraint(
            begin - start,
            time * repeat.every_min - repeat.slack_min,
            time * repeat.every_min + repeat.slack_min,
        )
        sheet.draft.cp.add(begin >= pieces[-1].end)
        pieces.append(Piece(begin, option.minutes, begin + option.minutes))
        numbers.append(other)
    timing = Timing(number, start, pieces[-1].end, pieces, spot=spot)
    if job.task.crew:
        _presence(sheet, job, timing)
    sheet.draft.same_crew |= len(job.pool) > max(option.count, len(job.named))
    for every in numbers:
        for person, present in timing.presence.items():
            sheet.draft.within(
                every, starts(sheet.grid, sheet.model.people[person], option.minutes), [present]
            )
        for vehicle in job.vehicles:
            own = starts(sheet.grid, sheet.model.vehicles[vehicle], option.minutes)
            sheet.draft.cp.add_linear_expression_in_domain(every, _domain(own))
    return timing


def shared_or(ranges: list[Range], hours: list[Range] | None) -> list[Range]:
    """Give the ranges within hours, or as they are where no hours are needed."""
    return ranges if hours is None else shared(ranges, hours)


def _domain(ranges: Sequence[Range]) -> Any:
    from moveplan.scheduling.constraints.library import cp_model

    return cp_model.Domain.from_intervals(ranges)
