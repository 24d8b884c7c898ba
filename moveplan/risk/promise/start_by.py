"""By when each long lead and each hold point has to begin so that the moving day is kept, with a stated confidence."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import floor

import numpy as np

from moveplan.network.task import Kind
from moveplan.risk.prepared.compile import Prepared
from moveplan.risk.prepared.net import Tie
from moveplan.risk.prepared.windows import latest_start
from moveplan.risk.runs.draw import Floats
from moveplan.risk.runs.sample import Sample
from moveplan.risk.runs.simulate import Chunk
from moveplan.risk.summary import StartBy

LONG_MIN = 1440
"""A wait whose high end is at least so long is a long lead. [min]"""


class StartDates:
    """Works backwards from the planned moving day, run by run, on the network's own links.

    The order on people is left out: it may change. Hours of the people are kept, and what repeats and mishaps take.
    """

    def __init__(self, prepared: Prepared) -> None:
        self._prepared = prepared
        self._out: list[list[Tie]] = [[] for _ in prepared.net.steps]
        for tie in prepared.own:
            self._out[tie.tail].append(tie)
        self._before = self._before_the_day()
        self.leads = self._leads()
        tasks = prepared.project.network.tasks
        self.holds = tuple(at for at in self._before if tasks[at].kind is Kind.HOLD_POINT)
        self._samples = {at: Sample() for at in (*self.leads, *self.holds)}

    def _before_the_day(self) -> list[int]:
        """List tasks that the moving day waits for, the last first."""
        steps = self._prepared.net.steps
        needed: set[int] = set()
        order = list(reversed(self._prepared.net.order))
        for at in order:
            if steps[at].tied:
                continue
            if any(steps[tie.head].tied or tie.head in needed for tie in self._out[at]):
                needed.add(at)
        return [at for at in order if at in needed]

    def _leads(self) -> tuple[int, ...]:
        """Find the tasks that set long waits going; a wait that nothing sets going counts itself."""
        tasks = self._prepared.project.network.tasks
        before: dict[int, list[int]] = {}
        for tie in self._prepared.own:
            if tie.from_finish and not tie.to_finish:
                before.setdefault(tie.head, []).append(tie.tail)
        found: list[int] = []
        for at in self._before:
            task = tasks[at]
            if task.kind is Kind.WAIT and task.estimate.high >= LONG_MIN:
                setting = [tail for tail in before.get(at, ()) if tasks[tail].kind is Kind.WORK]
                found += setting or [at]
        return tuple(sorted(dict.fromkeys(found)))

    def add(self, chunk: Chunk) -> None:
        """Reckon the latest starts of a chunk.

        Parameters
        ----------
        chunk : Chunk
            Its durations count, not its dates.
        """
        latest = self._latest(chunk)
        for at, sample in self._samples.items():
            sample.add(np.maximum(latest[at], 0.0))

    def _latest(self, chunk: Chunk) -> dict[int, Floats]:
        latest: dict[int, Floats] = {}
        for at in self._before:
            step, lasts = self._prepared.net.steps[at], chunk.durations[at]
            finish, start = np.full(chunk.runs, np.inf), np.full(chunk.runs, np.inf)
            for tie in self._out[at]:
                limit = self._limit(tie, latest, chunk)
                if limit is None:
                    continue
                end = finish if tie.from_finish else start
                np.minimum(end, limit - tie.gap_min, out=end)
            finish -= step.tail_min
            finish -= chunk.longer.get(at, 0.0)
            if step.hours is None:
                finish -= lasts
            else:
                promised = replace(step.hours, ends=step.hours.stated) if at in self.holds else step.hours
                finish = latest_start(promised, np.minimum(finish, 1e8), lasts, pauses=step.pauses)
            latest[at] = np.minimum(start, finish)
        return latest

    def _limit(self, tie: Tie, latest: dict[int, Floats], chunk: Chunk) -> Floats | None:
        """Latest moment at which the head may start, or finish, for the day to be kept."""
        net = self._prepared.net
        if net.steps[tie.head].tied:
            head = np.full(chunk.runs, net.planned_min[tie.head])
        elif tie.head in latest:
            head = latest[tie.head]
        else:
            return None
        return head + chunk.durations[tie.head] if tie.to_finish else head

    def dates(self, of: tuple[int, ...]) -> tuple[StartBy, ...]:
        """Give the latest starts that keep the day with the plan's confidence, the earliest first.

        Parameters
        ----------
        of : tuple of int
            Positions of leads or of hold points; of these the stated hours are kept as well.
        """
        confidence = self._prepared.project.plan.confidence
        start = self._prepared.project.scheduling.start
        tasks = self._prepared.project.network.tasks
        found = (
            StartBy(tasks[at].id, start + floor(sample.quantile(1 - confidence)), confidence)
            for at, sample in self._samples.items()
            if at in of
        )
        return tuple(sorted(found, key=lambda one: (one.latest, one.task)))

    def errors(self) -> Iterable[tuple[str, float]]:
        """Give the standard errors of the dates in minutes, named by task."""
        level = 1 - self._prepared.project.plan.confidence
        tasks = self._prepared.project.network.tasks
        for at in self.leads:
            yield f"start-by.{tasks[at].id}", round(self._samples[at].error_of_quantile(level), 2)
