"""A job's plan with the firm's people, vehicles and gear in place of its own, and what the client still does."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from moveplan.estimate import Provenance
from moveplan.firm.values import Firm, Job, Worker
from moveplan.hours import Absence, days_off, free_time, without
from moveplan.network.task import Crew, Task
from moveplan.plan.move import Plan
from moveplan.plan.people import Helper
from moveplan.plan.supplies import GearItem
from moveplan.practice.compose import on_day
from moveplan.practice.project import Project
from moveplan.stages.reading import compose
from moveplan.times import MINUTES_A_DAY, Interval, local_day, to_local

CLIENTS_TASKS = ("ask-permission", "first-look", "list-livestock-", "photograph-display-", "last-feed-")
"""Beginnings of the ids of single tasks that are the client's beside the recurring care. [-]"""
EVES = ("go-or-no-go",)
"""Ids of what is decided on the eve where the crew works then; later, and the moving day begins at noon. [-]"""
AHEAD = timedelta(days=730)
"""How far ahead days off are looked up; jobs are over long before. [day]"""
OF_THE_FIRM = "of-the-firm"
"""Skill of everybody of the firm, which all asks for that is not the client's. [-]"""
OWN_WAY = "comes-alone"
"""Skill of whoever of the firm drives, which work asks for that is done without the crew. [-]"""
PARTS = ("lifts", "drives", "cares")


@dataclass(frozen=True, slots=True)
class Staff:
    """What a firm sends to a job.

    Parameters
    ----------
    day : date
        The moving day.
    crew : tuple of str
        Who is there on the moving day, whoever leads first.
    others : tuple of str
        Who may come on other days as well.
    vehicles : tuple of str
        What they drive.
    gear : Mapping of str to int
        How many of each kind of gear are left for this job; what is not named is there in full.
    people_booked, vehicles_booked : Mapping of str to tuple of Interval
        When each of them is elsewhere, drives included, UTC. [min]
    way_min : int
        From the base to the farther of its places. [min]
    decides_on_eve : bool or None
        Whether the last decision is made before the moving day; None: where the hours of the crew allow it.
    """

    day: date
    crew: tuple[str, ...]
    others: tuple[str, ...] = ()
    vehicles: tuple[str, ...] = ()
    gear: Mapping[str, int] = field(default_factory=dict)
    people_booked: Mapping[str, tuple[Interval, ...]] = field(default_factory=dict)
    vehicles_booked: Mapping[str, tuple[Interval, ...]] = field(default_factory=dict)
    way_min: int = 0
    decides_on_eve: bool | None = None


def staffed_plan(firm: Firm, plan: Plan, staff: Staff) -> Plan:
    """Put the firm's people, vehicles and gear into the plan of a job, on its day.

    Parameters
    ----------
    plan : Plan
        Of the job, as it stands alone.
    staff : Staff
        Who and what goes.
    """
    lead = leader(firm, staff.crew)
    crew = (lead, *(one for one in staff.crew if one != lead), *staff.others)
    own = tuple(_worker(firm.worker(one), plan, staff, leads=one == lead) for one in crew)
    dates = replace(plan.dates, move_days=(staff.day,)) if plan.dates else None
    return replace(
        plan,
        dates=dates,
        people=(*own, *(_client(one, plan, staff.day) for one in clients(firm, plan))),
        vehicles=tuple(
            replace(
                one.vehicle,
                booked=(*staff.vehicles_booked.get(one.id, ()), *days_gone(firm, one.service)),
                base=firm.base.name,
            )
            for one in firm.vehicles
            if one.id in staff.vehicles
        ),
        gear=(*_gear(firm, plan, staff.gear), *(one for one in plan.gear if one.clients)),
    )


def days_gone(firm: Firm, service: tuple[Absence, ...]) -> tuple[Interval, ...]:
    """Give the days on which a vehicle is not there, as far ahead as jobs reach."""
    first = to_local(firm.now, firm.zone).date()
    off = days_off(service, first, first + AHEAD)
    return tuple(local_day(day, firm.zone) for day in sorted(off))


def leader(firm: Firm, crew: Iterable[str]) -> str:
    """Name who leads of a crew: the first who may."""
    ids = list(crew)
    return next((one for one in ids if firm.worker(one).helper.lead), ids[0])


def clients(firm: Firm, plan: Plan) -> tuple[Helper, ...]:
    """Give the client's own people: all of the plan that are not the firm's by their id."""
    firms = {one.id for one in firm.people}
    return tuple(one for one in plan.people if one.id not in firms)


def _worker(worker: Worker, plan: Plan, staff: Staff, *, leads: bool) -> Helper:
    """Give somebody as they are in a job; who does not drive rides with the crew, and comes on no other day.

    Whoever is not there on the moving day carries nothing of it: the day's loads are cut for those who are.
    """
    day = local_day(staff.day, plan.zone)
    away = () if worker.id in staff.crew else (day,)
    if not worker.helper.drives:
        far = MINUTES_A_DAY * AHEAD.days
        away = (*away, Interval(day.start - far, day.start), Interval(day.finish, day.finish + far))
    booked = (*staff.people_booked.get(worker.id, ()), *away)
    return replace(
        worker.helper,
        lead=leads,
        lifts=worker.helper.lifts and worker.id in staff.crew,
        place="",
        way_min=staff.way_min,
        booked=booked,
        skills=(OF_THE_FIRM, OWN_WAY) if worker.helper.drives else (OF_THE_FIRM,),
    )


