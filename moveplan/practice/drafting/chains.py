"""Longest chains of tasks from one to another: how long they likely take, and what delays may add."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

from moveplan.estimate import Estimate
from moveplan.network.link import Link, Relation
from moveplan.network.task import Task

_NO_WAY = -(10**9)
"""Length of a chain that does not exist: below all others. [min]"""
P90 = 1.2816
"""Standard normal deviate at 90 %. [-]"""


def spread_beyond_likely_min(estimates: Sequence[Estimate]) -> float:
    """P90 of a sum of durations less the sum of their likely values.

    Beta distributions with PERT's mean, independent of each other, and the sum taken as normal.

    Parameters
    ----------
    estimates : sequence of Estimate
        Durations that follow each other. [min]

    Returns
    -------
    float
        At least 0. [min]

    References
    ----------
    Malcolm, Roseboom, Clark and Fazar (1959), Operations Research 7, 646-669 (recalled).

    Examples
    --------
    >>> one = Estimate(30, 60, 150, "min", "")
    >>> round(spread_beyond_likely_min([one]), 1)
    37.4
    """
    shift, variance = 0.0, 0.0
    for one in estimates:
        mean = (one.low + 4 * one.likely + one.high) / 6
        shift += mean - one.likely
        variance += (mean - one.low) * (one.high - mean) / 7
    return max(shift + P90 * math.sqrt(variance), 0.0)


class Chains:
    """Longest chains of finish-to-start links between tasks; each is looked for once.

    Parameters
    ----------
    tasks : Mapping of str to Task
        By id.
    links : iterable of Link
        Without a cycle.
    """

    def __init__(self, tasks: Mapping[str, Task], links: Iterable[Link]) -> None:
        self._tasks = tasks
        self._following: dict[str, list[str]] = {}
        for link in links:
            if link.relation is Relation.FINISHTOSTART:
                self._following.setdefault(link.before, []).append(link.after)
        self._tails: dict[str, dict[str, tuple[int, str]]] = {}
        self._allowances: dict[tuple[str, str], int] = {}

    def between(self, first: str, last: str) -> list[str]:
        """List the tasks of the longest chain between two tasks, both included.

        Parameters
        ----------
        first, last : str
            Ids.
        """
        tails = self._tails.setdefault(last, {last: (self._tasks[last].minutes, "")})
        _longest_from(first, self._following, self._tasks, tails)
        chain, task = [first], tails[first][1]
        while task:
            chain.append(task)
            task = tails[task][1]
        return chain

    def likely_min(self, first: str, last: str) -> int:
        """Likely minutes of the longest chain of tasks between two, both included. [min]."""
        return sum(self._tasks[task].minutes for task in self.between(first, last))

    def allowance_min(self, first: str, last: str) -> int:
        """Time allowed for delays between two tasks. [min]."""
        if (first, last) not in self._allowances:
            estimates = [self._tasks[task].estimate for task in self.between(first, last)]
            self._allowances[first, last] = math.ceil(spread_beyond_likely_min(estimates))
        return self._allowances[first, last]


def _longest_from(
    first: str,
    following: Mapping[str, list[str]],
    tasks: Mapping[str, Task],
    best: dict[str, tuple[int, str]],
) -> None:
    """Note for each task from the first on how long its chain to the end is, and which task comes next in it."""
    left, most = [first], 1 + sum(map(len, following.values()))
    while left:
        task = left[-1]
        if len(left) > most:
            raise ValueError(f"links go round in a circle by way of {task}")
        missing = [after for after in following.get(task, ()) if after not in best]
        if missing and task not in best:
            left += missing
            continue
        left.pop()
        if task not in best:
            tails = [(best[after][0], after) for after in following.get(task, ())]
            length, after = max(tails, default=(_NO_WAY, ""), key=lambda tail: tail[0])
            best[task] = (length + tasks[task].minutes, after)
