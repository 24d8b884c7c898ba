"""Make ready: filters, positions, rehearsal, fasting, the eve."""

from __future__ import annotations

from typing import Any

from moveplan.network.task import Kind, Timing
from moveplan.plan.people import Vehicle
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, HOUR, WEEK, fixed, hands, usual
from moveplan.practice.drafting.touch import hard_to_catch
from moveplan.practice.phases.before.fasting import KEYS, add_last_feeds, link_last_feeds
from moveplan.practice.phases.before.gear import OWN_WEEK_MIN
from moveplan.practice.phases.day.arrival import keys_on_day, link_arrival, vehicle_on_day, when
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.handling import together
from moveplan.quantities.trade_groups import CORALS

LATE = Timing.LATE
_REHEARSED_UP_TO_MIN = 90
"""A longer drive is not driven twice beforehand only to know it; common practice, no source. [min]"""


_KNOWN_UP_TO_MIN = 15
"""Who goes alone knows a way so short, and where to stop on it; common practice, no source. [min]"""
FORECAST_MIN = 4 * HOUR
"""Longest from the forecasts to the decision: it is made on those of the same evening; common practice, no source.
[min]"""
SET_OUT_AHEAD_MIN = 18 * HOUR
"""Containers stand ready an evening before the last one, which has enough to do; common practice, no source. [min]"""
STAYS_TRUE_MIN = 30 * HOUR
"""Longest from a look at the vehicle or a full battery to what relies on it; common practice, no source. [min]"""


def add_care(move: Draft, facts: SystemFacts) -> None:
    """Add filter cleaning, marking of positions, last feed and last look of one system."""
    move.phase("ready")
    late: dict[str, Any] = {"system": facts, "place": move.facts.old.id, "timing": LATE}
    cleaning = usual(30, 45, 90, "pumps, strainers, skimmer cup")
    move.add("clean-filters", cleaning, crew=hands(1), margin_min=5 * DAY, **late)
    add_marks(move, facts)
    add_last_feeds(move, facts)
    move.add(
        "final-health-check",
        usual(15, 30, 45, "a second look at every animal"),
        crew=hands(1, "cares"),
        words={"trapped": hard_to_catch(facts.groups)},
        **late,
    )
    move.link("agree-plan", facts.task("clean-filters"))
    for key in KEYS.values():
        if move.has_own(facts.task(key)):
            move.link(facts.task("clean-filters"), facts.task(key), gap=DAY)
    move.add(
        "set-out",
        usual(15, 25, 40, "towels, tubs, doors"),
        crew=hands(1),
        margin_min=SET_OUT_AHEAD_MIN,
        **late,
    )
    move.link(facts.task("last-feed"), facts.task("final-health-check"))


def add_marks(move: Draft, facts: SystemFacts) -> None:
    """Add the marking of where corals and rock go, while they stand in the display."""
    if move.suffix:
        return
    corals = sum(group.count for group in facts.of_group(*CORALS))
    if not corals and not facts.system.rock_kg:
        return
    move.add(
        "mark-positions",
        usual(20, 30 + corals, 60 + 3 * corals, "numbering colonies and rocks"),
        system=facts,
        place=move.facts.old.id,
        timing=LATE,
        crew=hands(1),
        margin_min=WEEK,
        words={"coral_count": corals},
    )
    move.link(facts.task("list-livestock"), facts.task("mark-positions"))


def add_rehearsal(move: Draft) -> None:
    """Add rehearsals and the briefing."""
    move.phase("ready")
    known = move.single_handed and move.facts.drive.likely <= _KNOWN_UP_TO_MIN
    if move.drives and not known:
        _add_drive(move)
    _add_carry(move)
    move.add(
        "brief-crew",
        usual(30, 45, 60, "sheets, tubs, labels, questions"),
        place=move.facts.old.id,
        crew=move.keeper(),
        timing=LATE,
        margin_min=DAY,
        words=move.people_words(),
    )
    for rehearsal in ("rehearse-drive", "study-drive", "rehearse-carry"):
        if move.has_own(rehearsal):
            move.link(rehearsal, "brief-crew")


