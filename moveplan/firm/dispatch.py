"""The whole way from a firm file to all jobs in one schedule: one function a stage. Read this file first.

firm file -> plans -> moving days measured -> days and crews -> each job around the others -> rounds -> outlooks
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

from moveplan.firm.changes.kept import driven, quotes_kept
from moveplan.firm.changes.last_build import LastBuild, last_build
from moveplan.firm.changes.one_more import asks_of, days_that_do
from moveplan.firm.changes.record import records_of
from moveplan.firm.changes.slips import slips_of
from moveplan.firm.day.drives import drives_of
from moveplan.firm.day.roads import Roads, roads_of
from moveplan.firm.day.rounds import bundled
from moveplan.firm.days.choose import chosen, contradicting
from moveplan.firm.days.question import Answer, DayStatus, Question, Sent
from moveplan.firm.file.reader import read_firm
from moveplan.firm.finish import all_finished
from moveplan.firm.jobs import Read, read_jobs
from moveplan.firm.lessons import lessons_of, taught
from moveplan.firm.outlook import FirmOutlook, LeftOut
from moveplan.firm.placing.agreed import kept_as_agreed, outs_of
from moveplan.firm.placing.asking import as_agreed, as_told, question_of, standing, struck, with_out
from moveplan.firm.placing.hearts import Heart, NoHeart, allowed_days, heart_of, measured_again
from moveplan.firm.placing.one_job import Laid, Unplaced, laid
from moveplan.firm.side_by_side import side_by_side
from moveplan.firm.spread import Seen
from moveplan.firm.values import Firm, Job, Out
from moveplan.plan.move import Plan
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Status
from moveplan.stages.reading import Settings
from moveplan.times import to_local

LEAST_S = 0.1
"""Effort for one job, however many there are. [s]"""
TRIES_A_JOB = 31
"""So often a job is tried in full before it is left out: on each day of a month. [-]"""


def outlook_of(
    path: Path, settings: Settings, *, jobs: int = 1, engine: str = "auto", built: Path | None = None
) -> FirmOutlook:
    """Firm file to outlook, the whole way but the outputs.

    Parameters
    ----------
    path : Path
        The firm file.
    settings : Settings
        Moment, effort, runs and seed, for each job.
    jobs : int
        Processes that measure moving days side by side.
    engine : str
        That chooses days: ``auto``, ``serial`` or ``exact``.
    built : Path or None
        The ``result.json`` of the last build, which people were told; it need not be there.

    Raises
    ------
    PlanFileError
        With every problem of the file and of its jobs.
    FaultError
        Where the result breaks what jobs share, which is a fault of the program.
    """
    firm = read_firm(path, settings.now)
    out = records_of(firm)
    read = read_jobs(firm)
    lessons = lessons_of(firm, read)
    last = last_build(firm, built) if built else None
    found = schedule(firm, taught(read, lessons), settings, jobs=jobs, engine=engine, out=out, last=last)
    return replace(found, quoted=quotes_kept(firm), driven=driven(firm), lessons=lessons)


def schedule(
    firm: Firm,
    read: Mapping[str, Read],
    settings: Settings,
    *,
    jobs: int = 1,
    engine: str = "auto",
    out: tuple[Out, ...] = (),
    last: LastBuild | None = None,
) -> FirmOutlook:
    """Firm and plans to outlook.

    Parameters
    ----------
    read : Mapping of str to Read
        The plan of each job.
    settings, jobs, engine : Settings, int, str
        As for :func:`outlook_of`.
    out : tuple of Out
        Who and what is recorded as not there.
    last : LastBuild or None
        What people were told; None: what is chosen without those records.
    """
    plans = {job: one.plan for job, one in read.items()}
    settings = replace(settings, effort=_a_job(settings.effort, len(plans)))
    roads = roads_of(firm, plans)
    days = {job.id: allowed_days(firm, job, plans[job.id], read[job.id].agreed) for job in firm.jobs}
    stand = _as_agreed(firm, roads, read, settings)
    measured = _measured(firm, roads, plans, {job: days[job] for job in plans if job not in stand}, jobs)
    hearts = {job: one for job, one in measured.items() if isinstance(one, Heart)}
    hearts |= {job: _heart_of_laid(firm, roads, one) for job, one in stand.items()}
    alone = {job: one for job, one in measured.items() if isinstance(one, NoHeart)}
    agreed = [job for job, one in read.items() if one.sent is not None]
    question = as_agreed(question_of(firm, hearts, days), agreed, stand.values(), hearts)
    told = None
    out = (*out, *outs_of(firm, {job: one.story for job, one in read.items()}))
    if out:
        told = last.told(out) if last else chosen(question, engine=engine)
        firm = with_out(firm, out)
        stand = _as_agreed(firm, roads, read, settings, out)
        anew = question_of(firm, hearts, days)
        for held in (True, False):  # as few others as possible change; where that leaves a job out, more do
            question = as_agreed(as_told(anew, told, out, held=held), agreed, stand.values(), hearts)
            answer = chosen(question, engine=engine)
            if all(answer.of(one.job) for one in told.sent if one.job in hearts):
                break
    state = _Dispatch(firm, roads, read, settings, engine)
    state.placed |= stand
    state.run(question, hearts)
    left = tuple(
        _left(state, firm.job(job), alone.get(job), days[job], plans)
        for job in plans
        if job not in state.placed
    )
    rows = bundled(firm, roads, plans, [state.placed[job.id] for job in firm.jobs if job.id in state.placed])
    done = all_finished(firm, roads, plans, rows, settings, jobs)
    seen = Seen(firm)
    slips = slips_of(firm, roads, plans, rows, settings, seen)
    stories = {job: one.story for job, one in read.items()}
    drives = drives_of(firm, roads, [one.run for one in done])
    return FirmOutlook(
        firm,
        plans,
        roads,
        hearts,
        state.answer,
        done,
        left,
        out,
        told,
        slips,
        seen.told(),
        stories,
        drives=drives,
    )


def _a_job(effort: Effort, jobs: int) -> Effort:
    """Share the effort out; what is left of it for one job of many is too little for the constraint solver."""
    seconds = max(effort.seconds / jobs, LEAST_S)
    engine = effort.engine if jobs == 1 else "serial"
    return replace(effort, seconds=seconds, engine=engine, ways_out=False)


def _as_agreed(
    firm: Firm, roads: Roads, read: Mapping[str, Read], settings: Settings, out: tuple[Out, ...] = ()
) -> Mapping[str, Laid]:
    """Let every job that was accepted stand, by its days, where nobody and nothing it was agreed with is out."""
    found: dict[str, Laid] = {}
    agreed = [
        (one.sent, one.story, one.plan)
        for one in read.values()
        if one.story is not None and one.sent is not None and not struck(one.sent, out)
    ]
    for sent, story, plan in sorted(agreed, key=lambda row: (row[0].day, row[0].job)):
        before = [other.trace for other in found.values()]
        one = kept_as_agreed(firm, roads, firm.job(sent.job), plan, story, sent, before, settings)
        if isinstance(one, Laid):
            found[sent.job] = one
    return found


def _heart_of_laid(firm: Firm, roads: Roads, one: Laid) -> Heart:
    sent = one.sent
    return measured_again(firm, roads, one.trace, sent.day, len(sent.crew), len(sent.vehicles))


def _measured(
    firm: Firm,
    roads: Roads,
    plans: Mapping[str, Plan],
    days: Mapping[str, tuple[date, ...]],
    processes: int,
) -> Mapping[str, Heart | NoHeart]:
    work = [(firm, roads, job, plans[job.id], days[job.id]) for job in firm.jobs if job.id in days]
    found = side_by_side(heart_of, work, processes)
    return {row[2].id: heart for row, heart in zip(work, found, strict=True)}


class _Dispatch:
    """Jobs placed so far, and the choice of days that is in force."""

    def __init__(
        self, firm: Firm, roads: Roads, read: Mapping[str, Read], settings: Settings, engine: str
    ) -> None:
        self.firm, self.roads, self.read, self.settings, self.engine = firm, roads, read, settings, engine
        self.placed: dict[str, Laid] = {}
        self.tried: dict[str, list[Unplaced]] = {}
        self.against: dict[str, tuple[str, ...]] = {}
        self.answer = Answer(DayStatus.UNKNOWN)
        self.question = Question((), (), (), {})
        self.hearts: dict[str, Heart] = {}

    def run(self, question: Question, hearts: Mapping[str, Heart]) -> None:
        """Choose days, place job after job, and choose again for those that do not fit after all."""
        self.hearts = dict(hearts)
        self._choose_without_contradiction(question)
        while (sent := self._next()) is not None:
            job = self.firm.job(sent.job)
            found = self._laid(job, sent)
            if isinstance(found, Laid):
                self.placed[job.id] = found
                self.hearts[job.id] = measured_again(
                    self.firm, self.roads, found.trace, sent.day, len(sent.crew), len(sent.vehicles)
                )
                continue
            self.tried.setdefault(job.id, []).append(found)
            self._choose_again(job, found)

    def _laid(self, job: Job, sent: Sent) -> Laid | Unplaced:
        """Schedule a job around those that stand: as it was agreed, or anew."""
        before, read = [one.trace for one in self.placed.values()], self.read[job.id]
        if read.story is not None and read.sent is not None:
            return kept_as_agreed(
                self.firm, self.roads, job, read.plan, read.story, sent, before, self.settings
            )
        return laid(
            self.firm,
            self.roads,
            job,
            read.plan,
            self.hearts,
            sent,
            self.answer.sent,
            before,
            self.settings,
        )

    def _next(self) -> Sent | None:
        """Take promised jobs first, then one after the other by their days."""
        waiting = [one for one in self.answer.sent if one.job not in self.placed]
        return min(
            waiting, key=lambda one: (not self.firm.job(one.job).promised, one.day, one.job), default=None
        )

    def _choose_again(self, job: Job, found: Unplaced) -> None:
        never = self.question.never
        others = self._with_visitors_away(found.day) if found.why == "busy" else self.question
        if others == self.question:
            never |= {(job.id, found.day)}
        self.question = others
        wanted = tuple(
            replace(one, crew=None, vehicles=None) if one.job == job.id else one
            for one in self.question.wanted
        )
        if found.trace is not None:
            heart = self.hearts[job.id]
            longer = measured_again(self.firm, self.roads, found.trace, found.day, heart.crew, heart.vehicles)
            self.hearts[job.id] = heart = replace(heart, gear=longer.gear, water=longer.water)
            wanted = tuple(replace(one, heart=heart) if one.job == job.id else one for one in wanted)
        if job.promised or self.read[job.id].agreed or len(self.tried[job.id]) >= TRIES_A_JOB:
            wanted = tuple(one for one in wanted if one.job != job.id)
        self.question = replace(self.question, wanted=wanted, never=never)
        self.answer = chosen(standing(self.question, self.placed.values(), self.hearts), engine=self.engine)

    def _with_visitors_away(self, day: date) -> Question:
        """Keep whoever has a visit on a day out of the crews of that day; crews that stand are not asked again."""
        there = {one.sent.day for one in self.placed.values()}
        busy = {
            who
            for one in self.placed.values()
            for who, stops in one.trace.people.items()
            for stop in stops
            if to_local(stop.start, self.firm.zone).date() == day and day not in there
        }
        hands = tuple(
            replace(one, away=one.away | {day}) if one.id in busy else one for one in self.question.hands
        )
        return replace(self.question, hands=hands)

    def _choose_without_contradiction(self, question: Question) -> None:
        """Take out of promised jobs that contradict each other the one of least weight, and say against which."""
        answer = chosen(question, engine=self.engine)
        while answer.status in (DayStatus.INFEASIBLE, DayStatus.UNKNOWN):
            against = contradicting(question, engine=self.engine)
            if not against:
                break
            rows = {one.job: one for one in question.wanted}
            gone = min(against, key=lambda job: (rows[job].priority, -list(rows).index(job)))
            self.against[gone] = tuple(job for job in against if job != gone)
            question = replace(question, wanted=tuple(one for one in question.wanted if one.job != gone))
            answer = chosen(question, engine=self.engine)
        self.question, self.answer = question, answer


def _left(
    state: _Dispatch, job: Job, alone: NoHeart | None, own: tuple[date, ...], plans: Mapping[str, Plan]
) -> LeftOut:
    tried = tuple(state.tried.get(job.id, ()))
    if alone is not None:
        return LeftOut(job.id, tried, alone, proven=alone.schedule.status is Status.INFEASIBLE)
    stands = standing(state.question, state.placed.values(), state.hearts)
    heart, engine = state.hearts[job.id], state.engine
    plan = plans[job.id]
    within = plan.dates.move_days if plan.dates else ()
    days = days_that_do(state.firm, stands, heart, job, own, within, engine=engine)
    key = "dates.move-day" if "dates.move-day" in plan.lines else "dates.move-window"
    return LeftOut(
        job.id,
        tried,
        None,
        state.against.get(job.id, ()),
        days,
        "" if set(days) <= set(within) else f"{job.plan.parent}/{plan.where(key)}",
        tuple(sorted(set(own) - {one.day for one in tried})) if len(tried) >= TRIES_A_JOB else (),
        asks_of(state.firm, stands, heart, job, own, plans, engine=engine),
        proven=not tried and state.answer.status is DayStatus.OPTIMAL,
        agreed=state.read[job.id].agreed,
    )
