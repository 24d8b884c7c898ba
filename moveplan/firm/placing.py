"""Each job on its day by the usual engine, with the hours, vehicles, gear and water that the jobs before it leave."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from moveplan import pipeline
from moveplan.firm.days.question import Sent
from moveplan.firm.diaries import by_person, gear_left, people_booked, too_much, vehicles_booked
from moveplan.firm.hearts import EFFORT, Heart
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
from moveplan.times import Interval, local_day

ROUNDS = 6
"""How often a job is scheduled again because a day of somebody came out too long, or a night too short. [-]"""


@dataclass(frozen=True, slots=True)
class Placed:
    """A job with its schedule.

    Parameters
    ----------
    job : str
        Which. [-]
    sent : Sent
        Its day, who and what goes. [-]
    outlook : Outlook
        Its own result. [-]
    trace : Trace
        What it takes of the firm. [-]
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
        Which. [-]
    day : date
        Tried. [-]
    why : str
        What was in the way: ``schedule``, ``long-day``, ``gear`` or ``water``. [-]
    outlook : Outlook or None
        Its own result, with the reasons of the engine. [-]
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
        Whose people, vehicles, gear and water. [-]
    roads : Roads
        Ways between all places. [-]
    job, plan : Job, Plan
        Which job, and its plan. [-]
    heart : Heart
        Its moving day as it was measured. [-]
    sent : Sent
        Its day, who and what goes. [-]
    before : sequence of Trace
        What the jobs before it take. [-]
    settings : Settings
        Effort, runs and seed. [-]
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

    First by a quick search, so that the full one, and all that is made of it, is done once.
    """
    outlook: Outlook | None = None
    full = False
    for _ in range(ROUNDS):
        project = staffed_project(firm, job, plan, staff, steps=full)
        hung, schedule = pipeline.schedule(project, settings) if full else _quick(project, settings)
        if not schedule.placements:
            return Unplaced(job.id, sent.day, "schedule", pipeline.weigh_up(hung, schedule, settings))
        if full:
            outlook = pipeline.weigh_up(hung, schedule, settings, tell=True)
            hung, schedule = outlook.project, outlook.schedule
        trace = trace_of(firm, roads, job.id, hung, schedule)
        short = _short(firm, (*before, trace), trace)
        holes, heart = _holes(firm, roads, job, (*before, trace))
        if short or heart:
            return Unplaced(job.id, sent.day, short or "long-day", outlook)
        if outlook is not None and not holes:
            return Placed(job.id, sent, outlook, trace)
        booked = {one: merged((*pieces, *holes.get(one, ()))) for one, pieces in staff.people_booked.items()}
        staff, full = replace(staff, people_booked=booked), full or not holes
    return Unplaced(job.id, sent.day, "long-day", outlook)


def _quick(project: Project, settings: Settings) -> tuple[Project, Schedule]:
    if project.impossible:
        return project, Schedule.refused(project.impossible)
    return project, solve(project.scheduling, replace(EFFORT, seed=settings.effort.seed))


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


def _holes(
    firm: Firm, roads: Roads, job: Job, traces: Sequence[Trace]
) -> tuple[Mapping[str, tuple[Interval, ...]], bool]:
    found: dict[str, tuple[Interval, ...]] = {}
    heart = False
    for one, stops in by_person(firm, traces).items():
        holes, too_long = too_much(firm, roads, firm.worker(one), stops, job.id)
        heart = heart or too_long
        if holes:
            found[one] = holes
    return found, heart