def _add_drive(move: Draft) -> None:
    """Drive the way once, or study it where it is so long that nobody drives it twice for that."""
    drive = move.facts.drive
    if drive.likely > _REHEARSED_UP_TO_MIN:
        key, lasts = "study-drive", usual(45, 60, 120, "a map that knows the traffic, and calls")
    else:
        key, lasts = "rehearse-drive", together(drive, drive, usual(10, 20, 40, "looking for places to park"))
    move.add(key, lasts, place=move.facts.old.id, crew=hands(1, "drives"), timing=LATE, margin_min=WEEK)
    move.link("check-new-floor", key)


def _add_carry(move: Draft) -> None:
    """Walk the way of the tank that is carried on the day."""
    carried = [one for one in move.facts.systems if one.shift.carries or one.shift.benched]
    if not carried or move.single_handed:  # what one person carries turns at every door
        return
    heaviest = max(carried, key=lambda one: one.lifted_kg[not one.carries_own])
    tanks = [(one.system if one.carries_own else one.rebuilt).tank for one in carried]
    words = move.lift_words(heaviest, old=heaviest.carries_own) | {
        "longest": max(tank.length_m for tank in tanks),
        "tank_mass": heaviest.lifted_kg[not heaviest.carries_own],
    }
    move.add(
        "rehearse-carry",
        usual(20, 30, 45, "an empty box, the whole way"),
        place=move.facts.old.id,
        crew=hands(min(2, len(move.plan.people))),
        words=words,
        timing=LATE,
        margin_min=WEEK,
    )
    move.link("check-new-floor", "rehearse-carry")


def add_keys_early(move: Draft) -> None:
    """Add the keys of the new home, where work begins there weeks before the animals come."""
    move.phase("ready")
    _add_keys(move, "keys-early", timing=Timing.EARLY)


def add_eve(move: Draft) -> None:
    """Add vehicle, packing, keys, and the decision of the eve."""
    move.phase("ready")
    old = move.facts.old.id
    if move.drives:
        boxes = usual(45, 75, 120, "boxes by a list")
        move.add("pack-dry", boxes, place=old, crew=hands(1), timing=LATE)
        move.link("brief-crew", "pack-dry")
        if not move.has("keys-early") or move.facts.new.id != move.final.new.id:
            _add_keys(move, "keys-in-hand", **when(move, on_day=keys_on_day(move)))
    move.add(
        "go-or-no-go",
        usual(10, 15, 30, "a look at the list and a round of calls"),
        kind=Kind.HOLD_POINT,
        place=_decided_at(move),
        crew=hands(1, "cares"),
        timing=LATE,
        words=move.date_words() | move.people_words() | _on_the_day(move),
    )
    if move.drives:
        if not move.has_own("keys-in-hand"):
            move.link("keys-early", "go-or-no-go")
        _add_weather(move)
    for vehicle in move.vehicles():
        _add_vehicle(move, vehicle)
    _add_charging(move)


def _decided_at(move: Draft) -> str:
    """Give the home before the day; nowhere, where crew and vehicles come together from a base of their own."""
    return "" if any(one.base for one in move.vehicles()) else move.facts.old.id


def _add_charging(move: Draft) -> None:
    old = move.facts.old.id
    move.add("start-charging", usual(5, 10, 15, "laying out chargers"), place=old, crew=hands(1), timing=LATE)
    night = fixed(8 * HOUR, "a night on the charger")
    move.add("charge-batteries", night, kind=Kind.WAIT, place=old, timing=LATE, margin_min=3 * HOUR)
    move.link("brief-crew", "start-charging")
    move.link("start-charging", "charge-batteries", at_most=0)


def _on_the_day(move: Draft) -> dict[str, object]:
    return {
        "keys_later": move.has_own("keys-in-hand") and keys_on_day(move),
        "vehicles_later": [one.name for one in move.vehicles() if vehicle_on_day(move, one)],
        "vehicles_ready": all(one.base for one in move.vehicles()),
        "vehicles_there": [one.name for one in move.vehicles() if not vehicle_on_day(move, one)],
    }


