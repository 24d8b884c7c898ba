"""What is worth saying about the quantities: numbers to show, things to know, and what cannot be done at all."""

from __future__ import annotations

from moveplan.errors import Problem
from moveplan.estimate import Estimate
from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.plan.systems import System, Tank
from moveplan.quantities.cargo import spare_item
from moveplan.quantities.course import Leg
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.floors import floor_needs_engineer
from moveplan.quantities.freight import Trips, misfits, sides
from moveplan.quantities.policy import Policy
from moveplan.quantities.sooner import Sooner
from moveplan.quantities.tubs import ONE_PERSON_KG
from moveplan.quantities.volumes import empty_tank_kg
from moveplan.quantities.water import Water
from moveplan.units import show_duration, show_length, show_mass

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
    found += _cold(plan, systems, shorter)
    if len(plan.people) == 1 and not _alone(plan, leg, systems):
        found.append(
            Problem(
                f"{plan.people[0].name} moves it alone",
                plan.where("people"),
                "ask somebody to be within reach by telephone all day, and lift nothing twice; a second pair of hands "
                "for the moving day is the cheapest safety there is",
            )
        )
    return (*found, *_deep_sand(plan, systems))


def _cold(plan: Plan, systems: tuple[SystemFacts, ...], shorter: Sooner) -> list[Problem]:
    """Say which tank takes long to warm on the day, and what would do it sooner."""
    return [
        Problem(
            f"{facts.rebuilt.name} takes {show_duration(round(facts.times['warm'].likely))} to warm on the day",
            plan.where(f"systems.{facts.system.id}.equipment"),
            hint,
        )
        for facts, hint in zip(systems, shorter.heat, strict=True)
        if hint
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
    """Say what one person cannot lift; nothing where it is light enough, or there are two."""
    lifters = plan.lifters
    if lifters >= 2 or not plan.people or not systems or (lifters and _light(plan, leg, systems)):
        return ()
    heaviest = max(max(facts.masses.tank.likely, facts.before.tank.likely) for facts in systems)
    words = f"an empty tank of {show_mass(heaviest, plan.units)}"
    if not lifters:
        words += f" and tubs of more than {show_mass(ONE_PERSON_KG, plan.units)}"
    alone = Problem(
        f"{words} {'needs' if lifters else 'need'} two people who lift; the plan has {lifters}",
        plan.where("people"),
        'add a second person with "lifts: yes" under people, for the moving day at least',
    )
    return (alone,)


def _light(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...]) -> bool:
    """Whether one person lifts every tub, every tank and every stand that is carried."""
    capacity_kg = Policy(plan.policy)["lift_capacity"]
    tubs = [facts.tubs.lift_kg for facts in systems]
    tanks = [mass for facts in systems for mass in (facts.masses.tank.likely, facts.before.tank.likely)]
    stands = [system.stand_kg for system in _carried(leg)]
    spares = [spare_item(system).kg for system in leg.spares]
    return max((*tubs, *tanks, *stands, *spares)) <= capacity_kg
