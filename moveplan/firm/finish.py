"""All jobs from their schedules to their outlooks, side by side, and the check of all of them together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from moveplan.errors import Fault, FaultError
from moveplan.firm.placing import Laid, Placed, finished
from moveplan.firm.roads import Roads
from moveplan.firm.side_by_side import side_by_side
from moveplan.firm.tangles import untangled
from moveplan.firm.values import Firm
from moveplan.firm.verify import firm_kept
from moveplan.plan.move import Plan
from moveplan.reading import Settings


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
    firm, roads : Firm, Roads
        What they share.
    plans : Mapping of str to Plan
        The plan of each.
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
    traces = {one.job: one for one in untangled(one.trace for one in done.values())}
    return tuple(replace(done[one.job], trace=traces[one.job]) for one in rows)


def faults_of(firm: Firm, roads: Roads, rows: Iterable[Placed]) -> tuple[Fault, ...]:
    """Give what all jobs together break of what they share.

    Parameters
    ----------
    firm, roads : Firm, Roads
        What they share.
    rows : iterable of Placed
        All jobs.
    """
    several = tuple(rows)
    return firm_kept(
        firm,
        roads.ways,
        {one.job: (one.outlook.project, one.outlook.schedule) for one in several},
        {one.job: one.sent.day for one in several},
    )


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
