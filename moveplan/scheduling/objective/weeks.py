"""How even the work on lead tasks is from week to week before a tied day, such as the day of a move.

Weeks are seven local days, counted back from the first tied day. Of the work that a wished margin lets stand earlier,
each week should hold an even share; what is beyond it counts, and what stands farther ahead of its need than makes
sense counts as a whole. Recurring care, and what belongs right before its need, is left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from moveplan.scheduling.state.desk import Spot
from moveplan.scheduling.state.model import Job, Model
from moveplan.times import MINUTES_A_DAY

LEAST_MARGIN_MIN = MINUTES_A_DAY
"""A task with a smaller wished margin belongs right before what needs it (common practice, no source)."""
WEEK_DAYS = 7
"""Days of a week. [d]"""


@dataclass(frozen=True, slots=True)
class Load:
    """One lead task that may be moved from week to week.

    Parameters
    ----------
    work : int
        Its people times its minutes, as planned. [min]
    reach : int
        Farther ahead of its need makes no sense: twice the margin and a week (assumed). [min]
    """

    position: int
    work: int
    reach: int


def loads(model: Model) -> list[Load]:
    """List the lead tasks whose work counts; empty where fewer than two could be spread before a tied day."""
    found = [
        Load(at, _work(job), 2 * job.task.margin_min + WEEK_DAYS * MINUTES_A_DAY)
        for at, job in enumerate(model.jobs)
        if job.late and job.task.crew and not job.task.repeats and job.task.margin_min >= LEAST_MARGIN_MIN
    ]
    tied = any(job.tag >= 0 for job in model.jobs)
    return [load for load in found if needs(model, load.position)] if tied and len(found) > 1 else []


def _work(job: Job) -> int:
    return max(job.options[0].count, len(job.named)) * job.options[0].minutes


def needs(model: Model, position: int) -> list[tuple[int, bool, int]]:
    """List what waits for the finish of a task: the other task, whether its finish does, and the gap."""
    rules = model.out[position]
    return [(head, to_finish, gap) for _, head, finish, to_finish, gap in rules if finish and gap >= 0]


def first_tied(model: Model, spots: Sequence[Spot]) -> int:
    """Local day of the first tied task."""
    tied = (spot.start for job, spot in zip(model.jobs, spots, strict=True) if job.tag >= 0)
    return model.day_of(min(tied))


def week_of(model: Model, end: int, moment: int) -> int:
    """Count back from a local day to the week in which a moment lies; what lies later counts to the last."""
    return max(0, (end - 1 - model.day_of(moment)) // WEEK_DAYS)


def share(model: Model, end: int, found: Sequence[Load]) -> int:
    """Person-minutes of an even share, rounded up; the week with the start of the problem counts whole."""
    weeks = week_of(model, end, model.problem.start) + 1
    return -(-sum(load.work for load in found) // weeks)


@dataclass(frozen=True, slots=True)
class Weeks:
    """The work of each week in a schedule.

    Parameters
    ----------
    model : Model
        What was scheduled.
    loads : tuple of Load
        Tasks that count.
    end : int
        Local day of the first tied task.
    even : int
        Even share of a week. [min]
    """

    model: Model
    loads: tuple[Load, ...]
    end: int
    even: int

    def by_week(self, spots: Sequence[Spot]) -> dict[int, int]:
        """Person-minutes of each week; the numbers count back from the end."""
        found: dict[int, int] = {}
        for load in self.loads:
            week = week_of(self.model, self.end, spots[load.position].start)
            found[week] = found.get(week, 0) + load.work
        return found

    def uneven(self, spots: Sequence[Spot]) -> int:
        """Person-minutes beyond an even share of their week, or too far ahead of their need."""
        beyond = sum(max(0, work - self.even) for work in self.by_week(spots).values())
        return beyond + sum(
            load.work for load in self.loads if _ahead(self.model, spots, load.position) > load.reach
        )

    def least(self) -> int:
        """Least possible value with the tied days where they are: a task cannot be divided."""
        return sum(max(0, load.work - self.even) for load in self.loads)


def weeks_of(model: Model, spots: Sequence[Spot]) -> Weeks | None:
    """Count the weeks before the first tied task; None where there is nothing to spread."""
    found = loads(model)
    if not found:
        return None
    end = first_tied(model, spots)
    return Weeks(model, tuple(found), end, share(model, end, found))


def uneven(model: Model, spots: Sequence[Spot]) -> int:
    """Person-minutes beyond an even share of their week, or too far ahead of their need; by the week of the start.

    >>> from moveplan.scheduling.state.model import model_of
    >>> from moveplan.scheduling.problem import SchedulingProblem
    >>> from moveplan.network.graph import Network
    >>> uneven(model_of(SchedulingProblem(Network(()), 0, 60)), [])
    0
    """
    weeks = weeks_of(model, spots)
    return 0 if weeks is None else weeks.uneven(spots)


def _ahead(model: Model, spots: Sequence[Spot], position: int) -> int:
    """Minutes from the finish of a task until the first of what needs it has to have it."""
    ends = [
        (spots[head].finish if to_finish else spots[head].start) - gap
        for head, to_finish, gap in needs(model, position)
    ]
    return min(ends) - spots[position].finish
