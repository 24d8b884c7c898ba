"""A morning's answer: somebody or a vehicle is not there, and the schedule that was built stands.

Reads nothing but the firm file and the ``result.json`` of its last build, so that it takes a second or two: which
moving days run, who goes instead, who has to be called, and which visits wait for somebody else. What was built for
days that are over stays as it is. The next build follows it into every job.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from moveplan.errors import PlanFileError, Problem
from moveplan.firm.days.choose import chosen
from moveplan.firm.days.question import Answer, DayStatus, Sent
from moveplan.firm.placing.asking import question_of, struck, with_out
from moveplan.firm.placing.hearts import Heart
from moveplan.firm.values import Firm, Out
from moveplan.hours import days_off
from moveplan.times import to_local


@dataclass(frozen=True, slots=True)
class Orphan:
    """A visit whose person is not there, and who has no moving day and is not away on that day."""

    job: str
    start: str
    finish: str
    who: str
    tasks: tuple[str, ...]
    free: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Morning:
    """What becomes of the days on which somebody or something is not there.

    Parameters
    ----------
    runs : tuple of (Sent, Sent)
        Moving days that run with others: as it was, and as it is now.
    off : tuple of Sent
        Moving days for which nobody else is there: their clients are called.
    visits : tuple of Orphan
        Visits that wait for somebody else.
    """

    runs: tuple[tuple[Sent, Sent], ...]
    off: tuple[Sent, ...]
    visits: tuple[Orphan, ...]

    @property
    def calls(self) -> tuple[str, ...]:
        """Who goes where they were not expected, each once."""
        return tuple(
            dict.fromkeys(who for before, now in self.runs for who in now.crew if who not in before.crew)
        )


def of_this_firm(firm: Firm, built: Any) -> Mapping[str, Any]:
    """Give what was built, where it was built of this firm.

    Raises
    ------
    PlanFileError
        Where it is of another firm, nothing that was built, or lacks what a morning's answer reads.
    """
    if not isinstance(built, dict) or built.get("id") != firm.id or built.get("purpose") != "firm":
        raise _not_built(firm, "what was built is of another firm")
    try:
        for job in built["jobs"]:
            if "day" in job:
                _sent(job)
                _heart(job)
        for person in built["people"]:
            for day in person["days"]:
                date.fromisoformat(day["date"])
                for stop in day["stops"]:
                    _orphan(stop, person["id"], ())
    except (KeyError, TypeError, ValueError):
        raise _not_built(firm, "what was built is not whole, or is of another version") from None
    return built


def _not_built(firm: Firm, message: str) -> PlanFileError:
    problem = Problem(message, "", "build this firm first, and name that folder")
    return PlanFileError((problem,), str(firm.path))


def morning_of(firm: Firm, built: Mapping[str, Any], out: Sequence[Out]) -> Morning:
    """Answer from what was built.

    Parameters
    ----------
    built : Mapping
        The ``result.json`` of its last build.
    out : sequence of Out
        Who and what is not there.

    Raises
    ------
    PlanFileError
        Where what was built is of another firm.
    """
    of_this_firm(firm, built)
    today = to_local(firm.now, firm.zone).date()
    rows = {
        job["id"]: _sent(job)
        for job in built["jobs"]
        if "day" in job and date.fromisoformat(job["day"]) >= today
    }
    rows = {job: sent for job, sent in rows.items() if job in {one.id for one in firm.jobs}}
    hearts = {job["id"]: _heart(job) for job in built["jobs"] if job["id"] in rows}
    hit = {job for job, sent in rows.items() if struck(sent, out)}
    there = with_out(replace(firm, jobs=tuple(one for one in firm.jobs if one.id in rows)), out)
    off: list[Sent] = []
    answer = _chosen(there, hearts, rows, hit, out)
    while answer is None and hit:
        given_up = min(hit, key=lambda job: (firm.job(job).promised, firm.job(job).priority, job))
        hit.discard(given_up)
        off.append(rows.pop(given_up))
        there = replace(there, jobs=tuple(one for one in there.jobs if one.id in rows))
        answer = _chosen(there, hearts, rows, hit, out)
    answer = answer or Answer(DayStatus.UNKNOWN, tuple(rows.values()))
    runs = tuple((rows[job], now) for job in sorted(hit) if (now := answer.of(job)) is not None)
    called = [
        Out(who, now.day, now.day) for before, now in runs for who in now.crew if who not in before.crew
    ]
    gone = [replace(one, first=max(one.first, today)) for one in (*out, *called)]
    return Morning(runs, tuple(off), tuple(_orphans(there, built, gone, answer.sent)))


def _chosen(
    firm: Firm, hearts: Mapping[str, Heart], rows: Mapping[str, Sent], hit: set[str], out: Sequence[Out]
) -> Answer | None:
    """Keep every day, and of those that are struck what can stay; where that is too much, change all of theirs."""
    question = question_of(firm, hearts, {job: (sent.day,) for job, sent in rows.items()})
    for wide in (False, True):
        wanted = []
        for one in question.wanted:
            sent = rows[one.job]
            anew = wide and one.job in hit
            crew = None if anew or struck(sent, out, sent.crew) else sent.crew
            vehicles = None if anew or struck(sent, out, sent.vehicles) else sent.vehicles
            wanted.append(replace(one, promised=True, before=sent.crew, crew=crew, vehicles=vehicles))
        answer = chosen(replace(question, wanted=tuple(wanted), water=None))
        if answer.status not in (DayStatus.INFEASIBLE, DayStatus.UNKNOWN):
            return answer
    return None


def _sent(job: Mapping[str, Any]) -> Sent:
    return Sent(job["id"], date.fromisoformat(job["day"]), tuple(job["crew"]), tuple(job["vehicles"]))


def _heart(job: Mapping[str, Any]) -> Heart:
    moving = job["moving_day"]
    return Heart(
        job["id"], len(job["crew"]), len(job["vehicles"]), moving["leaves_minute"], moving["home_minute"]
    )


def _orphans(
    firm: Firm, built: Mapping[str, Any], gone: Sequence[Out], sent: Sequence[Sent]
) -> Iterator[Orphan]:
    """List visits of whoever is not there, or is on another moving day now."""
    for person in built["people"]:
        for day in person["days"]:
            when = date.fromisoformat(day["date"])
            if not any(one.id == person["id"] and one.first <= when <= one.last for one in gone):
                continue
            moving = {row.job for row in sent if row.day == when}
            for stop in day["stops"]:
                if stop["job"] not in moving:
                    free = tuple(one for one in _free(firm, sent, when) if one != person["id"])
                    yield _orphan(stop, person["id"], free)


def _orphan(stop: Mapping[str, Any], who: str, free: tuple[str, ...]) -> Orphan:
    start, finish = (_clock(stop[key]) for key in ("start", "finish"))
    return Orphan(stop["job"], start, finish, who, tuple(stop["tasks"]), free)


def _free(firm: Firm, sent: Sequence[Sent], day: date) -> Iterator[str]:
    busy = {who for one in sent if one.day == day for who in one.crew}
    for one in firm.people:
        if one.id not in busy and one.helper.drives and day not in days_off(one.helper.absences, day, day):
            yield one.id


def _clock(moment: str) -> str:
    return datetime.fromisoformat(moment).strftime("%Y-%m-%d %H:%M")
