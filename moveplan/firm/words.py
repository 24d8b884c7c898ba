"""What a firm's outlook is called, and why a job has no day, as problems with their lines."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.errors import Problem
from moveplan.firm.outlook import FirmOutlook, LeftOut
from moveplan.firm.values import Firm
from moveplan.outputs.outlook import Verdict

_WHY = {
    "schedule": "on {day} it was scheduled in full, and found no place around the other jobs",
    "busy": "on {day} somebody of the crew has a visit to another job in the middle of the moving day",
    "long-day": "on {day} somebody's day would be longer than their longest, a night shorter than their rest, "
    "or nobody would take them there",
    "gear": "on {day} more gear would be out than there is",
    "water": "on {day} more water would be fetched than is made",
}


def status_of(outlook: FirmOutlook) -> str:
    """Name the status of a firm: the worst of its jobs; a job without a day cannot be done as written."""
    if outlook.left:
        return "cannot-be-done" if any(one.proven for one in outlook.left) else "undecided"
    worst = (Verdict.CANNOT_BE_DONE, Verdict.UNDECIDED, Verdict.UNSAFE, Verdict.TIGHT)
    there = {one.outlook.verdict for one in outlook.placed}
    if any(outlook.thin(one.job) for one in outlook.placed):
        there.add(Verdict.TIGHT)
    return next((one for one in worst if one in there), Verdict.OK).value


def reasons_of(outlook: FirmOutlook) -> tuple[Problem, ...]:
    """Say why jobs have no day, and what could be done; then what is wrong with those that have one."""
    left = tuple(_of_left(outlook.firm, one) for one in outlook.left)
    own = tuple(
        Problem(f"job {one.job}: {problem.message}", problem.where, problem.remedy)
        for one in outlook.placed
        for problem in outlook_problems(one.outlook.verdict, one.outlook.problems)
    )
    return (*left, *own)


def outlook_problems(verdict: Verdict, problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Give the problems of a job that cannot be followed."""
    return () if verdict.follows else problems


def _of_left(firm: Firm, left: LeftOut) -> Problem:
    job = firm.job(left.job)
    if left.agreed is not None:
        return Problem(
            f"job {left.job} was accepted for {left.agreed}, and what is left of it by its journal "
            f"has no place any more: {'; '.join(_reasons(firm, left))}",
            job.where,
            f"write down what was done (moveplan record {job.plan} done NUMBER --and-before), "
            f"or move its day (moveplan record {job.plan} move dates '+7 days')",
        )
    return Problem(
        f"job {left.job} has no day: {'; '.join(_reasons(firm, left))}",
        job.where,
        "; or ".join(ways_out(firm, left)),
    )


def _reasons(firm: Firm, left: LeftOut) -> Iterator[str]:
    if left.alone is not None:
        reasons = left.alone.schedule.reasons
        said = f": {reasons[0].message}" if reasons else ""
        yield f"tried on {left.alone.day} with up to {len(firm.people)} people, this firm cannot do it{said}"
        return
    if left.against:
        both = ", ".join(f"{one} ({firm.job(one).where})" for one in left.against)
        yield f"it is promised, and cannot be kept together with what is promised to {both}"
    for why in dict.fromkeys(one.why for one in left.tried):
        days = dict.fromkeys(str(one.day) for one in left.tried if one.why == why)
        yield _WHY[why].format(day=", ".join(days))
    if left.untried:
        yield f"{', '.join(map(str, left.untried))} were not tried in full"
    if not left.against and not left.tried:
        yield "on none of its days are enough people, vehicles, gear and water free beside the other jobs"


def ways_out(firm: Firm, left: LeftOut) -> Iterator[str]:
    """Say what would give a job a day; each was tried on the moving days of all jobs.

    Parameters
    ----------
    firm : Firm
        Its promises.
    left : LeftOut
        The job.
    """
    if not left.days and not left.asks:
        yield (
            f"give {left.job} more days at {firm.job(left.job).where}, give the firm more people, hours or gear "
            "on the days before and after, or take the job out (none of these was tried)"
        )
    if left.days:
        beyond = f", which its plan does not allow yet (change {left.beyond})" if left.beyond else ""
        yield (
            f"without moving any other job its moving day could be on {', '.join(map(str, left.days))}{beyond}; "
            f"ask its client, and change line {firm.job(left.job).where}"
        )
    for one in left.asks:
        yield (
            f"if {one.job} gives up {one.promised} for {one.instead}, which costs {one.price} {firm.currency}, "
            f"it could be on {one.day}; nothing moves unless you change line {firm.job(one.job).where}"
        )
