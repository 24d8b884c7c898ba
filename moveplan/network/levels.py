"""Longest paths of a large network without cycles, one numpy step a level.

All positions whose arcs have come in form a front; the arcs that leave it are followed at once, which gives the
next front. The way back takes the same fronts in reverse, with their arcs side by side.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

Whole = npt.NDArray[np.int64]


class Fronts:
    """The arcs of a network in the order of its levels.

    Parameters
    ----------
    tail, head : array of int
        Positions at both ends of each arc.
    weight : array of int
        Lengths. [min]
    size : int
        Number of positions.
    """

    def __init__(self, tail: Whole, head: Whole, weight: Whole, size: int) -> None:
        order = _sorted_by(tail)
        self._heads, self._weights = head[order], weight[order]
        self._first = np.searchsorted(tail[order], np.arange(size + 1))
        self._waiting = np.bincount(head, minlength=size)
        self._size = size
        self._fronts: list[Whole] = []
        self._arcs: list[Whole] = []

    def ahead(self, labels: Whole) -> Whole | None:
        """Longest path to each position, not less than its label; None where arcs form a cycle."""
        result, waiting = labels.copy(), self._waiting.copy()
        first, heads, weights = self._first, self._heads, self._weights
        mark = np.empty(self._size, dtype=np.int64)
        front = np.flatnonzero(waiting == 0)
        seen = 0
        while front.size:
            seen += front.size
            begins = first[front]
            counts = first[front + 1] - begins
            ends = counts.cumsum()
            arcs = np.arange(ends[-1]) + (begins - ends + counts).repeat(counts)
            self._fronts.append(front)
            self._arcs.append(arcs)
            reached = heads[arcs]
            np.maximum.at(result, reached, result[front].repeat(counts) + weights[arcs])
            np.subtract.at(waiting, reached, 1)
            last = reached[waiting[reached] == 0]
            number = np.arange(last.size)
            mark[last] = number
            front = last[mark[last] == number]
        return result if seen == self._size else None

    def back(self, labels: Whole) -> Whole:
        """Longest path from each position against the arcs, not less than its label; after :meth:`ahead`."""
        result = labels.copy()
        first, heads, weights = self._first, self._heads, self._weights
        for front, arcs in zip(reversed(self._fronts), reversed(self._arcs), strict=True):
            if not arcs.size:
                continue
            counts = first[front + 1] - first[front]
            through = result[heads[arcs]] + weights[arcs]
            leaving = front
            if not counts.all():
                leaving, counts = front[counts > 0], counts[counts > 0]
            best = np.maximum.reduceat(through, counts.cumsum() - counts)
            result[leaving] = np.maximum(result[leaving], best)
        return result


def _sorted_by(keys: Whole) -> Whole:
    """Order that sorts small whole numbers, equal ones as they stand."""
    together: Whole = (keys << 32) | np.arange(keys.size)
    together.sort()
    return together & 0xFFFFFFFF


def longest(tail: Whole, head: Whole, weight: Whole, labels: Whole) -> Whole | None:
    """Longest path to each position of a graph, not less than its label.

    Parameters
    ----------
    tail, head : array of int
        Positions at both ends of each arc.
    weight : array of int
        Lengths. [min]
    labels : array of int
        Lower bounds, one a position; not changed. [min]

    Returns
    -------
    array of int or None
        One a position; None where arcs form a cycle. [min]
    """
    return Fronts(tail, head, weight, labels.size).ahead(labels)


def early_and_late(tail: Whole, head: Whole, weight: Whole, lasts: Whole) -> tuple[Whole, Whole] | None:
    """Earliest and latest starts, the finish held where the earliest put it.

    Parameters
    ----------
    tail, head : array of int
        Positions at both ends of each arc.
    weight : array of int
        Least distance between the starts. [min]
    lasts : array of int
        How long each task lasts. [min]

    Returns
    -------
    tuple of two arrays of int, or None
        None where arcs form a cycle. [min]
    """
    fronts = Fronts(tail, head, weight, lasts.size)
    early = fronts.ahead(np.zeros(lasts.size, dtype=np.int64))
    if early is None:
        return None
    finish = int((early + lasts).max(initial=0))
    return early, -fronts.back(lasts - finish)


def longest_by_levels(ends: Sequence[tuple[int, int, int]], labels: Sequence[int]) -> list[int] | None:
    """As :func:`longest`, from and to plain lists."""
    if not ends:
        return list(labels)
    arrays: Any = np.array(ends, dtype=np.int64).T
    found = longest(arrays[0], arrays[1], arrays[2], np.array(labels, dtype=np.int64))
    return None if found is None else found.tolist()


def early_and_late_by_levels(
    ends: Sequence[tuple[int, int, int]], lasts: Sequence[int]
) -> tuple[list[int], list[int]] | None:
    """As :func:`early_and_late`, from and to plain lists."""
    arrays: Any = np.array(ends, dtype=np.int64).reshape(-1, 3).T
    found = early_and_late(arrays[0], arrays[1], arrays[2], np.array(lasts, dtype=np.int64))
    return None if found is None else (found[0].tolist(), found[1].tolist())
