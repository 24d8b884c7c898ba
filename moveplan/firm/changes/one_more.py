"""A job that does not fit: on which other days it would, and what each promised job would have to give up for it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal

from moveplan.firm.days.choose import can_be, chosen
from moveplan.firm.days.question import Question, Wanted
from moveplan.firm.placing.hearts import Heart
from moveplan.firm.values import Firm, Job
from moveplan.plan.move import Plan
from moveplan.times import to_local

AROUND = timedelta(days=21)
"""So far around its own days a job's further days are looked for; assumed. [day]"""
MOST_DAYS = 6
"""So many of them are told. [-]"""
GIVES = timedelta(days=10)
"""So far a promised job is asked to move at most; assumed. [day]"""


@dataclass(frozen=True, slots=True)
class Asked:
    """A promised job that could make room, if its client and the keeper of the firm file agree.

    Parameters
    ----------
    job : str
        The promised job.
    promised, instead : date
        Its promised day, and the nearest one that would do.
    price : Decimal
        What moving it costs, by the firm file.
    day : date
        The day that the job without a place would have then.
    """

    job: str
    promised: date
    instead: date
    price: Decimal
    day: date


def days_that_do(
    firm: Firm,
    question: Question,
    heart: Heart,
    job: Job,
    own: Collection[date],
    within: Collection[date],
    *,
    engine: str = "auto",
) -> tuple[date, ...]:
    """Find days near a job's own on which it would fit without moving any other.

    Parameters
    ----------
    firm : Firm
        As of when it is planned.
    question : Question
        With what stands held fixed.
    heart : Heart
        Moving day of the job.
    own : collection of date
        Its own days, which are no way out.
    within : collection of date
        The days that its plan allows: where one of them does, no others are looked for.
    engine : str
        As for ``days.choose.chosen``.
    """
    others = _others(question, job.id)
    days = sorted(own) or ([job.day] if job.day else [])
    if not days:
        return ()
    wish = job.day or days[0]
    today = to_local(firm.now, firm.zone).date()
    span = range((days[0] - AROUND).toordinal(), (days[-1] + AROUND).toordinal() + 1)
    near = sorted(
        (day for day in map(date.fromordinal, span) if day > today and day not in own),
        key=lambda day: (day not in within, abs(day - wish), day),
    )
    found: list[date] = []
    for day in near:
        if len(found) == MOST_DAYS or (found and day not in within and found[0] in within):
            break
        there = Wanted(heart, (day,), day, promised=True)
        if can_be(replace(question, wanted=(*others, there)), engine=engine):
            found.append(day)
    return tuple(sorted(found))


def asks_of(
    firm: Firm,
    question: Question,
    heart: Heart,
    job: Job,
    own: Collection[date],
    plans: Mapping[str, Plan],
    *,
    engine: str = "auto",
) -> tuple[Asked, ...]:
    """Find for each promised job where it would have to go, so that another job has a day of its own days.

    Parameters
    ----------
    firm, question, heart, job, own, engine : Firm, Question, Heart, Job, Collection, str
        As for :func:`days_that_do`.
    plans : Mapping of str to Plan
        Of all jobs: a promised job is asked for days that its own plan allows.
    """
    others = _others(question, job.id)
    days = tuple(sorted(own)) or ((job.day,) if job.day else ())
    asked = []
    for other in others:
        promised = firm.job(other.job)
        if not promised.promised or promised.day is None or not days:
            continue
        wanted = Wanted(heart, days, job.day, promised=True, priority=job.priority)
        free = replace(
            other,
            days=_may_go(firm, promised, promised.day, plans[other.job]),
            wish=promised.day,
            crew=None,
            vehicles=None,
        )
        rest = tuple(one for one in others if one is not other)
        never = frozenset(row for row in question.never if row[0] != other.job)
        answer = chosen(replace(question, wanted=(*rest, free, wanted), never=never), engine=engine)
        there, mine = answer.of(other.job), answer.of(job.id)
        if there is not None and mine is not None:
            asked.append(Asked(other.job, promised.day, there.day, promised.promise_price, mine.day))
    return tuple(asked)


def _may_go(firm: Firm, job: Job, promised: date, plan: Plan) -> tuple[date, ...]:
    """Give the days near a promised one that the job's plan allows, and the firm file too where it says any."""
    today = to_local(firm.now, firm.zone).date()
    return tuple(
        day
        for day in (plan.dates.move_days if plan.dates else ())
        if day > today and day != promised and abs(day - promised) <= GIVES
        if job.window is None or job.window[0] <= day <= job.window[1]
    )


def _others(question: Question, job: str) -> tuple[Wanted, ...]:
    return tuple(one for one in question.wanted if one.job != job)
