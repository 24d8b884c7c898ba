"""How early each task can start under the hours of people, vehicles and days, and what that makes impossible.

Earliest starts are pushed along the least gaps, and on to the next time at which somebody could do the task;
each task also has a last moment by which it must be over. Where the one passes the other, the chain of tasks
since the last wait for hours shows by its arithmetic that there is no schedule.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import replace

from moveplan.errors import Lack, Problem, in_key
from moveplan.network.arcs import Arc, Cause
from moveplan.network.checks import counted
from moveplan.network.passes import early_starts, late_starts
from moveplan.network.words import named, said
from moveplan.scheduling.construct.finder import Finder
from moveplan.scheduling.impossible.alone import lack_of, searched_fully, subject, there_in
from moveplan.scheduling.state.clock import at, by, clock
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.state.ends import ends_of, last_finish
from moveplan.scheduling.state.model import Model
from moveplan.scheduling.state.tracks import NEVER

_ROUNDS_A_TASK = 50
"""Most passes for each task, before dates count as never settling. Chosen; a few are usual. [-]"""
_MOST_OF_IT = 0.3
"""Share of the time before a task from which one task is named as what takes it. [-]"""


class Reach:
    """Earliest starts and last finishes under hours.

    Parameters
    ----------
    model : Model
        Gaps and hard dates without contradiction.
    """

    def __init__(self, model: Model) -> None:
        self.model = model
        self.finder = Finder(Desk(model))
        size = len(model.jobs)
        self.ends = [last_finish(model, job) for job in model.jobs]
        self.early = list(early_starts(model.graph))
        self.parents: list[Arc | None] = [None] * size
        self.waited = [True] * size
        self.unfitted = [self._floor(at) for at in range(size)]
        self.failed = -1
        self._out: list[list[Arc]] = [[] for _ in range(size)]
        for arc in model.graph.arcs:
            if model.graph.origin not in (arc.tail, arc.head):
                self._out[arc.tail].append(arc)
        self._push()

    def _push(self) -> None:
        order = sorted(range(len(self.early)), key=lambda at: (self.early[at], at))
        self.early = [self._fitted(at, self.unfitted[at]) for at in range(len(order))]
        queue, queued = deque(order), [True] * len(order)
        rounds = _ROUNDS_A_TASK * (len(order) + 1)
        self.failed = next((at for at in order if self._late(at)), -1)
        while queue and rounds and self.failed < 0:
            rounds -= 1
            tail = queue.popleft()
            queued[tail] = False
            for arc in self._out[tail]:
                if self.early[tail] + arc.weight <= self.early[arc.head]:
                    continue
                self._reach(arc, self.early[tail] + arc.weight)
                if not queued[arc.head]:
                    queue.append(arc.head)
                    queued[arc.head] = True

    def _floor(self, position: int) -> int:
        job = self.model.jobs[position]
        floor = max(self.model.problem.start, job.task.not_before or self.model.problem.start)
        return max(floor, min(day.start for day in self.model.tags[job.tag])) if job.tag >= 0 else floor

    def _reach(self, arc: Arc, moment: int) -> None:
        head = arc.head
        self.parents[head], self.unfitted[head] = arc, moment
        if moment + self.model.jobs[head].span.least > self.ends[head]:
            self.early[head], self.failed = moment, head
            return
        self.early[head] = self._fitted(head, moment)
        self.waited[head] = self.early[head] > moment
        if self._late(head):
            self.failed = head

    def _late(self, position: int) -> bool:
        return self.early[position] + self.model.jobs[position].span.least > self.ends[position]

    def _fitted(self, position: int, moment: int) -> int:
        """Earliest start not before a moment that somebody's hours allow, as far as that is surely known."""
        job, model = self.model.jobs[position], self.model
        if not (job.pool or job.vehicles) or not searched_fully(job):
            return moment
        if job.task.may_pause:
            parts = [model.vehicles[v].fit(moment, 1) for v in job.vehicles]
            parts += [min(model.people[p].fit(moment, 1) for p in job.pool)] if job.pool else []
            return max([moment, *parts]) if job.options[0].minutes else moment
        starts = []
        for option in job.options:
            spot = self.finder.at_once(position, job, option.count, option.minutes, moment, NEVER)
            starts.append(NEVER if spot is None else spot.start)
        return min(starts)

    def chain(self) -> list[Arc]:
        """Arcs from the last task that waited for hours to the one that comes too late."""
        arcs: list[Arc] = []
        for arc in self.back(self.failed):
            arcs.append(arc)
            if self.waited[arc.tail]:
                break
        return arcs[::-1]

    def back(self, position: int) -> Iterator[Arc]:
        """Give the arcs that hold a task back, from it to the first that nothing holds back."""
        seen = {position}
        arc = self.parents[position]
        while arc is not None and arc.tail not in seen:
            yield arc
            seen.add(arc.tail)
            arc = self.parents[arc.tail]


def late_finishes(model: Model, ends: Sequence[int]) -> list[int]:
    """Last moment by which each task is over, so that all that follow it are over in time as well."""
    start, origin = model.problem.start, model.graph.origin
    dates = tuple(
        Arc(at, origin, job.span.least - (end - start), Cause.FINISH_BY)
        for at, (job, end) in enumerate(zip(model.jobs, ends, strict=True))
    )
    graph = replace(model.graph, arcs=model.graph.arcs + dates)
    late = late_starts(graph, model.problem.horizon - start)
    spans = [job.span for job in model.jobs]
    return [
        min(end, model.problem.horizon if span.greatest is None else start + begin + span.greatest)
        for end, begin, span in zip(ends, late, spans, strict=True)
    ]


