from __future__ import annotations

import re
from dataclasses import replace

import pytest

from moveplan.quantities.freight.freight import (
    LAYERS,
    STOWABLE,
    LoadItem,
    fill_trips,
    floor_m2,
    misfits,
    one_trip,
)
from tests.quantities.plans import TANK, van


def tub(number: int, kg: float = 30.0, *, livestock: bool = False) -> LoadItem:
    """A tub of 0.6 m by 0.4 m."""
    return LoadItem(f"tub {number}", kg, 0.6, 0.4, 0.4, livestock=livestock)


def test_everything_travels_once() -> None:
    items = tuple(tub(n, livestock=n > 15) for n in range(20))
    trips = fill_trips(items, (van("a", 200.0), van("b", 250.0)))
    packed = sorted(item.name for load in trips.loads for item in load.items)
    assert packed == sorted(item.name for item in items)


def test_no_load_is_heavier_than_its_vehicle_carries_nor_larger_than_its_floor() -> None:
    vans = (van("a", 200.0), van("b", 250.0, 1.6))
    trips = fill_trips(tuple(tub(n) for n in range(20)), vans)
    carries = {one.id: one for one in vans}
    assert trips.count == 2
    for load in trips.loads:
        vehicle = carries[load.vehicle]
        assert load.kg <= vehicle.payload_kg
        floor = sum(floor_m2(item, vehicle.load_height_m) for item in load.items)
        assert floor <= STOWABLE * vehicle.load_length_m * vehicle.load_width_m


def test_animals_are_last_on_and_on_the_last_trip_where_there_are_several() -> None:
    items = (tub(1, livestock=True), *(tub(n, 90.0) for n in range(2, 8)))
    trips = fill_trips(items, (van("a", 200.0),))
    assert trips.count == 4
    with_animals = [load for load in trips.loads if any(item.livestock for item in load.items)]
    assert [load.trip for load in with_animals] == [4]
    assert with_animals[0].items[-1].livestock


def test_heavy_things_go_in_first() -> None:
    items = (tub(1, 10.0), tub(2, 30.0), tub(3, 20.0))
    (load,) = fill_trips(items, (van("a", 500.0),)).loads
    assert [item.kg for item in load.items] == [30.0, 20.0, 10.0]


def test_stacked_things_take_half_the_floor_animals_and_glass_all_of_it() -> None:
    assert floor_m2(tub(1), 1.8) == pytest.approx(0.24 / LAYERS)
    assert floor_m2(tub(1), 0.7) == pytest.approx(0.24)
    assert floor_m2(tub(1, livestock=True), 1.8) == pytest.approx(0.24)
    assert floor_m2(LoadItem("tank", 60.0, 1.0, 0.5, 0.5, fragile=True), 1.8) == pytest.approx(0.5)


def test_without_a_vehicle_there_is_one_trip_and_no_load() -> None:
    trips = fill_trips((tub(1),), ())
    assert (trips.loads, trips.count, trips.vehicles()) == ((), 1, ())


def test_a_tank_that_goes_into_no_vehicle_is_named_with_every_reason() -> None:
    (problem,) = misfits(TANK, 62.0, (van("light", 50.0), van("short", 500.0, 0.4)), "plan.yaml:9", "metric")
    assert str(problem) == (
        "plan.yaml:9: the empty tank (100 cm × 50 cm × 50 cm, 62 kg) goes into no vehicle of the plan: light "
        "carries 50 kg; the load space of short is 40 cm × 150 cm × 180 cm; name a vehicle with a larger load space "
        "or payload under vehicles"
    )


def test_a_tank_goes_in_lengthwise_or_across() -> None:
    assert misfits(TANK, 62.0, (van("light", 50.0), van("fits", 500.0)), "", "metric") == ()
    assert misfits(TANK, 62.0, (van("across", 500.0, 0.6),), "", "metric") == ()
    assert misfits(TANK, 62.0, (), "", "metric") == ()


@pytest.mark.parametrize("count", [9, 14, 22])
def test_the_vehicle_that_is_said_to_take_it_in_one_trip_does(count: int) -> None:
    items, small = tuple(tub(n, livestock=n > 5) for n in range(count)), van("a", 200.0)
    said = one_trip(fill_trips(items, (small,)), (small,), "metric")
    found = re.fullmatch(
        r"a vehicle that carries ([\d.]+) kg on ([\d.]+ c?m) × ([\d.]+) cm of floor would take it in one trip",
        said,
    )
    assert found is not None, said
    length, unit = found[2].split()
    length_m = float(length) / (100 if unit == "cm" else 1)
    larger = replace(
        small, payload_kg=float(found[1]), load_length_m=length_m, load_width_m=float(found[3]) / 100
    )
    assert fill_trips(items, (larger,)).count == 1


def test_nothing_is_said_of_one_trip_or_of_several_vehicles() -> None:
    items = tuple(tub(n) for n in range(9))
    large, small = van("a", 2000.0, 9.0), van("b", 100.0)
    assert one_trip(fill_trips(items, (large,)), (large,), "metric") == ""
    assert one_trip(fill_trips(items, (small, small)), (small, small), "metric") == ""
    many = tuple(tub(n) for n in range(99))
    assert one_trip(fill_trips(many, (small,)), (small,), "metric") == "", "no van is that long"
