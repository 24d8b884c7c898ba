"""What is kept of the runs, and percentiles and shares of it with their standard errors."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import ceil

import numpy as np

from moveplan.risk.prepared.windows import Flags
from moveplan.risk.runs.draw import Floats
from moveplan.risk.summary import Percentiles
from moveplan.times import MINUTES_A_DAY

BATCHES = 20
"""Parts of the runs from whose spread the error of a share is told. Chosen. [-]"""
LEVELS = (0.10, 0.50, 0.80, 0.95)
"""Shares of the runs whose quantiles are told. Chosen. [-]"""
NEAR = 0.02
"""By so much another share hardly differs from one that is told; assumed. [-]"""
GAP_MIN = 3 * MINUTES_A_DAY
"""Longer than a weekend on which nobody is there: what comes after it waits for another day of the move. [min]"""

_TWENTIETHS = tuple(number / 20 for number in range(1, 20))


@dataclass(slots=True)
class Sample:
    """One number a run, kept in pairs.

    Parameters
    ----------
    parts : list of array
        Chunk by chunk; row 0 the runs, row 1 their mirrors.
    """

    parts: list[Floats] = field(default_factory=list)

    def add(self, values: Floats | Flags) -> None:
        """Keep the values of a chunk, whose second half mirrors the first."""
        self.parts.append(np.array(values, dtype=float).reshape(2, -1))

    def values(self) -> Floats:
        """Give all values, pairs along the second axis."""
        return np.concatenate(self.parts, axis=1)

    def mean(self) -> float:
        """Mean over the runs."""
        return float(self.values().mean())

    def quantile(self, level: float) -> float:
        """Quantile over the runs."""
        return float(np.quantile(self.values(), level))

    def reached(self, level: float) -> int:
        """Give the least whole number that at least such a share of the runs stays within."""
        return self.reached_each((level,))[0]

    def reached_each(self, levels: tuple[float, ...]) -> tuple[int, ...]:
        """Give the same of several shares."""
        found = np.quantile(self.values(), levels, method="inverted_cdf")
        return tuple(ceil(float(one) - 1e-6) for one in found)

    def error_of_mean(self) -> float:
        """Give the standard error of the mean, from batches of whole pairs."""
        return _error([float(batch.mean()) for batch in self._batches()])

    def error_of_quantile(self, level: float) -> float:
        """Give the standard error of a quantile.

        The share of runs up to the quantile has an error, from batches of whole pairs; half of the way between the
        quantiles at the share less and plus that error is the error of the quantile. Quantiles of the batches would
        be told too wide an error beside a jump, such as that of a day that slips by a week.

        Parameters
        ----------
        level : float
            Of the quantile, 0 to 1.

        References
        ----------
        Woodruff, R. S. (1952). Confidence intervals for medians and other position measures. Journal of the American
        Statistical Association 47: 635-646 (recalled).
        """
        values = self.values()
        middle = float(np.quantile(values, level))
        share = _error([float((batch <= middle).mean()) for batch in self._batches()])
        low, high = np.quantile(values, [max(level - share, 0.0), min(level + share, 1.0)])
        return float(high - low) / 2

    def _batches(self) -> list[Floats]:
        values = self.values()
        return np.array_split(values, min(BATCHES, values.shape[1]), axis=1)


def _error(batches: list[float]) -> float:
    """Reckon the error of the whole from equal batches; the runs of a pair depend on each other, batches do not."""
    return float(np.std(batches, ddof=1) / np.sqrt(len(batches))) if len(batches) > 1 else 0.0


def percentiles(sample: Sample, start: int) -> Percentiles:
    """Turn minutes since a start into dates, each the one by which a promise of that share would be told.

    Parameters
    ----------
    sample : Sample
        Minutes since the start. [min]
    start : int
        UTC. [min]
    """
    p10, p50, p80, p95 = (start + at for at in sample.reached_each(LEVELS))
    return Percentiles(
        p10,
        p50,
        p80,
        p95,
        tuple(start + at for at in sample.reached_each(_TWENTIETHS)),
        tuple(level for level in LEVELS if _by_day(sample, level)),
        _broken_off(sample, start),
    )


def _by_day(sample: Sample, level: float) -> bool:
    """Whether a quantile moves by more than a day where its share is a little other."""
    before, after = sample.reached_each((max(level - NEAR, 0.0), min(level + NEAR, 1.0)))
    return after - before > MINUTES_A_DAY


def _broken_off(sample: Sample, start: int) -> tuple[float, int] | None:
    """Find the first stretch of days in which hardly a run reaches it, after the half that does."""
    ordered = np.sort(sample.values(), axis=None)
    rest = ordered[len(ordered) // 2 :]
    gaps = np.flatnonzero(np.diff(rest) > GAP_MIN)
    if not gaps.size:
        return None
    reached = len(ordered) // 2 + int(gaps[0]) + 1
    return reached / len(ordered), start + ceil(float(ordered[reached - 1]) - 1e-6)


def errors(name: str, sample: Sample) -> tuple[tuple[str, float], ...]:
    """Give the standard errors of the percentiles of a date, named as they are printed.

    Parameters
    ----------
    name : str
        Such as ``settled``.
    sample : Sample
        Minutes. [min]
    """
    return tuple(
        (f"{name}.p{round(100 * level)}", round(sample.error_of_quantile(level), 2)) for level in LEVELS
    )
