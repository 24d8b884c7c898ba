"""Somebody who is in the files of two firms, neither of which knows what the other plans."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from moveplan.errors import Problem
from moveplan.firm.changes.record import records_of
from moveplan.firm.jobs import Read
from moveplan.firm.placing.asking import with_out
from moveplan.firm.placing.hearts import allowed_days
from moveplan.firm.values import Firm, Worker
from moveplan.hours import days_off
from moveplan.times import to_local


@dataclass(frozen=True, slots=True)
class Beside:
    """A firm with the plans of its jobs.

    Parameters
    ----------
    read : Mapping of str to Read
        By job.
    """

    firm: Firm
    read: Mapping[str, Read]


@dataclass(frozen=True, slots=True)
class Shared:
    """Somebody who is in both.

    Parameters
    ----------
    one, other : Worker
        As each of the two files has them.
    agreed : tuple of (date, str, str)
        Days on which an accepted job of each has them, and the two jobs.
    possible : tuple of date
        Days on which both might send them, those among them.
    """

    one: Worker
    other: Worker
    agreed: tuple[tuple[date, str, str], ...]
    possible: tuple[date, ...]


def shared_people(one: Beside, other: Beside) -> tuple[Shared, ...]:
    """Find people of the same name in two firms; two files of one firm, by its id, share all of them.

    Parameters
    ----------
    one, other : Beside
        The two firms.
    """
    if one.firm.id == other.firm.id:
        return ()
    known = {worker.name.casefold(): worker for worker in other.firm.people}
    return tuple(
        _shared(one, worker, other, known[worker.name.casefold()])
        for worker in one.firm.people
        if worker.name.casefold() in known
    )


def _shared(one: Beside, mine: Worker, other: Beside, theirs: Worker) -> Shared:
    here, there = _agreed(one, mine), _agreed(other, theirs)
    both = (_might(one, mine) | set(here)) & (_might(other, theirs) | set(there))
    agreed = tuple((day, here[day], there[day]) for day in sorted(set(here) & set(there)))
    return Shared(mine, theirs, agreed, tuple(sorted(both)))


def _agreed(beside: Beside, worker: Worker) -> dict[date, str]:
    """Give the days from now on, on which an accepted job has somebody, each with the job."""
    found: dict[date, str] = {}
    for job, read in beside.read.items():
        for task in read.story.last.tasks if read.story and read.story.last and read.sent else ():
            for piece in task.segments if worker.id in task.people else ():
                if piece.finish > beside.firm.now:
                    found.setdefault(to_local(piece.start, beside.firm.zone).date(), job)
    return found


def _might(beside: Beside, worker: Worker) -> set[date]:
    """Give the days that may become moving days of jobs not accepted, and on which somebody is there."""
    firm = with_out(beside.firm, records_of(beside.firm))
    days = {
        day
        for job in firm.jobs
        if beside.read[job.id].sent is None
        for day in allowed_days(firm, job, beside.read[job.id].plan)
    }
    if not days:
        return days
    return days - days_off(firm.worker(worker.id).helper.absences, min(days), max(days))


def double_booked(one: Beside, other: Beside) -> Iterator[Problem]:
    """Say who may be sent to two places at once.

    Parameters
    ----------
    one, other : Beside
        The two firms.
    """
    for row in shared_people(one, other):
        where, there = _where(one, row.one), _where(other, row.other)
        record = f"moveplan record {other.firm.path} out {row.other.id} {{day}}"
        for day, mine, theirs in row.agreed:
            message = (
                f"{row.one.name} has work on {day} for {mine} of {one.firm.title}, "
                f"and for {theirs} of {other.firm.title} ({there})"
            )
            yield Problem(message, where, f"send somebody else in one of the two ({record.format(day=day)})")
        rest = len(row.possible) - len(row.agreed)
        if rest:
            first = next(day for day in row.possible if day not in {day for day, _, _ in row.agreed})
            days = f"on {first}" if rest == 1 else f"on {rest} days, the first {first}"
            message = (
                f"{row.one.name} is in {one.firm.title} and in {other.firm.title} ({there}); "
                f"both may send them {days}, and neither knows of the other"
            )
            remedy = (
                'write the days of the one under "away:" of the other, put all jobs into one file, '
                "or, where these are two people, give one another name"
            )
            yield Problem(message, where, remedy)


def merely_named(one: Beside, other: Beside) -> Iterator[Problem]:
    """Say who is in both files without a day on which both might send them.

    Parameters
    ----------
    one, other : Beside
        The two firms.
    """
    for row in shared_people(one, other):
        if not row.possible:
            message = (
                f"{row.one.name} is in {one.firm.title} and in {other.firm.title} "
                f"({_where(other, row.other)}); no moving day of the two meets, but visits are not compared"
            )
            yield Problem(message, _where(one, row.one), "look at both months before either is accepted")


def _where(beside: Beside, worker: Worker) -> str:
    return beside.firm.where(f"people.{worker.id}")
