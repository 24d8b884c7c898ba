"""What draws power where, and between which tasks: tanks, heaters that help to warm them, heaters in bins."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from moveplan.practice.drafting.draft import SUFFIXES, Draft
from moveplan.practice.ledger.entries import Running
from moveplan.quantities.circuits import equipment_w
from moveplan.quantities.course import other_systems
from moveplan.quantities.facts import Facts, SystemFacts
from moveplan.quantities.heaters import power_w

STARTS = {"start-ahead": "warm-ahead", "start-equipment": "warm-water", "fill-holding": "warm-holding"}
"""Tasks that plug in the equipment of a tank, whichever there is, and those in which it is warmed."""
HEATERS_OFF, ALL_OFF, LIT = "heaters-off", "strip-equipment", "raise-light"
KINDS = {"heaters": ("heater",), "lights": ("light",)}
"""Kinds of equipment that are switched by themselves; all others are pumps and what runs beside them."""


def running_of(move: Draft) -> tuple[Running, ...]:
    """List what draws power, from the first leg to the last.

    Parameters
    ----------
    move : Draft
        With all tasks.
    """
    begins: dict[str, dict[str, str]] = {}
    rows: list[Running] = []
    for facts, suffix in zip(move.legs, SUFFIXES, strict=False):
        for one in facts.systems:
            source, target = one.shift.out_of, one.shift.into
            if not facts.leg.empty:
                rows += _old(move, facts, one, suffix, begins.pop(source, {}))
            start = _first(move, one, suffix, STARTS)
            if start:
                new = list(_new(move, facts, one, suffix, start))
                begins[target] = {row.what: row.from_task for row in new if not row.until_task}
                rows += new
    rows += _staying(move)
    return (*_ended(rows), *move.warmed)


def _parts(one: SystemFacts, *, rebuilt: bool) -> Iterator[tuple[str, float]]:
    """Give what a tank draws, by what is switched together. [W]."""
    equipment = (one.rebuilt if rebuilt else one.system).equipment
    apart = {what: equipment_w(equipment, *kinds) for what, kinds in KINDS.items()}
    yield from apart.items()
    yield "pumps", equipment_w(equipment) - sum(apart.values())


def _old(
    move: Draft, facts: Facts, one: SystemFacts, suffix: str, since: dict[str, str]
) -> Iterator[Running]:
    """Give the tank that is emptied: its heaters are off some time before the rest."""
    off, stripped = (_first(move, one, suffix, (key,)) for key in (HEATERS_OFF, ALL_OFF))
    for what, watts in _parts(one, rebuilt=False):
        until = off if what == "heaters" else stripped
        yield Running(facts.old.id, since.get(what, ""), until, watts, what, one.shift.out_of)


def _new(move: Draft, facts: Facts, one: SystemFacts, suffix: str, start: str) -> Iterator[Running]:
    """Give the tank that is filled: dark until its light is raised, and warmed by spare heaters too."""
    place, account = facts.new.id, one.shift.into
    lit = _first(move, one, suffix, (LIT,))
    parts = dict(_parts(one, rebuilt=True))
    for what, watts in parts.items():
        yield Running(place, (lit or start) if what == "lights" else start, "", watts, what, account)
    warm = _first(move, one, suffix, (STARTS[key] for key in STARTS if start.startswith(key)))
    if warm:
        held = tuple(heater.gear for heater in one.helping)
        yield Running(place, start, warm, power_w(one.helping), "spare-heaters", account, held)


def _staying(move: Draft) -> Iterator[Running]:
    """Give the tanks that stay where they are."""
    for system in other_systems(move.plan):
        if system.moves_to == system.place:
            yield Running(system.place, "", "", equipment_w(system.equipment), "pumps", f"system:{system.id}")


def _ended(rows: list[Running]) -> Iterator[Running]:
    """Drop what a later leg states again, with its end, and what draws nothing."""
    ended = {(row.system, row.what, row.from_task) for row in rows if row.until_task and row.from_task}
    for row in rows:
        stated = not row.until_task and (row.system, row.what, row.from_task) in ended
        if row.watts and not stated:
            yield row


def _first(move: Draft, one: SystemFacts, suffix: str, keys: Iterable[str]) -> str:
    return next((task for key in keys if (task := f"{one.task(key)}{suffix}") in move.tasks), "")