def _add_keys(move: Draft, key: str, **timing: Any) -> None:
    dates, place = move.plan.dates, move.facts.new
    home = place.id == move.final.new.id
    move.add(
        key,
        usual(15, 20, 40, "turning the key, a tap, a lamp"),
        kind=Kind.HOLD_POINT,
        place=place.id,
        crew=hands(1),
        **timing,
        not_before=dates.access_from if dates and home else None,
        where=move.plan.where("dates.access-from"),
    )
    move.link("ask-permission", key)


def _add_weather(move: Draft) -> None:
    """Add the hold point of the eve that says whether the road and the air allow it."""
    vehicles = move.vehicles()
    move.add(
        "weather-fits",
        usual(5, 5, 10, "two forecasts for the hours of the drive"),
        kind=Kind.HOLD_POINT,
        place=_decided_at(move),
        crew=move.keeper(),
        timing=LATE,
        words={
            "cold": min((vehicle.air_temperature_c for vehicle in vehicles), default=None),
            "hot": max((vehicle.air_high_c for vehicle in vehicles), default=None),
            "water": move.warmest_c(),
        },
    )
    move.link("brief-crew", "weather-fits")
    move.link("weather-fits", "go-or-no-go", at_most=FORECAST_MIN, any_length=True)


def _add_vehicle(move: Draft, vehicle: Vehicle) -> None:
    old = move.facts.old.id
    at: dict[str, Any] = when(move, on_day=vehicle_on_day(move, vehicle))
    words: dict[str, object] = {"vehicle": vehicle, "freight": move.heaviest_load(vehicle.id)}
    if vehicle.hired:
        move.add(
            "fetch-vehicle",
            usual(30, 60, 90, "papers, plate, photographs, a full tank"),
            subject=vehicle.id,
            place=old,
            crew=hands(1, "drives"),
            vehicles=(vehicle.id,),
            words=words,
            **at,
        )
    move.add(
        "vehicle-here",
        usual(5, 5, 10, "a walk around it"),
        subject=vehicle.id,
        kind=Kind.HOLD_POINT,
        place="" if vehicle.base else old,
        crew=hands(1),
        words=words,
        **at,
    )


def link_ready(move: Draft) -> None:
    """Tie the making ready to the moving day."""
    again = bool(move.suffix)  # between two moving days nothing else fills the weeks: each gets its own week
    week, eve = (OWN_WEEK_MIN, STAYS_TRUE_MIN) if again else (3 * WEEK, 3 * DAY)
    move.link("brief-crew", "go-or-no-go", at_most=OWN_WEEK_MIN if again else None, any_length=again)
    if move.has_own("pack-dry"):
        move.link("pack-dry", "go-or-no-go", at_most=3 * DAY if again else None, any_length=again)
    for facts in move.facts.systems:
        if move.has_own(facts.task("mark-positions")):
            move.link(facts.task("mark-positions"), "brief-crew")
        if not move.has_own(facts.task("record-morning")):
            continue
        move.link(facts.task("final-health-check"), "go-or-no-go")
        link_last_feeds(move, facts)
        record = facts.task("record-morning")
        move.link("print-labels", facts.task("set-out"))
        move.link(facts.task("set-out"), "go-or-no-go", at_most=eve, any_length=True)
        move.link(facts.task("clean-filters"), "go-or-no-go", at_most=week, any_length=True)
        move.link("go-or-no-go", record, gap=6 * HOUR, at_most=2 * DAY)
        move.link("charge-batteries", record, at_most=STAYS_TRUE_MIN, any_length=True)
        for vehicle in move.vehicles():
            if vehicle.hired and vehicle.hire_from is None:
                move.link(f"fetch-vehicle-{vehicle.id}", record, at_most=STAYS_TRUE_MIN, any_length=True)
    _link_arrivals(move)


def _link_arrivals(move: Draft) -> None:
    if move.has_own("keys-in-hand"):
        link_arrival(move, "keys-in-hand", "keys-in-hand", on_day=keys_on_day(move))
    for vehicle in move.vehicles():
        fetching, here = f"fetch-vehicle-{vehicle.id}", f"vehicle-here-{vehicle.id}"
        if move.has_own(fetching):
            move.link(fetching, here)
        else:
            move.link("brief-crew", here)
        first = fetching if move.has_own(fetching) else here
        link_arrival(move, first, here, on_day=vehicle_on_day(move, vehicle), at_most=STAYS_TRUE_MIN)
