"""An invented move in a few lines, and values of its parts, for the tests of quantities and of practice."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.plan.places import Place
from moveplan.plan.supplies import WaterMaking
from moveplan.plan.systems import System, Tank
from moveplan.planfile import read_plan

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
    )
