"""The plans of the jobs: each read as it stands alone, and what does not go with the firm file, with both lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from moveplan.errors import PlanFileError, Problem
from moveplan.firm.days.question import Sent
from moveplan.firm.file.fill import moment_of
from moveplan.firm.placing.agreed import agreed_sent
from moveplan.firm.placing.hearts import allowed_days
from moveplan.firm.placing.staffed import clients
from moveplan.firm.values import Firm, Job
from moveplan.plan.move import Plan
from moveplan.practice.project import Project
from moveplan.practice.under_way.story import Story
from moveplan.stages.reading import Settings, begin, compose


@dataclass(frozen=True, slots=True)
class Read:
    """The plan of a job.

    Parameters
    ----------
    plan : Plan
        As it stands alone.
    story : Story or None
        What has happened, by its journal.
    sent : Sent or None
        Day, crew and vehicles that were accepted; None: none were.
    """

    plan: Plan
    story: Story | None = None
    sent: Sent | None = None

    @property
    def agreed(self) -> date | None:
        """The day that was accepted."""
        return self.sent.day if self.sent else None


def read_jobs(firm: Firm) -> Mapping[str, Read]:
    """Read the plan of each job, and check it against the firm file.

    Parameters
    ----------
    firm : Firm
        Its jobs.

    Raises
    ------
    PlanFileError
        With every problem of every job, each with its line, and with that of the firm file where both are concerned.
    """
    read: dict[str, Read] = {}
    problems: list[Problem] = []
    for job in firm.jobs:
        try:
            plan, story = begin(job.plan, Settings(now=moment_of(firm)))
        except PlanFileError as error:
            count = len(error.problems)
            message = f"{job.plan} cannot be read: {count} problem{'s' if count > 1 else ''}, which follow"
            problems += [Problem(message, job.where, "mend them, or take the job out"), *error.problems]
        else:
            read[job.id] = Read(plan, story, agreed_sent(firm, job.id, plan, story))
    for job in firm.jobs:
        if job.id in read:
            problems += _apart(firm, job, read[job.id])
    problems += _same_ids(firm, read)
    if problems:
        raise PlanFileError(tuple(problems), str(firm.path))
    return read


def composed_alone(plan: Plan) -> Project:
    """Compose a job as it stands alone, to see whether it can be done at all.

    Parameters
    ----------
    plan : Plan
        Of a job.
    """
    return compose(plan, steps=False)


def _line(job: Job, plan: Plan, key: str) -> str:
    return f"{job.plan.parent}/{plan.where(key)}"


def _apart(firm: Firm, job: Job, read: Read) -> Iterator[Problem]:
    plan = read.plan
    if plan.purpose == "own-tasks" or plan.dates is None:
        where, remedy = _line(job, plan, "purpose"), "plan a move, or take the job out"
        yield Problem(f"job {job.id} of {job.where} is a list of tasks and no move", where, remedy)
        return
    yield from _no_common_day(firm, job, read)
    if plan.zone.key != firm.zone.key:
        message = f"{job.plan} is in the zone {plan.zone.key}, the firm in {firm.zone.key}"
        yield Problem(message, _line(job, plan, "timezone"), f'write "timezone: {firm.zone.key}" there')
    if plan.currency != firm.currency:
        message = f"{job.plan} counts in {plan.currency}, the firm in {firm.currency}"
        yield Problem(message, _line(job, plan, "currency"), f'write "currency: {firm.currency}" there')
    firms = {one.item.id for one in firm.gear}
    for item in plan.gear:
        if item.clients and item.id in firms:
            message = (
                f"gear \"{item.id}\" is the client's here, and the firm's at {firm.where(f'gear.{item.id}')}; "
                "it would be counted as the firm's"
            )
            yield Problem(message, _line(job, plan, f"gear.{item.id}"), "give one of the two another id")
    yield from _own_tasks(firm, job, plan)


def _no_common_day(firm: Firm, job: Job, read: Read) -> Iterator[Problem]:
    plan = read.plan
    if allowed_days(firm, job, plan, read.agreed) or plan.dates is None:
        return
    days = plan.dates.move_days
    own = f"{days[0]}" if len(days) == 1 else f"{days[0]} to {days[-1]}" if days else "no day"
    key = "dates.move-day" if "dates.move-day" in plan.lines else "dates.move-window"
    firms = f"{job.day}" if job.promised or not job.window else f"{job.window[0]} to {job.window[1]}"
    message = f"the firm wants {firms}, its plan allows {own} ({_line(job, plan, key)}): no day is left"
    yield Problem(message, job.where, "change the one or the other")


def _own_tasks(firm: Firm, job: Job, plan: Plan) -> Iterator[Problem]:
    """Find tasks of the client's own that ask for people or vehicles which a firm replaces by its own."""
    there = {one.id for one in clients(firm, plan)} | {one.id for one in firm.people}
    wheels = {one.id for one in firm.vehicles}
    for task in plan.tasks:
        for missing in (
            *(one for one in task.people if one not in there),
            *(one for one in task.vehicles if one not in wheels),
        ):
            message = f'a task asks for "{missing}", which is not the firm\'s'
            remedy = f"name one of the firm's at {firm.where('vehicles')}, or leave it out"
            yield Problem(message, _line(job, plan, f"tasks.{task.id}"), remedy)


def _same_ids(firm: Firm, read: Mapping[str, Read]) -> Iterator[Problem]:
    first: dict[str, Job] = {}
    for job in firm.jobs:
        if job.id not in read:
            continue
        plan = read[job.id].plan
        if plan.id in first:
            other = first[plan.id]
            message = f"{job.plan} and {other.plan} ({other.where}) are the same plan by their id {plan.id}"
            yield Problem(message, job.where, "take one of the two out, or give the copy an id of its own")
        first.setdefault(plan.id, job)
