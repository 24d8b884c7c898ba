from __future__ import annotations

import pytest

from moveplan.quantities.assemble import facts_of
from moveplan.quantities.cargo import CAN_L, can_count, items_of, tub_size_m, tubs_needed
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.tubs import TWO_PEOPLE_KG
from tests.quantities.plans import TEXT, plan_of


@pytest.fixture(scope="module")
def facts() -> SystemFacts:
    (one,) = facts_of(plan_of()).systems
    return one


def names(facts: SystemFacts, words: str = "metric") -> dict[str, float]:
    """What travels, by name, with its mass."""
    packings = {group.livestock.id: group.packing for group in facts.groups}
    return {item.name: item.kg for item in items_of(facts.handled, facts.water, packings, 3, words)}


def test_a_tub_has_the_volume_it_says() -> None:
    for volume in (20.0, 60.0, 90.0):
        length, width, height = tub_size_m(volume)
        assert 1000 * length * width * height == pytest.approx(volume)


def test_tank_stand_and_sump_travel_with_what_they_weigh(facts: SystemFacts) -> None:
    found = names(facts)
    assert found["empty tank of Reef"] == pytest.approx(facts.masses.tank.likely)
    assert found["stand of Reef"] == pytest.approx(40.0)
    assert found["empty sump of Reef"] == pytest.approx(6.0)
    assert "emergency kit and tools" in found


def test_everything_wet_is_light_enough_for_two(facts: SystemFacts) -> None:
    for name, kg in names(facts).items():
        if "tub" in name and "media" not in name:
            assert kg <= TWO_PEOPLE_KG + 3 + 1e-6, name  # three kilograms of rack and corals at most
        if "can" in name:
            assert kg <= 25.0, name


def test_new_and_spare_water_fill_the_cans(facts: SystemFacts) -> None:
    count = can_count(facts.water)
    litres = facts.water.new.likely + facts.water.spare.likely
    assert CAN_L * (count - 1) < litres <= CAN_L * count
    assert sum("can" in name for name in names(facts)) == count
    assert "new-water can 1 (20 l)" in names(facts)
    assert "new-water can 1 (5.28 US gal)" in names(facts, "us")


def test_tubs_are_counted_once_however_many_groups_share_them(facts: SystemFacts) -> None:
    packings = {group.livestock.id: group.packing for group in facts.groups}
    tubs = [name for name in names(facts) if " tub " in name]
    assert tubs_needed(facts.handled, packings) == len(tubs)


ZOAS = "  zoas: {name: Buttons, kind: zoanthid, count: 2, size: 6 cm}\n"


@pytest.mark.parametrize(("more", "own"), [("", []), (ZOAS, ["Buttons tub 1"])])
def test_corals_travel_once_whether_or_not_others_share_their_tubs(more: str, own: list[str]) -> None:
    (one,) = facts_of(plan_of(TEXT.replace("people:\n", f"{more}people:\n"))).systems
    tubs = [name for name in names(one) if "coral" in name or "Buttons" in name]
    assert tubs == [*(f"coral tub {n}" for n in range(1, one.tubs.coral + 1)), *own]
