"""The constraint model of tasks and gaps: when each starts and finishes, whoever does it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from moveplan.network.arcs import Arc, ArcGraph, Cause
from moveplan.network.passes import early_starts, late_starts
from moveplan.scheduling.constraints.draft import Draft
from moveplan.scheduling.constraints.ranges import Grid, Range, joined, shared
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.margins import Margins, distance
from moveplan.scheduling.state.model import Job, Model
from moveplan.times import Interval


@dataclass(slots=True)
class Piece:
    """One stretch of a task on whoever does it.

    Parameters
    ----------
    start, size, end : linear expressions
        Minutes from the start of the problem; a pause counts into the size. [min]
    """

    start: Any
    size: Any
    end: Any


@dataclass(slots=True)
class Timing:
    """One task in the model.

    Parameters
    ----------
    number : variable
        Number of its start on the grid.
    start, finish : linear expressions
        Minutes from the start of the problem. [min]
    pieces : list of Piece
        One, or one a time for recurring care. [min]
    options : list of literals
        Which size of crew; empty where there is one.
    presence : dict of int to literal
        Who takes part.
    spot : Spot or None
        Where it stands in the schedule known so far.
    """

    number: Any
    start: Any
    finish: Any
    pieces: list[Piece]
    options: list[Any] = field(default_factory=list)
    presence: dict[int, Any] = field(default_factory=dict)
    spot: Spot | None = None


@dataclass(frozen=True, slots=True)
class Given:
    """What the model holds fixed.

    Parameters
    ----------
    days : tuple of Interval or None
        The day of each tag; None: free. [min]
    margins : Margins
        What is asked for behind late tasks. [min]
    block_of : tuple of int
        Block of each task; no margin is asked for inside one.
    latest : int
        Everything is over by this. [min]
    """

    days: tuple[Interval, ...] | None
    margins: Margins
    block_of: tuple[int, ...]
    latest: int


class Sheet:
    """The model so far.

    Parameters
    ----------
    given : Given
        What is held fixed.
    desk : Desk or None
        A complete schedule to start from.
    """

    def __init__(self, model: Model, given: Given, desk: Desk | None) -> None:
        self.model = model
        self.given = given
        self.desk = desk
        self.draft = Draft()
        self.grid = Grid(model.problem.start, model.problem.grid_min)
        self.length = given.latest - model.problem.start
        self.graph = self._graph()
        self.early = early_starts(self.graph)
        self.late = late_starts(self.graph, self.length)
        self.tasks: list[Timing] = []

    def _graph(self) -> ArcGraph:
        """Give the arcs of the problem with those of the days that are held fixed."""
        graph, days = self.model.graph, self.given.days
        if days is None:
            return graph
        extra: list[Arc] = []
        for at, job in enumerate(self.model.jobs):
            if job.tag >= 0:
                first, last = (days[job.tag].start - graph.start, days[job.tag].finish - graph.start)
                extra.append(Arc(graph.origin, at, first, Cause.NOT_BEFORE))
                extra.append(Arc(at, graph.origin, job.span.least - last, Cause.FINISH_BY))
        return replace(graph, arcs=(*graph.arcs, *extra))

    def moment(self, number: Any) -> Any:
        """Minutes from the start of the problem of a number on the grid."""
        return number * self.grid.step

    def spot(self, position: int) -> Spot | None:
        """Where a task stands in the schedule known so far."""
        return self.desk.spots[position] if self.desk is not None else None

    def window(self, position: int) -> list[Range]:
        """Numbers on the grid between the earliest and the latest start of a task, on its days."""
        start = self.model.problem.start
        whole = self.grid.between(start + self.early[position], start + self.late[position])
        if whole is None:
            return []
        job = self.model.jobs[position]
        if job.tag < 0:
            return [whole]
        days = self.days(job.tag)
        inside = (self.grid.between(day.start, day.finish - job.span.least) for day in days)
        return shared([whole], joined(inside))

    def days(self, tag: int) -> Sequence[Interval]:
        """Days that a tag may take."""
        return self.model.tags[tag] if self.given.days is None else (self.given.days[tag],)


def add_rules(sheet: Sheet) -> None:
    """Write every least and greatest gap, and the hard dates of finishes that are no fixed time after starts."""
    cp, given = sheet.draft.cp, sheet.given
    for rule in sheet.model.rules:
        tail, head, from_finish, to_finish, _ = rule
        begin, end = sheet.tasks[tail], sheet.tasks[head]
        gap = distance(rule, given.margins, given.block_of[tail] == given.block_of[head])
        cp.add(
            (end.finish if to_finish else end.start) >= (begin.finish if from_finish else begin.start) + gap
        )
    for job, timing in zip(sheet.model.jobs, sheet.tasks, strict=True):
        last = min(job.task.finish_by or given.latest, given.latest) - sheet.grid.start
        if job.span.least != job.span.greatest:
            cp.add(timing.finish <= last)


def add_tied_days(sheet: Sheet) -> list[list[Any]]:
    """Choose one day a tag; returns the literals of its days."""
    chosen: list[list[Any]] = []
    start = sheet.grid.start
    for tag in range(len(sheet.model.tags)):
        tied = [sheet.tasks[at] for at, job in enumerate(sheet.model.jobs) if job.tag == tag]
        literals = []
        for day in sheet.days(tag) if tied else ():
            known = None
            if tied[0].spot is not None:
                known = day.start <= tied[0].spot.start < day.finish
            literal = sheet.draft.literal(f"day {tag} {day.start}", known)
            for timing in tied:
                sheet.draft.cp.add(timing.start >= day.start - start).only_enforce_if(literal)
                sheet.draft.cp.add(timing.finish <= day.finish - start).only_enforce_if(literal)
            literals.append(literal)
        if tied:
            sheet.draft.cp.add_exactly_one(literals)
        chosen.append(literals)
    return chosen


def plain_timing(sheet: Sheet, position: int, job: Job, ranges: list[Range]) -> Timing:
    """Write a task whose finish is a fixed time after its start, or that has sizes of crew to choose from."""
    spot = sheet.spot(position)
    number = sheet.draft.number(
        ranges, f"start {job.task.id}", None if spot is None else sheet.grid.number(spot.start)
    )
    start = sheet.moment(number)
    if len(job.options) == 1:
        size: Any = job.options[0].minutes
        options: list[Any] = []
    else:
        taken = None if spot is None else _option(job, spot)
        options = [
            sheet.draft.literal(f"crew {job.task.id} {at}", None if taken is None else at == taken)
            for at in range(len(job.options))
        ]
        sheet.draft.cp.add_exactly_one(options)
        size = sum(literal * option.minutes for literal, option in zip(options, job.options, strict=True))
    piece = stretch(sheet, start, size, (job.span.least, job.span.greatest), spot)
    return Timing(number, start, piece.end, [piece], options, spot=spot)


def stretch(sheet: Sheet, start: Any, size: Any, between: tuple[int, int | None], spot: Spot | None) -> Piece:
    """Write a stretch from a start on; a size that is chosen gets a variable, and so does its end."""
    if isinstance(size, int):
        return Piece(start, size, start + size)
    known = None if spot is None else spot.finish - spot.start
    least, greatest = between
    lasts = sheet.draft.number([(least, sheet.length if greatest is None else greatest)], "lasts", known)
    sheet.draft.cp.add(lasts == size)
    last = None if spot is None else spot.finish - sheet.grid.start
    end = sheet.draft.number([(0, sheet.length)], "end", last)
    sheet.draft.cp.add(end == start + lasts)
    return Piece(start, lasts, end)


def _option(job: Job, spot: Spot) -> int:
    lasts, people = spot.segments[0][1] - spot.segments[0][0], len(spot.crews[0])
    if len(spot.segments) > 1 and not job.task.repeats:
        lasts = sum(end - begin for begin, end in spot.segments)
    for at, option in enumerate(job.options):
        if (option.minutes, option.count) == (lasts, people):
            return at
    return 0
