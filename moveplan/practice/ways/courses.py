"""The legs of each way of moving: what goes over from where into what, on which day."""

from __future__ import annotations

from calendar import SATURDAY
from dataclasses import dataclass, replace
from datetime import date, timedelta

from moveplan import units
from moveplan.plan.move import Assumption, Plan
from moveplan.plan.systems import Equipment, System, Tank
from moveplan.practice.ways.fitting import HOLD_OVER, NEW_TANK_AHEAD, SAME_SPOT, SHUT_DOWN
from moveplan.practice.ways.situation import Situation, situation_of
from moveplan.quantities.course import Leg, Shift
from moveplan.quantities.keeping.holding import volume_for
from moveplan.quantities.leg.legs import plain_leg
from moveplan.quantities.packed import staying_of
from moveplan.quantities.policy import Policy

HOLDING_DEPTH_M = 0.45
"""Depth of an assumed holding tank. [m]"""
WAITED_IN = 0.8
"""Share of the water of a holding system that goes on with the animals; common practice, no source. [-]"""


@dataclass(frozen=True, slots=True)
class Course:
    """A way of moving laid out.

    Parameters
    ----------
    way : str
        Its name.
    legs : tuple of Leg
        One or two, in order of time.
    assumptions : tuple of Assumption
        What had to be assumed for it.
    """

    way: str
    legs: tuple[Leg, ...]
    assumptions: tuple[Assumption, ...] = ()


def course_of(plan: Plan, way: str) -> Course:
    """Lay a way of moving out.

    Parameters
    ----------
    plan : Plan
        Whose facts allow it.
    way : str
        One of the ways of :mod:`moveplan.practice.ways.fitting`.
    """
    plain = plain_leg(plan)
    if way == HOLD_OVER:
        return _held(plan, plain)
    if way == SHUT_DOWN:
        return _shut(plan, plain)
    if way == NEW_TANK_AHEAD:
        shifts = tuple(
            replace(shift, standing=True, placed=True) if shift.before.new_tank else shift
            for shift in plain.shifts
        )
        there = plain.drives and any(
            shift.standing for shift in shifts
        )  # somebody works there for weeks anyway
        waves = not plain.drives
        return Course(way, (replace(plain, shifts=shifts, in_waves=waves, water_there=there, ripens=True),))
    if way == SAME_SPOT:
        return Course(way, (plain,))
    return Course(way, (plain,))


def _shut(plan: Plan, plain: Leg) -> Course:
    closing = tuple(Shift(shift.before, shift.before) for shift in plain.shifts)
    first = replace(plain, shifts=closing, gives_away=True, destination=plain.origin, spares=())
    day, assumed = _restart_day(plan)
    if day is None:
        return Course(SHUT_DOWN, (first,))
    place = plain.destination
    opening = tuple(
        Shift(shift.after, shift.after, standing=True, placed=True, target=shift.target)
        for shift in plain.shifts
    )
    again = Leg(opening, place, place, (day,), empty=True, ripens=True)
    return Course(SHUT_DOWN, (first, again), assumptions=assumed)


def _restart_day(plan: Plan) -> tuple[date | None, tuple[Assumption, ...]]:
    dates = plan.dates
    if dates is not None and dates.restart_day is not None:
        return dates.restart_day, ()
    if plan.purpose == SHUT_DOWN:
        return None, ()
    day = situation_of(plan).last_day + timedelta(days=14)
    why = "a fortnight after the move, so that the way can be weighed; the plan names no day"
    return day, (Assumption("dates.restart-day", day.isoformat(), why),)


def _held(plan: Plan, plain: Leg) -> Course:
    facts = situation_of(plan)
    holdings, assumed = _holdings(plan, facts)
    out = tuple(_into(shift, holdings[shift.before.id], facts.interim) for shift in plain.shifts)
    back = tuple(
        _back(shift, there.after, facts.interim, holdings[shift.before.id])
        for shift, there in zip(plain.shifts, out, strict=True)
    )
    day, more = _second_day(plan, facts)
    legs = (
        _carrying(
            replace(plain, shifts=out, destination=facts.interim, waits=True, water_there=False),
            plain.spares,
        ),
        _carrying(Leg(back, facts.interim, plain.destination, (day,)), plain.spares),
    )
    return Course(HOLD_OVER, legs, (*assumed, *more))


