"""From a firm with measured moving days to the question of days, with what stands already held fixed."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from datetime import date

from moveplan.firm.days.question import Answer, Hand, Question, Sent, Wanted, Wheels
from moveplan.firm.placing.hearts import Heart
from moveplan.firm.placing.one_job import Laid
from moveplan.firm.placing.staffed import AHEAD
from moveplan.firm.values import Firm, Out
from moveplan.hours import Absence, days_off
from moveplan.times import to_local


def question_of(firm: Firm, hearts: Mapping[str, Heart], days: Mapping[str, tuple[date, ...]]) -> Question:
    """Ask for a day, a crew and vehicles for each job that can be done at all.

    Parameters
    ----------
    firm : Firm
        Its people, vehicles, gear, water and jobs.
    hearts : Mapping of str to Heart
        Moving days by job, as measured.
    days : Mapping of str to tuple of date
        Days on which each may be.
    """
    wanted = tuple(
        Wanted(hearts[job.id], days[job.id], job.day, promised=job.promised, priority=job.priority)
        for job in firm.jobs
        if job.id in hearts
    )
    return Question(
        wanted,
        tuple(
            Hand(
                one.id,
                leads=one.helper.lead,
                drives=one.helper.drives,
                rest_min=one.rest_min,
                away=_off(firm, one.helper.absences),
            )
            for one in firm.people
        ),
        tuple(Wheels(one.id, _off(firm, one.service)) for one in firm.vehicles),
        {one.item.id: one.item.count for one in firm.gear},
        (firm.water.litres_a_day, firm.water.storage_l) if firm.water else None,
    )


def _off(firm: Firm, absences: Iterable[Absence]) -> frozenset[date]:
    first = to_local(firm.now, firm.zone).date()
    return days_off(absences, first, first + AHEAD)


def standing(question: Question, placed: Iterable[Laid], hearts: Mapping[str, Heart]) -> Question:
    """Hold jobs that are scheduled where they are, with what they really take.

    Parameters
    ----------
    hearts : Mapping of str to Heart
        What they really take.
    """
    rows = {one.job: one for one in placed}
    taken = {job: replace(one, gear=(*one.gear, *one.spare)) for job, one in hearts.items()}
    wanted = tuple(
        one
        if one.job not in rows
        else replace(
            one,
            heart=taken[one.job],
            promised=True,
            crew=rows[one.job].sent.crew,
            vehicles=rows[one.job].sent.vehicles,
            stands=True,
        )
        for one in question.wanted
    )
    fixed = frozenset(
        (one.job, day)
        for one in wanted
        if one.job in rows
        for day in one.days
        if day != rows[one.job].sent.day
    )
    return replace(question, wanted=wanted, never=question.never | fixed)


def as_agreed(
    question: Question, agreed: Collection[str], placed: Iterable[Laid], hearts: Mapping[str, Heart]
) -> Question:
    """Hold what was accepted: its day, and its crew too where nothing speaks against it.

    Parameters
    ----------
    agreed : collection of str
        Jobs that were accepted; their days never move by themselves.
    placed : iterable of Laid
        Those of them that stand as they were accepted.
    hearts : Mapping of str to Heart
        What they really take.
    """
    wanted = tuple(replace(one, promised=True) if one.job in agreed else one for one in question.wanted)
    return standing(replace(question, wanted=wanted), placed, hearts)


def as_told(question: Question, before: Answer, out: Collection[Out] = (), *, held: bool = False) -> Question:
    """Wish for the days and crews that people were told, now that something has changed.

    Parameters
    ----------
    question : Question
        With the change.
    before : Answer
        What was told without it.
    out : collection of Out
        Who and what is not there.
    held : bool
        Whether crews and vehicles that are all there go where they were told, and nowhere else.
    """
    rows = {one.job: one for one in before.sent}

    def told(one: Wanted, sent: Sent) -> Wanted:
        crew = sent.crew if held and not struck(sent, out, sent.crew) else None
        vehicles = sent.vehicles if held and not struck(sent, out, sent.vehicles) else None
        return replace(one, wish=sent.day, before=sent.crew, crew=crew, vehicles=vehicles)

    wanted = tuple(told(one, rows[one.job]) if one.job in rows else one for one in question.wanted)
    return replace(question, wanted=wanted)


def struck(sent: Sent, out: Iterable[Out], who: Iterable[str] | None = None) -> bool:
    """Whether somebody or something that goes to a job is not there on its day.

    Parameters
    ----------
    who : iterable of str or None
        Ids that are asked about; None: everybody and everything that goes.
    """
    names = {*sent.crew, *sent.vehicles} if who is None else set(who)
    return any(one.id in names and one.first <= sent.day <= one.last for one in out)


def with_out(firm: Firm, out: Iterable[Out]) -> Firm:
    """Take people and vehicles out on the days on which they are not there."""
    people, vehicles = list(firm.people), list(firm.vehicles)
    for one in out:
        gone = Absence(one.first, one.last)
        people = [
            replace(who, helper=replace(who.helper, absences=(*who.helper.absences, gone)))
            if who.id == one.id
            else who
            for who in people
        ]
        vehicles = [
            replace(what, service=(*what.service, gone)) if what.id == one.id else what for what in vehicles
        ]
    return replace(firm, people=tuple(people), vehicles=tuple(vehicles))
