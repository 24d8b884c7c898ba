"""The cycles that run: which readings belong to them, and when each is expected to be done."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from moveplan.journal.state import JournalState
from moveplan.network.task import State
from moveplan.times import MINUTES_A_DAY

FILLS, BEGINS, RIPENS, ENDS = "fill-ahead", "dose-ammonia", "ripen", "cycle-done"
"""First words of the ids of the tasks that fill a tank ahead, begin its cycle, wait for it, and sign its end."""


@dataclass(frozen=True, slots=True)
class Ripening:
    """A cycle that runs.

    Parameters
    ----------
    system : str
        Id of the system.
    since : int
        When it was dosed, UTC. [min]
    low, likely, high : int or None
        When it is expected to be done with 10, 50 and 90 %, UTC; None: later than the model looks. [min]
    readings : int
        How many readings that rests on.
    fits : bool
        Whether the model can make the readings at all.
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
        Tasks and readings.
    cycles : Mapping of str to Mapping
        ``seeding``, ``temperature_c``, ``water`` and ``gates`` of each system that ripens.
    """
    for system, cycle in cycles.items():
        since = state.of(f"{BEGINS}-{system}").done
        if since is not None and runs(state, system):
            yield _forecast(state, system, since, cycle)


def water_of(system: str, cycle: Mapping[str, Any]) -> str:
    """Name the water of a cycle; schedules that were accepted earlier know one name only."""
    return str(cycle.get("water", system))


def _forecast(state: JournalState, system: str, since: int, cycle: Mapping[str, Any]) -> Ripening:
    from moveplan.journal.waters.forecast import Measured, cycle_forecast

    measured = [
        Measured((one.at - since) / MINUTES_A_DAY, one.what, one.value)
        for one in state.readings
        if one.what in ("ammonia", "nitrite")
        and one.system in ("", water_of(system, cycle))
        and one.at >= since
    ]
    gates = tuple(map(float, cycle["gates"])) if "gates" in cycle else None
    found = cycle_forecast(measured, str(cycle["seeding"]), float(cycle["temperature_c"]), gates)
    low, likely, high = (
        None if day == float("inf") else since + round(day * MINUTES_A_DAY)
        for day in (found.p10, found.p50, found.p90)
    )
    return Ripening(system, since, low, likely, high, found.readings, found.fits)
