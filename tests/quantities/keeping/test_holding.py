"""What a holding system holds, and who would have to go."""

from __future__ import annotations

from decimal import Decimal

import pytest

from moveplan.estimate import exactly
from moveplan.plan.livestock import Livestock
from moveplan.plan.systems import System, Tank
from moveplan.quantities.keeping.holding import daily_change, fish_water_l, holding_of, rack_m2, volume_for
from moveplan.quantities.policy import Policy

POLICY = Policy({})


def animal(
    name: str, kind: str, size_cm: float, temperament: str = "peaceful", mass_g: float | None = None
) -> Livestock:
    return Livestock(name, name, kind, 1, size_cm, mass_g, temperament, "display", Decimal(1))


def system(length_m: float = 1.0, rock_kg: float = 0.0) -> System:
    tank = Tank(length_m, 0.5, 0.5, 0.006, 0.006, "acrylic", 0.4)
    return System(
        "display", "Holding tank", "holding", "shed", "house", tank, 0.0, 10.0, 35.0, 25.5, 8.1, 8.0, 5.0,
        rock_kg, 0.0, 0.0, "keep", None, 2.0, 1.0,
    )  # fmt: skip


def water(litres: float) -> object:
    return exactly(litres, "l", "test")


def test_fish_need_a_litre_a_gram_and_half_as_much_to_spare() -> None:
    """1 g/l for more than a day, 50 % spare volume: common practice, no source."""
    groups = ((animal("one", "goby", 8.0, mass_g=40.0), 3),)
    assert fish_water_l(groups, POLICY).likely == pytest.approx(1.5 * 120)


def test_small_fish_need_ten_litres_for_five_centimetres() -> None:
    """Common practice, no source."""
    groups = ((animal("one", "goby", 5.0, mass_g=1.0), 4),)
    assert fish_water_l(groups, POLICY).likely == 40.0


def test_an_overcrowded_system_names_the_heaviest_until_the_rest_has_room() -> None:
    groups = (
        (animal("tang", "tang", 16.0, mass_g=120.0), 1),
        (animal("goby", "goby", 8.0, mass_g=10.0), 2),
    )
    found = holding_of(system(), exactly(100.0, "l", "test"), groups, POLICY)
    assert found.too_many == ("tang",)
    assert holding_of(system(), exactly(250.0, "l", "test"), groups, POLICY).too_many == ()


def test_corals_need_floor_on_the_rack() -> None:
    groups = ((animal("leather", "soft-coral", 16.0), 10),)
    assert rack_m2(groups) == pytest.approx(10 * 0.2**2 / 0.8)
    assert holding_of(system(0.8), exactly(300.0, "l", "test"), groups, POLICY).too_many == ("leather",)


def test_a_hunter_and_its_prey_are_named_and_hermits_with_snails_are_not() -> None:
    groups = (
        (animal("lion", "lionfish", 18.0, "predator"), 1),
        (animal("goby", "goby", 5.0), 1),
        (animal("hermit", "hermit-crab", 2.0), 1),
        (animal("snail", "snail", 2.0), 1),
    )
    enemies = holding_of(system(), exactly(500.0, "l", "test"), groups, POLICY).enemies
    assert ("lion", "goby") in enemies
    assert not [pair for pair in enemies if pair[0] == "hermit"]


def test_rock_takes_ammonia_up_so_that_less_water_is_changed() -> None:
    groups = ((animal("tang", "tang", 16.0, mass_g=120.0), 2),)
    bare = holding_of(system(0.4), exactly(100.0, "l", "test"), groups, POLICY)
    full = holding_of(system(0.4, 40.0), exactly(100.0, "l", "test"), groups, POLICY)
    assert full.removal.likely > bare.removal.likely
    assert full.change <= bare.change


def test_the_daily_change_holds_total_ammonia_at_its_gate() -> None:
    """Mass balance: with a share x changed each day, (c + s) (1 - x) = c at the gate c for a surplus of s mg/l."""
    share = daily_change(20.0, 200.0, 0.25)
    assert (0.25 + 20.0 / 200.0) * (1 - share) == pytest.approx(0.25)


def test_an_assumed_holding_system_has_room_for_those_it_is_made_for() -> None:
    groups = ((animal("tang", "tang", 14.0), 1), (animal("leather", "soft-coral", 12.0), 5))
    litres = volume_for(groups, POLICY)
    assert litres % 50 == 0
    assert litres >= fish_water_l(groups, POLICY).high
