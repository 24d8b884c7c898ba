"""Working hours and hire windows for many runs at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from moveplan.times import Interval

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]

FOREVER = 1e9
"""End of the last stretch: whoever gets there finds somebody at last. [min]"""


@dataclass(frozen=True, slots=True)
class Stretches:
    """Hours of one crew with its vehicles, counted from the start of the plan.

    Parameters
    ----------
    begins, ends : array
        Disjoint, in order; the last is open. [min]
    stated : array
        Ends as stated, before overtime. [min]
    worked : array
        Minutes of all stretches before each. [min]
    first_open : array
        For each minute, the number of the first stretch that ends after it.
    """

    begins: Floats
    ends: Floats
    stated: Floats
    worked: Floats
    first_open: npt.NDArray[np.int32]


def stretches_of(
    hours: Sequence[Interval], start: int, horizon: int, stated: Sequence[int] | None = None
) -> Stretches:
    """Prepare hours for many runs.

    Parameters
    ----------
    hours : sequence of Interval
        Disjoint, in order, UTC. [min]
    start, horizon : int
        First and last moment that is planned, UTC. After the horizon there is always somebody. [min]
    stated : sequence of int, optional
        Ends before overtime, UTC; by default the ends themselves. [min]
    """
    ends_stated = [one.finish for one in hours] if stated is None else list(stated)
    begins = np.array([max(one.start - start, 0) for one in hours] + [horizon - start], dtype=float)
    ends = np.array([one.finish - start for one in hours] + [FOREVER], dtype=float)
    planned = np.array([end - start for end in ends_stated] + [FOREVER], dtype=float)
    worked = np.concatenate([[0.0], np.cumsum(ends[:-1] - begins[:-1])])
    minutes = max(horizon - start, 0) + 1
    until = np.concatenate([[0], np.clip(ends, 0, minutes)]).astype(np.int64)
    first_open = np.repeat(np.arange(len(ends), dtype=np.int32), np.diff(until))
    return Stretches(begins, ends, planned, worked, first_open)


def _first(hours: Stretches, earliest: Floats) -> npt.NDArray[np.int32]:
    return np.take(hours.first_open, earliest.astype(np.int32), mode="clip")


def place(hours: Stretches, earliest: Floats, lasts: Floats, start: Floats, finish: Floats) -> None:
    """Place work that is done at one go: in the first stretch that is long enough.

    Work that is longer than any stretch is broken off and gone on with in the next.

    Parameters
    ----------
    hours : Stretches
        When it may be done.
    earliest, lasts : array
        Earliest start and duration, one a run. [min]
    start, finish : array
        Where the answer is written. [min]
    """
    number = _first(hours, earliest)
    np.maximum(earliest, np.take(hours.begins, number), out=start)
    np.add(start, lasts, out=finish)
    late = np.flatnonzero(finish > np.take(hours.ends, number))
    if late.size:
        _later(hours, late, number[late], lasts, start, finish)


def _later(
    hours: Stretches,
    late: npt.NDArray[np.intp],
    number: npt.NDArray[np.int32],
    lasts: Floats,
    start: Floats,
    finish: Floats,
) -> None:
    longest = float(np.max(hours.ends[:-1] - hours.begins[:-1], initial=0.0))
    broken = lasts[late] > longest
    if broken.any():
        rows = late[broken]
        begin, end = np.empty(rows.size), np.empty(rows.size)
        place_pausing(hours, start[rows], lasts[rows], begin, end)
        start[rows], finish[rows] = begin, end
        late, number = late[~broken], number[~broken]
    while late.size:
        number = number + 1
        begin = hours.begins[number]
        end = begin + lasts[late]
        start[late], finish[late] = begin, end
        again = end > hours.ends[number]
        late, number = late[again], number[again]


def place_pausing(hours: Stretches, earliest: Floats, lasts: Floats, start: Floats, finish: Floats) -> None:
    """Place work that pauses at the end of each stretch.

    Parameters
    ----------
    hours : Stretches
        When it may be done.
    earliest, lasts : array
        Earliest start and minutes of work, one a run. [min]
    start, finish : array
        Where the answer is written. [min]
    """
    number = _first(hours, earliest)
    np.maximum(earliest, np.take(hours.begins, number), out=start)
    done = np.take(hours.worked, number) + start - np.take(hours.begins, number) + lasts
    last = np.searchsorted(hours.worked, done, side="left") - 1
    np.maximum(last, number, out=last)
    np.add(np.take(hours.begins, last), done - np.take(hours.worked, last), out=finish)


def past_hours(hours: Stretches, start: Floats, finish: Floats) -> Flags:
    """Whether work goes on past the stated hours, one a run.

    Parameters
    ----------
    hours : Stretches
        With stated ends.
    start, finish : array
        Where it was placed. [min]
    """
    return np.asarray(finish > np.take(hours.stated, _first(hours, start)), dtype=bool)


def latest_start(hours: Stretches, finish: Floats, lasts: Floats, *, pauses: bool) -> Floats:
    """Latest start from which work is done by a moment; minus infinity where there is none.

    Parameters
    ----------
    hours : Stretches
        When it may be done.
    finish, lasts : array
        Latest finish and minutes of work, one a run. [min]
    pauses : bool
        Whether the work may stop at the end of a stretch.
    """
    number = np.searchsorted(hours.begins, finish, side="left") - 1
    if pauses:
        return _latest_pausing(hours, number, finish, lasts)
    found = np.full(finish.shape, -np.inf)
    left = np.flatnonzero(number >= 0)
    number = number[left]
    while left.size:
        begin = np.minimum(finish[left], hours.ends[number]) - lasts[left]
        good = begin >= hours.begins[number]
        found[left[good]] = begin[good]
        keep = ~good & (number > 0)
        left, number = left[keep], number[keep] - 1
    return found


def _latest_pausing(hours: Stretches, number: npt.NDArray[np.intp], finish: Floats, lasts: Floats) -> Floats:
    at = np.maximum(number, 0)
    inside = np.minimum(finish, hours.ends[at]) - hours.begins[at]
    done = hours.worked[at] + np.maximum(inside, 0.0) - lasts
    first = np.clip(np.searchsorted(hours.worked, done, side="right") - 1, 0, None)
    begin = hours.begins[first] + done - hours.worked[first]
    return np.where((number < 0) | (done < 0), -np.inf, begin)
