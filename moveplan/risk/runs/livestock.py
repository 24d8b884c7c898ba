"""How long animals are in their containers in each run, and how often that is longer than is safe."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from moveplan.practice.project import Moment
from moveplan.risk.prepared.net import Mishap
from moveplan.risk.prepared.stays import Stay
from moveplan.risk.runs.draw import Bins, Floats, quantile_tables
from moveplan.risk.runs.simulate import Chunk

LEAST_MIN = 1e-3
"""A safe time is no shorter, so that a stay has a share of it. [min]"""


class Containers:
    """Compares stays with safe times, run by run.

    Parameters
    ----------
    at : Mapping of str to int
        Positions of tasks.
    low_high : tuple of (float, float)
        The quantiles that low and high of a safe time stand for.
    mishaps : tuple of Mishap
        Some of them send animals into a holding place, where time does not count.
    """

    def __init__(
        self,
        stays: tuple[Stay, ...],
        at: Mapping[str, int],
        low_high: tuple[float, float],
        mishaps: tuple[Mishap, ...] = (),
    ) -> None:
        self.stays = stays
        self._mishaps = mishaps
        self._at = at
        rows = [(one.low, one.likely, one.high) for one in (stay.safe.estimate for stay in stays)]
        self._tables = quantile_tables(rows, low_high)
        self.groups = tuple(dict.fromkeys(stay.livestock for stay in stays))

    def shares(self, chunk: Chunk) -> dict[str, Floats]:
        """Give the longest stay of each group as a share of its safe time, one a run. [-].

        Parameters
        ----------
        chunk : Chunk
            Its spare draws give the safe times, one row a group.
        """
        found = {group: np.zeros(chunk.runs) for group in self.groups}
        for number, stay in enumerate(self.stays):
            bins: Bins = chunk.spare[self.groups.index(stay.livestock)]
            safe_min = np.maximum(self._tables[number][bins], LEAST_MIN)
            np.maximum(found[stay.livestock], self._lasts(chunk, stay) / safe_min, out=found[stay.livestock])
        return found

    def _lasts(self, chunk: Chunk, stay: Stay) -> Floats:
        """How long a stay lasts; where animals go to a holding place, until then. [min]."""
        begin, end = self._moment(chunk, stay.since), self._moment(chunk, stay.until)
        lasts = end - begin
        for number, mishap in enumerate(self._mishaps):
            if mishap.holding and mishap.task is not None:
                struck = chunk.finishes[mishap.task] - mishap.delay_min
                inside = chunk.happened[number] & (struck > begin) & (struck < end)
                lasts = np.where(inside, np.minimum(lasts, struck - begin), lasts)
        return lasts

    def _moment(self, chunk: Chunk, moment: Moment) -> Floats:
        rows: Floats = chunk.starts if moment.edge == "start" else chunk.finishes
        result: Floats = rows[self._at[moment.task]]
        return result
