"""All jobs from their schedules to their outlooks, side by side, and the check of all of them together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from moveplan import pipeline
from moveplan.errors import Fault, FaultError
from moveplan.firm.checks.drives import drives_kept
from moveplan.firm.checks.tangles import untangled
from moveplan.firm.checks.verify import firm_kept
from moveplan.firm.day.drives import drives_of
from moveplan.firm.day.roads import Roads
from moveplan.firm.placing.agreed import gone_on
from moveplan.firm.placing.booked import people_elsewhere
from moveplan.firm.placing.one_job import Laid, Placed
from moveplan.firm.placing.staffed import rebooked, staffed_project
from moveplan.firm.placing.traces import Trace, trace_of
from moveplan.firm.side_by_side import side_by_side
from moveplan.firm.values import Firm, Job
from moveplan.hours import merged
from moveplan.plan.move import Plan
from moveplan.practice.project import Project
from moveplan.stages.reading import Settings


def as_it_stands(
    firm: Firm, roads: Roads, plan: Plan, project: Project, one: Laid, others: Sequence[Trace]
) -> Project:
    """Give the project of a job with the hours that all other jobs leave in the end.

    Parameters
    ----------
    firm, roads, plan : Firm, Roads, Plan
        Whose people, the ways, which job and its plan.
    one : Laid
        Its schedule.
    others : sequence of Trace
        What all other jobs take.
    """
    booked = people_elsewhere(roads, one.job, one.staff.people_booked, others)
    if one.story is not None:  # scheduled once more below: within all that it was scheduled with
        booked = {who: merged((*pieces, *one.staff.people_booked[who])) for who, pieces in booked.items()}
    return rebooked(firm, plan, project, one.staff, booked)


def finished(
    firm: Firm,
    roads: Roads,
    job: Job,
    plan: Plan,
    one: Laid,
    others: Sequence[Trace],
    settings: Settings,
    told: bool,
) -> Placed:
    """Make the outlook of a job whose schedule stands: its words, risk and cost.

    Parameters
    ----------
    firm, roads, job, plan : Firm, Roads, Job, Plan
        Whose people, the ways, which job and its plan.
    one : Laid
        Its schedule.
    others : sequence of Trace
        What all other jobs take, in the end.
    settings : Settings
        Runs and seed.
    told : bool
        Whether the moving day may be put to the times that half of the runs reach.
    """
    project = as_it_stands(firm, roads, plan, staffed_project(firm, job, plan, one.staff), one, others)
    if one.story is None:
        outlook = pipeline.judge(project, one.schedule, settings, tell=told)
    else:
        outlook = pipeline.judge_again(*gone_on(project, one.story, settings), one.story, settings)
    trace = trace_of(firm, roads, job.id, outlook.project, outlook.schedule)
    return Placed(job.id, one.sent, outlook, trace, one.story is not None)


def all_finished(
    firm: Firm,
    roads: Roads,
    plans: Mapping[str, Plan],
    rows: Sequence[Laid],
    settings: Settings,
    processes: int,
) -> tuple[Placed, ...]:
    """Make the outlook of every job; where told times of two jobs get in each other's way, both keep planned ones.

    Parameters
    ----------
    rows : sequence of Laid
        Their schedules, in the order of the file.
    settings : Settings
        Runs and seed.
    processes : int
        How many jobs at a time.

    Raises
    ------
    FaultError
        Where something that jobs share is taken twice, which is a fault of the program.
    """
    done: dict[str, Placed] = {}
    planned: set[str] = set()
    again = [one.job for one in rows]
    while again:
        work = [
            (
                firm,
                roads,
                firm.job(one.job),
                plans[one.job],
                one,
                [other.trace for other in rows if other is not one],
                settings,
                one.job not in planned,
            )
            for one in rows
            if one.job in again
        ]
        done |= {one.job: one for one in side_by_side(finished, work, processes)}
        faults = faults_of(firm, roads, done.values())
        again = [
            one.job
            for one in rows
            if one.job not in planned and any(one.job in fault.ids for fault in faults)
        ]
        if faults and not again:
            again = [one.job for one in rows if one.job not in planned]
        planned |= set(again)
    check(firm, roads, done.values())
    return parted(done[one.job] for one in rows)


def faults_of(firm: Firm, roads: Roads, rows: Iterable[Placed]) -> tuple[Fault, ...]:
    """Give what all jobs together break of what they share."""
    several = parted(rows)
    schedules = {one.job: (one.outlook.project, one.outlook.schedule) for one in several}
    return (
        *firm_kept(firm, roads.ways, schedules, {one.job: one.sent.day for one in several}),
        *drives_kept(firm, roads.ways, drives_of(firm, roads, [one.run for one in several]), schedules),
    )


def parted(rows: Iterable[Placed]) -> tuple[Placed, ...]:
    """Part the stops of jobs where somebody is at another job in between.

    Parameters
    ----------
    rows : iterable of Placed
        All jobs.
    """
    several = tuple(rows)
    traces = {one.job: one for one in untangled(one.trace for one in several)}
    return tuple(replace(one, trace=traces[one.job]) for one in several)


def check(firm: Firm, roads: Roads, rows: Iterable[Placed]) -> None:
    """Let all jobs together pass, or end the run.

    Parameters
    ----------
    firm, roads, rows : Firm, Roads, iterable of Placed
        As for :func:`faults_of`.

    Raises
    ------
    FaultError
        Where something that jobs share is taken twice.
    """
    if faults := faults_of(firm, roads, rows):
        raise FaultError(faults)
