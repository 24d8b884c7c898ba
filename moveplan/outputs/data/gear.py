"""Gear as data: how many there are, and how many have to be got."""

from __future__ import annotations

from typing import Any

from moveplan.outputs.data.numbers import plain
from moveplan.outputs.outlook import Outlook
from moveplan.plan.supplies import ordered_id
from moveplan.practice.comfort.outlets import ORDERED_HEATER, battery_min, main_of, outlets_ordered
from moveplan.practice.ledger.bins import STORAGE
from moveplan.quantities.containers.means import MAINS_PUMP, means_of
from moveplan.quantities.containers.vessels import SOLD_L

PUMPS = ("air-pump", MAINS_PUMP)
"""Kinds of gear with air outlets."""


def gear_data(outlook: Outlook) -> list[dict[str, Any]]:
    """List gear: how many there are, and how many have to be got."""
    project = outlook.project
    if project.water is None:
        return [
            {"id": gear.id, "name": gear.name, "count": gear.count, "to_get": 0}
            for gear in project.scheduling.gear
        ]
    return [*_owned(outlook), *_missing(outlook)]


def _owned(outlook: Outlook) -> list[dict[str, Any]]:
    short = _short(outlook)
    return [
        {
            "id": item.id,
            "name": item.name,
            "kind": item.kind,
            "count": item.count if item.owned else 0,
            "to_get": short.get(item.id, ("", 0))[1]
            + (0 if item.owned or item.kind in _reckoned(outlook) else item.count),
            "outlets": item.outlets if item.kind in PUMPS else None,
            "battery_minutes": battery_min(item) if item.kind == "air-pump" else None,
            "volume_litres": item.volume_l or None,
        }
        for item in outlook.project.plan.gear
    ]


def _missing(outlook: Outlook) -> list[dict[str, Any]]:
    """List kinds of which the plan has none."""
    ids, making = {item.id for item in outlook.project.plan.gear}, outlook.project.plan.water_making
    storage = making.storage_l if making else 0.0
    named = {"id": STORAGE, "name": STORAGE, "kind": "vat", "count": 1, "to_get": 0, "outlets": None}
    kept = [named | {"battery_minutes": None, "volume_litres": plain(storage, 1)}] if storage > 0 else []
    return kept + [
        {
            "id": gear,
            "name": gear,
            "kind": ({ORDERED_HEATER: "heater"} | dict.fromkeys(SOLD_L, "vat")).get(kind, kind),
            "count": 0,
            "to_get": count,
            "outlets": outlets_ordered(kind) if kind in PUMPS else None,
            "battery_minutes": battery_min(None) if kind == "air-pump" else None,
        }
        for gear, (kind, count) in _short(outlook).items()
        if gear not in ids and count
    ]


def _reckoned(outlook: Outlook) -> frozenset[str]:
    """Kinds whose need is worked out: what the plan lists and has not yet is got as far as it is needed."""
    return frozenset(kind for kind, _, _ in outlook.project.gear_needed)


def _short(outlook: Outlook) -> dict[str, tuple[str, int]]:
    """Kind, and how many of it have to be got, of each gear; of a kind in several sizes the main one."""
    plan = outlook.project.plan
    mains = {spec.kind: spec.gear for spec in reversed(means_of(plan).specs)}
    short: dict[str, tuple[str, int]] = {}
    for kind, needed, there in outlook.project.gear_needed:
        item = main_of(plan, kind)
        name = mains.get(kind) or (item.id if item else ordered_id(plan.gear, kind))
        short[name] = kind, short.get(name, ("", 0))[1] + max(needed - there, 0)
    return short
