"""What jobs that are done teach: how much longer work took than usual, for the durations of jobs to come."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from math import sqrt

from moveplan.errors import PlanFileError, Problem
from moveplan.firm.carried import open_tasks, states_of
from moveplan.firm.file.fill import moment_of
from moveplan.firm.jobs import Read
from moveplan.firm.placing.agreed import agreed_sent
from moveplan.firm.values import Firm
from moveplan.journal.back import LEAST_MIN, LEAST_TASKS, PACES, look_back
from moveplan.network.task import Kind
from moveplan.plan.move import Learnt
from moveplan.practice.drafting.pace import kind_of
from moveplan.practice.drafting.wording import Wording
from moveplan.practice.under_way.story import Story
from moveplan.stages.reading import Settings, begin

LEAD_MIN = 120
"""A crew counts as no faster or slower than the firm as if that had been measured for so long; assumed. [min]"""
FULL_JOBS = 5
"""From so many jobs on what was measured counts in full; assumed. With fewer it counts by the square root of their
number over this one: limited-fluctuation credibility, A. H. Mowbray, "How extensive a payroll exposure is necessary to
give a dependable pure premium?", Proceedings of the Casualty Actuarial Society 1 (1914) 24-30 (recalled). [-]"""

Row = tuple[str, int, int, bool]
"""A measured task: its id, usual and real minutes, and whether it is of a moving day."""


@dataclass(frozen=True, slots=True)
class KindPace:
    """How long one kind of task took.

    Parameters
    ----------
    kind, lead : str
        Kind of task, and who led the jobs; no lead: all jobs.
    jobs : int
        On how many jobs it rests.
    usual_min, real_min : int
        Durations added up. [min]
    factor : float
        How much longer it takes than with all crews together, so weighed; 1 for all. [-]
    """

    kind: str
    lead: str
    jobs: int
    usual_min: int
    real_min: int
    factor: float = 1.0


@dataclass(frozen=True, slots=True)
class Lessons:
    """What was learnt.

    Parameters
    ----------
    jobs : tuple of str
        On which jobs it rests.
    weight : float
        Share in which what was measured counts; the rest is the usual pace. [-]
    paces : Mapping of str to float
        Real over usual duration of work on moving days and of other work, so weighed; what was not measured long enough
        is not in it. [-]
    tasks : tuple of (str, int, int)
        Measured tasks with usual minutes and real ones, so weighed. [min]
    kinds : tuple of KindPace
        The same by kind of task: all jobs together, and then those that each person led.
    """

    jobs: tuple[str, ...] = ()
    weight: float = 0.0
    paces: Mapping[str, float] = field(default_factory=dict)
    tasks: tuple[tuple[str, int, int], ...] = ()
    kinds: tuple[KindPace, ...] = ()

    @property
    def learnt(self) -> Learnt:
        """For plans to come."""
        leads: dict[str, dict[str, float]] = {}
        for one in self.kinds:
            if one.lead:
                leads.setdefault(one.lead, {})[one.kind] = one.factor
        return Learnt(self.tasks, self.paces, leads)


def weight_of(jobs: int) -> float:
    """Tell in which share what so many jobs taught counts.

    Parameters
    ----------
    jobs : int
        How many.

    >>> [round(weight_of(jobs), 2) for jobs in (0, 1, 2, 5, 9)]
    [0.0, 0.45, 0.63, 1.0, 1.0]
    """
    return min(1.0, sqrt(jobs / FULL_JOBS))


def lessons_of(firm: Firm, read: Mapping[str, Read]) -> Lessons:
    """Look back on the jobs of the firm that are done, and on the plans that its file names to learn from.

    Parameters
    ----------
    firm : Firm
        Its people: only their work counts.
    read : Mapping of str to Read
        Its jobs.

    Raises
    ------
    PlanFileError
        Where a plan to learn from cannot be read, or nothing of it was accepted.
    """
    done = _done(firm, read) | _named(firm)
    rows = {job: _measured(firm, one.story) for job, one in done.items()}
    rows = {job: found for job, found in rows.items() if found}
    weight = weight_of(len(rows))
    measured = [row for found in rows.values() for row in found]
    paces = {}
    for name, day in zip(PACES, (True, False), strict=True):
        own = [row for row in measured if row[3] is day]
        usual, real = sum(row[1] for row in own), sum(row[2] for row in own)
        if len(own) >= LEAST_TASKS and usual >= LEAST_MIN:
            paces[name] = round(1 + weight * (real / usual - 1), 2)
    tasks = tuple((task, usual, round(usual + weight * (real - usual))) for task, usual, real, _ in measured)
    leads = {job: sent.crew[0] for job in rows if (sent := done[job].sent)}
    return Lessons(tuple(rows), weight, paces, tasks, tuple(by_kind(rows, leads)))


