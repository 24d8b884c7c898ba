"""The demands of a plan one by one, as a constraint model in which each can be switched off.

The model asks for no more than the problem does (work that pauses and recurring care are simplified, drives
are left out), so that a contradiction in it is one in the problem.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from moveplan.network.words import listed, named
from moveplan.scheduling.constraints.library import cp_model
from moveplan.scheduling.constraints.ranges import Grid, Range, joined, shared, starts
from moveplan.scheduling.impossible.demands_words import Demand, said_of_link
from moveplan.scheduling.state.clock import by, clock, day_name
from moveplan.scheduling.state.model import Job, Model
from moveplan.scheduling.state.tracks import Windows


@dataclass(slots=True)
class _Row:
    number: Any
    start: Any
    finish: Any
    lasts: int
    presence: dict[int, Any] = field(default_factory=dict)


class Demands:
    """The model, and one literal for each demand."""

    def __init__(self, model: Model) -> None:
        self.model = model
        self.cp = cp_model.CpModel()
        self.grid = Grid(model.problem.start, model.problem.grid_min)
        self.length = model.problem.horizon - model.problem.start
        self.demands: list[Demand] = []
        self.literals: list[Any] = []
        self.rows = [self._row(job) for job in model.jobs]
        self._links()
        self._dates()
        self._days()
        self._people()
        self._vehicles()
        self._gear()

    def _demand(self, kind: str, text: str, where: str, index: int) -> Any:
        self.demands.append(Demand(kind, text, where, index))
        self.literals.append(self.cp.new_bool_var(f"{kind} {index}"))
        return self.literals[-1]

    def _row(self, job: Job) -> _Row:
        grid_last = max(0, self.length // self.grid.step)
        number = self.cp.new_int_var(0, grid_last, job.task.id)
        start = number * self.grid.step
        lasts = min(option.minutes for option in job.options)
        if job.span.least == job.span.greatest:
            finish: Any = start + lasts
        else:
            finish = self.cp.new_int_var(0, self.length, f"{job.task.id} finish")
            self.cp.add(finish >= start + job.span.least)
            if job.span.greatest is not None:
                self.cp.add(finish <= start + job.span.greatest)
        self.cp.add(finish <= self.length)
        return _Row(number, start, finish, lasts)

    def _links(self) -> None:
        at = {job.task.id: position for position, job in enumerate(self.model.jobs)}
        for index, link in enumerate(self.model.problem.network.links):
            before, after, relation = self.rows[at[link.before]], self.rows[at[link.after]], link.relation
            begin = before.finish if relation.from_finish else before.start
            end = after.finish if relation.to_finish else after.start
            if link.min_gap_min is not None:
                literal = self._demand(
                    "least", said_of_link(self.model.problem.network, link, most=False), link.where, index
                )
                self.cp.add(end >= begin + link.min_gap_min).only_enforce_if(literal)
            if link.max_gap_min is not None:
                literal = self._demand(
                    "most", said_of_link(self.model.problem.network, link, most=True), link.where, index
                )
                self.cp.add(end <= begin + link.max_gap_min).only_enforce_if(literal)

    def _dates(self) -> None:
        origin = self.grid.start
        for index, (job, row) in enumerate(zip(self.model.jobs, self.rows, strict=True)):
            task = job.task
            if task.not_before is not None and task.not_before > origin:
                text = f"{named(task)} not before {clock(self.model.problem, task.not_before)}"
                literal = self._demand("not-before", text, task.where, index)
                self.cp.add(row.start >= task.not_before - origin).only_enforce_if(literal)
            if task.finish_by is not None:
                text = f"{named(task)} finished {by(self.model.problem, task.finish_by)}"
                literal = self._demand("finish-by", text, task.where, index)
                self.cp.add(row.finish <= task.finish_by - origin).only_enforce_if(literal)

    def _days(self) -> None:
        where = {tied.tag: tied.where for tied in self.model.problem.tied_days}
        for tag, days in enumerate(self.model.tags):
            tied = [at for at, job in enumerate(self.model.jobs) if job.tag == tag]
            if not tied:
                continue
            name = self.model.jobs[tied[0]].task.day
            ids = [named(self.model.jobs[at].task) for at in tied]
            asked = self._demand("day", f"{listed(ids)} on one {day_name(name)}", where.get(name, ""), tag)
            choices = [self.cp.new_bool_var(f"{name} {day.start}") for day in days]
            self.cp.add_bool_or([*choices, asked.negated()])
            for day, choice in zip(days, choices, strict=True):
                for at in tied:
                    row = self.rows[at]
                    self.cp.add(row.start >= day.start - self.grid.start).only_enforce_if(choice)
                    self.cp.add(row.finish <= day.finish - self.grid.start).only_enforce_if(choice)

    def _people(self) -> None:
        people = self.model.problem.people
        for at, person in enumerate(people):
            users = [at_job for at_job, job in enumerate(self.model.jobs) if at in job.pool]
            if not users:
                continue
            name = person.name or person.id
            hours = self._demand("hours", f"the hours of {name}", person.where, at)
            alone = self._demand("one-at-a-time", f"{name} does one thing at a time", person.where, at)
            intervals = []
            for position in users:
                job, row = self.model.jobs[position], self.rows[position]
                present = self.cp.new_bool_var(f"{job.task.id} by {at}")
                row.presence[at] = present
                self._within(row, self._starts(job, row, [self.model.people[at]]), [present, hours])
                if job.span.least == job.span.greatest and row.lasts:
                    busy = self.cp.new_bool_var(f"{job.task.id} keeps {at}")
                    self.cp.add_bool_or(busy, present.negated(), alone.negated())
                    intervals.append(self._if(busy, row.start, row.lasts, row.finish))
            if len(intervals) > 1:
                self.cp.add_no_overlap(intervals)
        for job, row in zip(self.model.jobs, self.rows, strict=True):
            self._crew(job, row)

    def _starts(self, job: Job, row: _Row, windows: Sequence[Windows]) -> list[Range]:
        """List starts within hours; of work that pauses or recurs any start within the hours counts."""
        simple = job.span.least == job.span.greatest or job.task.repeats is not None
        ranges: list[Range] | None = None
        for own in windows:
            fitting = starts(self.grid, own, row.lasts if simple else min(1, row.lasts))
            ranges = fitting if ranges is None else shared(ranges, fitting)
        return ranges or []

    def _within(self, row: _Row, ranges: Sequence[Range], literals: Sequence[Any]) -> None:
        if not ranges:
            self.cp.add_bool_or([literal.negated() for literal in literals])
            return
        domain = cp_model.Domain.from_intervals(joined(ranges))
        self.cp.add_linear_expression_in_domain(row.number, domain).only_enforce_if(*literals)

    def _crew(self, job: Job, row: _Row) -> None:
        if job.task.crew is None:
            return
        count = min(max(option.count, len(job.named)) for option in job.options)
        self.cp.add(sum(row.presence.values()) >= count)
        for person in job.named:
            self.cp.add(row.presence[person] == 1)
        for skill, number in job.task.crew.skills:
            able = [literal for at, literal in row.presence.items() if skill in self.model.skills[at]]
            self.cp.add(sum(able) >= number)

    def _vehicles(self) -> None:
        for at, vehicle in enumerate(self.model.problem.vehicles):
            users = [n for n, job in enumerate(self.model.jobs) if at in job.vehicles]
            if not users:
                continue
            name = vehicle.name or vehicle.id
            literal = self._demand("vehicle", f"the hours of {name}, one thing at a time", vehicle.where, at)
            intervals = []
            for position in users:
                job, row = self.model.jobs[position], self.rows[position]
                self._within(row, self._starts(job, row, [self.model.vehicles[at]]), [literal])
                if job.span.least == job.span.greatest and row.lasts:
                    intervals.append(self._if(literal, row.start, row.lasts, row.finish))
            if len(intervals) > 1:
                self.cp.add_no_overlap(intervals)

    def _gear(self) -> None:
        for at, thing in enumerate(self.model.problem.gear):
            if self._most(at) <= thing.count:
                continue
            name = thing.name or thing.id
            text = f"no more than {thing.count} {name} in use at a time"
            literal = self._demand("gear", text, thing.where, at)
            uses = list(self._uses(at, literal))
            self.cp.add_cumulative([use for use, _ in uses], [count for _, count in uses], thing.count)
            large = [use for use, count in uses if 2 * count > thing.count]
            if len(large) > 1:
                self.cp.add_no_overlap(large)

    def _if(self, literal: Any, start: Any, size: Any, end: Any) -> Any:
        """Write an interval that counts only where a demand holds."""
        return self.cp.new_optional_interval_var(start, size, end, literal, "use")

    def _most(self, gear: int) -> int:
        """Count how many of a kind of gear would be in use if everything happened at once."""
        used = sum(dict(job.gear).get(gear, 0) for job in self.model.jobs)
        return used + sum(count for job in self.model.jobs for at, count, _ in job.opens if at == gear)

    def _uses(self, gear: int, literal: Any) -> Iterator[tuple[Any, int]]:
        for job, row in zip(self.model.jobs, self.rows, strict=True):
            count = dict(job.gear).get(gear, 0)
            if count and row.lasts:
                yield self._if(literal, row.start, row.lasts, row.start + row.lasts), count
            for at, held, until in job.opens:
                if at == gear:
                    size = self.cp.new_int_var(0, self.length, "held")
                    end = self.rows[until].finish
                    self.cp.add(end == row.start + size)
                    yield self._if(literal, row.start, size, end), held
