"""A slip of one job followed into the others: all in the same runs, by the people, vehicles and gear they share."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from moveplan.firm.checks.tangles import untangled
from moveplan.firm.day.roads import BASE, Roads
from moveplan.firm.finish import as_it_stands
from moveplan.firm.placing.agreed import gone_on
from moveplan.firm.placing.one_job import Laid
from moveplan.firm.placing.traces import Stop, Trace
from moveplan.firm.spread import Seen
from moveplan.firm.values import Firm
from moveplan.plan.move import Plan
from moveplan.risk.register.ranked import register_of
from moveplan.risk.runs.together import Between, Joint, joint
from moveplan.stages.reading import Settings
from moveplan.times import to_local

RUNS = 2000
"""Enough for shares to two points in a hundred: their standard error is 1.1 at most. [-]"""
SET_OUT, WASHED = "set-out-", "wash-gear"
"""Beginnings of the ids of the tasks with which gear comes and is ready again. [-]"""


def slips_of(
    firm: Firm,
    roads: Roads,
    plans: Mapping[str, Plan],
    rows: Sequence[Laid],
    settings: Settings,
    seen: Seen | None = None,
) -> Mapping[str, Joint]:
    """Run all jobs together, and tell of each how often it keeps what it promises, and what others do to it.

    Parameters
    ----------
    rows : sequence of Laid
        All jobs with their schedules, as planned.
    settings : Settings
        Runs and seed; without runs nothing is told.
    seen : Seen, optional
        Is shown the runs, to tell of hours, money and arrivals.
    """
    from moveplan.risk.prepared.compile import prepare

    if not settings.runs or not rows:
        return {}
    traces = untangled(one.trace for one in rows)
    several = []
    for one in rows:
        others = [trace for trace in traces if trace.job != one.job]
        project, schedule = as_it_stands(firm, roads, plans[one.job], one.project, one, others), one.schedule
        if one.story is not None:
            _, again = gone_on(project, one.story, settings)
            project, schedule = again.rest, again.found
        several.append(prepare(project, schedule, register_of(project, schedule)))
    at = {one.job: n for n, one in enumerate(rows)}
    between = [
        Between((at[before], tail), (at[after], head), float(gap))
        for before, tail, after, head, gap in _waits(firm, roads, rows, traces)
    ]
    if seen is not None:
        seen.watch([one.job for one in rows], several)
    read = None if seen is None else seen.read
    found = joint(several, between, min(settings.runs, RUNS), settings.effort.seed, read)
    return {one.job: found[n] for n, one in enumerate(rows)}


_Wait = tuple[str, str, str, str, int]
"""A job and its task, and another job whose task waits for it, so long. [min]"""


def _waits(firm: Firm, roads: Roads, rows: Sequence[Laid], traces: Sequence[Trace]) -> Iterator[_Wait]:
    """Let people and vehicles come from one job to the next; a visit ends with its day, a moving day does not."""
    jobs = {one.job: _Ends(one) for one in rows}
    rest = {one.id: one.rest_min for one in firm.people}
    for who in (*rest, *(one.id for one in firm.vehicles)):
        stops = sorted(
            stop for trace in traces for stop in (*trace.people.get(who, ()), *trace.vehicles.get(who, ()))
        )
        for one, two in pairwise(stops):
            night = to_local(one.finish, firm.zone).date() != to_local(two.start, firm.zone).date()
            if one.job == two.job or (night and not one.moving):
                continue
            gap = roads.minutes(one.last, two.first)
            if night:
                gap = roads.minutes(one.last, BASE) + rest.get(who, 0) + roads.minutes(BASE, two.first)
            for tail in jobs[one.job].lasts(one):
                for head in jobs[two.job].firsts(two):
                    yield one.job, tail, two.job, head, min(gap, two.start - one.finish)
    yield from _gear(firm, jobs, traces)


def _gear(firm: Firm, jobs: Mapping[str, _Ends], traces: Sequence[Trace]) -> Iterator[_Wait]:
    """Let a job wait for gear that would be short if another job did not bring it back."""
    for one in firm.gear:
        taken = sorted(
            ((row.start, row) for trace in traces for row in trace.gear if row.gear == one.item.id),
            key=lambda pair: (pair[0], pair[1].job),
        )
        for start, row in taken:
            there = one.item.count - sum(
                other.count for _, other in taken if other is not row and other.start <= start < other.finish
            )
            for _, other in taken:
                back = other.job != row.job and other.finish <= start
                if back and there - row.count < other.count:
                    for head in jobs[row.job].set_out:
                        yield from (
                            (other.job, tail, row.job, head, one.ready_after_min)
                            for tail in jobs[other.job].washed
                        )


class _Ends:
    """First and last tasks of the stops of a job."""

    def __init__(self, laid: Laid) -> None:
        tasks = {task.id: task for task in laid.project.network.tasks}
        self.stands = {one.task: one for one in laid.schedule.placements if tasks[one.task].repeats is None}
        self.tagged = [one for one in self.stands.values() if tasks[one.task].day and one.people]
        self.set_out = [one for one in self.stands if one.startswith(SET_OUT)]
        self.washed = [one for one in self.stands if one.startswith(WASHED)]

    def lasts(self, stop: Stop) -> list[str]:
        """Name what is over last: of a moving day, for the whole crew."""
        own = self._of(stop)
        last = max((self.stands[one].finish for one in own), default=0)
        return [one for one in own if self.stands[one].finish == last]

    def firsts(self, stop: Stop) -> list[str]:
        """Name what begins first: of a moving day, for the whole crew."""
        own = self._of(stop)
        first = min((self.stands[one].start for one in own), default=0)
        return [one for one in own if self.stands[one].start == first]

    def _of(self, stop: Stop) -> list[str]:
        if stop.moving:
            return [one.task for one in self.tagged]
        return [one for one in dict.fromkeys(stop.tasks) if one in self.stands]