def _carrying(leg: Leg, spares: tuple[System, ...]) -> Leg:
    """Let spare tanks travel along where there is a way to drive."""
    return replace(leg, spares=spares if leg.drives else ())


def _into(shift: Shift, holding: System, place: str) -> Shift:
    """Move a system's animals and rock into the holding system."""
    before = shift.before
    after = replace(
        holding, id=before.id, rock_kg=before.rock_kg, sand_kg=0.0, sand_depth_m=0.0, moves_to=before.moves_to
    )
    drives = before.place != place and before.new_tank is None
    return Shift(
        before,
        after,
        standing=True,
        placed=True,
        carries=(before,) if drives else (),
        target=f"{before.id}.holding",
    )


def _back(shift: Shift, waiting: System, place: str, holding: System) -> Shift:
    """Move them from the holding system into the tank that they will have."""
    before = replace(
        waiting,
        place=place,
        moves_to=shift.before.moves_to,
        old_sand=shift.before.old_sand,
        new_tank=shift.before.new_tank,
    )
    carried = shift.before.new_tank is None and place != shift.before.moves_to
    return Shift(
        before,
        replace(shift.after, place=holding.place),
        standing=shift.before.place == shift.before.moves_to,
        placed=shift.placed,
        benched=shift.benched,
        carries=(shift.before,) if carried else (),
        kept=(WAITED_IN, "the animals have lived in the water of the holding system for days or weeks"),
        source=f"{before.id}.holding",
        target=shift.target,
    )


def _second_day(plan: Plan, facts: Situation) -> tuple[date, tuple[Assumption, ...]]:
    dates = plan.dates
    if dates is not None and dates.move_in_day is not None:
        return dates.move_in_day, ()
    earliest = max(facts.access_day or facts.last_day, facts.last_day) + timedelta(days=2)
    day = earliest + timedelta(days=(SATURDAY - earliest.weekday()) % 7)
    why = "first Saturday on which the tank can be set up and the animals can go into it"
    return day, (Assumption("dates.move-in-day", day.isoformat(), why),)


def _holdings(plan: Plan, facts: Situation) -> tuple[dict[str, System], tuple[Assumption, ...]]:
    """Give each system a holding system of its own: bodies of water that were apart are not mixed on the way."""
    given = [system for system in plan.systems if system.role == "holding"]
    holdings = dict(zip((one.id for one in facts.moving), given, strict=False))
    assumed: list[Assumption] = []
    for system in facts.moving[len(given) :]:
        litres = volume_for(staying_of(plan, system), Policy(plan.policy))
        several = len(facts.moving) > 1
        name = f"Holding tank of {system.name}" if several else "Holding tank"
        holdings[system.id] = _assumed(system, litres, facts.interim, name)
        shown = units.show_volume(litres, plan.units)
        whose = f" of its own for {system.name}" if several else ""
        why = "what the animals that wait need, and half as much to spare; a system with role: holding replaces it"
        assumed.append(Assumption("systems.holding", f"a holding system of {shown}{whose}", why))
    return holdings, tuple(assumed)


def _assumed(display: System, litres: float, place: str, name: str) -> System:
    width = 0.5
    length = litres / 1000 / HOLDING_DEPTH_M / width
    tank = Tank(length, width, HOLDING_DEPTH_M + 0.05, 0.006, 0.006, "acrylic", HOLDING_DEPTH_M)
    equipment = (
        Equipment("heater", "Guarded heater", "heater", 2, 200.0, 0.0, 0.5),
        Equipment("filter", "Seeded sponge filter", "return-pump", 1, 20.0, 1500.0, 2.0),
        Equipment("stream", "Circulation pump", "circulation-pump", 1, 15.0, 3000.0, 1.0),
        Equipment("light", "Modest lamp", "light", 1, 60.0, 0.0, 3.0),
    )
    return replace(
        display,
        id="holding",
        name=name,
        role="holding",
        place=place,
        tank=tank,
        sump_l=0.0,
        stand_kg=15.0,
        equipment=equipment,
        new_tank=None,
    )