def check_reach(model: Model) -> tuple[Problem, ...]:
    """Say what cannot be over in time under the hours there are; empty where all could be.

    Parameters
    ----------
    model : Model
        Gaps and hard dates without contradiction, every task with a spot of its own.

    Returns
    -------
    tuple of Problem
        The chain of tasks with its arithmetic: a proof.
    """
    found = Reach(model)
    return (_told(found),) if found.failed >= 0 else ()


def chain_too_late(model: Model) -> tuple[Arc, ...]:
    """Arcs of the chain that comes too late under hours, its own dates included; empty where there is none.

    Raises
    ------
    PositiveCycleError
        Where the gaps and hard dates contradict each other whatever the hours.
    """
    found = Reach(model)
    if found.failed < 0:
        return ()
    chain = found.chain()
    ends = {found.failed, *(arc.tail for arc in chain)}
    dates = [arc for arc in model.graph.arcs if arc.link is None and ends & {arc.tail, arc.head}]
    return (*dates, *chain)


def vehicle_too_short(model: Model) -> int | None:
    """Position of the vehicle whose hours end before the chain that comes too late is over; None: it is another end."""
    found = Reach(model)
    job = model.jobs[found.failed] if found.failed >= 0 else None
    if job is None or not job.vehicles:
        return None
    last = {at: max(model.vehicles[at].finishes, default=model.problem.start) for at in job.vehicles}
    shortest = min(job.vehicles, key=last.__getitem__)
    return shortest if last[shortest] <= found.ends[found.failed] else None


def _told(found: Reach) -> Problem:
    model, last = found.model, found.failed
    job = model.jobs[last]
    end, why, where = min(ends_of(model, job))
    chain = found.chain()
    needed = sum(arc.weight for arc in chain) + job.span.least
    begin = found.early[chain[0].tail] if chain else end
    if begin + needed <= end or not chain:
        return _between_hours(found, end, why, where)
    problem, first = model.problem, chain[0].tail
    there = (
        f"allowed are {said(end - begin)}" if begin <= end else f"it is {said(begin - end)} too late by then"
    )
    text = (
        f"{named(model.jobs[first].task)} can start {at(problem, begin)} at the earliest{_after(found, first)}, and "
        f"{named(job.task)} must be over {by(problem, end)} ({why}): from the one to the other "
        f"{said(needed)} are needed; {there}; {said(begin + needed - end)} short ({counted(model.graph, chain)})"
    )
    return Problem(
        text,
        where,
        f"find {said(begin + needed - end)} more{in_key(where)}, or shorten one of these tasks by as much",
        lack=laid(model, chain, found.failed, begin, end, why),
    )


def laid(model: Model, chain: Sequence[Arc], position: int, begin: int, end: int, why: str) -> Lack:
    """Lay the tasks of a chain one after the other, each as far as to the start of the next.

    Parameters
    ----------
    position : int
        The last of them, which would have to be over by the end.
    begin, end : int
        When the first can start at the earliest, and by when the last must be over, UTC. [min]
    why : str
        What sets the end.
    """
    jobs, problem = model.jobs, model.problem
    last = jobs[position]
    parts = [(jobs[arc.tail].task.title or jobs[arc.tail].task.id, arc.weight) for arc in chain]
    parts.append((last.task.title or last.task.id, last.span.least))
    needed = sum(minutes for _, minutes in parts)
    sentence = (
        f"{named(last.task)} must be over {by(problem, end)} ({why}), but cannot be over before "
        f"{clock(problem, begin + needed)}: {said(begin + needed - end)} are missing"
    )
    return Lack(sentence, begin, end, needed, end - begin, tuple(part for part in parts if part[1] > 0))


def _after(found: Reach, position: int) -> str:
    """Name the task that it waits for, and the one before that takes most of the time, where one does."""
    before = [arc.tail for arc in found.back(position)]
    if not before:
        return ""
    jobs = found.model.jobs
    said_so = f" after {named(jobs[before[0]].task)}"
    longest_one = max(before, key=lambda at: jobs[at].span.least)
    lasts = jobs[longest_one].span.least
    if longest_one == before[0] or lasts < _MOST_OF_IT * found.early[position]:
        return said_so
    return f"{said_so} ({named(jobs[longest_one].task)}, before that, takes {said(lasts)})"


def _between_hours(found: Reach, end: int, why: str, where: str) -> Problem:
    """Say that a task finds no time between its earliest start and the last moment for it."""
    model, last = found.model, found.failed
    job, begin = model.jobs[last], found.unfitted[last]
    lack = lack_of(model, job, begin)
    there = there_in(model, job, lack)
    who = subject(model, lack, "less" if lack.pauses else f"{said(there)} at most")
    minutes = min(option.minutes for option in job.options)
    lasts = said(minutes)
    text = (
        f"{named(job.task)} can start {at(model.problem, begin)} at the earliest{_after(found, last)}, and must be "
        f"over {by(model.problem, end)} ({why}); it takes {lasts}"
        f"{'' if lack.pauses else ' at a stretch'}, and {who} in between"
    )
    sentence = (
        f"{named(job.task)} takes {lasts}, but from {clock(model.problem, begin)} on and {by(model.problem, end)} "
        f"({why}) there are {said(there)} for it: {said(minutes - there)} are missing"
    )
    lacking = Lack(sentence, begin, end, minutes, there) if there < minutes else None
    remedy = "give more hours, start earlier, or shorten what comes before it"
    return Problem(text, where, remedy, lack=lacking)
