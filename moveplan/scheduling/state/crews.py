"""Which people make up a crew."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations, islice
from math import comb

from moveplan.scheduling.state.model import Job, Model

MOST_CREWS = 400
"""Most crews listed for a task; beyond, the better liked people are taken. Chosen. [-]"""
Liking = Callable[[int], tuple[float, ...]]


def skilled(model: Model, job: Job, crew: Sequence[int]) -> bool:
    """Whether a crew has the skills that a task asks for."""
    wanted = job.task.crew.skills if job.task.crew else ()
    return all(sum(skill in model.skills[at] for at in crew) >= number for skill, number in wanted)


def crews(
    model: Model, job: Job, count: int, free: Sequence[int], liking: Liking
) -> Iterator[tuple[int, ...]]:
    """Crews of a size from free people, the best liked first.

    Parameters
    ----------
    model, job : Model, Job
        The task and the skills of the people.
    count : int
        People in all; never fewer than are named.
    free : sequence of int
        Positions of those who could come.
    liking : callable
        Gives a sort key; the least is taken first.

    Yields
    ------
    tuple of int
        Sorted positions.
    """
    if any(person not in free for person in job.named):
        return
    count = max(count, len(job.named))
    others = sorted((person for person in free if person not in job.named), key=liking)
    more = count - len(job.named)
    for rest in islice(combinations(others, more), MOST_CREWS):
        crew = tuple(sorted((*job.named, *rest)))
        if skilled(model, job, crew):
            yield crew
    if comb(len(others), more) > MOST_CREWS:
        yield from _by_need(model, job, count, others)


def _by_need(model: Model, job: Job, count: int, others: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """One crew put together skill by skill, for pools too large to try all."""
    crew = list(job.named)
    wanted = job.task.crew.skills if job.task.crew else ()
    for skill, number in wanted:
        able = [person for person in others if skill in model.skills[person] and person not in crew]
        missing = number - sum(skill in model.skills[person] for person in crew)
        crew += able[: max(0, missing)]
    crew += [person for person in others if person not in crew][: max(0, count - len(crew))]
    if len(crew) == count and skilled(model, job, crew):
        yield tuple(sorted(crew))
