"""Accepting what a firm's schedule says of its jobs: each goes into the journal of its own plan."""

from __future__ import annotations

from collections.abc import Sequence

from moveplan.errors import CannotBeDoneError, PlanFileError, Problem
from moveplan.firm.changes.kept import keep_quote
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.placing.one_job import Placed
from moveplan.firm.price import Quoted
from moveplan.firm.quote import quotes_of, work_of
from moveplan.journal.file.store import append
from moveplan.journal.records import Accepted
from moveplan.outputs.accepted import accepted_of
from moveplan.planfile.problems import unknown


def accepted(outlook: FirmOutlook, jobs: Sequence[str], reason: str = "") -> tuple[Placed, ...]:
    """Write the schedules of jobs into the journals beside their plans, on the disk before it returns.

    What a job is quoted at goes into the firm's own records, as long as no work on it has begun.

    Parameters
    ----------
    outlook : FirmOutlook
        All jobs with their schedules.
    jobs : sequence of str
        Which; empty: every one that has a day.
    reason : str
        Why a schedule is accepted that has problems.

    Returns
    -------
    tuple of Placed
        The jobs that were accepted.

    Raises
    ------
    PlanFileError
        Where the firm has no such job, or it has no day.
    CannotBeDoneError
        Where one has problems and no reason is given; then nothing is written.
    """
    chosen = tuple(_job(outlook, one) for one in jobs) or outlook.placed
    problems = [problem for one in chosen if not one.outlook.late for problem in one.outlook.problems]
    if problems and not reason.strip():
        raise CannotBeDoneError(tuple(problems))
    quotes = quotes_of(outlook)
    for one in chosen:
        _write(outlook, one.job, accepted_of(one.outlook, reason))
        story = outlook.stories.get(one.job)
        if story is None or story.state.worked is None:  # once work has begun, what was quoted stands
            work = work_of(outlook.firm, one)
            keep_quote(outlook.firm, one.job, Quoted(quotes[one.job].promised, work))
    return chosen


def _write(outlook: FirmOutlook, job: str, record: Accepted) -> None:
    append(outlook.firm.job(job).plan, outlook.plans[job].id, lambda _: [(record, "")])


def _job(outlook: FirmOutlook, name: str) -> Placed:
    known = [one.id for one in outlook.firm.jobs]
    if name not in known:
        message, remedy = unknown("job", name, known)
        problem = Problem(message.replace("the plan has", "the firm has"), str(outlook.firm.path), remedy)
        raise PlanFileError((problem,), str(outlook.firm.path))
    found = outlook.of(name)
    if found is None:
        message = f"{name} has no day: there is nothing to accept"
        problem = Problem(message, outlook.firm.job(name).where, "see what build says would help")
        raise PlanFileError((problem,), str(outlook.firm.path))
    return found
