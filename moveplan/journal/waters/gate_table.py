"""Which readings a hold point asks for, with the limits that this plan sets."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from moveplan.journal.waters.gates import Gate
from moveplan.journal.waters.names import new_water_of
from moveplan.journal.waters.readings import KINDS
from moveplan.kept import table_of
from moveplan.science.limits import limits

ENTRY = "entry_"
"""Beginning of the names of limits that are not the same for all systems. [-]"""
SECOND_LEG = "-in"
"""Ending of the ids of tasks of a second leg. [-]"""


@cache
def _table() -> Mapping[str, Any]:
    return table_of(Path(__file__).parent / "data" / "gates.toml")


def gates_of(
    task_id: str,
    systems: Iterable[str],
    policy: Mapping[str, float],
    fish_alone: Container[str] = (),
    holding: str = "",
    entries: Mapping[str, Mapping[str, float]] = {},
    stated: Mapping[str, Mapping[str, float]] = {},
    tasks: Container[str] | None = None,
) -> tuple[Gate, ...]:
    """Look up the limits of a hold point.

    Parameters
    ----------
    task_id : str
        Id of the hold point.
    systems : iterable of str
        Names of the waters that are read: of the plan's systems, and of new tanks that run beside them.
    policy : Mapping of str to float
        What the plan sets, by name of the limit.
    fish_alone : container of str
        Ids of the systems in which nothing but fish lives.
    holding : str
        Id of the holding system that the animals go into first; empty: they go into none.
    entries : Mapping of str to Mapping of str to float
        Limits that hold for the animals of each system, by name; what asks for one that is not there is not asked.
    stated : Mapping of str to Mapping of str to float
        What the plan says that the water of each system reads, by what is read.
    tasks : container of str or None
        Ids of the tasks of the move, after which readings may count; None: any.

    Returns
    -------
    tuple of Gate
        Empty where it asks for no reading.

    Examples
    --------
    >>> [gate.range for gate in gates_of("cycle-done-reef", ["reef"], {"gate_nitrite": 0.2})]
    ['at most 0.25 mg N/l', 'at most 0.2 mg N/l, falling']
    """
    keys = [key for key in _table() if task_id == key or task_id.startswith(f"{key}-")]
    if not keys:
        return ()
    key = max(keys, key=len)
    row, about = dict(_table()[key]), task_id[len(key) :]
    within_min, target = 60 * int(row.pop("within_h")), row.pop("target", False)
    falls_back = row.pop("stated", False)
    names = list(systems)
    second = about.endswith(SECOND_LEG)
    subject = about.removesuffix(SECOND_LEG).partition(".")[0]
    system = next((name for name in names if subject == f"-{name}"), "")
    several = len(names) > 1
    water = (_target(system, names, "" if second else holding) if target else system) if several else ""
    like = (holding if second and holding in names else system) if several else ""
    policy = {**policy, **entries.get(system, {})}
    read = stated.get(like or system, {}) if falls_back else {}
    return tuple(
        Gate(
            what,
            _limit(ends, ("low",), policy),
            _limit(ends, ("fish", "high") if system in fish_alone else ("high",), policy),
            KINDS[what].unit,
            within_min,
            water,
            ends.get("times", 1),
            60 * ends.get("apart_h", 0),
            _since(ends, about, tasks),
            ends.get("risen", False),
            _limit(ends, ("unionised",), policy),
            ends.get("may", False),
            ends.get("falls", False),
            _limit(ends, ("near",), policy),
            like if "near" in ends else "",
            read.get(what) if "near" in ends else None,
        )
        for what, ends in row.items()
        if not {one for one in ends.values() if str(one).startswith(ENTRY)}.difference(policy)
    )


def _since(ends: Mapping[str, Any], about: str, tasks: Container[str] | None) -> str:
    """Name the task from whose end readings count: where a tank runs already, none fills it."""
    task = f"{ends['since']}{about}" if "since" in ends else ""
    return task if tasks is None or task in tasks else ""


def _target(system: str, names: Container[str], holding: str) -> str:
    """Name the water that animals go into: the holding system's, or a new tank's while it runs beside the old one."""
    if holding in names:
        return holding
    return new_water_of(system) if new_water_of(system) in names else system


def _limit(row: Mapping[str, Any], ends: Iterable[str], policy: Mapping[str, float]) -> float | None:
    """Find the limit at the first of some ends that a row has."""
    name = next((row[end] for end in ends if end in row), None)
    return None if name is None else policy[name] if name in policy else limits()[name].value
