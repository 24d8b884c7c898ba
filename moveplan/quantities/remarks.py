"""What is worth saying about the quantities: numbers to show, things to know, and what cannot be done at all."""

from __future__ import annotations

from moveplan.errors import Problem
from moveplan.estimate import Estimate
from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.plan.systems import System, Tank
from moveplan.quantities.cautious_remarks import by_age, by_seats, by_size, by_water
from moveplan.quantities.containers.tubs import tub_volume_l
from moveplan.quantities.course import Leg
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.freight.floors import floor_needs_engineer
from moveplan.quantities.freight.freight import Trips, misfits, sides
from moveplan.quantities.freight.lifting import (
    MOST_CARRIERS,
    ONE_PERSON_TUB_L,
    TUB_KG,
    By,
    hand_limit_kg,
    lift_of,
    stairs_between,
)
from moveplan.quantities.leg.cargo import spare_item
from moveplan.quantities.policy import Policy
from moveplan.quantities.sooner import Sooner
from moveplan.quantities.water.amounts import Water
from moveplan.quantities.water.volumes import empty_tank_kg
from moveplan.units import show_length, show_mass, show_nearly, show_temperature, show_volume

DEEP_SAND_M = 0.05
"""Depth of sand above which layers without oxygen are to be expected; common practice, no source: 3 to 5 cm. [m]"""
DOOR_ROOM_M = 0.05
"""Room for hands on both sides of a tank in a door; common practice, no source. [m]"""


def named(
    systems: tuple[SystemFacts, ...], water: Water, drive: Estimate
) -> tuple[tuple[str, Estimate], ...]:
    """List the estimates worth showing, in the order of reading."""
    rows: list[tuple[str, Estimate]] = []
    for facts in systems:
        name = facts.rebuilt.name if facts.rebuilt.name != facts.system.name else facts.system.id
        rows += [
            (f"{name}: water", facts.volumes.total),
            (f"{name}: displaced", facts.volumes.displaced),
            (f"{name}: empty tank", facts.masses.tank),
            (f"{name}: soaked rock", facts.masses.rock_wet),
            (f"{name}: running mass", facts.masses.full),
            (f"{name}: floor pressure", facts.masses.floor),
            (f"{name}: warming", facts.times["warm"]),
        ]
    rows += [
        ("water kept", water.kept),
        ("new water", water.new),
        ("spare water", water.spare),
        ("purified water", water.purified),
        ("salt mix", water.salt),
        ("drive", drive),
    ]
    return tuple(rows)


def _deep_sand(plan: Plan, systems: tuple[SystemFacts, ...]) -> list[Problem]:
    """Say where old sand is to be kept that had better go."""
    return [
        Problem(
            f"the sand of {one.name} is {show_length(one.sand_depth_m, plan.units)} deep and is to be kept: stirred "
            "up, the layers below the top give off hydrogen sulfide and ammonia that can kill all that shares the "
            "water",
            plan.where(f"systems.{one.id}.old-sand"),
            'write "old-sand: replace", or "old-sand: rinse"; keep the top layer only',
        )
        for one in (facts.system for facts in systems if not facts.shift.standing)
        if one.old_sand == "keep" and one.sand_kg and one.sand_depth_m > DEEP_SAND_M
    ]


def findings(
    plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...], trips: Trips, shorter: Sooner
) -> tuple[Problem, ...]:
    """List things to know that stop nothing."""
    new = plan.place(leg.destination)
    found = [
        Problem(
            f"running, {facts.rebuilt.name} weighs {show_mass(facts.masses.full.likely, plan.units)} "
            f"({facts.masses.floor.likely:.1f} kPa) at {new.name}",
            plan.where(f"places.{new.id}"),
            "a structural engineer should look at the floor; the plan has a task for it",
        )
        for facts in systems
        if floor_needs_engineer(new, facts.masses.full, plan.policy)
    ]
    if trips.count > 1:
        found.append(
            Problem(
                f"the load needs {trips.count} trips",
                plan.where("vehicles"),
                shorter.trip or "a vehicle with more payload or floor would save the second drive",
            )
        )
    found += [*_cold(plan, systems, shorter), *_hot(plan, leg, systems), *_uncooled(plan, leg, systems)]
    if len(plan.people) == 1 and not _alone(plan, leg, systems):
        found.append(
            Problem(
                f"{plan.people[0].name} moves it alone",
                plan.where("people"),
                "ask somebody to be within reach by telephone all day, and lift nothing twice; a second person on "
                "the moving day is the cheapest safety there is",
            )
        )
    found += [*by_size(plan, systems), *by_seats(plan, leg), *by_age(plan, systems), *by_water(plan, systems)]
    return (*found, *_too_heavy(plan, leg, systems), *_deep_sand(plan, systems), *_refused(plan, systems))


