"""The later aims of a move, on the whole of it: hire and pay, the finish, and how lead tasks are spread."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from moveplan.scheduling.constraints.aims import size_of
from moveplan.scheduling.constraints.tasks import Given
from moveplan.scheduling.construct.improve import lead_tasks_early_in_the_day, lead_tasks_late
from moveplan.scheduling.construct.search import Found
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.exact.exact import Exact
from moveplan.scheduling.improve.daybreak import begun_early
from moveplan.scheduling.improve.even import evened, keep, least_of, scheme_of, valued
from moveplan.scheduling.improve.fewer_dates import fewer_dates
from moveplan.scheduling.improve.result import known
from moveplan.scheduling.improve.thrift import cheaper_hands
from moveplan.scheduling.improve.waits import begin_waits
from moveplan.scheduling.objective.aims import EXPOSURE, FINISH, LATENESS, LEAD, MONEY, WEEKS
from moveplan.scheduling.schedule import Aim
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.state.frame import Frame

_LARGEST = 12_000
"""Largest model on which the later aims are solved as a whole. Chosen. [-]"""
_PRESOLVED = 5_000
"""Largest model that is told to be a simple one. Chosen. [-]"""
_ENOUGH_FOR_EXPOSURE_S = 4.0
"""Least effort left with which a shorter time of the animals is looked for. Chosen. [s]"""
_ENOUGH_FOR_WEEKS_S = 0.45
"""Least effort with which even weeks are looked for. Chosen. [s]"""
_WEEKS_SHARE = 0.35
"""Share of what is left that is kept for even weeks. Chosen. [-]"""


class Later:
    """Improves the later aims one after the other, those before held.

    Parameters
    ----------
    frame, found : Frame, Found
        The problem, and the best so far, which is replaced by better ones.
    effort, meter : Effort, Meter
        How hard to look; the meter gathers what ended the search.
    seconds : float
        Effort that is left. [s]
    """

    def __init__(self, frame: Frame, found: Found, effort: Effort, meter: Meter, seconds: float) -> None:
        self.frame = frame
        self.found = found
        self.effort = effort
        self.meter = meter
        self.left = seconds
        self.size = size_of(frame.model)
        self.bounds = known(frame)

    def run(self, bounds: Mapping[str, int]) -> tuple[Aim, ...]:
        """Improve them.

        Parameters
        ----------
        bounds : mapping of str to int
            What is proven so far.

        Returns
        -------
        tuple of Aim
            All aims with what is proven of them in the end.
        """
        self._learn(bounds)
        spread = self.effort.previous is None
        if spread:
            cheaper_hands(self.frame, self.found)
            if self.effort.fewer_dates:
                fewer_dates(self.frame, self.found)
        kept = [LATENESS] if self._exposure_open() else [LATENESS, EXPOSURE]
        reserve = self.left * _WEEKS_SHARE if self.left * _WEEKS_SHARE >= _ENOUGH_FOR_WEEKS_S else 0.0
        desk = self._improved(self.left - reserve * spread, kept, (LEAD, WEEKS))
        if desk is not None:
            self._polish(desk)
        if spread:
            evened(self.frame, self.found)
            self._evener()
        begin_waits(self.frame, self.found)
        if spread:
            self._begin_early()
        return tuple(self._aim(name, value) for name, value in self.found.values)

    def _exposure_open(self) -> bool:
        """Whether the heart by itself is better than what fits into the whole, and there is time to try."""
        value = dict(self.found.values).get(EXPOSURE, 0)
        return self.left >= _ENOUGH_FOR_EXPOSURE_S and value > self.bounds.get(EXPOSURE, value)

    def _evener(self) -> None:
        """Spread lead tasks exactly where there is effort left; never at the price of new changes."""
        desk, now = self.found.desk, dict(self.found.values)
        if desk is None or now.get(WEEKS, 0) <= least_of(desk) or self.left < _ENOUGH_FOR_WEEKS_S:
            return
        better = self._improved(self.left, [LATENESS, EXPOSURE, MONEY, FINISH], (LEAD,))
        if better is not None:
            keep(self.found, self._asking_less(better))
            evened(self.frame, self.found)

    def _improved(self, seconds: float, kept: list[str], leave: tuple[str, ...]) -> Desk | None:
        """Improve what is neither kept nor left, where the model is not too large."""
        model, found, meter = self.frame.model, self.found, self.meter
        if found.desk is None or meter.interrupted or meter.guard_struck or self.size > _LARGEST:
            return None
        given = Given(found.days, found.margins, self.frame.block_of, self._latest(kept))
        held = {name: value for name, value in found.values if name in kept}
        simple = self.size <= _PRESOLVED
        least = self.bounds | {WEEKS: self._least_uneven(found.desk)}
        exact = Exact(model, given, found.desk, self.effort, seconds, (), held, leave, simple, least)
        answer = exact.run()
        self.left -= seconds - exact.left
        meter.guard_struck |= answer.guard_struck
        meter.interrupted |= answer.interrupted
        self._learn({aim.name: aim.bound for aim in answer.aims})
        return answer.desk

    def _learn(self, bounds: Mapping[str, int]) -> None:
        """Take bounds that are higher than those known."""
        for name, bound in bounds.items():
            self.bounds[name] = max(self.bounds.get(name, 0), bound)

    def _latest(self, kept: list[str]) -> int:
        """Give when all is over: by the present finish where nothing before it is left to improve."""
        problem, now = self.frame.model.problem, dict(self.found.values)
        before = [(name, value) for name, value in self.found.values if name in (LATENESS, EXPOSURE, MONEY)]
        settled = all(name in kept or value <= self.bounds.get(name, 0) for name, value in before)
        return problem.start + now[FINISH] if settled else problem.horizon

    def _polish(self, desk: Desk) -> None:
        """Keep the schedule where it is better, as it is or with late tasks where they belong again."""
        keep(self.found, self._asking_less(desk))
        scheme = scheme_of(self.frame, self.found, desk)
        lead_tasks_late(scheme)
        keep(self.found, self._asking_less(scheme.desk))

    def _asking_less(self, desk: Desk) -> Desk:
        """Ask those who help for fewer days, which the solver does not count."""
        if self.effort.previous is not None or not self.effort.fewer_dates:
            return desk
        other = replace(self.found, desk=desk, values=valued(self.found, desk))
        fewer_dates(self.frame, other)
        return desk if other.desk is None else other.desk

    def _begin_early(self) -> None:
        """Begin each day as early as it may, where that costs none of the aims but the distance from margins."""
        found = self.found
        if found.desk is None:
            return
        scheme = scheme_of(self.frame, found, found.desk)
        lead_tasks_early_in_the_day(scheme)
        desk, before = begun_early(self.frame, scheme.desk), dict(found.values)
        now = valued(found, desk)
        if all(value <= before[name] for name, value in now if name != LEAD):
            found.desk, found.values = desk, now

    def _least_uneven(self, desk: Desk) -> int:
        """Bound of how uneven the weeks are, proven or seen from a schedule."""
        return max(self.bounds.get(WEEKS, 0), least_of(desk))

    def _aim(self, name: str, value: int) -> Aim:
        bound = self.bounds.get(name, 0)
        if name == WEEKS and self.found.desk is not None:
            bound = self._least_uneven(self.found.desk)
        return Aim(name, value, min(bound, value), value <= bound)
