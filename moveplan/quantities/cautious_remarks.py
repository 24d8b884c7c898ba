"""Things to know that come from age and size of a tank, from too little old water, and from who rides in what."""

from __future__ import annotations

from moveplan.errors import Problem
from moveplan.plan.move import Plan
from moveplan.quantities.course import Leg
from moveplan.quantities.facts import SystemFacts
from moveplan.units import show_volume

OLD_SEAMS_MONTHS = 120.0
"""Age from which the seams of a tank that is emptied and moved are looked at; common practice, no source. [month]"""
YOUNG_MONTHS = 6.0
"""Age up to which a filter has little in reserve; common practice, no source. [month]"""
LEAST_SHORT = 0.005
"""Shares of old water that differ by less read alike. [-]"""


def by_age(plan: Plan, systems: tuple[SystemFacts, ...]) -> list[Problem]:
    """Say which tank has old seams, and which filter is young.

    Parameters
    ----------
    plan : Plan
        For the lines of its systems.
    systems : tuple of SystemFacts
        Those that move.
    """
    found: list[Problem] = []
    for system, shift in ((one.system, one.shift) for one in systems):
        where, years = plan.where(f"systems.{system.id}.age"), system.age_months / 12
        if system.age_months >= OLD_SEAMS_MONTHS and shift.after.tank == system.tank:
            found.append(
                Problem(
                    f"{system.name} has run for {years:.0f} years: seams that have stood so long under water may "
                    "leak when the tank is emptied, moved and filled again",
                    where,
                    "have the seams looked at once it is empty, fill it for a day before anything goes in, or move "
                    "into another tank",
                )
            )
        if system.age_months < YOUNG_MONTHS:
            found.append(
                Problem(
                    f"{system.name} has run for {system.age_months:.0f} months only: "
                    "its bacteria have little in reserve",
                    where,
                    "measure ammonia every day for two weeks after the move, and feed little; or move it later",
                )
            )
    return found


def by_size(plan: Plan, systems: tuple[SystemFacts, ...]) -> list[Problem]:
    """Ask about a new tank that holds less than the one it takes over from.

    Parameters
    ----------
    plan : Plan
        For the lines of its systems.
    systems : tuple of SystemFacts
        Those that move.
    """
    boxes = [(one.system, one.system.tank.box_l, one.shift.after.tank.box_l) for one in systems]
    return [
        Problem(
            f"the new tank of {system.name} is smaller than the old one: {show_volume(new_l, plan.units)} after "
            f"{show_volume(old_l, plan.units)}, outside; is that meant?",
            plan.where(f"systems.{system.id}.new-tank"),
            "measure both tanks again; where it is meant, the animals have less room and less water than before",
        )
        for system, old_l, new_l in boxes
        if new_l < old_l
    ]


def by_seats(plan: Plan, leg: Leg) -> list[Problem]:
    """Say where those who help do not all find a seat.

    Parameters
    ----------
    plan : Plan
        Its people and vehicles.
    leg : Leg
        Whether anything is driven.
    """
    seats, people = sum(vehicle.seats for vehicle in plan.vehicles), len(plan.people)
    if not leg.drives or not plan.vehicles or people <= seats:
        return []
    return [
        Problem(
            f"{people} people help, and the vehicles have {seats} seats in all",
            plan.where("vehicles"),
            f"let {people - seats} of them come by other means, or add another vehicle",
        )
    ]


def by_water(plan: Plan, systems: tuple[SystemFacts, ...]) -> list[Problem]:
    """Say of which tank less old water comes out than the plan asks for, or than its animals travel in.

    Parameters
    ----------
    plan : Plan
        For the lines of its systems.
    systems : tuple of SystemFacts
        Those that move.
    """
    return [problem for facts in systems for problem in (*_less_kept(plan, facts), *_lent(plan, facts))]


def _less_kept(plan: Plan, facts: SystemFacts) -> list[Problem]:
    asked, old, kept_l = facts.system.water_kept, facts.old, facts.tubs.kept_l
    if asked is None or facts.standing or not old.drawn_l or asked - kept_l / old.there_l < LEAST_SHORT:
        return []
    there, wished, kept, short, travels, pool = (
        show_volume(litres, plan.units)
        for litres in (
            old.there_l,
            asked * old.there_l,
            kept_l,
            asked * old.there_l - kept_l,
            old.drawn_l - kept_l,
            old.pool_l,
        )
    )
    enough = 100 * kept_l / old.there_l
    return [
        Problem(
            f"{wished} of the {there} in {facts.system.name} are to be kept, and {kept} can be: {short} short; "
            f"animals travel in, and rock is kept damp with, {travels}, and {pool} at the bottom are thrown away",
            plan.where(f"systems.{facts.system.id}.water-kept"),
            f'the rest is mixed: write "water-kept: {enough:.0f} %", or leave it out',
        )
    ]


def _lent(plan: Plan, facts: SystemFacts) -> list[Problem]:
    old = facts.old
    if not old.lent_l or not old.drawn_l:
        return []
    lent, drawn = (show_volume(litres, plan.units) for litres in (old.lent_l, old.drawn_l))
    return [
        Problem(
            f"containers of animals, rock and media of {facts.system.name} take {lent} more than the {drawn} of old "
            "water that can be drawn for them",
            plan.where(f"systems.{facts.system.id}"),
            "so much new water, mixed and matched, fills them too: it is made, and on the bill; smaller companies or "
            "containers (container: under livestock) take less",
        )
    ]
