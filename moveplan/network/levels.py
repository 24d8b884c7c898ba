"""Longest paths of a large network without cycles, one numpy step a level."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

Whole = npt.NDArray[np.int64]


def levels_of(tail: Whole, head: Whole, size: int) -> Whole:
    """Level of each position: the greatest number of arcs on a path that ends there."""
    by_tail = np.argsort(tail, kind="stable")
    heads = head[by_tail]
    first = np.searchsorted(tail[by_tail], np.arange(size + 1))
    waiting = np.bincount(head, minlength=size)
    level = np.zeros(size, dtype=np.int64)
    front = np.flatnonzero(waiting == 0)
    depth = 0
    while front.size:
        level[front] = depth
        counts = first[front + 1] - first[front]
        total = int(counts.sum())
        offsets = np.repeat(first[front] - np.concatenate(([0], np.cumsum(counts)[:-1])), counts)
        reached = heads[offsets + np.arange(total)]
        np.subtract.at(waiting, reached, 1)
        front = np.unique(reached[waiting[reached] == 0])
        depth += 1
    return level


def longest(tail: Whole, head: Whole, weight: Whole, labels: Whole) -> Whole:
    """Longest path to each position of a graph without cycles, not less than its label.

    Parameters
    ----------
    tail, head : array of int
        Positions at both ends of each arc. [-]
    weight : array of int
        Lengths. [min]
    labels : array of int
        Lower bounds, one a position; not changed. [min]

    Returns
    -------
    array of int
        One a position. [min]
    """
    level = levels_of(tail, head, labels.size)
    order = np.lexsort((head, level[head]))
    tails, heads, weights = tail[order], head[order], weight[order]
    firsts = np.flatnonzero(np.diff(heads, prepend=-1))
    ends = np.append(firsts[1:], heads.size)
    at_level = level[heads[firsts]]
    cuts = np.flatnonzero(np.diff(at_level, prepend=-1))
    result = labels.copy()
    for begin, stop in zip(cuts, np.append(cuts[1:], firsts.size), strict=True):
        low, high = firsts[begin], ends[stop - 1]
        through = result[tails[low:high]] + weights[low:high]
        best = np.maximum.reduceat(through, firsts[begin:stop] - low)
        at = heads[firsts[begin:stop]]
        result[at] = np.maximum(result[at], best)
    return result


def longest_by_levels(ends: Sequence[tuple[int, int, int]], labels: Sequence[int]) -> list[int]:
    """As :func:`longest`, from and to plain lists."""
    if not ends:
        return list(labels)
    arrays: Any = np.array(ends, dtype=np.int64).T
    found = longest(arrays[0], arrays[1], arrays[2], np.array(labels, dtype=np.int64))
    return [int(label) for label in found]
