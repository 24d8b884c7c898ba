"""How warm the water of a container was read, beside what its animals stand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.records import Reading
from moveplan.science.limits import limits


@dataclass(frozen=True, slots=True)
class Outside:
    """A limit that a container passes.

    Parameters
    ----------
    limit : float
        The limit. [°C]
    above : bool
        Whether the water is above it, or below.
    """

    limit: float
    above: bool


def outside(reading: Reading, snapshot: Snapshot) -> Outside | None:
    """Say whether a container with animals was read colder or warmer than they stand; None: it was not.

    Parameters
    ----------
    reading : Reading
        Of a container.
    snapshot : Snapshot
        What is in which container, and limits that the plan sets.
    """
    if reading.what != "temperature" or reading.container not in with_animals(snapshot):
        return None
    low, high = stands_c(snapshot.policy)
    if low <= reading.value <= high:
        return None
    return Outside(high, above=True) if reading.value > high else Outside(low, above=False)


def with_animals(snapshot: Snapshot) -> set[str]:
    """Name the containers in which animals are at any time."""
    return {number for stay in snapshot.stays for number, _ in stay.containers}


def stands_c(policy: Mapping[str, float]) -> tuple[float, float]:
    """Give between which temperatures animals stand it in a container. [°C]."""
    low, high = (
        policy.get(name, limits()[name].value) for name in ("temperature_floor", "temperature_ceiling")
    )
    return low, high
