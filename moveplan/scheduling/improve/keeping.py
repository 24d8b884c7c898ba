"""Another schedule that keeps the one before wherever it may: what broke is placed again, and as little as helps it.

All that still holds stands where it stood. Where a task finds no place around it, what stands in its way gives way
too: first what waits for it, then what uses its people, vehicles and gear at that time, in a circle that grows.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from moveplan.network.passes import PositiveCycleError
from moveplan.scheduling.construct.serial import Attempt, Scheme
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.improve.result import placement_of
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Engine, Placement, Schedule, Status
from moveplan.scheduling.state.desk import Spot
from moveplan.scheduling.state.frame import Frame, early_with_days, frame_of
from moveplan.scheduling.state.model import Job, Model, model_of
from moveplan.scheduling.verify import verify
from moveplan.times import Interval

CIRCLES_MIN = (0, 120, 480, 1440, 4320, 10_080)
"""How far around a task that finds no place others give way, one after the other; assumed. [min]"""
MOST_TRIES = 60
"""A try takes some milliseconds; a plan that needs more is better made anew. [-]"""

Placed = Mapping[str, Placement]


def kept(problem: SchedulingProblem, before: Placed, effort: Effort) -> Schedule | None:
    """Place again what no longer holds, and leave all else where it stood.

    Parameters
    ----------
    problem : SchedulingProblem
        What is to be scheduled now; what is over is a block of time without people in it.
    before : Mapping of str to Placement
        Where each task stood; one that is not in it is new.
    effort : Effort
        Who may interrupt.

    Returns
    -------
    Schedule or None
        None where too much would have to give way.
    """
    if not before:
        return None
    named = broken(problem, before)
    if not named:
        return _of(problem, tuple(before[task.id] for task in problem.network.tasks))
    try:
        frame = frame_of(model_of(problem))
    except PositiveCycleError:
        return None
    return _Keeper(frame, before, effort).run(named)


def broken(problem: SchedulingProblem, before: Placed) -> frozenset[str]:
    """Tell which tasks are new, or are named by the check of where all stood.

    Parameters
    ----------
    problem : SchedulingProblem
        What is to be scheduled now.
    before : Mapping of str to Placement
        Where each task stood.
    """
    tasks = problem.network.tasks
    links = tuple(link for link in problem.network.links if link.before in before and link.after in before)
    holds = tuple(
        hold for hold in problem.network.holds if hold.from_task in before and hold.until_task in before
    )
    known = tuple(task for task in tasks if task.id in before)
    network = replace(problem.network, tasks=known, links=links, holds=holds)
    schedule = Schedule(Status.FEASIBLE, Engine.SERIAL, tuple(before[task.id] for task in known))
    faults = verify(replace(problem, network=network), schedule)
    return frozenset({task.id for task in tasks} - set(before)) | {
        name for one in faults for name in one.tasks
    }


def _of(problem: SchedulingProblem, placements: tuple[Placement, ...]) -> Schedule:
    return Schedule(Status.FEASIBLE, Engine.SERIAL, placements, length_min(problem, placements))


def length_min(problem: SchedulingProblem, placements: Sequence[Placement]) -> int:
    """Tell how long a schedule takes from the start of its problem on. [min].

    Parameters
    ----------
    problem : SchedulingProblem
        Knows when it starts.
    placements : sequence of Placement
        Where all tasks stand.
    """
    return max((one.finish for one in placements), default=problem.start) - problem.start


class _Keeper:
    """Frees more and more, until all that is free finds a place."""

    def __init__(self, frame: Frame, before: Placed, effort: Effort) -> None:
        self.frame, self.model = frame, frame.model
        self.problem = frame.model.problem
        self.before = before
        self.meter = Meter(effort)
        self.at = {job.task.id: position for position, job in enumerate(self.model.jobs)}
        self.stood = [
            spot_of(self.model, job, before[job.task.id]) if job.task.id in before else None
            for job in self.model.jobs
        ]
        self.circles: dict[int, int] = {}

    def run(self, named: Iterable[str]) -> Schedule | None:
        """Free what broke and what it pushes; then what is in the way of what finds no place."""
        free = self._pushed({self.at[name] for name in named})
        for _ in range(MOST_TRIES):
            if self.meter.over():
                return None
            found, stuck = self._placed(free)
            more = self._named(found) if found is not None else self._in_the_way(stuck, free)
            if found is not None and not more:
                return found
            if more <= free:
                return None
            free = self._pushed(free | more)
        return None

    def _placed(self, free: set[int]) -> tuple[Schedule | None, Sequence[int]]:
        """Place what is free around all else, no earlier than it stood if that can be; else what is stuck."""
        days = self._days(free)
        if days is None:
            return None, tuple(free)
        try:
            early = early_with_days(self.frame, days)
        except PositiveCycleError:
            return None, tuple(free)
        fixed = tuple((at, spot) for at, spot in enumerate(self.stood) if spot is not None and at not in free)
        stuck: Sequence[int] = ()
        for bounds in (self._no_earlier(early), tuple(early)):
            attempt = Attempt(self._order(), days, bounds, (), None, fixed)
            outcome = Scheme(self.frame, attempt, self.meter).run()
            if not outcome.stuck:
                return self._schedule([spot for spot in outcome.desk.spots if spot is not None]), ()
            stuck = outcome.stuck
        return None, stuck

    def _days(self, free: set[int]) -> tuple[Interval, ...] | None:
        """Give the day of each tag: the one on which most of it stood."""
        days = []
        for tag, choices in enumerate(self.model.tags):
            tied = [at for at, job in enumerate(self.model.jobs) if job.tag == tag]
            starts = [self.stood[at] for at in sorted(tied, key=lambda at: (at in free, at))]
            moments = [spot.start for spot in starts if spot is not None]
            day = next((day for one in moments for day in choices if day.start <= one < day.finish), None)
            if day is None:
                return None
            days.append(day)
        return tuple(days)

    def _no_earlier(self, early: Sequence[int]) -> tuple[int, ...]:
        start = self.problem.start
        return tuple(
            moment if spot is None else max(moment, spot.start - start)
            for moment, spot in zip(early, self.stood, strict=True)
        )

    def _order(self) -> tuple[float, ...]:
        start = self.problem.start
        return tuple(
            float(late if spot is None else spot.start - start)
            for late, spot in zip(self.frame.urgency, self.stood, strict=True)
        )

    def _schedule(self, spots: Sequence[Spot]) -> Schedule:
        placements = tuple(
            self.before[job.task.id] if spot is old else placement_of(self.model, at, spot)
            for at, (job, spot, old) in enumerate(zip(self.model.jobs, spots, self.stood, strict=True))
        )
        return _of(self.problem, placements)

    def _named(self, found: Schedule) -> set[int]:
        """List the tasks that the check of a schedule names."""
        return {self.at[name] for fault in verify(self.problem, found) for name in fault.tasks}

    def _pushed(self, free: set[int]) -> set[int]:
        """Free what stands too early for what is free, once that begins as soon as its links allow."""
        start = self.problem.start
        moments = dict(enumerate(start + early for early in self._no_earlier(self.frame.early)))
        freed = set(free)
        for _ in self.stood:
            pushed = {
                head: moment
                for tail, head, from_finish, to_finish, gap in self.model.rules
                if head != tail
                and gap >= 0
                and (moment := self._after(moments, tail, head, from_finish, to_finish, gap)) > moments[head]
            }
            if not pushed:
                break
            moments |= pushed
            freed |= set(pushed)
        return freed

    def _after(
        self, moments: Mapping[int, int], tail: int, head: int, from_finish: bool, to_finish: bool, gap: int
    ) -> int:
        """Earliest start of the task after, for the start of the one before."""
        moment = moments[tail] + (self._lasts(tail) if from_finish else 0) + gap
        return moment - (self._lasts(head) if to_finish else 0)

    def _lasts(self, at: int) -> int:
        spot, least = self.stood[at], self.model.jobs[at].span.least
        return least if spot is None else max(least, spot.finish - spot.start)

    def _in_the_way(self, stuck: Sequence[int], free: set[int]) -> set[int]:
        """List what waits for tasks that find no place, or uses what they need, in a circle that grows."""
        found: set[int] = set()
        for position in stuck:
            while not found - free and self.circles.get(position, 0) < len(CIRCLES_MIN):
                circle = CIRCLES_MIN[self.circles.get(position, 0)]
                self.circles[position] = self.circles.get(position, 0) + 1
                found |= set(self._neighbours(position, circle))
        return found

    def _neighbours(self, position: int, circle_min: int) -> Iterator[int]:
        old = self.stood[position]
        first = self.problem.start + self.frame.early[position]
        since = max(first, old.start if old is not None else first)
        until = since + self._lasts(position) + circle_min
        linked = {rule[1] for rule in self.model.out[position]} | {
            rule[0] for rule in self.model.into[position]
        }
        job = self.model.jobs[position]
        for at, spot in enumerate(self.stood):
            if at == position or spot is None or self._is_over(at):
                continue
            near = spot.start < until and since - circle_min < spot.finish
            if near and (at in linked or _shares(job, self.model.jobs[at], spot)):
                yield at

    def _is_over(self, at: int) -> bool:
        """Whether a task cannot move: it is to be over by when it stood."""
        task, spot = self.model.jobs[at].task, self.stood[at]
        return spot is not None and task.finish_by is not None and task.not_before == spot.start


def _shares(job: Job, other: Job, spot: Spot) -> bool:
    """Whether another task holds a person, a vehicle or a piece of gear that a task could use."""
    gear = {at for at, _ in job.gear} | {at for at, *_ in job.opens}
    held = {at for at, _ in other.gear} | {at for at, *_ in other.opens}
    people = {*job.pool, *job.named}
    return bool(people & set(spot.people()) or set(job.vehicles) & set(other.vehicles) or gear & held)


def spot_of(model: Model, job: Job, placement: Placement) -> Spot:
    """Turn a placement back into the engine's own words.

    Parameters
    ----------
    model : Model
        Knows the people.
    placement : Placement
        Where it stood.
    """
    numbers = {person.id: at for at, person in enumerate(model.problem.people)}
    crews = placement.segment_people or (placement.people,)
    if not job.task.crew:
        crews = ((),)
    return Spot(
        placement.start,
        placement.finish,
        tuple((piece.start, piece.finish) for piece in placement.segments),
        tuple(tuple(numbers[name] for name in crew if name in numbers) for crew in crews),
    )
