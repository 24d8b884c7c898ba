"""Jobs whose schedule was accepted: they stand as they were agreed, with what has happened since."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from moveplan.firm.day.roads import Roads
from moveplan.firm.days.question import Sent
from moveplan.firm.placing.booked import gear_left, gear_of, people_booked, people_elsewhere, vehicles_booked
from moveplan.firm.placing.one_job import TRIES, Laid, Unplaced, short_of
from moveplan.firm.placing.staffed import EVES, Staff, leader, staffed_project
from moveplan.firm.placing.traces import Run, Trace, trace_of
from moveplan.firm.values import Firm, Job, Out
from moveplan.hours import merged
from moveplan.journal.records import Out as OutOfJob
from moveplan.plan.move import Plan
from moveplan.practice.project import Project
from moveplan.practice.under_way.renew import Renewed, renewed
from moveplan.practice.under_way.story import Story
from moveplan.stages.reading import Settings
from moveplan.stages.told import as_accepted
from moveplan.times import Interval, local_day, to_local


def agreed_sent(firm: Firm, job: str, plan: Plan, story: Story | None) -> Sent | None:
    """Say on which day, with whom and with what a job was agreed; None: no work of the firm's people was accepted.

    Parameters
    ----------
    firm : Firm
        Its people and vehicles.
    job : str
        Id of the job.
    plan : Plan
        Its plan, with the dates that have moved since.
    story : Story or None
        What has happened, by its journal.
    """
    tagged = [task for task in story.last.tasks if task.day] if story and story.last else []
    crew = [one.id for one in firm.people if any(one.id in task.people for task in tagged)]
    if not crew or plan.dates is None:
        return None
    day, days = to_local(min(task.start for task in tagged), firm.zone).date(), plan.dates.move_days
    lead = leader(firm, crew)
    return Sent(
        job,
        day if day in days or not days else days[0],
        (lead, *(one for one in crew if one != lead)),
        tuple(one.id for one in firm.vehicles if any(one.id in task.vehicles for task in tagged)),
    )


def outs_of(firm: Firm, stories: Mapping[str, Story | None]) -> Iterator[Out]:
    """Give the firm's people who were recorded as not there in the journal of a job: they are not there for any.

    Parameters
    ----------
    stories : Mapping of str to Story or None
        What has happened, by job.
    """
    known = {one.id for one in firm.people}
    for story in stories.values():
        for fact in story.state.facts if story else ():
            if isinstance(fact, OutOfJob) and fact.person in known:
                yield Out(fact.person, fact.first, fact.last)


def kept_as_agreed(
    firm: Firm,
    roads: Roads,
    job: Job,
    plan: Plan,
    story: Story,
    sent: Sent,
    before: Sequence[Trace],
    settings: Settings,
) -> Laid | Unplaced:
    """Schedule what is left of a job that was accepted, with the fewest changes.

    Parameters
    ----------
    firm, roads, job, plan : Firm, Roads, Job, Plan
        Whose people, the ways, which job and its plan.
    story : Story
        What has happened to it.
    sent : Sent
        Its day, who and what goes.
    before : sequence of Trace
        What the jobs that stand already take.
    settings : Settings
        Effort and seed.
    """
    last = story.last.tasks if story.last else ()
    others = (one.id for one in firm.people if one.id not in sent.crew)
    day = local_day(sent.day, firm.zone)
    staff = Staff(
        sent.day,
        sent.crew,
        others=tuple(one for one in others if any(one in task.people for task in last)),
        vehicles=sent.vehicles,
        gear=_gear(firm, story, before, Interval(day.start - day.minutes, day.finish + day.minutes)),
        vehicles_booked=vehicles_booked(firm, roads, job.id, before),
        way_min=roads.farthest(job.id),
        decides_on_eve=all(task.finish <= day.start for task in last if task.id in EVES),
    )
    booked = people_elsewhere(roads, job.id, [one.id for one in firm.people], before)
    nights = people_booked(firm, roads, job.id, before)
    why = "schedule"
    for _ in range(TRIES):
        there = replace(staff, people_booked=booked)
        project = staffed_project(firm, job, plan, there, steps=False)
        _, again = gone_on(project, story, settings)
        if not again.found.placements:
            break
        trace = trace_of(firm, roads, job.id, project, again.shown)
        holes = short_of(firm, roads, before, Run(job.id, project, again.shown, trace))
        if not holes:
            return Laid(sent, there, project, again.shown, trace, story)
        why = holes if isinstance(holes, str) else "long-day"
        more = {} if isinstance(holes, str) else holes
        booked = {who: merged((*pieces, *nights[who], *more.get(who, ()))) for who, pieces in booked.items()}
    return Unplaced(job.id, sent.day, why)


def _gear(firm: Firm, story: Story, before: Sequence[Trace], within: Interval) -> Mapping[str, int]:
    """Count what is left on the moving day; of tubs as many as were told, since spare ones are out much longer."""
    told = Counter(what[0] for _, what in story.labels)
    left = gear_left(firm, gear_of(before), within)
    tubs = {one.item.id for one in firm.gear if one.item.kind == "tub"}
    return {gear: min(count, told[gear] or count) if gear in tubs else count for gear, count in left.items()}


def gone_on(project: Project, story: Story, settings: Settings) -> tuple[Project, Renewed]:
    """Schedule what is left of a project, with the durations that people were told.

    Parameters
    ----------
    project : Project
        Hung on its day.
    story : Story
        What has happened to it.
    settings : Settings
        Effort and seed.
    """
    accepted = as_accepted(project, story)
    return accepted, renewed(accepted, story, settings.effort, improve=settings.improve)
