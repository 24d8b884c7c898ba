"""An invented move in a few lines, and values of its parts, for the tests of quantities and of practice."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from moveplan.plan.livestock import Livestock
from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.plan.places import Place
from moveplan.plan.supplies import WaterMaking
from moveplan.plan.systems import System, Tank
from moveplan.planfile import read_plan
from moveplan.quantities.containers.choice import pack
from moveplan.quantities.containers.company import Journeys
from moveplan.quantities.containers.means import USUAL_L, Means, Spec
from moveplan.quantities.containers.packing import Packing
from moveplan.quantities.containers.stock import Stock
from moveplan.quantities.containers.travellers import Travellers
from moveplan.quantities.containers.vessels import Vessel
from moveplan.quantities.freight.lifting import TUB_KG
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Journey, LoadSpace, Surroundings
from moveplan.quantities.safe_time.verdicts import Judge
from moveplan.science.animals.kind_names import kind_named

NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001
TEXT = """\
id: 0b1d5c1e-0f0e-4b53-8a3b-0a4e3ddc9a10
title: Small reef over the hill
purpose: house-move
timezone: Europe/Dublin
locale: en_IE
units: metric
country: IE
currency: EUR
dates: {move-day: 2027-03-13, fall-back-day: 2027-03-20, earliest-start: 2027-01-09}
places:
  old: {name: Hill Row, floor: 1, steps: 14, carry: 20 m}
  new: {name: Vale Road, floor: 0, steps: 2, carry: 10 m, floor-kind: slab, distance: 30 km}
systems:
  reef:
    name: Reef
    tank: {length: 90 cm, width: 45 cm, height: 45 cm, wall: 10 mm, base: 10 mm, water-height: 40 cm}
    sump: 40 l
    stand: 40 kg
    salinity: 35
    temperature: 25 C
    nitrate: 8 mg/l
    rock: 20 kg
    sand: 18 kg
livestock:
  clowns: {name: Clownfish, kind: clownfish, count: 2, size: 7 cm, temperament: territorial}
  goby: {name: Goby, kind: goby, count: 1, size: 8 cm, temperament: timid}
  snails: {name: Snails, kind: snail, count: 10, size: 2 cm}
  corals: {name: Branching corals, kind: small-polyp-coral, count: 4, size: 8 cm}
people:
  mia: {name: Mia, drives: yes, cares: yes, lifts: yes}
  leo: {name: Leo, lifts: yes, cares: yes}
vehicles:
  van: {name: Large van, payload: 1100 kg, load-space: {length: 3.7 m, width: 1.75 m, height: 1.9 m}}
water-making: {rate: 190 l/day, storage: 200 l}
"""
"""Two people, one large van, a small tank, 30 km."""
SECOND = """\
  frags:
    name: Frag tank
    role: frag
    place: old
    moves-to: new
    tank: {length: 60 cm, width: 40 cm, height: 30 cm}
    rock: 4 kg
"""
"""A second system, to stand behind the first."""


def plan_of(text: str = TEXT, name: str = "plan.yaml") -> Plan:
    """Read a plan from its text."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_text(text, encoding="utf-8")
        return read_plan(path, NOW)


def edited(*changes: tuple[str, str], text: str = TEXT) -> Plan:
    """Read the plan with pieces of its text replaced; each must stand there once."""
    for old, new in changes:
        if text.count(old) != 1:
            msg = f"{old!r} stands {text.count(old)} times in the plan"
            raise ValueError(msg)
        text = text.replace(old, new)
    return plan_of(text)


