"""Rules of the plan as a whole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from moveplan.planfile.checks.words import absent, at, purpose
from moveplan.planfile.draft import Draft
from moveplan.planfile.fill.head import NO_CURRENCY, currency_of, likely_zones
from moveplan.planfile.fill.policy import limit_of
from moveplan.planfile.problems import Fault
from moveplan.planfile.schema.money import Late, Money
from moveplan.planfile.schema.refusals import RefusedError
from moveplan.planfile.schema.risks import RiskEntry
from moveplan.units import quoted

_NEEDED = {
    "dates": "{move-day: 2027-03-13}",
    "places": "{old: {}, new: {distance: 20 km}}",
    "systems": "{reef: {tank: {length: 120 cm, width: 60 cm, height: 55 cm}}}",
}


def title_is_there(draft: Draft) -> Iterator[Fault]:
    """Want a title."""
    yield from absent(draft, (), "title", "My reef moves")


def sections_fit_the_purpose(draft: Draft) -> Iterator[Fault]:
    """Want dates, places and systems of a move; tasks, and nothing to move, of a plan of own tasks."""
    goal = purpose(draft)
    if goal == "own-tasks":
        yield from absent(draft, (), "tasks", "[{id: one, duration: 1 h}]")
        yield from _empty(draft, "tasks")
        for section in ("systems", "livestock", "water-making", "boarding", "dates", "outside"):
            if draft.has(section):
                yield at(draft, (section,), "a plan of own tasks has no such section", "remove it")
        return
    for section, example in _NEEDED.items() if goal else ():
        yield from absent(draft, (), section, example)
    for section in ("places", "systems") if goal else ():
        yield from _empty(draft, section)
    yield from _new_home(draft, goal)


def _empty(draft: Draft, section: str) -> Iterator[Fault]:
    node = draft.node(section)
    if node is not None and node.value in ("", {}) and not node.broken:
        yield at(draft, (section,), "has no entries", "add at least one")


def _new_home(draft: Draft, goal: str) -> Iterator[Fault]:
    ids = draft.ids("places")
    if goal.startswith("house-move") and len(ids) == 1:
        yield at(
            draft,
            ("places",),
            "a house move needs a second place",
            'add for example "new: {distance: 20 km}"',
        )
    for place_id, entry in (draft.entry.places or {}).items():
        if ids and place_id != ids[0] and entry.distance is None:
            yield from absent(draft, ("places", place_id), "distance", "20 km")


def zone_is_known(draft: Draft) -> Iterator[Fault]:
    """Want the time zone of a move; a zone is offered, but never guessed."""
    if purpose(draft) in {"", "own-tasks"}:
        return
    country, zones = likely_zones(draft.entry)
    for fault in absent(draft, (), "timezone", zones[0]):
        many = f"; {country} has {len(zones)} zones, so look up yours" if len(zones) > 1 else ""
        yield replace(fault, remedy=fault.remedy + many)


def purpose_fits_the_tanks(draft: Draft) -> Iterator[Fault]:
    """Want a larger tank where the purpose says so, and only there."""
    goal = draft.entry.purpose
    if goal is None or not draft.entry.systems or len(draft.entry.systems) < len(draft.ids("systems")):
        return
    with_new = [system_id for system_id, system in draft.entry.systems.items() if system.new_tank is not None]
    if goal in {"larger-tank", "house-move-larger-tank"} and not with_new:
        example = "{tank: {length: 150 cm, width: 60 cm, height: 60 cm}}"
        yield from absent(draft, ("systems", next(iter(draft.entry.systems))), "new-tank", example)
    if goal == "house-move" and with_new:
        yield at(draft, ("purpose",), f"{with_new[0]} has a new tank", 'write "house-move-larger-tank"')


def something_is_moved(draft: Draft) -> Iterator[Fault]:
    """Want a system that is moved: those for holding only wait for animals."""
    systems = draft.entry.systems or {}
    if (
        systems
        and len(systems) == len(draft.ids("systems"))
        and all(one.role == "holding" for one in systems.values())
    ):
        message = "every system is for holding, so that nothing is moved"
        yield at(draft, ("systems", next(iter(systems)), "role"), message, 'write "display"')


def money_is_in_one_currency(draft: Draft) -> Iterator[Fault]:
    """Refuse amounts in another currency than the plan's."""
    if draft.entry.currency is None and draft.has("currency"):
        return
    currency = currency_of(draft.entry)
    for path, money in _amounts(draft):
        if money.currency and currency == NO_CURRENCY:
            message = f"{money.currency} stands here, but the plan does not tell its currency"
            yield at(draft, path, message, f"add the line {quoted(f'currency: {money.currency}')}")
        elif money.currency and money.currency != currency:
            message = f"{money.currency} is not the plan's currency {currency}"
            yield at(draft, path, message, f"convert the amount to {currency} and leave the currency out")


def _amounts(draft: Draft) -> Iterator[tuple[tuple[str, ...], Money]]:
    entry = draft.entry
    for item, money in (entry.prices or {}).items():
        yield ("prices", item), money
    for animal_id, animals in (entry.livestock or {}).items():
        yield from ((("livestock", animal_id, "value"), money) for money in (animals.value,) if money)
    for helper_id, helper in (entry.people or {}).items():
        yield from ((("people", helper_id, "cost"), money) for money in (helper.cost,) if money)
        yield from _late(("people", helper_id), helper.late_change)
    for vehicle_id, vehicle in (entry.vehicles or {}).items():
        yield from ((("vehicles", vehicle_id, "cost"), money) for money in vehicle.cost or ())
        yield from _late(("vehicles", vehicle_id), vehicle.late_change)
    for gear_id, gear in (entry.gear or {}).items():
        yield from ((("gear", gear_id, "price"), money) for money in (gear.price,) if money)
    yield from _of_risks(entry.risks or {})


def _late(path: tuple[str, ...], late: Late | None) -> Iterator[tuple[tuple[str, ...], Money]]:
    if late is not None:
        yield (*path, "late-change"), late.fee


def _of_risks(entries: Mapping[str, RiskEntry]) -> Iterator[tuple[tuple[str, ...], Money]]:
    for risk_id, risk in entries.items():
        yield from ((("risks", risk_id, "cost"), money) for money in (risk.cost,) if money)
        for name, measure in (risk.possible_measures or {}).items():
            path = ("risks", risk_id, "possible-measures", name, "cost")
            yield from ((path, money) for money in (measure.cost,) if money)


def limits_are_known(draft: Draft) -> Iterator[Fault]:
    """Refuse limits that are not in the table of limits, or outside its ranges."""
    for name, text in (draft.entry.policy or {}).items():
        try:
            limit_of(name, text)
        except RefusedError as error:
            for one in error.refusals:
                yield at(draft, ("policy", name), one.message, one.remedy)
