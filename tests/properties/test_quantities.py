"""What holds for the quantities of every plan: masses and water add up, units and order do not matter."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from decimal import Decimal

import pytest
import yaml
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from moveplan.estimate import Estimate
from moveplan.plan.people import Vehicle
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.containers.vessels import Use
from moveplan.quantities.facts import Facts
from moveplan.quantities.freight.freight import STOWABLE, LoadItem, fill_trips, floor_m2
from moveplan.quantities.freight.road import drive_of
from moveplan.quantities.policy import Policy
from tests.quantities.plans import plan_of, van

MODEST = settings(max_examples=30)


@dataclass(frozen=True, slots=True)
class Reef:
    """The sizes of an invented move, in US units, which are exact multiples of metric ones."""

    length_in: int
    width_in: int
    height_in: int
    sump_gal: int
    rock_lb: int
    sand_lb: int
    fish: int
    corals: int
    miles: int


REEFS = st.builds(
    Reef,
    st.integers(24, 72),
    st.integers(14, 30),
    st.integers(14, 28),
    st.integers(0, 32),
    st.integers(0, 180),
    st.integers(0, 130),
    st.integers(0, 8),
    st.integers(0, 15),
    st.integers(2, 180),
)
INCH_CM, POUND_KG, GALLON_L, MILE_KM = map(Decimal, ("2.54", "0.45359237", "3.785411784", "1.609344"))


def text_of(reef: Reef, *, us: bool = False) -> str:
    """A plan of that move, its quantities written in metric or in US units."""

    def long(inches: float) -> str:
        return f"{inches} in" if us else f"{INCH_CM * Decimal(str(inches)):f} cm"

    def mass(pounds: int) -> str:
        return f"{pounds} lb" if us else f"{POUND_KG * pounds:f} kg"

    tank = {
        "length": long(reef.length_in),
        "width": long(reef.width_in),
        "height": long(reef.height_in),
        "wall": long(0.5),
        "base": long(0.5),
        "water-height": long(reef.height_in - 2),
    }
    plan = {
        "id": "0b1d5c1e-0f0e-4b53-8a3b-0a4e3ddc9a10",
        "title": "Any reef",
        "purpose": "house-move",
        "timezone": "Europe/Dublin",
        "locale": "en_IE",
        "units": "metric",
        "country": "IE",
        "currency": "EUR",
        "dates": {"move-day": "2027-03-13"},
        "places": {
            "old": {"floor": "1", "steps": "14", "carry": long(800)},
            "new": {"distance": f"{reef.miles} miles" if us else f"{MILE_KM * reef.miles:f} km"},
        },
        "systems": {
            "reef": {
                "tank": tank,
                "sump": f"{reef.sump_gal} US gal" if us else f"{GALLON_L * reef.sump_gal:f} l",
                "stand": mass(100),
                "temperature": "77 F" if us else "25 C",
                "salinity": "35",
                "rock": mass(reef.rock_lb),
                "sand": mass(reef.sand_lb),
            }
        },
        "livestock": {
            "fish": {"kind": "clownfish", "count": str(reef.fish + 1), "size": long(2.5)},
            "corals": {"kind": "soft-coral", "count": str(reef.corals + 1), "size": long(3.5)},
        },
        "people": {"mia": {"drives": "yes"}, "leo": {}},
        "vehicles": {"van": {"payload": mass(3000)}},
    }
    return yaml.safe_dump(plan, sort_keys=False)


def numbers(facts: Facts) -> dict[str, tuple[float, float, float]]:
    """Every estimate of a plan, by name."""
    estimates: dict[str, Estimate] = dict(facts.named)
    for one in facts.systems:
        estimates |= {f"{one.system.id} {name}": value for name, value in one.times.items()}
        estimates |= {f"{group.livestock.id} safe": group.packing.safe.estimate for group in one.groups}
    return {name: (value.low, value.likely, value.high) for name, value in estimates.items()}


def shuffled(value: object, order: random.Random) -> object:
    """The same keys in another order, all the way down; lists stay as they are."""
    if not isinstance(value, dict):
        return value
    keys = list(value)
    order.shuffle(keys)
    return {key: shuffled(value[key], order) for key in keys}


@MODEST
@given(REEFS)
def test_masses_and_water_add_up(reef: Reef) -> None:
    facts = facts_of(plan_of(text_of(reef)))
    (one,) = facts.systems
    volumes, masses, water = one.volumes, one.masses, one.water
    for end in ("low", "likely", "high"):
        parts = (masses.tank, masses.stand, masses.rock_wet, masses.sand_wet, masses.water)
        assert getattr(masses.full, end) == pytest.approx(sum(getattr(part, end) for part in parts))
    assert volumes.total.likely == pytest.approx(volumes.tank.likely + volumes.sump.likely)
    # What is kept and what is made fill the system; more is never kept than the tubs hold.
    assert water.kept.likely + water.new.likely >= volumes.total.likely - 1e-6
    assert water.kept.likely <= one.tubs.kept_l + 1e-6
    assert 0 <= water.new.low <= water.new.likely <= water.new.high


@MODEST
@given(REEFS)
def test_everything_that_travels_is_on_exactly_one_load(reef: Reef) -> None:
    facts = facts_of(plan_of(text_of(reef)))
    (vehicle,) = plan_of(text_of(reef)).vehicles
    items = [item.number or item.name for load in facts.trips.loads for item in load.items]
    assert len(items) == len(set(items))
    inside = {held.id for one in facts.systems for vessel in one.vessels for held in vessel.holds if held.id}
    waiting = {vessel.number for one in facts.systems for vessel in one.of_use(Use.WAITING)}
    numbers = {vessel.number for one in facts.systems for vessel in one.vessels}
    assert {item for item in items if item in numbers} == numbers - inside - waiting
    for load in facts.trips.loads:
        assert load.kg <= vehicle.payload_kg + 1e-6 or len(load.items) == 1


@MODEST
@given(REEFS)
def test_the_same_plan_in_other_units_has_the_same_quantities(reef: Reef) -> None:
    metric, us = (numbers(facts_of(plan_of(text_of(reef, us=flag)))) for flag in (False, True))
    assert metric.keys() == us.keys()
    for name, values in metric.items():
        assert us[name] == pytest.approx(values, rel=1e-6, abs=1.01 if name.endswith("safe") else 1e-6), name


@MODEST
@given(REEFS, st.integers(0, 2**16))
def test_the_order_of_keys_changes_nothing(reef: Reef, seed: int) -> None:
    text = text_of(reef)
    plan = yaml.safe_load(text)
    mixed = shuffled(plan, random.Random(seed))
    assert isinstance(mixed, dict)
    mixed["places"] = plan["places"]  # the first place is the old home: its order has a meaning
    again = yaml.safe_dump(mixed, sort_keys=False)
    assert numbers(facts_of(plan_of(text))) == numbers(facts_of(plan_of(again)))


ITEMS = st.lists(
    st.builds(
        LoadItem,
        st.text("abc", min_size=1, max_size=3),
        st.floats(0.1, 60.0),
        st.floats(0.1, 1.4),
        st.floats(0.1, 1.4),
        st.floats(0.1, 1.4),
        st.booleans(),
        st.booleans(),
    ),
    max_size=40,
)


@MODEST
@given(ITEMS)
def test_every_item_is_packed_once_and_no_load_is_too_heavy(items: list[LoadItem]) -> None:
    vans = (van("a", 150.0), van("b", 90.0, 2.0))
    trips = fill_trips(tuple(items), vans)
    packed = [item for load in trips.loads for item in load.items]
    assert sorted(map(id, packed)) == sorted(map(id, items))
    payload = {one.id: one.payload_kg for one in vans}
    assert all(load.kg <= payload[load.vehicle] + 1e-9 for load in trips.loads)
    assert trips.count >= max((load.trip for load in trips.loads), default=1)


@MODEST
@given(ITEMS, st.integers(1, 4))
def test_each_item_goes_on_the_first_load_with_room_for_it(items: list[LoadItem], copies: int) -> None:
    """As first-fit packing is defined: Johnson and others (1974), SIAM J. Comput. 3, 299-325 (recalled)."""
    vans = (van("a", 150.0), van("b", 90.0, 2.0))
    many = tuple(replace(item, name=f"{item.name} {number}") for item in items for number in range(copies))
    loads: list[list[LoadItem]] = []
    for item in sorted(many, key=lambda item: item.livestock):
        room = (at for at, held in enumerate(loads) if fits(vans[at % 2], [*held, item]))
        if (at := next(room, len(loads))) == len(loads):
            loads.append([])
        loads[at].append(item)
    # Where each vehicle drives once, animals ride together in one of them: another rule than first fit.
    assume(len(loads) > len(vans) or sum(any(item.livestock for item in held) for held in loads) < 2)
    wanted = {
        ("ab"[at % 2], at // 2 + 1): sorted(item.name for item in held) for at, held in enumerate(loads)
    }
    trips = fill_trips(many, vans)
    assert wanted == {
        (load.vehicle, load.trip): sorted(item.name for item in load.items) for load in trips.loads
    }


def fits(vehicle: Vehicle, items: list[LoadItem]) -> bool:
    floor = STOWABLE * vehicle.load_length_m * vehicle.load_width_m
    taken = sum(floor_m2(item, vehicle.load_height_m) for item in items)
    return sum(item.kg for item in items) <= vehicle.payload_kg and taken <= floor


@MODEST
@given(st.lists(st.floats(0.1, 2000.0), min_size=2, max_size=6))
def test_a_longer_way_never_takes_less_time(ways_km: list[float]) -> None:
    plan = plan_of()
    (drive,) = plan.drives
    times = [
        drive_of(replace(plan, drives=(replace(drive, distance_km=km),)), "old", "new", Policy({}))
        for km in sorted(ways_km)
    ]
    for end in ("low", "likely", "high"):
        minutes = [getattr(one, end) for one in times]
        assert minutes == sorted(minutes)
