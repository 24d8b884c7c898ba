"""The aims as linear expressions over the constraint model."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from moveplan.scheduling.constraints.money import SCALE, add_money
from moveplan.scheduling.constraints.tasks import Sheet, Timing
from moveplan.scheduling.constraints.weeks import add_uneven
from moveplan.scheduling.objective.aims import (
    CHANGES,
    EXPOSURE,
    FINISH,
    LATENESS,
    LEAD,
    MONEY,
    WEEKS,
    exposed,
    gap_ends,
)
from moveplan.scheduling.objective.weeks import loads
from moveplan.scheduling.state.model import Model


@dataclass(frozen=True, slots=True)
class Goal:
    """One aim over the model.

    Parameters
    ----------
    name : str
        As in :mod:`moveplan.scheduling.objective.aims`.
    expression : linear expression
        To be made small.
    scale : int
        The expression counts in parts of this size of the aim's own unit.
    share : float
        Part of the effort left that it may use.
    """

    name: str
    expression: Any
    scale: int = 1
    share: float = 0.5


def size_of(model: Model) -> int:
    """Estimate how many variables the whole model would have, drives between places above all."""
    located = [job for job in model.jobs if job.pool]
    pairs = len(located) * (len(located) - 1) // 2 if model.drives else 0
    return pairs + sum(len(job.pool) * (30 if job.task.may_pause else 1) for job in model.jobs)


def goals(sheet: Sheet, before: dict[str, int], needed: Callable[[str], bool]) -> list[Goal]:
    """List the aims in order of importance.

    Parameters
    ----------
    before : dict of str to int
        Starts in the schedule before; empty: there is none. [min]
    needed : callable
        Whether an aim of that name is wanted; the others are not written.

    Returns
    -------
    list of Goal
        The same names as :func:`moveplan.scheduling.objective.aims.values` gives.
    """
    rows: list[tuple[str, Callable[[], Any], int, float]] = []
    if any(job.task.due is not None for job in sheet.model.jobs):
        rows.append((LATENESS, lambda: _lateness(sheet), 1, 0.5))
    if not sheet.model.only_finish:
        rows.append((EXPOSURE, lambda: _exposure(sheet), 1, 0.6))
        rows.append((MONEY, lambda: add_money(sheet), SCALE, 0.5))
    rows.append((FINISH, lambda: _finish(sheet), 1, 0.5))
    if not sheet.model.only_finish:
        if sheet.given.days is not None and loads(sheet.model):
            rows.append((WEEKS, lambda: add_uneven(sheet), 1, 0.5))
        rows.append((LEAD, lambda: _lead(sheet), 1, 0.7))
        if before:
            rows.append((CHANGES, lambda: _changes(sheet, before), 1, 1.0))
    return [Goal(name, write(), scale, share) for name, write, scale, share in rows if needed(name)]


def _lateness(sheet: Sheet) -> Any:
    late = []
    for job, timing in zip(sheet.model.jobs, sheet.tasks, strict=True):
        if job.task.due is not None:
            due = job.task.due - sheet.grid.start
            known = None if timing.spot is None else max(0, timing.spot.finish - job.task.due)
            over = sheet.draft.number([(0, sheet.length + abs(due))], f"late {job.task.id}", known)
            sheet.draft.cp.add(over >= timing.finish - due)
            late.append(over)
    return sum(late)


def _finish(sheet: Sheet) -> Any:
    known = None
    if sheet.desk is not None:
        known = max((t.spot.finish for t in sheet.tasks if t.spot), default=sheet.grid.start)
        known -= sheet.grid.start
    last = sheet.draft.number([(0, sheet.length)], "last", known)
    for timing in sheet.tasks:
        sheet.draft.cp.add(last >= timing.finish)
    return last


def _exposure(sheet: Sheet) -> Any:
    at = {job.task.id: timing for job, timing in zip(sheet.model.jobs, sheet.tasks, strict=True)}
    total: Any = 0
    for link in sheet.model.problem.network.links:
        if exposed(link):
            before, after = at[link.before], at[link.after]
            end = after.finish if link.relation.to_finish else after.start
            total += end - (before.finish if link.relation.from_finish else before.start)
    last = gap_ends(sheet.model.problem)
    for tag in range(len(sheet.model.tags)):
        tied = [
            (job.task.id in last, timing)
            for job, timing in zip(sheet.model.jobs, sheet.tasks, strict=True)
            if job.tag == tag
        ]
        if tied:
            total += _length_of_day(sheet, tag, tied)
    return total


def _length_of_day(sheet: Sheet, tag: int, tied: Sequence[tuple[bool, Timing]]) -> Any:
    """Write how long a day lasts, to its end and to the end of its last greatest gap."""
    spots = [timing.spot for _, timing in tied if timing.spot is not None]
    first = min((spot.start - sheet.grid.start for spot in spots), default=None)
    begin = sheet.draft.number([(0, sheet.length)], f"begin {tag}", first)
    for _, timing in tied:
        sheet.draft.cp.add(begin <= timing.start)
    total = _end_of(sheet, f"end {tag}", [timing for _, timing in tied]) - begin
    gaps = [timing for ends_gap, timing in tied if ends_gap]
    return total + _end_of(sheet, f"gaps over {tag}", gaps) - begin if gaps else total


def _end_of(sheet: Sheet, name: str, timings: Sequence[Timing]) -> Any:
    """Write the last finish of some tasks."""
    known = [timing.spot.finish - sheet.grid.start for timing in timings if timing.spot is not None]
    end = sheet.draft.number([(0, sheet.length)], name, max(known, default=None))
    for timing in timings:
        sheet.draft.cp.add(end >= timing.finish)
    return end


def _lead(sheet: Sheet) -> Any:
    """Distance of each late task from its margin; the nearest of what needs it counts."""
    total: Any = 0
    model = sheet.model
    for position, (job, timing) in enumerate(zip(model.jobs, sheet.tasks, strict=True)):
        rules = [rule for rule in model.out[position] if rule[2] and rule[4] >= 0]
        if not job.late or not rules:
            continue
        ends = [
            (sheet.tasks[head].finish if to_finish else sheet.tasks[head].start) - gap
            for _, head, _, to_finish, gap in rules
        ]
        known, near = _known_lead(sheet, position)
        nearest = sheet.draft.number([(-sheet.length, sheet.length)], f"near {position}", near)
        sheet.draft.cp.add_min_equality(nearest, ends)
        away = sheet.draft.number([(0, 3 * sheet.length)], f"away {position}", known)
        sheet.draft.cp.add(away >= nearest - timing.finish - job.task.margin_min)
        sheet.draft.cp.add(away >= job.task.margin_min - nearest + timing.finish)
        total += away
    return total


def _known_lead(sheet: Sheet, position: int) -> tuple[int | None, int | None]:
    job, spot = sheet.model.jobs[position], sheet.tasks[position].spot
    if spot is None:
        return None, None
    ends = []
    for _, head, from_finish, to_finish, gap in sheet.model.out[position]:
        other = sheet.tasks[head].spot
        if from_finish and gap >= 0 and other is not None:
            ends.append((other.finish if to_finish else other.start) - gap)
    near = min(ends)
    return abs(near - spot.finish - job.task.margin_min), near - sheet.grid.start


def _changes(sheet: Sheet, before: dict[str, int]) -> Any:
    moved = []
    for job, timing in zip(sheet.model.jobs, sheet.tasks, strict=True):
        stood = before.get(job.task.id)
        if stood is None:
            continue
        known = None if timing.spot is None else timing.spot.start != stood
        literal = sheet.draft.literal(f"moved {job.task.id}", known)
        sheet.draft.cp.add(timing.start == stood - sheet.grid.start).only_enforce_if(literal.negated())
        moved.append(literal)
    return sum(moved)
