"""The end: what goes back, is cleaned, is paid, and what was learnt."""

from __future__ import annotations

from moveplan.network.task import Timing
from moveplan.practice.draft import DAY, Draft, hands, usual
from moveplan.practice.phases.road import last_unloading


def add_close(move: Draft) -> None:
    """Add everything after the animals are safe."""
    move.phase("close")
    _add_vehicles(move)
    _add_old_home(move)
    new = move.facts.new.id
    move.add(
        "wash-gear", usual(45, 75, 150, "rinsing, drying, stacking"), place=new, crew=hands(1), may_pause=True
    )
    move.add("return-borrowed", usual(30, 60, 120, "a round of visits"), crew=hands(1))
    move.add("settle-accounts", usual(30, 45, 90, "bills against the plan"), crew=hands(1))
    move.add("look-back", usual(30, 60, 90, "real hours against planned ones"), place=new, crew=hands(1))
    for facts in move.facts.systems:
        move.link(facts.task("watch-evening"), "wash-gear", at_most=10 * DAY)
        move.link(facts.task("settled"), "look-back")
    move.chain("wash-gear", "return-borrowed", "settle-accounts", "look-back")
    for vehicle in move.vehicles():
        if move.has(f"return-vehicle-{vehicle.id}"):
            move.link(f"return-vehicle-{vehicle.id}", "settle-accounts")
    move.link("give-keys-back" if move.has("give-keys-back") else "clean-old-room", "settle-accounts")


def _add_vehicles(move: Draft) -> None:
    for vehicle in move.vehicles():
        if not vehicle.hired:
            continue
        task = move.add(
            "return-vehicle",
            usual(30, 45, 90, "wiping, filling, photographs"),
            subject=vehicle.id,
            crew=hands(1, "drives"),
            vehicles=(vehicle.id,),
            words={"vehicle": vehicle},
            place=move.facts.old.id,
        )
        for load in move.facts.trips.loads:
            if load.vehicle == vehicle.id and load.trip == move.last_trip(vehicle.id):
                move.link(last_unloading(move, load), task)
        for facts in move.facts.systems:
            move.link(facts.task("watch-evening"), task)


def _add_old_home(move: Draft) -> None:
    old = move.facts.old.id
    move.add(
        "clean-old-room", usual(60, 90, 180, "sand, floor, walls"), place=old, crew=hands(1), may_pause=True
    )
    for facts in move.facts.systems:
        move.link(facts.task("watch-evening"), "clean-old-room")
    dates = move.plan.dates
    if dates is None or dates.keys_back is None:
        return
    move.add(
        "give-keys-back",
        usual(15, 30, 60, "meters and a receipt"),
        place=old,
        crew=hands(1),
        finish_by=dates.keys_back,
        timing=Timing.EARLY,
        where=move.plan.where("dates.keys-back"),
    )
    move.link("clean-old-room", "give-keys-back")
