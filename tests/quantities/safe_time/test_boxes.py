"""Containers in their surroundings: areas through which they lose heat, their walls, and the air around them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.quantities.containers.means import means_of
from moveplan.quantities.safe_time.boxes import Box, load_space_of, surroundings_of
from moveplan.science.heat.vehicle_air import vehicle_airs
from tests.quantities.plans import WAY, edited, plan_of, van

TUB = Box("tub", 60.0, 30.0, WAY)
BAG = Box("bag", 12.0, 4.0, WAY, insulated=True)


def test_a_tub_loses_heat_through_floor_lid_and_the_walls_up_to_its_water() -> None:
    # 0.553 m × 0.368 m; 30 l stand 0.147 m deep: 2 × 0.2036 + 2 × (0.553 + 0.368) × 0.147 = 0.678 m².
    assert TUB.floor_m2 == pytest.approx(0.2036, abs=0.0001)
    assert TUB.depth_m == pytest.approx(0.1474, abs=0.0001)
    assert TUB.area_m2 == pytest.approx(0.678, abs=0.001)
    assert replace(TUB, water_l=15.0).area_m2 < TUB.area_m2


def test_gas_is_what_water_leaves() -> None:
    assert TUB.gas_l == 30.0
    assert BAG.gas_l == 8.0


def test_bags_in_one_box_cool_together_through_its_walls() -> None:
    three = replace(BAG, neighbours=3)
    assert three.warm_l == 3 * BAG.warm_l == 12.0
    # Three bags of 12 l fill a cube of 36 l: six sides of 0.109 m²; one alone fills one of 12 l.
    assert three.area_m2 == pytest.approx(6 * 0.036 ** (2 / 3))
    assert three.area_m2 / three.warm_l < BAG.area_m2 / BAG.warm_l


def test_walls_are_bare_wrapped_or_of_a_box() -> None:
    assert TUB.wall == "tub"
    assert replace(TUB, wrapped=True).wall == "tub-wrapped"
    assert BAG.wall == "polystyrene-40"


def test_surroundings_are_those_of_the_places_and_of_every_vehicle() -> None:
    plan = edited(
        ("steps: 14, carry: 20 m", "steps: 14, carry: 20 m, room-temperature: 17 C"),
        ("floor-kind: slab,", "floor-kind: slab, altitude: 1600 m,"),
    )
    old, new = plan.places[0], plan.places[1]
    found = surroundings_of(plan, (old, new), plan.systems[0], 20.0)
    assert found.rooms_low_c == (17.0, new.room_temperature_c)
    assert found.rooms_high_c == (old.room_high_c, new.room_high_c)
    assert [space.name for space in found.load_spaces] == ["Large van"]
    assert found.pressure_kpa == pytest.approx(83.52, abs=0.01)  # 1,600 m by ISO 2533
    # 8 dKH x 0.357 meq/l over 1.024 kg/l
    assert found.alkalinity_mmol_kg == pytest.approx(2.79, abs=0.01)
    assert found.carbon_dioxide_uatm == pytest.approx(610.0, abs=15.0)


def test_where_nothing_is_driven_there_is_no_load_space() -> None:
    plan = plan_of()
    places = (plan.places[0], plan.places[0])
    assert surroundings_of(plan, places, plan.systems[0], means_of(plan).battery_h).load_spaces == ()


@pytest.mark.parametrize(
    ("parked", "air", "rises"),
    [("sun", "outside", True), ("shade", "outside", False), ("sun", "cooled", False)],
)
def test_only_a_closed_van_in_the_sun_that_nobody_cools_warms_up(
    parked: str, air: str, *, rises: bool
) -> None:
    found = load_space_of(replace(van("van", 900.0), parked=parked, load_space_air=air))
    assert found.rise_k == (vehicle_airs()["car-sun"].rise_k[2] if rises else 0.0)
    assert (found.low_c, found.high_c) == (8.0, 12.0)
