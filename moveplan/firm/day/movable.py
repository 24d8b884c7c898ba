"""One job whose visits may move: what each has to wait for, what waits for it, who can do it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from moveplan.firm.placing.one_job import Laid
from moveplan.firm.placing.staffed import rebooked
from moveplan.firm.placing.traces import Stop
from moveplan.firm.values import Firm
from moveplan.network.link import Link
from moveplan.network.task import Kind, Task
from moveplan.plan.move import Plan
from moveplan.practice.ledger.entries import PURIFIED
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import Interval

NEVER = 1 << 60
"""Later than anything. [min]"""


@dataclass(frozen=True, slots=True)
class Visit:
    """Tasks that one person does one after the other at one place."""

    job: str
    who: str
    day: date
    stops: tuple[Stop, ...]

    @property
    def minutes(self) -> int:
        """How long it takes. [min]."""
        return sum(one.finish - one.start for one in self.stops)

    @property
    def site(self) -> str:
        """Where it is."""
        return self.stops[0].first

    def at(self, start: int) -> tuple[Stop, ...]:
        """Give its stops, one right after the other, from a moment on."""
        found = []
        for one in self.stops:
            minutes = one.finish - one.start
            found.append(replace(one, start=start, finish=start + minutes))
            start += minutes
        return tuple(found)


class Movable:
    """One job: its tasks and links, its schedule as it stands, and the hours of people without the other jobs."""

    def __init__(self, firm: Firm, plan: Plan, laid: Laid) -> None:
        self.laid, self.schedule = laid, laid.schedule
        self.project: Project = rebooked(firm, plan, laid.project, laid.staff, {})
        self.tasks: dict[str, Task] = {task.id: task for task in laid.project.network.tasks}
        self.stands: dict[str, Placement] = {one.task: one for one in laid.schedule.placements}
        self.people = {one.id: one for one in self.project.scheduling.people}
        self.fetched = {pour.task for pour in laid.project.ledger.pours if pour.target == PURIFIED}
        self.stuck: set[str] = set()

    def loose(self, task_id: str, stands: Placement) -> bool:
        """Whether a task may move: one person's work at a client's, once, no moving day, not told yet."""
        task = self.tasks[task_id]
        return (
            self.laid.story is None
            and not task.day
            and task.repeats is None
            and task.kind in (Kind.WORK, Kind.HOLD_POINT)
            and bool(task.place)
            and task_id not in self.fetched
            and task_id not in self.stuck
            and len(stands.segments) == len(stands.people) == 1
            and not stands.vehicles
        )

    def window(self, visit: Visit) -> tuple[int, int]:
        """Give the first and the last moment at which a visit may begin, all else staying where it is."""
        first, last = self.project.scheduling.start, NEVER
        offset, inside = 0, {one.tasks[0] for one in visit.stops}
        for stop in visit.stops:
            minutes, task = stop.finish - stop.start, self.tasks[stop.tasks[0]]
            lows, highs = [task.not_before or first], [(task.finish_by or NEVER) - minutes]
            for link in self.project.network.links:
                if task.id in (link.before, link.after) and not {link.before, link.after} <= inside:
                    low, high = self._between(link, task.id, minutes)
                    lows.append(low)
                    highs.append(high)
            first, last = max(first, max(lows) - offset), min(last, min(highs) - offset)
            offset += minutes
        return first, last

    def _between(self, link: Link, task: str, minutes: int) -> tuple[int, int]:
        """Give the first and the last start that one link leaves a task, its other end staying where it is."""
        forward = link.after == task
        other = self.stands.get(link.before if forward else link.after)
        if other is None:
            return -NEVER, NEVER
        ends, its = link.relation.from_finish, link.relation.to_finish
        if not forward:
            ends, its = its, ends
        moment = (other.finish if ends else other.start) - (minutes if its else 0)
        least, most = link.min_gap_min, link.max_gap_min
        low = -NEVER if least is None else moment + least
        high = NEVER if most is None else moment + most
        return (low, high) if forward else (2 * moment - high, 2 * moment - low)

    def able(self, visit: Visit) -> Iterator[str]:
        """Name who can do all of a visit."""
        for who in (*self.laid.staff.crew, *self.laid.staff.others):
            crews = [self.tasks[one.tasks[0]].crew for one in visit.stops]
            skills = {skill for crew in crews if crew for skill, count in crew.skills if count}
            named = {one for crew in crews if crew for one in crew.named}
            if skills <= set(self.people[who].skills) and named <= {who}:
                yield who

    def with_stops(self, who: str, stops: Sequence[Stop]) -> Schedule:
        """Give the schedule with some tasks elsewhere."""
        moved = {one.tasks[0]: one for one in stops}
        rows = tuple(
            replace(
                one,
                start=moved[one.task].start,
                finish=moved[one.task].finish,
                segments=(Interval(moved[one.task].start, moved[one.task].finish),),
                people=(who,),
            )
            if one.task in moved
            else one
            for one in self.schedule.placements
        )
        return replace(self.schedule, placements=rows)
