"""Values that can be read and cannot be meant: each is asked about, with what it would say.

The bounds are wide: they tell a slip of the hand or of a unit from an unusual tank, and are assumed.
"""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.planfile.checks.words import at
from moveplan.planfile.draft import Draft
from moveplan.planfile.problems import Fault
from moveplan.planfile.schema.livestock import LivestockEntry
from moveplan.planfile.schema.systems import SystemEntry
from moveplan.units import show_length, show_mass, show_number, show_volume

LONGEST, SHORTEST = 5.0, 1 / 15
"""Of an animal, over the usual size of its kind in a home tank. [-]"""
HEAVIEST = 15.0
"""Of an animal, over what follows from its size, either way. [-]"""
FISH_A_LITRE, OTHERS_A_LITRE = 1.0, 5.0
"""Most animals of one entry in a tank. [1/l]"""
ROCK_KG_A_LITRE = 1.0
"""Most rock; a third of the space would be rock without a hole. [kg/l]"""
SAND_KG_A_LITRE = 1.0
"""Most sand; two thirds of the tank would be sand. [kg/l]"""
SUMPS_A_TANK = 4.0
"""Most water in the sump, over the box of the tank. [-]"""
LEAST_SALINITY = 19.0
"""What the formulas for sea water hold from. [-]"""


def sizes_of_animals(draft: Draft) -> Iterator[Fault]:
    """Ask about an animal that is far from the size of its kind, or far from the mass of its size."""
    from moveplan.science.animals.kind_names import UnknownKindError, kind_named
    from moveplan.science.animals.respiration import fish_mass_g

    units = draft.entry.units or "metric"
    for animal_id, animals in (draft.entry.livestock or {}).items():
        try:
            kind = kind_named(animals.kind[:80], draft.kinds)
        except UnknownKindError:
            continue
        path = ("livestock", animal_id)
        length_cm = animals.size or kind.length_cm
        if not SHORTEST <= length_cm / kind.length_cm <= LONGEST:
            usual, said = (show_length(one / 100, units) for one in (kind.length_cm, length_cm))
            message = f"is a {kind.name} {said} long?"
            yield at(draft, (*path, "size"), message, f'about "{usual}" is usual')
        elif animals.mass is not None:
            usual_g = fish_mass_g(length_cm, kind.coefficient_a, kind.exponent_b)
            if not 1 / HEAVIEST <= animals.mass / usual_g <= HEAVIEST:
                said = show_number(animals.mass)
                message = f"does a {kind.name} of {show_length(length_cm / 100, units)} weigh {said} g?"
                yield at(
                    draft, (*path, "mass"), message, f'write for example "{usual_g:.3g} g", or leave it out'
                )


def counts_of_animals(draft: Draft) -> Iterator[Fault]:
    """Ask about more animals than a tank has room for."""
    from moveplan.science.animals.kind_names import UnknownKindError, kind_named

    systems = draft.entry.systems or {}
    for animal_id, animals in (draft.entry.livestock or {}).items():
        system = systems.get(animals.system) if animals.system else next(iter(systems.values()), None)
        if system is None or animals.count is None:
            continue
        try:
            fish = kind_named(animals.kind[:80], draft.kinds).group == "fish"
        except UnknownKindError:
            continue
        most = int(_litres(system) * (FISH_A_LITRE if fish else OTHERS_A_LITRE))
        if animals.count > max(most, 1):
            yield at(draft, ("livestock", animal_id, "count"), _crowd(draft, animals, system), _COUNT)


_COUNT = 'write how many live there, for example "5"'


def _crowd(draft: Draft, animals: LivestockEntry, system: SystemEntry) -> str:
    held = show_volume(_litres(system), draft.entry.units or "metric")
    return f"do {animals.count} {animals.kind} live in a tank of {held}?"


def fillings_of_tanks(draft: Draft) -> Iterator[Fault]:
    """Ask about more rock, sand or sump than goes with a tank, and about water that is hardly salt."""
    units = draft.entry.units or "metric"
    for system_id, system in (draft.entry.systems or {}).items():
        path, litres = ("systems", system_id), _litres(system)
        held = show_volume(litres, units)
        for key, kilograms, most in (
            ("rock", system.rock, ROCK_KG_A_LITRE),
            ("sand", system.sand, SAND_KG_A_LITRE),
        ):
            if kilograms is not None and kilograms > most * litres:
                message = f"is there {show_mass(kilograms, units)} of {key} in a tank of {held}?"
                yield at(draft, (*path, key), message, f'write for example "{show_mass(litres / 10, units)}"')
        if system.sump is not None and system.sump > SUMPS_A_TANK * litres:
            message = f"does the sump of a tank of {held} hold {show_volume(system.sump, units)}?"
            example = show_volume(litres / 5, units)
            yield at(
                draft,
                (*path, "sump"),
                message,
                f'write the water in it while running, for example "{example}"',
            )
        if system.salinity is not None and system.salinity < LEAST_SALINITY:
            message = f"is the salinity {show_number(system.salinity)}?"
            yield at(draft, (*path, "salinity"), message, 'sea water has about "35"')


def _litres(system: SystemEntry) -> float:
    tank = system.tank
    return 1000 * tank.length * tank.width * tank.height