def by_kind(rows: Mapping[str, list[Row]], leads: Mapping[str, str]) -> Iterator[KindPace]:
    """Add up each kind of task over all jobs and over those of each lead.

    Parameters
    ----------
    rows : Mapping of str to list of Row
        What was measured of each job.
    leads : Mapping of str to str
        Who led which job.
    """
    kinds = set(Wording("metric", silent=True).kinds)
    found: dict[tuple[str, str], list[tuple[str, int, int]]] = {}
    for job, own in rows.items():
        for task, usual, real, _ in own:
            kind = kind_of(task, kinds)
            for lead in ("", leads[job]) if job in leads else ("",):
                found.setdefault((kind, lead), []).append((job, usual, real))
    for (kind, lead), pieces in sorted(found.items()):
        if kind:
            jobs = len({job for job, _, _ in pieces})
            usual, real = _sums(pieces)
            all_usual, all_real = _sums(found[kind, ""])
            factor = compared(real / usual, all_real / all_usual, jobs, usual) if lead else 1.0
            yield KindPace(kind, lead, jobs, usual, real, factor)


def _sums(pieces: Iterable[tuple[str, int, int]]) -> tuple[int, int]:
    rows = list(pieces)
    return sum(usual for _, usual, _ in rows), sum(real for _, _, real in rows)


def compared(own: float, of_all: float, jobs: int, usual_min: int) -> float:
    """Tell how much longer a crew takes than all crews, drawn towards them where little was measured.

    Parameters
    ----------
    own, of_all : float
        Real over usual durations of its jobs, and of all. [-]
    jobs : int
        On how many jobs its own rests.
    usual_min : int
        On how much work. [min]

    >>> [compared(1.5, 1.0, jobs, minutes) for jobs, minutes in ((0, 0), (1, 30), (5, 480), (5, 4800))]
    [1.0, 1.04, 1.4, 1.49]
    >>> compared(1.5, 1.5, 1, 600), compared(0.8, 0.0, 1, 600)
    (1.0, 1.0)
    """
    share = weight_of(jobs) * usual_min / (usual_min + LEAD_MIN)
    return round(1 + share * (own / of_all - 1), 2) if of_all else 1.0


def taught(read: Mapping[str, Read], lessons: Lessons) -> Mapping[str, Read]:
    """Let jobs that are not done last as long as was learnt, where their plan names nothing to learn from.

    The moving day of a job that was accepted lasts as long as was told all the same.

    Parameters
    ----------
    read : Mapping of str to Read
        All jobs.
    """
    if not lessons.jobs:
        return read
    learnt = lessons.learnt
    return {
        job: replace(one, plan=replace(one.plan, learnt=learnt))
        if job not in lessons.jobs and one.plan.learnt is None
        else one
        for job, one in read.items()
    }


def _done(firm: Firm, read: Mapping[str, Read]) -> dict[str, Read]:
    """Give the jobs of which the firm has nothing left to do."""
    return {
        job: one
        for job, one in read.items()
        if one.story and one.story.agreed and not open_tasks(states_of(firm, one.story))
    }


def _named(firm: Firm) -> dict[str, Read]:
    found: dict[str, Read] = {}
    for number, path in enumerate(firm.learn):
        where = firm.where(f"learn.{number}") if f"learn.{number}" in firm.lines else firm.where("learn")
        try:
            plan, story = begin(path, Settings(now=moment_of(firm)))
        except PlanFileError as error:
            problem = Problem(f"{path} cannot be read; its problems follow", where, "mend it, or take it out")
            raise PlanFileError((problem, *error.problems), str(firm.path)) from None
        if story is None or story.agreed is None:
            message = f"nothing was accepted and recorded beside {path}: there is nothing to learn from"
            raise PlanFileError((Problem(message, where, "take it out"),), str(firm.path))
        found[path.stem] = Read(plan, story, agreed_sent(firm, path.stem, plan, story))
    return found


def _measured(firm: Firm, story: Story | None) -> list[Row]:
    """Give the pieces of the firm's work of which is known how long they took."""
    known = {one.id for one in firm.people}
    if story is None or story.agreed is None:
        return []
    return [
        (one.task.id, one.usual_min, one.real_min, bool(one.task.day))
        for one in look_back(story.agreed, story.state).tasks
        if one.real_min is not None
        and one.usual_min
        and one.task.kind is Kind.WORK
        and known & set(one.task.people)
    ]
