"""Tanks with their water, complete."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.plan.systems import Equipment, NewTank, System, Tank
from moveplan.planfile.fill import usual
from moveplan.planfile.fill.notes import Notes, named
from moveplan.planfile.fill.usual import USUAL, Usual
from moveplan.planfile.schema.systems import EquipmentEntry, NewTankEntry, SystemEntry, TankEntry
from moveplan.units import show_number


@dataclass(frozen=True, slots=True)
class Homes:
    """Where systems stand and go unless the plan says otherwise.

    Parameters
    ----------
    old, new : str
        Ids of places; the same for a move within the home.
    """

    old: str
    new: str


def systems(entries: Mapping[str, SystemEntry], homes: Homes, notes: Notes) -> tuple[System, ...]:
    """Complete every system."""
    return tuple(_system(system_id, entry, homes, notes) for system_id, entry in entries.items())


def _system(system_id: str, entry: SystemEntry, homes: Homes, notes: Notes) -> System:
    key = f"systems.{system_id}"
    role = notes.fill(entry.role, f"{key}.role", USUAL["role"], str)
    tank = _tank(entry.tank, f"{key}.tank", notes)
    sump_l = notes.quantity(entry.sump, f"{key}.sump", _sump(tank, role), "l")
    sand_kg, depth_m = _sand(entry, tank, role, key, notes)
    place = notes.fill(entry.place, f"{key}.place", Usual(homes.old, "the first place is the old home"), str)
    return System(
        id=system_id,
        name=named(entry.name, system_id),
        role=role,
        place=place,
        moves_to=notes.fill(entry.moves_to, f"{key}.moves-to", _target(homes), str),
        tank=tank,
        sump_l=sump_l,
        stand_kg=notes.quantity(entry.stand, f"{key}.stand", _stand(tank), "kg"),
        salinity_psu=notes.fill(entry.salinity, f"{key}.salinity", USUAL["salinity"], float),
        temperature_c=notes.quantity(entry.temperature, f"{key}.temperature", USUAL["temperature"], "°C"),
        ph_nbs=notes.fill(entry.ph, f"{key}.ph", USUAL["ph"], float),
        alkalinity_dkh=notes.quantity(entry.alkalinity, f"{key}.alkalinity", USUAL["alkalinity"], "dKH"),
        nitrate_mg_l=notes.quantity(entry.nitrate, f"{key}.nitrate", USUAL["nitrate"], "mg/l"),
        rock_kg=notes.quantity(entry.rock, f"{key}.rock", _rock(tank, role), "kg"),
        sand_kg=sand_kg,
        sand_depth_m=depth_m,
        old_sand=notes.fill(entry.old_sand, f"{key}.old-sand", USUAL["old-sand"], str),
        water_kept=entry.water_kept,
        feed_g_per_day=notes.quantity(entry.feed, f"{key}.feed", _feed(tank), "g/day"),
        age_months=notes.quantity(entry.age, f"{key}.age", USUAL["age"], "month"),
        equipment=_running(entry.equipment, key, tank, sump_l, notes),
        new_tank=_new_tank(entry.new_tank, f"{key}.new-tank", homes, notes) if entry.new_tank else None,
    )


def inner_litres(tank: Tank) -> float:
    """Volume inside the panes, to the rim, in litres."""
    length_m, width_m = tank.length_m - 2 * tank.wall_m, tank.width_m - 2 * tank.wall_m
    return length_m * width_m * (tank.height_m - tank.base_m) * 1000.0


def usual_wall_mm(height_m: float, length_m: float) -> int:
    """Thickness of the sides that is usual for a tank, in millimetres."""
    wall = next(mm for most_m, mm in usual.WALL_BY_HEIGHT_M if height_m <= most_m)
    return _thicker(wall) if length_m > usual.LONG_TANK_M else wall


def _thicker(thickness_mm: float) -> int:
    return next((mm for mm in usual.NOMINAL_THICKNESSES_MM if mm > thickness_mm), round(thickness_mm))


def _tank(entry: TankEntry, key: str, notes: Notes) -> Tank:
    wall = Usual(f"{usual_wall_mm(entry.height, entry.length)} mm", usual.WALL_WHY)
    wall_m = notes.quantity(entry.wall, f"{key}.wall", wall, "m")
    base = Usual(f"{_thicker(wall_m * 1000)} mm", usual.BASE_WHY)
    base_m = notes.quantity(entry.base, f"{key}.base", base, "m")
    depth_mm = math.floor((entry.height - usual.RIM_M - base_m) * 1000 + 1e-6)
    water = Usual(f"{show_number(max(depth_mm, 20) / 10)} cm", usual.WATER_WHY)
    return Tank(
        length_m=entry.length,
        width_m=entry.width,
        height_m=entry.height,
        wall_m=wall_m,
        base_m=base_m,
        material=notes.fill(entry.material, f"{key}.material", USUAL["material"], str),
        water_height_m=notes.quantity(entry.water_height, f"{key}.water-height", water, "m"),
    )


def _target(homes: Homes) -> Usual:
    if homes.old == homes.new:
        return Usual(homes.new, "the only home")
    return Usual(homes.new, "the new home: the second place, those aside that board animals")


def _sump(tank: Tank, role: str) -> Usual:
    if role != "display":
        return USUAL["no-sump"]
    return Usual(f"{round(usual.SUMP_SHARE * inner_litres(tank))} l", usual.SUMP_WHY)


def _stand(tank: Tank) -> Usual:
    return Usual(f"{round(usual.STAND_KG_A_METRE * tank.length_m)} kg", usual.STAND_WHY)


def _rock(tank: Tank, role: str) -> Usual:
    if role != "display":
        return USUAL["no-rock"]
    return Usual(f"{round(usual.ROCK_KG_A_LITRE * inner_litres(tank))} kg", usual.ROCK_WHY)


def _feed(tank: Tank) -> Usual:
    return Usual(f"{max(0.1, round(usual.FEED_G_A_LITRE * inner_litres(tank), 1))} g/day", usual.FEED_WHY)


def _sand(entry: SystemEntry, tank: Tank, role: str, key: str, notes: Notes) -> tuple[float, float]:
    litres_a_metre = tank.inner_area_m2 * 1000.0
    if entry.sand is not None:
        depth_mm = round(entry.sand / usual.SAND_KG_A_LITRE / litres_a_metre * 1000)
        depth = Usual(f"{show_number(depth_mm / 10)} cm", usual.SAND_DEPTH_FROM_MASS_WHY)
        return entry.sand, notes.quantity(entry.sand_depth, f"{key}.sand-depth", depth, "m")
    bed = (
        USUAL["no-sand-bed"]
        if role != "display"
        else Usual(f"{show_number(usual.SAND_DEPTH_MM / 10)} cm", usual.SAND_DEPTH_WHY)
    )
    depth_m = notes.quantity(entry.sand_depth, f"{key}.sand-depth", bed, "m")
    mass = Usual(f"{round(depth_m * litres_a_metre * usual.SAND_KG_A_LITRE)} kg", usual.SAND_WHY)
    return notes.quantity(entry.sand, f"{key}.sand", mass, "kg"), depth_m


def _running(
    entries: Mapping[str, EquipmentEntry] | None, key: str, tank: Tank, sump_l: float, notes: Notes
) -> tuple[Equipment, ...]:
    if entries is None:
        written = _usual_set(inner_litres(tank), sump_l)
        texts = (
            f"{name}: {{{', '.join(f'{k}: {v}' for k, v in row.items())}}}" for name, row in written.items()
        )
        notes.add(f"{key}.equipment", f"{{{', '.join(texts)}}}", usual.EQUIPMENT_SET_WHY)
        entries = {name: EquipmentEntry.model_validate(row) for name, row in written.items()}
    return tuple(_equipment(name, entry, f"{key}.equipment.{name}", notes) for name, entry in entries.items())


def _usual_set(litres: float, sump_l: float) -> dict[str, dict[str, str]]:
    heating_w = max(50, math.ceil(usual.HEATER_W_A_LITRE * litres / 50) * 50)
    stream_l_h = max(500, round(usual.TURNOVER_STREAM_PER_H * litres / 500) * 500)
    rows = {
        "heater": _row("heater", f"{heating_w} W"),
        "stream": _row("circulation-pump", "20 W", f"{stream_l_h} l/h"),
        "light": _row("light", "100 W"),
    }
    if sump_l > 0:
        return_l_h = max(500, round(usual.TURNOVER_RETURN_PER_H * litres / 500) * 500)
        rows["return"] = _row("return-pump", "40 W", f"{return_l_h} l/h")
        rows["skimmer"] = _row("skimmer", "20 W")
    return rows


def _row(kind: str, power: str, flow: str = "0 l/h") -> dict[str, str]:
    return {"kind": kind, "count": "1", "power": power, "flow": flow, "mass": usual.EQUIPMENT_MASSES[kind]}


def _equipment(name: str, entry: EquipmentEntry, key: str, notes: Notes) -> Equipment:
    guessed = name if name in usual.EQUIPMENT_MASSES else "other"
    kind = notes.fill(entry.kind, f"{key}.kind", Usual(guessed, "taken from the id"), str)
    flow = usual.EQUIPMENT_FLOWS.get(kind)
    power = Usual(usual.EQUIPMENT_POWERS[kind], usual.EQUIPMENT_WHY)
    return Equipment(
        id=name,
        name=named(entry.name, name),
        kind=kind,
        count=notes.fill(entry.count, f"{key}.count", USUAL["count"], int),
        power_w=notes.quantity(entry.power, f"{key}.power", power, "W"),
        flow_l_h=notes.quantity(entry.flow, f"{key}.flow", Usual(flow, usual.FLOWING_WHY), "l/h")
        if flow
        else entry.flow or 0.0,
        mass_kg=notes.quantity(
            entry.mass, f"{key}.mass", Usual(usual.EQUIPMENT_MASSES[kind], usual.EQUIPMENT_WHY), "kg"
        ),
    )


def _new_tank(entry: NewTankEntry, key: str, homes: Homes, notes: Notes) -> NewTank:
    tank = _tank(entry.tank, f"{key}.tank", notes)
    return NewTank(
        tank=tank,
        sump_l=notes.quantity(entry.sump, f"{key}.sump", _sump(tank, "display"), "l"),
        stand_kg=notes.quantity(entry.stand, f"{key}.stand", _stand(tank), "kg"),
        spot="other" if homes.old != homes.new else notes.fill(entry.spot, f"{key}.spot", USUAL["spot"], str),
        delivery_days=notes.quantity(entry.delivery, f"{key}.delivery", USUAL["delivery"], "day"),
        price=str(entry.price.amount) if entry.price else "",
        seeding=notes.fill(entry.seeding, f"{key}.seeding", USUAL["seeding"], str),
        rock_kg=notes.quantity(entry.rock, f"{key}.rock", USUAL["no-purchase"], "kg"),
        sand_kg=notes.quantity(entry.sand, f"{key}.sand", USUAL["no-purchase"], "kg"),
        equipment=tuple(
            _equipment(name, row, f"{key}.equipment.{name}", notes)
            for name, row in (entry.equipment or {}).items()
        ),
    )
