"""Which readings a hold point asks for, with the limits that this plan sets."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from moveplan.journal.gates import Gate
from moveplan.journal.readings import KINDS
from moveplan.science.limits import limits


@cache
def _table() -> Mapping[str, Any]:
    return tomllib.loads((Path(__file__).parent / "data" / "gates.toml").read_text("utf-8"))


def gates_of(task_id: str, systems: Iterable[str], policy: Mapping[str, float]) -> tuple[Gate, ...]:
    """Look up the limits of a hold point.

    Parameters
    ----------
    task_id : str
        Id of the hold point. [-]
    systems : iterable of str
        Ids of the plan's systems. [-]
    policy : Mapping of str to float
        What the plan sets, by name of the limit. [-]

    Returns
    -------
    tuple of Gate
        Empty where it asks for no reading. [-]

    Examples
    --------
    >>> [gate.range for gate in gates_of("cycle-done-reef", ["reef"], {"gate_nitrite_cycle": 0.2})]
    ['at most 0.25 mg N/l', 'at most 0.2 mg N/l']
    """
    keys = [key for key in _table() if task_id == key or task_id.startswith(f"{key}-")]
    if not keys:
        return ()
    row = dict(_table()[max(keys, key=len)])
    within_min = 60 * int(row.pop("within_h"))
    names = list(systems)
    system = (
        next((name for name in names if task_id.partition(".")[0].endswith(f"-{name}")), "")
        if len(names) > 1
        else ""
    )
    return tuple(
        Gate(
            what,
            _limit(ends, "low", policy),
            _limit(ends, "high", policy),
            KINDS[what].unit,
            within_min,
            system,
        )
        for what, ends in row.items()
    )


def _limit(ends: Mapping[str, str], end: str, policy: Mapping[str, float]) -> float | None:
    name = ends.get(end)
    return None if name is None else policy.get(name, limits()[name].value)