def _client(helper: Helper, plan: Plan, day: date) -> Helper:
    """Let a client do what is theirs: nothing heavy, nothing on the moving day, animals only where that is written."""
    written = plan.provenance(f"people.{helper.id}.cares") is Provenance.GIVEN
    return replace(
        helper,
        lifts=False,
        drives=False,
        cares=helper.cares and written,
        lead=False,
        client=True,
        moving_day_hours=(),
        eve_hours=(),
        booked=(local_day(day, plan.zone),),
    )


def _gear(firm: Firm, plan: Plan, left: Mapping[str, int]) -> tuple[GearItem, ...]:
    """Lend no more of a kind than the plan counts on where it stands alone: with heaters, more is always faster."""
    wanted: dict[str, int] = {}
    for own in plan.gear:
        wanted[own.kind] = wanted.get(own.kind, 0) + (0 if own.clients else own.count)
    lent: list[GearItem] = []
    for one in firm.gear:
        item = one.item
        count = min(left.get(item.id, item.count), wanted.get(item.kind, item.count))
        if item.kind in wanted:
            wanted[item.kind] -= count
        if count > 0:
            lent.append(replace(item, count=count))
    return tuple(lent)


def staffed_project(firm: Firm, job: Job, plan: Plan, staff: Staff, *, steps: bool = True) -> Project:
    """Compose a job with the firm's people, and give the client what is theirs.

    Parameters
    ----------
    firm, plan, staff : Firm, Plan, Staff
        As for :func:`staffed_plan`.
    job : Job
        It says who does the recurring care.
    steps : bool
        Whether tasks say how they are done.
    """
    project = compose(staffed_plan(firm, plan, staff), steps=steps)
    if project.impossible:
        return project
    carers = clients(firm, project.plan) if job.care == "client" else ()
    own = {task.id for task in plan.tasks}
    tasks = tuple(task if task.id in own else _shared_out(task, carers) for task in project.network.tasks)
    works = _works_on_the_eve(firm, staff) if staff.decides_on_eve is None else staff.decides_on_eve
    if works:
        eve = local_day(staff.day, plan.zone).start
        tasks = tuple(replace(task, finish_by=eve) if task.id in EVES else task for task in tasks)
    return on_day(replace(project, network=replace(project.network, tasks=tasks)), staff.day)


def _works_on_the_eve(firm: Firm, staff: Staff) -> bool:
    """Whether all of the crew who drive have hours on the day before, and none of them was booked elsewhere."""
    eve = staff.day - timedelta(days=1)
    drivers = [one for one in map(firm.worker, staff.crew) if one.helper.drives]
    return all(
        without(
            free_time(one.helper.hours, one.helper.absences, eve, eve, firm.zone),
            staff.people_booked.get(one.id, ()),
        )
        for one in drivers
    )


def rebooked(
    firm: Firm, plan: Plan, project: Project, staff: Staff, booked: Mapping[str, tuple[Interval, ...]]
) -> Project:
    """Give a project the hours of its people anew, with other bookings than it was composed with.

    Parameters
    ----------
    firm, plan, staff : Firm, Plan, Staff
        As it was composed with.
    project : Project
        Composed, and hung on its day.
    booked : Mapping of str to tuple of Interval
        When each of the firm's people is elsewhere, UTC. [min]
    """
    people = staffed_plan(firm, plan, replace(staff, people_booked=booked)).people
    return on_day(replace(project, plan=replace(project.plan, people=people)), staff.day)


def _shared_out(task: Task, carers: tuple[Helper, ...]) -> Task:
    """Name the client for what is theirs and what they can do; everything else is the firm's."""
    if task.crew is None:
        return task
    wanted = {skill for skill, count in task.crew.skills if count}
    able = next((one for one in carers if one.hours and wanted <= _skills(one)), None)
    if able is not None and clients_own(task) and task.crew.count == 1:
        return replace(task, crew=Crew(1, task.crew.skills, (able.id,)), larger_crews=())
    firms = (OF_THE_FIRM, *(() if task.day or not task.place else (OWN_WAY,)))
    crew = replace(task.crew, skills=(*task.crew.skills, *((one, task.crew.count) for one in firms)))
    return replace(task, crew=crew, larger_crews=())


def clients_own(task: Task) -> bool:
    """Whether a task is the client's where the plan names people of its own: recurring care, feeding, lists."""
    return not task.day and (task.repeats is not None or task.id.startswith(CLIENTS_TASKS))


def _skills(helper: Helper) -> set[str]:
    return {skill for skill in PARTS if getattr(helper, skill)}
