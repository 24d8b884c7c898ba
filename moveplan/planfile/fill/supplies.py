"""Water making, gear, prices and limits, complete."""

from __future__ import annotations

from collections.abc import Mapping

from moveplan.plan.supplies import GearItem, Price, WaterMaking
from moveplan.planfile.fill import usual
from moveplan.planfile.fill.notes import Notes, named
from moveplan.planfile.fill.usual import USUAL, Usual
from moveplan.planfile.schema.money import Money
from moveplan.planfile.schema.supplies import GearEntry, WaterMakingEntry
from moveplan.planfile.schema.words import GEAR_ALSO, GEAR_KINDS
from moveplan.units import Measure


def water_making(entry: WaterMakingEntry, notes: Notes) -> WaterMaking:
    """Complete how purified water comes about."""
    key = "water-making"
    return WaterMaking(
        rate_l_day=notes.quantity(entry.rate, f"{key}.rate", USUAL["rate"], "l/day"),
        rated_pressure_bar=notes.quantity(
            entry.rated_pressure, f"{key}.rated-pressure", USUAL["rated-pressure"], "bar"
        ),
        feed_pressure_bar=notes.quantity(
            entry.feed_pressure, f"{key}.feed-pressure", USUAL["feed-pressure"], "bar"
        ),
        water_temperature_c=notes.quantity(
            entry.water_temperature, f"{key}.water-temperature", USUAL["water-temperature"], "°C"
        ),
        waste_ratio=notes.fill(entry.waste_ratio, f"{key}.waste-ratio", USUAL["waste-ratio"], float),
        storage_l=notes.quantity(entry.storage, f"{key}.storage", USUAL["storage"], "l"),
        salt_moisture=notes.fill(
            entry.salt_moisture,
            f"{key}.salt-moisture",
            USUAL["salt-moisture"],
            Measure("%", 0, 100, "5 %").read,
        ),
        ready_mixed=entry.ready_mixed,
    )


def gear(entries: Mapping[str, GearEntry], own_tasks: bool, notes: Notes) -> tuple[GearItem, ...]:
    """Complete all gear.

    Parameters
    ----------
    entries : Mapping of str to GearEntry
        Gear by id.
    own_tasks : bool
        Whether the plan schedules own tasks only; then only the count matters.
    """
    return tuple(_item(gear_id, entry, own_tasks, notes) for gear_id, entry in entries.items())


def _item(gear_id: str, entry: GearEntry, own_tasks: bool, notes: Notes) -> GearItem:
    key = f"gear.{gear_id}"
    kind = entry.kind
    if kind is None:
        kind = (
            "other"
            if own_tasks
            else notes.fill(None, f"{key}.kind", Usual(_guessed(gear_id), "taken from the id"), str)
        )

    def of_kind(given: float | None, name: str, by_kind: Mapping[str, Usual], unit: str) -> float:
        if given is None and kind not in by_kind:
            return 0.0
        return notes.quantity(given, f"{key}.{name}", by_kind.get(kind, Usual("", "")), unit)

    insulated = entry.insulated
    if insulated is None:
        insulated = kind == "box" and notes.flag(None, f"{key}.insulated", USUAL["insulated-box"])
    return GearItem(
        id=gear_id,
        name=named(entry.name, gear_id),
        kind=kind,
        count=notes.fill(entry.count, f"{key}.count", USUAL["count"], int),
        volume_l=of_kind(entry.volume, "volume", usual.GEAR_VOLUMES, "l"),
        power_w=of_kind(entry.power, "power", usual.GEAR_POWERS, "W"),
        flow_l_h=of_kind(entry.flow, "flow", usual.GEAR_FLOWS, "l/h"),
        battery_h=of_kind(entry.battery, "battery", usual.GEAR_BATTERIES, "h"),
        insulated=insulated,
        price=entry.price.amount if entry.price else None,
        owned=True if entry.owned is None else entry.owned,
        outlets=_outlets(entry.outlets, kind, key, notes),
        clients=entry.owner == "client",
    )


def _outlets(given: int | None, kind: str, key: str, notes: Notes) -> int:
    if given is None and kind not in usual.GEAR_OUTLETS:
        return 1
    return notes.fill(given, f"{key}.outlets", usual.GEAR_OUTLETS.get(kind, Usual("", "")), int)


def _guessed(gear_id: str) -> str:
    word = gear_id.casefold()
    singular = word.removesuffix("es") if word.endswith("xes") else word.removesuffix("s")
    return GEAR_ALSO.get(singular) or (singular if singular in GEAR_KINDS else "other")


def prices(entries: Mapping[str, Money]) -> tuple[Price, ...]:
    """Take over the keeper's prices."""
    return tuple(Price(item, money.amount, money.unit) for item, money in entries.items())
