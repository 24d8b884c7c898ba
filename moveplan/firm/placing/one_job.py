"""Each job on its day by the usual engine, with the hours, vehicles, gear and water that the jobs before it leave."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from moveplan.firm.day.diaries import by_person, days_of, too_much, too_soon
from moveplan.firm.day.drives import unreached
from moveplan.firm.day.roads import Roads
from moveplan.firm.days.question import Sent
from moveplan.firm.placing.booked import (
    gear_ahead,
    gear_left,
    gear_of,
    moving_booked,
    people_booked,
    vehicles_booked,
)
from moveplan.firm.placing.hearts import Heart
from moveplan.firm.placing.lent import Taken
from moveplan.firm.placing.staffed import Staff, staffed_project
from moveplan.firm.placing.stock import lasts
from moveplan.firm.placing.traces import Run, Trace, trace_of
from moveplan.firm.values import Firm, Job
from moveplan.hours import merged
from moveplan.outputs.outlook import Outlook
from moveplan.plan.move import Plan
from moveplan.practice.project import Project
from moveplan.practice.under_way.story import Story
from moveplan.risk.promise.judge import promise_of
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.solve import solve
from moveplan.stages.reading import Settings
from moveplan.stages.surer import surest
from moveplan.times import Interval, local_day

TRIES = 6
"""How often a job is scheduled again because a day of somebody came out too long, or a night too short. [-]"""


@dataclass(frozen=True, slots=True)
class Laid:
    """A job with a schedule around the others, before anything is made of it.

    Parameters
    ----------
    sent : Sent
        Its day, who and what goes.
    staff : Staff
        Who and what it was scheduled with.
    project : Project
        As scheduled, without words.
    trace : Trace
        What it takes of the firm.
    story : Story or None
        What has happened to it since it was accepted; None: it was not.
    """

    sent: Sent
    staff: Staff
    project: Project
    schedule: Schedule
    trace: Trace
    story: Story | None = None

    @property
    def job(self) -> str:
        """Id of the job."""
        return self.sent.job

    @property
    def run(self) -> Run:
        """As it is scheduled."""
        return Run(self.job, self.project, self.schedule, self.trace)


@dataclass(frozen=True, slots=True)
class Placed:
    """A job with its schedule, and what is known of its future.

    Parameters
    ----------
    sent : Sent
        Its day, who and what goes.
    outlook : Outlook
        Its own result.
    trace : Trace
        What it takes of the firm.
    accepted : bool
        Whether it stands as it was accepted.
    """

    job: str
    sent: Sent
    outlook: Outlook
    trace: Trace
    accepted: bool = False

    @property
    def run(self) -> Run:
        """As it is scheduled."""
        return Run(self.job, self.outlook.project, self.outlook.schedule, self.trace)


@dataclass(frozen=True, slots=True)
class Unplaced:
    """A job that did not fit on a day after all.

    Parameters
    ----------
    day : date
        Tried.
    why : str
        What was in the way: ``schedule``, ``busy``, ``long-day``, ``gear`` or ``water``.
    trace : Trace or None
        What it would take of the firm; None: it has no schedule.
    """

    job: str
    day: date
    why: str
    trace: Trace | None = None


def laid(
    firm: Firm,
    roads: Roads,
    job: Job,
    plan: Plan,
    hearts: Mapping[str, Heart],
    sent: Sent,
    others: Sequence[Sent],
    before: Sequence[Trace],
    settings: Settings,
) -> Laid | Unplaced:
    """Schedule a job on its day, around everything that was scheduled before it and the moving days of all others.

    Parameters
    ----------
    firm : Firm
        Whose people, vehicles, gear and water.
    hearts : Mapping of str to Heart
        Moving days as they were measured.
    sent : Sent
        Its day, who and what goes.
    others : sequence of Sent
        The same of all other jobs.
    before : sequence of Trace
        What the jobs before it take.
    settings : Settings
        Effort and seed.
    """
    taken = people_booked(firm, roads, job.id, before)
    moving = moving_booked(firm, roads, job.id, others, hearts)
    stand = {trace.job for trace in before}
    ahead = gear_ahead(firm, (one for one in others if one.job not in {*stand, job.id}), hearts)
    staff = Staff(
        sent.day,
        sent.crew,
        vehicles=sent.vehicles,
        gear=_gear(firm, hearts[job.id], gear_of(before), ahead, sent.day),
        people_booked={who: merged((*pieces, *moving[who])) for who, pieces in taken.items()},
        vehicles_booked=vehicles_booked(firm, roads, job.id, before),
        way_min=roads.farthest(job.id),
    )
    found = _scheduled(firm, roads, job, plan, staff, sent, before, settings)
    missing = isinstance(found, Unplaced) and found.why == "schedule"
    if len(sent.crew) == len(firm.people) or not (missing or _lacks(found, settings) > 0):
        return found
    more = tuple(one.id for one in firm.people if one.id not in sent.crew)
    again = _scheduled(firm, roads, job, plan, replace(staff, others=more), sent, before, settings)
    return again if missing or _lacks(again, settings) < _lacks(found, settings) else found


def _lacks(found: Laid | Unplaced, settings: Settings) -> float:
    """Tell how much of what is promised a schedule fails to keep, as a share of runs; 0: enough is kept."""
    if isinstance(found, Unplaced):
        return 1.0
    promise = promise_of(found.project, found.schedule, settings.effort.seed) if settings.runs else None
    return 0.0 if promise is None else max(promise.confidence - promise.kept, 0.0)


def _gear(
    firm: Firm, heart: Heart, taken: Sequence[Taken], ahead: Sequence[Taken], day: date
) -> dict[str, int]:
    """Count what is left for a job a day more on either side, so that none is spare which another job needs.

    Where that is less than its moving day needs, it gets what it needs, and what it takes as spare it goes without.
    """
    midnight = local_day(day, firm.zone)
    counts: dict[str, int] = {}
    for gear in (one.item.id for one in firm.gear):
        needed = [row for row in heart.gear if row[0] == gear]
        spare = [row for row in heart.spare if row[0] == gear]
        whole = _within(midnight, (*needed, *spare), midnight.minutes)
        left = gear_left(firm, (*taken, *ahead), whole)[gear]
        if left < (least := sum(count for _, count, _, _ in needed)):
            left = min(gear_left(firm, taken, _within(midnight, needed, 0))[gear], least)
        counts[gear] = left
    return counts


def _within(day: Interval, rows: Sequence[tuple[str, int, int, int]], aside: int) -> Interval:
    """From when to when gear is away, and so much more on either side; where none is, the day."""
    starts = [day.start + start for _, _, start, _ in rows] or [day.start]
    ends = [day.start + finish for _, _, _, finish in rows] or [day.finish]
    return Interval(min(starts) - aside, max(ends) + aside)


def _scheduled(
    firm: Firm,
    roads: Roads,
    job: Job,
    plan: Plan,
    staff: Staff,
    sent: Sent,
    before: Sequence[Trace],
    settings: Settings,
) -> Laid | Unplaced:
    """Schedule, and again with fewer hours where a day came out too long or a night too short."""
    for _ in range(TRIES):
        project = staffed_project(firm, job, plan, staff, steps=False)
        schedule = _searched(project, settings)
        if not schedule.placements:
            return Unplaced(job.id, sent.day, "schedule")
        found = Run(job.id, project, schedule, trace_of(firm, roads, job.id, project, schedule))
        holes = short_of(firm, roads, before, found)
        if not holes:
            sure = surest(project, schedule, settings)
            found = Run(job.id, project, sure, trace_of(firm, roads, job.id, project, sure))
            holes = short_of(firm, roads, before, found)
        if not holes:
            return Laid(sent, staff, project, found.schedule, found.trace)
        if isinstance(holes, str):
            return Unplaced(job.id, sent.day, holes, found.trace)
        booked = {one: merged((*pieces, *holes.get(one, ()))) for one, pieces in staff.people_booked.items()}
        staff = replace(staff, people_booked=booked)
    return Unplaced(job.id, sent.day, "long-day")


def _searched(project: Project, settings: Settings) -> Schedule:
    if project.impossible:
        return Schedule.refused(project.impossible)
    return solve(project.scheduling, settings.effort)


Holes = Mapping[str, tuple[Interval, ...]]
"""When somebody should not work for a job, by person, UTC. [min]"""


def short_of(firm: Firm, roads: Roads, before: Sequence[Trace], run: Run) -> Holes | str:
    """Say what a schedule takes more of than the others leave, or when people should not work; empty: all is kept.

    Parameters
    ----------
    firm, roads : Firm, Roads
        Whose people, and the ways.
    before : sequence of Trace
        What the others take.
    run : Run
        The job as it is scheduled.
    """
    own = run.trace
    traces = (*before, own)
    short = _short(firm, traces, own)
    holes, heart = _holes(firm, roads, traces, own)
    holes = holes or unreached(firm, roads, run, before)
    return short or ("busy" if _torn(firm, roads, traces, own) else "long-day" if heart else holes)


def _torn(firm: Firm, roads: Roads, traces: Sequence[Trace], own: Trace) -> bool:
    """Whether somebody of the crew has a visit that stands already in the moving day, or too near to it."""
    return any(
        before.job != after.job and own.job in {one.job for one in (before, after) if one.moving}
        for stops in by_person(firm, traces).values()
        for rows in days_of(firm, stops).values()
        for before, after, _ in too_soon(roads, rows)
    )


def _short(firm: Firm, traces: Sequence[Trace], own: Trace) -> str:
    """Say what of gear and water a job takes more of than the others leave; empty where nothing is short."""
    for one in firm.gear:
        mine = [taken for taken in own.gear if taken.gear == one.item.id]
        for taken in mine:
            others = [trace for trace in traces if trace is not own]
            left = gear_left(firm, gear_of(others), Interval(taken.start, taken.finish))
            if left[one.item.id] < taken.count:
                return "gear"
    return "" if lasts(firm.water, traces) else "water"


def _holes(firm: Firm, roads: Roads, traces: Sequence[Trace], own: Trace) -> tuple[Holes, bool]:
    found = {
        one: too_much(firm, roads, firm.worker(one), stops, own.job)
        for one, stops in by_person(firm, traces).items()
    }
    crew = tuple(piece for one in found.values() for piece in one.crew)
    goes = {who for who, stops in own.people.items() if any(stop.moving for stop in stops)}
    holes = {who: (*one.own, *(crew if who in goes else ())) for who, one in found.items()}
    return {who: pieces for who, pieces in holes.items() if pieces}, any(one.heart for one in found.values())
