"""Containers, pumps and heaters of a plan, and the usual ones where it names none."""

from __future__ import annotations

import pytest

from moveplan.quantities.containers.means import USUAL_L, means_of
from tests.quantities.plans import edited, plan_of


def with_gear(*items: str):  # type: ignore[no-untyped-def]
    """Read what a plan with this gear has."""
    gear = "".join(f"  - {{{item}}}\n" for item in items)
    return means_of(edited(("water-making:", f"gear:\n{gear}water-making:")))


def test_without_gear_one_usual_size_of_each_kind_is_to_be_bought() -> None:
    found = means_of(plan_of())
    assert {spec.kind: spec.volume_l for spec in found.specs} == USUAL_L
    assert all(spec.bought and spec.there == 0 for spec in found.specs)
    assert (found.outlets, found.wraps, found.heaters, found.oxygen) == (0, 0, 0, False)


def test_of_several_sizes_the_most_numerous_is_bought_and_others_are_used_as_far_as_they_go() -> None:
    found = with_gear(
        "id: few, kind: tub, count: 2, volume: 90 l", "id: many, kind: tub, count: 8, volume: 45 l"
    )
    assert found.main("tub").gear == "many"
    assert [(spec.gear, spec.there, spec.bought) for spec in found.of("tub")] == [
        ("many", 8, True),
        ("few", 2, False),
    ]
    assert [spec.kind for spec in found.of("pail", "bag")] == ["pail", "bag"]


@pytest.mark.parametrize(("count", "outlets", "usable"), [(1, 2, 0), (4, 2, 6), (2, 1, 1)])
def test_one_air_pump_is_spare(count: int, outlets: int, usable: int) -> None:
    found = with_gear(f"id: pumps, kind: air-pump, count: {count}, battery: 20 h, outlets: {outlets}")
    assert (found.outlets, found.outlets_a_pump, found.battery_h) == (usable, outlets, 20.0)


@pytest.mark.parametrize(("power", "fits"), [("25 W", 3), ("60 W", 3), ("75 W", 0), ("300 W", 0)])
def test_only_a_small_heater_hangs_in_a_tub(power: str, fits: int) -> None:
    """300 W in 18 l of water, 1.137 Wh/(l K): a kelvin in 4 min if its thermostat sticks."""
    assert with_gear(f"id: heaters, kind: heater, count: 3, power: {power}").heaters == fits


def test_oxygen_is_there_where_the_plan_has_some() -> None:
    assert with_gear("id: oxygen, kind: oxygen, count: 1").oxygen


def test_a_tub_may_weigh_what_those_who_lift_lift() -> None:
    """Two men 20 kg, one 15 kg by handles 0.3 to 0.4 m above the floor; HSE L23, recalled."""
    assert means_of(plan_of()).lift_kg == pytest.approx(20.0)
    alone = edited(("leo: {name: Leo, lifts: yes, cares: yes}", "leo: {name: Leo, lifts: no, cares: yes}"))
    assert means_of(alone).lift_kg == pytest.approx(15.0)
