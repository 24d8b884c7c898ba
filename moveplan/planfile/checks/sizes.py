"""Tanks hold together as bodies."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.planfile.checks.words import at
from moveplan.planfile.draft import Draft
from moveplan.planfile.fill.systems import usual_wall_mm
from moveplan.planfile.problems import Fault
from moveplan.planfile.schema.systems import TankEntry
from moveplan.units import show_length, show_volume

MOST_L = 10_000
"""Largest box of a tank that is planned; a public aquarium is no job for this program. Assumed. [l]"""


def _tanks(draft: Draft) -> Iterator[tuple[tuple[str, ...], TankEntry]]:
    for system_id, system in (draft.entry.systems or {}).items():
        yield ("systems", system_id, "tank"), system.tank
        if system.new_tank is not None:
            yield ("systems", system_id, "new-tank", "tank"), system.new_tank.tank


def people_could_keep_it(draft: Draft) -> Iterator[Fault]:
    """Want a tank of a size that people keep: millimetres are easily written as centimetres."""
    for path, tank in _tanks(draft):
        litres = 1000 * tank.length * tank.width * tank.height
        if litres <= MOST_L:
            continue
        units = draft.entry.units or "metric"
        sides = " × ".join(show_length(side, units) for side in (tank.length, tank.width, tank.height))
        yield at(
            draft,
            path,
            f"{sides} would hold {show_volume(litres, units)}; this program plans tanks up to "
            f"{show_volume(MOST_L, units)}",
            "write its outer sizes with their unit, such as {length: 1200 mm, width: 500 mm, height: 550 mm}",
        )


def panes_leave_room(draft: Draft) -> Iterator[Fault]:
    """Want room between the panes."""
    for path, tank in _tanks(draft):
        wall_m = tank.wall or usual_wall_mm(tank.height, tank.length) / 1000
        if 2 * wall_m >= min(tank.length, tank.width):
            yield at(
                draft,
                (*path, "wall"),
                "two sides are thicker than the tank",
                "give thickness and outer size of one tank",
            )
        elif tank.base is not None and tank.base >= tank.height:
            yield at(
                draft,
                (*path, "base"),
                "the base is thicker than the tank is high",
                "give thickness and outer size",
            )


def water_stays_below_the_rim(draft: Draft) -> Iterator[Fault]:
    """Want the water line between base and rim."""
    for path, tank in _tanks(draft):
        if tank.water_height is None or (tank.base or 0.0) >= tank.height:
            continue
        room_m = tank.height - (tank.base or 0.0)
        if tank.water_height > room_m:
            units = draft.entry.units or "metric"
            level, inside = show_length(tank.water_height, units), show_length(room_m, units)
            message = f"the water would stand {level} high in a tank that is {inside} high inside"
            example = show_length(room_m * 0.9, units)
            yield at(draft, (*path, "water-height"), message, f'write for example "{example}"')