TANK = Tank(
    length_m=1.0,
    width_m=0.5,
    height_m=0.5,
    wall_m=0.01,
    base_m=0.01,
    material="glass",
    water_height_m=0.45,
)
PLACE = Place(
    id="home",
    name="Home",
    floor=1,
    steps=20,
    carry_m=27.0,
    lift=False,
    floor_kind="suspended",
    has_water=True,
    has_power=True,
    room_temperature_c=19.0,
    door_width_m=None,
    circuit_w=None,
    country="IE",
    address="",
    room_high_c=23.0,
)
MAKING = WaterMaking(
    rate_l_day=200.0,
    rated_pressure_bar=4.14,
    feed_pressure_bar=3.5,
    water_temperature_c=12.0,
    waste_ratio=3.0,
    storage_l=100.0,
    salt_moisture=0.06,
)


def system() -> System:
    """The system of the plan."""
    return plan_of().systems[0]


def van(identity: str, payload_kg: float, length_m: float = 3.0) -> Vehicle:
    """A van of the plan's kind with another payload."""
    (one,) = plan_of().vehicles
    return Vehicle(
        id=identity,
        name=identity,
        payload_kg=payload_kg,
        load_length_m=length_m,
        load_width_m=1.5,
        load_height_m=1.8,
        seats=3,
        hired=True,
        hire_from=None,
        hire_until=None,
        hours=one.hours,
        cost_per_day=one.cost_per_day,
        cost_per_km=one.cost_per_km,
        air_temperature_c=8.0,
        air_high_c=12.0,
    )


ROOMS = Surroundings(
    temperature_c=25.5,
    salinity_psu=35.0,
    rooms_low_c=(19.0, 19.0),
    rooms_high_c=(23.0, 23.0),
    load_spaces=(LoadSpace("van", 8.0, 18.0, 0.0, 0.6),),
    pressure_kpa=101.325,
    battery_h=20.0,
)
"""Rooms of 19 to 23 °C and a van of 8 to 18 °C at sea level."""
MILD = replace(
    ROOMS,
    rooms_low_c=(25.5, 25.5),
    rooms_high_c=(25.5, 25.5),
    load_spaces=(LoadSpace("van", 25.5, 25.5, 0.0, 0.6),),
)
"""Air as warm as the water everywhere: nothing cools."""
WAY = Journey(3.0, 1.0, 4.0)
"""Three hours in the room, one on the road, four in the room."""


def group(
    name: str, kind: str, size_cm: float, count: int = 1, temperament: str = "peaceful", **more: Any
) -> Travellers:
    """Some animals that travel, line 7 of their plan."""
    animal = Livestock(
        name, name.title(), kind, count, size_cm, None, temperament, "reef", Decimal(0), **more
    )
    return Travellers(animal, kind_named(kind), count)


def means(*specs: Spec, **more: object) -> Means:
    """State what there is: the usual sizes, none of them there, two outlets, no oxygen; what is named instead."""
    usual = [Spec(kind, kind, volume_l, 0, bought=True) for kind, volume_l in USUAL_L.items()]
    named = {spec.kind for spec in specs}
    kept = Means(
        specs=(*specs, *(spec for spec in usual if spec.kind not in named)),
        oxygen=False,
        outlets=2,
        outlets_a_pump=2,
        wraps=0,
        heaters=0,
        battery_h=20.0,
        units_system="metric",
        where=lambda key: f"plan.yaml:7 {key}",
        lift_kg=TUB_KG,
    )
    return replace(kept, **more)  # type: ignore[arg-type]


def packed(
    *groups: Travellers,
    around: Surroundings = ROOMS,
    way: Journey = WAY,
    have: Means | None = None,
    policy: dict[str, float] | None = None,
) -> Mapping[str, Packing]:
    """Pack groups that are all as long in containers; those who are bagged, an hour before the road."""
    ways = Journeys(
        way,
        Journey(max(way.before_h - 1, 0.0), 0.0, 0.0),
        Journey(min(way.before_h, 1.0), way.road_h, way.after_h),
    )
    return pack(groups, lambda _: ways, around, Stock(have or means(), 2.0), Judge(Policy(policy or {})))


def water_in(vessels: Iterable[Vessel]) -> float:
    """Water in several containers. [l]."""
    return sum(vessel.water_l for vessel in vessels)