def _refused(plan: Plan, systems: tuple[SystemFacts, ...]) -> list[Problem]:
    """Say which animals travel in another kind of container than the keeper asks for, and why."""
    return [
        Problem(
            f"{group.livestock.name}: not in a {asked}, as asked for, but in {group.packing.label}: "
            + (
                "spines go through a bag, and colonies and animals that are no fish travel open"
                if asked == "bag"
                else f"no {asked} holds it with water that covers it and that can still be carried"
            ),
            plan.where(f"livestock.{group.livestock.id}.container"),
            f'take "container: {asked}" out of its line',
        )
        for facts in systems
        for group in facts.groups
        if (asked := group.livestock.container) not in ("", group.packing.gear)
    ]


def _cold(plan: Plan, systems: tuple[SystemFacts, ...], shorter: Sooner) -> list[Problem]:
    """Say which tank takes long to warm on the day, and what would do it sooner."""
    return [
        Problem(
            f"{facts.rebuilt.name} takes {show_nearly(facts.times['warm'].likely)} to warm on the day",
            plan.where(f"systems.{facts.system.id}.equipment"),
            hint,
        )
        for facts, hint in zip(systems, shorter.heat, strict=True)
        if hint
    ]


def _hot(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...]) -> list[Problem]:
    """Say which tank may stand too warm once it is filled, and that it is cooled, never heated."""
    found, way = [], "shade and an early start on the way, " if leg.drives else ""
    for facts in systems:
        arrival, target = facts.handled.arrival, facts.rebuilt.temperature_c
        if arrival is not None and arrival.high_c > target + Policy(plan.policy)["temperature_match"]:
            likely, high = (show_temperature(one, plan.units) for one in (arrival.likely_c, arrival.high_c))
            warm = f"{likely}, at most {high}"
            found.append(
                Problem(
                    f"filled, {facts.rebuilt.name} stands at {warm}; it should stand at "
                    f"{show_temperature(target, plan.units)}",
                    plan.where("outside"),
                    f"heaters stay off until it has cooled: {way}closed ice bottles in the sump, lids off; wait for "
                    "the reading",
                )
            )
    return found


def _uncooled(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...]) -> list[Problem]:
    """Say which tank cannot be as cool as the plan has it: its room is always warmer, and nothing cools it."""
    room, match_k = plan.place(leg.origin), Policy(plan.policy)["temperature_match"]
    return [
        Problem(
            f"{one.name} is to stand at {show_temperature(one.temperature_c, plan.units)}, in a room at {room.name} of "
            f"{show_temperature(room.room_temperature_c, plan.units)} at its coldest, without a chiller",
            plan.where(f"systems.{one.id}.temperature"),
            f'write what the thermometer reads, such as "temperature: {room.room_temperature_c:.0f} C", or the chiller '
            "among its equipment",
        )
        for one in (facts.system for facts in systems)
        if room.room_temperature_c > one.temperature_c + match_k
        and "chiller" not in {piece.kind for piece in one.equipment}
    ]


def impossible(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...]) -> tuple[Problem, ...]:
    """List what cannot be done whatever the schedule."""
    where = plan.where("vehicles")
    vans = tuple(
        problem
        for system in _carried(leg)
        for problem in misfits(
            system.tank, empty_tank_kg(system.tank).likely, plan.vehicles, where, plan.units
        )
    )
    return (*vans, *_doors(plan, leg, systems), *_alone(plan, leg, systems))


def _carried(leg: Leg) -> list[System]:
    """List the systems whose tank and stand are carried out and in."""
    return [*(system for shift in leg.shifts for system in shift.carries), *leg.spares]


def _doors(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...]) -> tuple[Problem, ...]:
    """Say which tanks pass no door on their way: the old ones out and in, the new ones in."""
    old, new = plan.place(leg.origin), plan.place(leg.destination)
    way = [(system, place) for system in _carried(leg) for place in (old, new)]
    bought = [(facts.rebuilt, new) for facts in systems if facts.rebuilt.tank != facts.system.tank]
    ways = dict.fromkeys((system.id, place.id) for system, place in (*way, *bought))
    tanks = {(system.id, place.id): system for system, place in (*way, *bought)}
    found = (_door(plan, tanks[key], plan.place(key[1])) for key in ways)
    return tuple(problem for problem in found if problem is not None)


def narrowest_m(tank: Tank) -> float:
    """Least clear width through which a tank can be carried lengthwise, upright or on edge. [m]."""
    return min(tank.width_m, tank.height_m) + DOOR_ROOM_M


