"""Earliest and latest starts with the hours of people and vehicles counted in, before a model is written.

What cannot happen need not be written: most pairs of tasks are kept apart by the hours alone. The solver would find the
same, at many times the price.
"""

from __future__ import annotations

from dataclasses import replace

from moveplan.network.arcs import Arc, Cause
from moveplan.network.passes import PositiveCycleError, early_starts, late_starts
from moveplan.scheduling.constraints.ranges import Range, extent, joined, shared, starts
from moveplan.scheduling.constraints.tasks import Sheet
from moveplan.scheduling.state.model import Job

_ROUNDS = 4
"""How often hours and gaps are told to each other; a chain over several evenings takes one round for each. [-]"""


def staffed_starts(sheet: Sheet, job: Job, lasts: int) -> list[Range] | None:
    """List starts at which somebody, and every vehicle, has so many minutes; None: no hours are needed."""
    ranges: list[Range] | None = None
    if job.task.crew:
        ranges = joined(r for at in job.pool for r in starts(sheet.grid, sheet.model.people[at], lasts))
    for vehicle in job.vehicles:
        own = starts(sheet.grid, sheet.model.vehicles[vehicle], lasts)
        ranges = own if ranges is None else shared(ranges, own)
    return ranges


def tighten(sheet: Sheet) -> None:
    """Count the hours into the earliest and latest starts of a model that has no tasks yet.

    Where a task is left without a start, it goes no further: to say so is the solver's.
    """
    hours = [_hours(sheet, job) for job in sheet.model.jobs]
    for _ in range(_ROUNDS):
        before = sheet.early, sheet.late
        if not _tightened(sheet, hours):
            sheet.early, sheet.late = before
            return
        if (sheet.early, sheet.late) == before:
            return


def _hours(sheet: Sheet, job: Job) -> list[Range] | None:
    """List starts that the hours allow; work that may pause needs but a minute at its start."""
    if job.task.repeats is not None:
        return staffed_starts(sheet, job, job.options[0].minutes)
    return staffed_starts(sheet, job, min(1, job.span.least) if job.task.may_pause else job.span.least)


def _tightened(sheet: Sheet, hours: list[list[Range] | None]) -> bool:
    """Move every start into the hours, then along the gaps; false where that cannot be."""
    graph, step = sheet.graph, sheet.grid.step
    arcs: list[Arc] = []
    for position, own in enumerate(hours):
        window = sheet.window(position)
        found = extent(window, window if own is None else own)
        if found is None:
            return False
        arcs.append(Arc(graph.origin, position, found[0] * step, Cause.NOT_BEFORE))
        arcs.append(Arc(position, graph.origin, -found[1] * step, Cause.FINISH_BY))
    narrower = replace(graph, arcs=(*graph.arcs, *arcs))
    try:
        sheet.early, sheet.late = early_starts(narrower), late_starts(narrower, sheet.length)
    except PositiveCycleError:
        return False
    return True
