"""Work against hours within a stretch of time."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import accumulate, combinations
from typing import Protocol

from moveplan.scheduling.state.model import Job, Model
from moveplan.scheduling.state.tracks import Windows

_MOST_PEOPLE = 6
"""Most people of whom every set is looked at; beyond, there are too many. Chosen. [-]"""
_MOST_BEGINNINGS = 24
"""Most beginnings within somebody's hours that are looked at, besides the last. Chosen. [-]"""
Shortage = tuple[int, int, list[int], int, int]
"""Begin and end of a stretch, its tasks, their work, and the hours in it."""


class Supply(Protocol):
    """Gives the hours that there are."""

    def between(self, first: int, last: int) -> int:
        """Minutes between two moments."""


class Hours:
    """Hours of a set of people or vehicles, looked up rather than added up each time.

    Parameters
    ----------
    windows : sequence of Windows
        One a person or vehicle. [min]
    """

    def __init__(self, windows: Sequence[Windows]) -> None:
        self.starts = sorted(begin for own in windows for begin in own.starts)
        self.finishes = sorted(end for own in windows for end in own.finishes)
        self.begun = list(accumulate(self.starts, initial=0))
        self.over = list(accumulate(self.finishes, initial=0))

    def _until(self, moment: int) -> int:
        begun, over = bisect_right(self.starts, moment), bisect_right(self.finishes, moment)
        return (begun - over) * moment - self.begun[begun] + self.over[over]

    def between(self, first: int, last: int) -> int:
        """Minutes between two moments."""
        return max(0, self._until(last) - self._until(first))

    def when(self, first: int, minutes: int) -> int | None:
        """Earliest moment until which so many minutes have gone by since another; None: never."""
        if minutes <= 0:
            return first
        low, high = first, self.finishes[-1] if self.finishes else first
        if self.between(first, high) < minutes:
            return None
        while low < high:
            middle = (low + high) // 2
            if self.between(first, middle) >= minutes:
                high = middle
            else:
                low = middle + 1
        return low


class Crowd:
    """So many people who are there all the time."""

    def __init__(self, number: int) -> None:
        self.number = number

    def between(self, first: int, last: int) -> int:
        """Minutes between two moments."""
        return self.number * max(0, last - first)


def groups(model: Model, at_most: int = 63) -> list[tuple[int, ...]]:
    """List sets of people worth adding up: every set of a few, else the pools of the tasks and everybody."""
    people = range(len(model.people))
    if len(model.people) <= _MOST_PEOPLE and 2 ** len(model.people) <= at_most + 1:
        return [group for size in range(1, len(people) + 1) for group in combinations(people, size)]
    pools = {job.pool for job in model.jobs if job.pool}
    return sorted({*pools, tuple(people)}, key=lambda group: (len(group), group))[-at_most:]


class Labour:
    """Work that tasks surely take from any set of people; tasks that ask alike are looked at once."""

    def __init__(self, model: Model) -> None:
        self._alike: dict[tuple[object, ...], list[int]] = {}
        self._jobs = model.jobs
        for at, job in enumerate(model.jobs):
            if job.pool:
                asks = (job.pool, job.options, job.task.repeats.times if job.task.repeats else 1)
                self._alike.setdefault(asks, []).append(at)

    def of(self, group: Sequence[int]) -> dict[int, int]:
        """Person-minutes of each task that takes any from a set of people, by its position, in order."""
        found = {
            at: minutes
            for positions in self._alike.values()
            if (minutes := _taken(self._jobs[positions[0]], group))
            for at in positions
        }
        return dict(sorted(found.items()))


def _taken(job: Job, group: Sequence[int]) -> int:
    times = job.task.repeats.times if job.task.repeats else 1
    others = sum(person not in group for person in job.pool)
    return min(max(0, option.count - others) * option.minutes for option in job.options) * times


def least_length(model: Model, early: Sequence[int]) -> int:
    """Minutes that pass before all the work can be done by the people, and all use made of the gear, there are.

    Parameters
    ----------
    model : Model
        What is to be done.
    early : sequence of int
        Earliest start of each task from the start on. [min]

    Returns
    -------
    int
        A lower bound of the length of any schedule. [min]
    """
    start, least, labour = model.problem.start, 0, Labour(model)
    for group in groups(model, at_most=8) if model.people else ():
        work = labour.of(group)
        first = start + min((early[at] for at in work), default=0)
        moment = Hours([model.people[at] for at in group]).when(first, sum(work.values()))
        least = max(least, moment - start if moment is not None else 0)
    for gear, thing in enumerate(model.problem.gear):
        users = [
            at for at, job in enumerate(model.jobs) if gear in dict(job.gear) and job.task.repeats is None
        ]
        if users and thing.count:
            minutes = sum(dict(model.jobs[at].gear)[gear] * model.jobs[at].span.least for at in users)
            least = max(least, min(early[at] for at in users) - -minutes // thing.count)
    return least


def tightest(work: Sequence[tuple[int, int, int, int]], hours: Supply) -> Shortage | None:
    """Find the shortest stretch of time in which there is more work than hours.

    Parameters
    ----------
    work : sequence of (int, int, int, int)
        First start, last finish, minutes and position of each task. A stretch counts the tasks that lie within it
        in every schedule. [min]
    hours : Supply
        What there is. [min]

    Returns
    -------
    tuple or None
        The stretch with its tasks, its work and its hours. [min]
    """
    found: Shortage | None = None
    firsts = sorted({first for first, _, _, _ in work}, reverse=True)
    by_end = sorted(work, key=lambda row: (row[1], row[3]))
    for begin in dict.fromkeys([*firsts[:_MOST_BEGINNINGS], firsts[-1]]):
        short = _from(begin, by_end, hours)
        if short is not None and (found is None or short[1] - short[0] < found[1] - found[0]):
            found = short
    return found


def _from(begin: int, by_end: Sequence[tuple[int, int, int, int]], hours: Supply) -> Shortage | None:
    rows, total = [row for row in by_end if row[0] >= begin], 0  # no other adds work, and hours only grow
    for at, (_, end, minutes, _) in enumerate(rows, start=1):
        total += minutes
        if at < len(rows) and rows[at][1] == end:
            continue
        there = hours.between(begin, end)
        if total > there:
            return begin, end, [position for _, _, _, position in rows[:at]], total, there
    return None
