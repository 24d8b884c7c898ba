"""Which equipment of tanks draws power where, and between which tasks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from moveplan.plan.systems import Equipment
from moveplan.practice.draft import SUFFIXES, Draft
from moveplan.practice.ledger import Running
from moveplan.quantities.facts import Facts, SystemFacts

STARTS = ("start-ahead", "start-equipment")
"""Tasks that plug in the equipment of a tank, whichever there is."""
HEATERS_OFF, ALL_OFF = "heaters-off", "strip-equipment"


def running_of(move: Draft) -> tuple[Running, ...]:
    """List what draws power in tanks, from the first leg to the last.

    Parameters
    ----------
    move : Draft
        With all tasks. [-]
    """
    begins: dict[str, str] = {}
    rows: list[Running] = []
    for facts, suffix in zip(move.legs, SUFFIXES, strict=False):
        for one in facts.systems:
            source, target = one.shift.out_of, one.shift.into
            if not facts.leg.empty:
                rows += _old(move, facts, one, suffix, begins.pop(source, ""))
            start = _first(move, one, suffix, STARTS)
            if start:
                begins[target] = start
                rows.append(Running(facts.new.id, start, "", _watts(one.rebuilt.equipment)))
    return tuple(_ended(rows))


def _old(move: Draft, facts: Facts, one: SystemFacts, suffix: str, since: str) -> Iterator[Running]:
    """Give the tank that is emptied: its heaters are off some time before the rest."""
    equipment = one.system.equipment
    heaters = _watts(item for item in equipment if item.kind == "heater")
    off, stripped = (_first(move, one, suffix, (key,)) for key in (HEATERS_OFF, ALL_OFF))
    yield Running(facts.old.id, since, off, heaters)
    yield Running(facts.old.id, since, stripped, _watts(equipment) - heaters)


def _ended(rows: list[Running]) -> Iterator[Running]:
    """Drop what a later leg states again, with its end, and what draws nothing."""
    ended = {row.from_task for row in rows if row.until_task}
    for row in rows:
        if row.watts and not (row.from_task in ended and row.from_task and not row.until_task):
            yield row


def _first(move: Draft, one: SystemFacts, suffix: str, keys: Iterable[str]) -> str:
    return next((task for key in keys if (task := f"{one.task(key)}{suffix}") in move.tasks), "")


def _watts(equipment: Iterable[Equipment]) -> float:
    return sum(item.count * item.power_w for item in equipment)