def _door(plan: Plan, system: System, place: Place) -> Problem | None:
    needed = narrowest_m(system.tank)
    if place.door_width_m is None or needed <= place.door_width_m:
        return None
    tank = system.tank
    key = "new-tank" if plan.system(system.id).tank != tank else "tank"
    return Problem(
        f"the tank of {system.name} ({sides(tank, plan.units)}) needs "
        f"{show_length(needed, plan.units)} of clear width with room for hands; the way into {place.name} has "
        f"{show_length(place.door_width_m, plan.units)}",
        plan.where(f"systems.{system.id}.{key}"),
        f"choose a tank that is narrower or lower than {show_length(place.door_width_m - DOOR_ROOM_M, plan.units)}, "
        f"or measure a wider way (a window, a door off its hinges) and write it under places.{place.id}.door-width",
    )


def _alone(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...]) -> tuple[Problem, ...]:
    """Say what one person cannot carry, even with aids; nothing where there are two, or all is light enough."""
    lifters = plan.lifters
    if lifters >= 2 or not plan.people or not systems:
        return ()
    places = (plan.place(leg.origin), plan.place(leg.destination))
    things = _heavy(leg, systems)
    if not lifters:
        name, kg = max(things, key=lambda thing: thing[1])
        words = f"{name} of {show_mass(kg, plan.units)} and tubs of {show_mass(TUB_KG, plan.units)}"
        return (_too_few(plan, f"{words} need two people who lift", 2),)
    tub_l = tub_volume_l(plan.gear)
    if tub_l > ONE_PERSON_TUB_L:
        things.append((f"a tub of {show_volume(tub_l, plan.units)}", 0.0))
    lifts = [(name, kg, lift_of(plan, kg, places)) for name, kg in things]
    over = [row for row in lifts if row[2].by is By.MACHINE or not row[1]]
    if not over:
        return ()
    name, kg, lift = max(over, key=lambda row: row[1])
    if not kg:
        return (_too_few(plan, f"{name} needs two people who lift", 2),)
    what = f"{name} of {show_mass(kg, plan.units)}"
    if not lift.enough:
        return (
            _too_few(plan, f"{what} is more than any team carries, aids and all", MOST_CARRIERS, firm=True),
        )
    people = "two" if lift.enough == 2 else f"{lift.enough}"
    by_hand_kg = hand_limit_kg(plan, lift.enough, ("knuckle",), stairs=stairs_between(places))
    kinds = "suction lifters and straps" if "tank" in name else "carrying straps"
    aids = f", with {kinds}" if kg > by_hand_kg else ""
    return (_too_few(plan, f"{what} needs {people} people who lift{aids}", lift.enough),)


def _too_few(plan: Plan, words: str, needed: int, *, firm: bool = False) -> Problem:
    """Say how many more who lift it takes."""
    more = needed - plan.lifters
    who = "a second person" if needed == 2 and plan.lifters else f"{more} more people"
    return Problem(
        f"{words}; the plan has {plan.lifters}",
        plan.where("people"),
        f'add {who} with "lifts: yes" under people, for the moving day at least'
        + (", and have the tank carried by a firm that moves heavy glass" if firm else ""),
    )


def _heavy(leg: Leg, systems: tuple[SystemFacts, ...]) -> list[tuple[str, float]]:
    """Tanks, stands and spare tanks that are carried, with their mass. [kg]."""
    things = [("an empty tank", mass) for facts in systems for mass in facts.lifted_kg]
    things += [(f"the stand of {system.name}", system.stand_kg) for system in _carried(leg)]
    return things + [(spare_item(system).name, spare_item(system).kg) for system in leg.spares]


def _too_heavy(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...]) -> list[Problem]:
    """Say what is too heavy for those there are, aids and all, or more than they should bear for long."""
    places = (plan.place(leg.origin), plan.place(leg.destination))
    found = []
    for facts in systems if plan.lifters > 1 else ():
        stands = ((f"the stand of {one.name}", one.stand_kg) for one in facts.shift.carries)
        for name, kg in ((f"the empty tank of {facts.rebuilt.name}", max(facts.lifted_kg)), *stands):
            lift = lift_of(plan, kg, places)
            wanted = lift.enough if lift.by is By.MACHINE else lift.eased if lift.heavy else lift.people + 1
            more = f'get {wanted} people who lift ("lifts: yes" under people), or ' if wanted else ""
            most, each = (show_mass(one, plan.units) for one in (lift.aid_kg, kg / lift.people))
            how = f"{lift.people} people carry {most} at most, even with suction lifters and straps"
            if lift.heavy:
                how = f"with straps {each} for each of {lift.people} people, a heavy load"
            elif lift.short:
                how = f"over the stairs {lift.people} people want one more at its lower end"
            if lift.by is By.MACHINE or lift.heavy or lift.short:
                where = plan.where(f"systems.{facts.system.id}")
                firm = "have it carried by a firm that moves heavy glass"
                found.append(Problem(f"{name} weighs {show_mass(kg, plan.units)}; {how}", where, more + firm))
    return found
