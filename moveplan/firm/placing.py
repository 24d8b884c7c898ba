"""Each job on its day by the usual engine, with the hours, vehicles, gear and water that the jobs before it leave."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from moveplan import pipeline
from moveplan.firm.days.question import Sent
from moveplan.firm.diaries import by_person, gear_left, people_booked, too_much, vehicles_booked
from moveplan.firm.hearts import Heart
from moveplan.firm.roads import Roads
from moveplan.firm.staffed import Staff, staffed_project
from moveplan.firm.stock import lasts
from moveplan.firm.traces import Trace, trace_of
from moveplan.firm.values import Firm, Job
from moveplan.hours import merged
from moveplan.outputs.outlook import Outlook
from moveplan.plan.move import Plan
from moveplan.practice.project import Project
from moveplan.reading import Settings
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.solve import solve
from moveplan.surer import surest
from moveplan.times import Interval, local_day

ROUNDS = 6
"""How often a job is scheduled again because a day of somebody came out too long, or a night too short. [-]"""


@dataclass(frozen=True, slots=True)
class Placed:
    """A job with its schedule.

    Parameters
    ----------
    job : str
        Which.
    sent : Sent
        Its day, who and what goes.
    outlook : Outlook
        Its own result.
    trace : Trace
        What it takes of the firm.
    """

    job: str
    sent: Sent
    outlook: Outlook
    trace: Trace


@dataclass(frozen=True, slots=True)
class Unplaced:
    """A job that did not fit on a day after all.

    Parameters
    ----------
    job : str
        Which.
    day : date
        Tried.
    why : str
        What was in the way: ``schedule``, ``long-day``, ``gear`` or ``water``.
    outlook : Outlook or None
        Its own result, with the reasons of the engine.
    """

    job: str
    day: date
    why: str
    outlook: Outlook | None = None


def placed(
    firm: Firm,
    roads: Roads,
    job: Job,
    plan: Plan,
    heart: Heart,
    sent: Sent,
    before: Sequence[Trace],
    settings: Settings,
) -> Placed | Unplaced:
    """Schedule a job on its day, around everything that was scheduled before it.

    Parameters
    ----------
    firm : Firm
        Whose people, vehicles, gear and water.
    roads : Roads
        Ways between all places.
    job, plan : Job, Plan
        Which job, and its plan.
    heart : Heart
        Its moving day as it was measured.
    sent : Sent
        Its day, who and what goes.
    before : sequence of Trace
        What the jobs before it take.
    settings : Settings
        Effort, runs and seed.
    """
    staff = Staff(
        sent.day,
        sent.crew,
        vehicles=sent.vehicles,
        gear=_gear(firm, heart, before, sent.day),
        people_booked=people_booked(firm, roads, job.id, before),
        vehicles_booked=vehicles_booked(firm, roads, job.id, before),
        way_min=roads.farthest(job.id),
    )
    found = _scheduled(firm, roads, job, plan, staff, sent, before, settings)
    if isinstance(found, Unplaced) and found.why == "schedule" and len(sent.crew) < len(firm.people):
        others = tuple(one.id for one in firm.people if one.id not in sent.crew)
        found = _scheduled(firm, roads, job, plan, replace(staff, others=others), sent, before, settings)
    return found


def _gear(firm: Firm, heart: Heart, before: Sequence[Trace], day: date) -> dict[str, int]:
    """Count what is left for a job while it would have gear out, a day more on either side."""
    midnight = local_day(day, firm.zone)
    starts = [start for _, _, start, _ in heart.gear]
    ends = [finish for _, _, _, finish in heart.gear]
    aside = midnight.minutes
    within = Interval(
        midnight.start + min(starts, default=0) - aside, midnight.start + max(ends, default=aside) + aside
    )
    left = gear_left(firm, before, within)
    near = gear_left(firm, before, Interval(within.start + aside, within.finish - aside))
    needed = {gear: count for gear, count, _, _ in heart.gear}
    return {gear: count if count >= needed.get(gear, 0) else near[gear] for gear, count in left.items()}


def _scheduled(
    firm: Firm,
    roads: Roads,
    job: Job,
    plan: Plan,
    staff: Staff,
    sent: Sent,
    before: Sequence[Trace],
    settings: Settings,
) -> Placed | Unplaced:
    """Schedule, and again with fewer hours where a day came out too long or a night too short.

    Words are made, surer schedules looked for and runs simulated only for what keeps days and nights.
    """
    outlook: Outlook | None = None
    for _ in range(ROUNDS):
        project = staffed_project(firm, job, plan, staff, steps=False)
        schedule = _searched(project, settings)
        if not schedule.placements:
            return Unplaced(job.id, sent.day, "schedule", pipeline.weigh_up(project, schedule, settings))
        holes = _broken(firm, roads, job, before, trace_of(firm, roads, job.id, project, schedule))
        if not holes:
            worded = staffed_project(firm, job, plan, staff)
            sure = surest(worded, schedule, settings)
            outlook = pipeline.weigh_up(worded, sure, settings, tell=True)
            trace = trace_of(firm, roads, job.id, outlook.project, outlook.schedule)
            holes = _broken(firm, roads, job, before, trace)
            if not holes:
                return Placed(job.id, sent, outlook, trace)
        if isinstance(holes, str):
            return Unplaced(job.id, sent.day, holes, outlook)
        booked = {one: merged((*pieces, *holes.get(one, ()))) for one, pieces in staff.people_booked.items()}
        staff = replace(staff, people_booked=booked)
    return Unplaced(job.id, sent.day, "long-day", outlook)


def _searched(project: Project, settings: Settings) -> Schedule:
    if project.impossible:
        return Schedule.refused(project.impossible)
    return solve(project.scheduling, settings.effort)


Holes = Mapping[str, tuple[Interval, ...]]
"""When somebody should not work for a job, by person, UTC. [min]"""


def _broken(firm: Firm, roads: Roads, job: Job, before: Sequence[Trace], own: Trace) -> Holes | str:
    """Say what a schedule takes more of than the others leave, or when people should not work; empty: all is kept."""
    traces = (*before, own)
    short = _short(firm, traces, own)
    holes, heart = _holes(firm, roads, job, traces)
    return short or ("long-day" if heart else holes)


def _short(firm: Firm, traces: Sequence[Trace], own: Trace) -> str:
    """Say what of gear and water a job takes more of than the others leave; empty where nothing is short."""
    for one in firm.gear:
        mine = [taken for taken in own.gear if taken.gear == one.item.id]
        for taken in mine:
            others = [trace for trace in traces if trace is not own]
            left = gear_left(firm, others, Interval(taken.start, taken.finish))
            if left[one.item.id] < taken.count:
                return "gear"
    return "" if lasts(firm.water, traces) else "water"


def _holes(firm: Firm, roads: Roads, job: Job, traces: Sequence[Trace]) -> tuple[Holes, bool]:
    found: dict[str, tuple[Interval, ...]] = {}
    heart = False
    for one, stops in by_person(firm, traces).items():
        holes, too_long = too_much(firm, roads, firm.worker(one), stops, job.id)
        heart = heart or too_long
        if holes:
            found[one] = holes
    return found, heart
