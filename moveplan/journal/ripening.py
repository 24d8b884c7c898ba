"""The cycles that run: which readings belong to them, and when each is expected to be done."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from moveplan.journal.state import JournalState
from moveplan.network.task import State
from moveplan.times import MINUTES_A_DAY

BEGINS, RIPENS, ENDS = "dose-ammonia", "ripen", "cycle-done"
"""First words of the ids of the tasks that begin a cycle, wait for it, and sign its end."""


@dataclass(frozen=True, slots=True)
class Ripening:
    """A cycle that runs.

    Parameters
    ----------
    system : str
        Id of the system. [-]
    since : int
        When it was dosed, UTC. [min]
    low, likely, high : int or None
        When it is expected to be done with 10, 50 and 90 %, UTC; None: later than the model looks. [min]
    readings : int
        How many readings that rests on. [-]
    fits : bool
        Whether the model can make the readings at all. [-]
    """

    system: str
    since: int
    low: int | None
    likely: int | None
    high: int | None
    readings: int
    fits: bool

    @property
    def task(self) -> str:
        """Id of the task that waits for it."""
        return f"{RIPENS}-{self.system}"


def runs(state: JournalState, system: str) -> bool:
    """Whether the cycle of a system was begun and is not signed off."""
    begun, signed = state.of(f"{BEGINS}-{system}"), state.of(f"{ENDS}-{system}")
    return begun.state is State.COMPLETED and signed.state is not State.COMPLETED


def ripening(state: JournalState, cycles: Mapping[str, Mapping[str, Any]]) -> Iterator[Ripening]:
    """Forecast the cycles that run.

    Parameters
    ----------
    state : JournalState
        Tasks and readings. [-]
    cycles : Mapping of str to Mapping
        ``seeding`` and ``temperature_c`` of each system that ripens. [-]
    """
    for system, cycle in cycles.items():
        since = state.of(f"{BEGINS}-{system}").done
        if since is not None and runs(state, system):
            yield _forecast(state, system, since, str(cycle["seeding"]), float(cycle["temperature_c"]))


def _forecast(state: JournalState, system: str, since: int, seeding: str, temperature_c: float) -> Ripening:
    from moveplan.journal.forecast import Measured, cycle_forecast

    measured = [
        Measured((one.at - since) / MINUTES_A_DAY, one.what, one.value)
        for one in state.readings
        if one.what in ("ammonia", "nitrite") and one.system in ("", system) and one.at >= since
    ]
    found = cycle_forecast(measured, seeding, temperature_c)
    low, likely, high = (
        None if day == float("inf") else since + round(day * MINUTES_A_DAY)
        for day in (found.p10, found.p50, found.p90)
    )
    return Ripening(system, since, low, likely, high, found.readings, found.fits)
