"""How hard to look: effort counted in steps, so that the same input gives the same schedule anywhere."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from moveplan import SECONDS, SEED
from moveplan.scheduling.schedule import Schedule

STEPS_A_SECOND = 90_000
"""Steps of the serial search that count as a second of effort, whatever the machine takes for them. [1/s]"""
A_SEARCH_S = 0.0006
"""Of one more search for each task, beside its steps; measured on plans of 60 to 140 tasks. [s]"""
_GUARD_FACTOR = 12.0
"""Wall-clock limit as a multiple of the effort asked for: struck on a very slow machine only. Chosen. [-]"""
_GUARD_AT_LEAST_S = 20.0
"""Least wall-clock limit, so that short searches end by steps even on a busy machine. Chosen. [s]"""


class Allowance:
    """What plans may cost that are tried beside the one asked for, shared by all who try.

    It is counted by tasks and searches and never by the clock, so that the same input is told the same ways out.

    Parameters
    ----------
    seconds : float
        On a usual machine. [s]
    """

    def __init__(self, seconds: float) -> None:
        self.left_s = seconds
        self.refused = 0

    def allows(self) -> bool:
        """Whether one more may be tried; it is counted where it may not."""
        self.refused += self.left_s <= 0
        return self.left_s > 0

    def pay(self, seconds: float) -> None:
        """Take off what a try costs on a usual machine."""
        self.left_s -= seconds


@dataclass(frozen=True, slots=True)
class Effort:
    """How long, by what means, and who is told.

    Parameters
    ----------
    seconds : float
        Shared by all aims; turned into a number of steps, so that it is a measure and no clock. [s]
    engine : "auto", "serial" or "exact"
        Auto: exact where its solver is installed.
    interrupted : callable or None
        Asked now and then; true ends the search with the best found.
    progress : callable or None
        Told one line now and then.
    previous : Schedule or None
        The schedule before, from which a new one should differ little.
    meanwhile : callable or None
        Does a short piece of other work while the solver works beside it; false where there is none left.
    ways_out : bool
        Whether changes that would make a schedule possible are tried where there is none.
    fewer_dates : bool
        Whether those who help are asked for fewer days, which fills the days of whoever leads.
    allowance : Allowance or None
        Of a plan that is tried: what is left for all of them, from which it pays; nobody asks for its own ways out.
    """

    seconds: float = SECONDS
    seed: int = SEED
    engine: Literal["auto", "serial", "exact"] = "auto"
    interrupted: Callable[[], bool] | None = None
    progress: Callable[[str], None] | None = None
    previous: Schedule | None = None
    meanwhile: Callable[[], bool] | None = None
    ways_out: bool = True
    fewer_dates: bool = True
    allowance: Allowance | None = None

    @property
    def ended(self) -> bool:
        """Whether no further search is wanted: somebody has interrupted, or a try has used up what there was."""
        spent = self.allowance is not None and self.allowance.left_s <= 0
        return spent or (self.interrupted is not None and self.interrupted())

    def says(self, line: str) -> None:
        """Pass one line on to whoever watches."""
        if self.progress is not None:
            self.progress(line)


class Meter:
    """Counts steps, and watches the clock only as a guard far above what they should take.

    Parameters
    ----------
    share : float
        Fraction of the effort that it hands out.
    """

    def __init__(self, effort: Effort, share: float = 1.0) -> None:
        seconds = effort.seconds * share
        self.left = self._steps = int(seconds * STEPS_A_SECOND)
        self.interrupted = False
        self.guard_struck = False
        self._asks = effort.interrupted
        self._guard = time.monotonic() + max(_GUARD_AT_LEAST_S, seconds * _GUARD_FACTOR)

    @property
    def used_s(self) -> float:
        """Effort that was used up. [s]."""
        return (self._steps - self.left) / STEPS_A_SECOND

    def over(self) -> bool:
        """Whether the search has to end now."""
        if self._asks is not None and self._asks():
            self.interrupted = True
        if time.monotonic() > self._guard:
            self.guard_struck = True
        return self.left <= 0 or self.interrupted or self.guard_struck
