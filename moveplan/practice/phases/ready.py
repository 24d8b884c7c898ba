"""Make ready: filters, positions, rehearsal, fasting, the eve."""

from __future__ import annotations

from typing import Any

from moveplan.network.link import Relation
from moveplan.network.task import Kind, Timing
from moveplan.practice.draft import DAY, HOUR, WEEK, Draft, fixed, hands, usual
from moveplan.quantities.durations import CORALS
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.handling import together

LATE = Timing.LATE


def add_care(move: Draft, facts: SystemFacts) -> None:
    """Add filter cleaning, marking of positions, last feed and last look of one system."""
    move.phase("ready")
    corals = sum(group.count for group in facts.of_group(*CORALS))
    travelling = [f"{group.count} × {group.livestock.name}" for group in facts.groups]
    late: dict[str, Any] = {"system": facts, "place": move.facts.old.id, "timing": LATE}
    move.add(
        "clean-filters",
        usual(30, 45, 90, "pumps, strainers, skimmer cup"),
        crew=hands(1),
        margin_min=5 * DAY,
        **late,
    )
    move.add(
        "mark-positions",
        usual(20, 30 + corals, 60 + 3 * corals, "numbering colonies and rocks"),
        crew=hands(1),
        margin_min=WEEK,
        words={"coral_count": corals},
        **late,
    )
    move.add("last-feed", usual(5, 10, 20, "a small meal"), crew=hands(1), **late)
    move.add(
        "final-health-check",
        usual(15, 30, 45, "a second look at every animal"),
        crew=hands(1, "cares"),
        words={"travelling": travelling},
        **late,
    )
    move.link("agree-plan", facts.task("clean-filters"))
    move.link(facts.task("clean-filters"), facts.task("last-feed"), gap=2 * DAY)
    move.link(facts.task("list-livestock"), facts.task("mark-positions"))
    move.add("set-out", usual(15, 25, 40, "towels, tubs, doors"), crew=hands(1), **late)
    move.link(facts.task("last-feed"), facts.task("final-health-check"))
    move.link(facts.task("final-health-check"), facts.task("set-out"))


def add_rehearsal(move: Draft) -> None:
    """Add rehearsals and the briefing."""
    move.phase("ready")
    facts = move.facts
    late: dict[str, Any] = {"timing": LATE, "margin_min": WEEK}
    there_and_back = together(facts.drive, facts.drive, usual(10, 20, 40, "looking for places to park"))
    move.add("rehearse-drive", there_and_back, place=facts.old.id, crew=hands(1, "drives"), **late)
    words = move.lift_words(max(facts.systems, key=lambda one: one.masses.tank.likely)) | {
        "longest": max(one.rebuilt.tank.length_m for one in facts.systems),
        "tank_mass": max(one.masses.tank.likely for one in facts.systems),
    }
    move.add(
        "rehearse-carry",
        usual(20, 30, 45, "an empty box, the whole way"),
        place=facts.old.id,
        crew=hands(min(2, len(move.plan.people))),
        words=words,
        **late,
    )
    move.add(
        "brief-crew",
        usual(30, 45, 60, "sheets, tubs, labels, questions"),
        place=facts.old.id,
        crew=hands(1),
        timing=LATE,
        margin_min=DAY,
        words=move.people_words(),
    )
    move.link("check-new-floor", "rehearse-drive")
    move.link("check-new-floor", "rehearse-carry")
    move.link("rehearse-drive", "brief-crew")
    move.link("rehearse-carry", "brief-crew")


def add_eve(move: Draft) -> None:
    """Add vehicle, packing, keys, and the decision of the eve."""
    move.phase("ready")
    old = move.facts.old.id
    move.add("pack-dry", usual(45, 75, 120, "boxes by a list"), place=old, crew=hands(1), timing=LATE)
    move.link("brief-crew", "pack-dry")
    _add_keys(move)
    move.add(
        "go-or-no-go",
        usual(10, 15, 30, "a look at the list and a round of calls"),
        kind=Kind.HOLD_POINT,
        place=old,
        crew=hands(1, "cares"),
        timing=LATE,
        words=move.date_words() | move.people_words(),
    )
    move.link("keys-in-hand", "go-or-no-go")
    for vehicle in move.vehicles():
        _add_vehicle(move, vehicle.id)
    move.add("start-charging", usual(5, 10, 15, "laying out chargers"), place=old, crew=hands(1), timing=LATE)
    move.add(
        "charge-batteries", fixed(8 * HOUR, "a night on the charger"), kind=Kind.WAIT, place=old, timing=LATE
    )
    move.link("pack-dry", "start-charging")
    move.link("start-charging", "charge-batteries")


def _add_keys(move: Draft) -> None:
    dates = move.plan.dates
    move.add(
        "keys-in-hand",
        usual(15, 20, 40, "turning the key, a tap, a lamp"),
        kind=Kind.HOLD_POINT,
        place=move.facts.new.id,
        crew=hands(1),
        timing=LATE,
        not_before=dates.access_from if dates else None,
        where=move.plan.where("dates.access-from"),
    )
    move.link("ask-permission", "keys-in-hand")


def _add_vehicle(move: Draft, vehicle_id: str) -> None:
    vehicle = next(one for one in move.plan.vehicles if one.id == vehicle_id)
    if not vehicle.hired:
        return
    move.add(
        "fetch-vehicle",
        usual(30, 60, 90, "papers, plate, photographs, a full tank"),
        subject=vehicle_id,
        place=move.facts.old.id,
        crew=hands(1, "drives"),
        vehicles=(vehicle_id,),
        timing=LATE,
        words={"vehicle": vehicle, "freight": move.heaviest_load(vehicle_id)},
    )


def link_ready(move: Draft) -> None:
    """Tie the making ready to the moving day."""
    move.link("brief-crew", "go-or-no-go")
    move.link("pack-dry", "go-or-no-go")
    for facts in move.facts.systems:
        move.link(facts.task("mark-positions"), "brief-crew")
        move.link(facts.task("final-health-check"), "go-or-no-go")
        if move.has(facts.task("catch-fish")):
            move.link(facts.task("last-feed"), facts.task("catch-fish"), gap=20 * HOUR, at_most=60 * HOUR)
        record = facts.task("record-morning")
        move.link("print-labels", facts.task("set-out"))
        move.link(facts.task("set-out"), "go-or-no-go")
        move.link("go-or-no-go", record, gap=6 * HOUR, at_most=2 * DAY)
        move.link("charge-batteries", record, relation=Relation.FINISHTOSTART)
    for vehicle in move.vehicles():
        fetching = f"fetch-vehicle-{vehicle.id}"
        if move.has(fetching):
            move.link(fetching, "go-or-no-go")
            move.link(fetching, "start-charging")
