from __future__ import annotations

from moveplan.quantities.assemble import facts_of
from moveplan.quantities.packing import Packing
from moveplan.quantities.tubs import TUB_EMPTY_SHARE, TWO_PEOPLE_KG, WATER_KG_L
from tests.quantities.plans import edited, plan_of


def packings(*changes: tuple[str, str]) -> dict[str, Packing]:
    """Containers of every group of the plan, edited."""
    plan = edited(*changes) if changes else plan_of()
    return {group.livestock.id: group.packing for facts in facts_of(plan).systems for group in facts.groups}


def test_every_traveller_has_containers_and_a_safe_time() -> None:
    found = packings()
    assert list(found) == ["clowns", "goby", "snails", "corals"]
    for packing in found.values():
        assert packing.count >= 1
        assert packing.safe.estimate.low > 0
        assert packing.safe.estimate.source


def test_no_container_is_too_heavy_for_two() -> None:
    for packing in packings().values():
        if packing.gear == "tub":
            full = packing.water_l + packing.gas_l
            assert WATER_KG_L * packing.water_l + TUB_EMPTY_SHARE * full <= TWO_PEOPLE_KG + 1e-6


def test_peaceful_fish_may_share_and_fighters_travel_apart() -> None:
    found = packings()
    assert found["clowns"].shares_with == ()
    assert "clowns" not in found["goby"].shares_with


def test_corals_share_racked_tubs_and_others_one_of_their_own() -> None:
    found = packings()
    assert found["corals"].gear == found["snails"].gear == "tub"
    assert "snails" not in found["corals"].shares_with
    assert found["corals"].aerated
    assert found["snails"].count == 1


def test_who_is_sick_or_leaves_or_is_only_wished_for_does_not_travel() -> None:
    found = packings(
        ("kind: goby, count: 1", "kind: goby, count: 1, sick: 1"),
        ("kind: snail, count: 10", "kind: snail, count: 10, leaves: 10"),
    )
    assert list(found) == ["clowns", "corals"]


def test_what_is_toxic_travels_alone() -> None:
    found = packings(
        (
            "  corals: {name",
            "  zoas: {name: Zoanthid rocks, kind: zoanthid, count: 2, size: 8 cm}\n"
            "  soft: {name: Leathers, kind: soft-coral, count: 2, size: 8 cm}\n  corals: {name",
        )
    )
    assert found["zoas"].shares_with == ()
    assert set(found["soft"].shares_with) == {"corals"}


def test_labels_are_in_the_units_of_the_plan() -> None:
    assert all(" l " in packing.label for packing in packings().values())
    assert all(" US gal " in packing.label for packing in packings(("units: metric", "units: us")).values())


def test_oxygen_is_used_where_there_is_some() -> None:
    gear = "gear:\n  - {id: oxygen, kind: oxygen, count: 1}\n  - {id: bags, kind: bag, count: 20, volume: 12 l}\n"
    warm = ("water-making:", gear + "water-making:")
    near = ("distance: 30 km", "distance: 2 km, drive: {low: 5 min, likely: 8 min, high: 15 min}")
    found = packings(warm, near)
    assert all(packing.oxygen for packing in found.values() if packing.gear == "bag")


def test_more_tubs_are_taken_only_against_what_they_help_against() -> None:
    """Cold comes as soon in each of many tubs; a long way in a cold van asks for warmth, not for tubs."""
    far = packings(("distance: 30 km", "distance: 400 km"))
    for packing in far.values():
        if packing.gear == "tub":
            assert packing.safe.limited_by == "temperature"
    near = packings()
    assert {name: packing.count for name, packing in far.items() if packing.gear == "tub"} == {
        name: near[name].count for name, packing in far.items() if packing.gear == "tub"
    }


def test_what_cold_ends_is_told_to_last_longer_in_a_warm_load_space() -> None:
    far = packings(("distance: 30 km", "distance: 400 km"))
    warm = packings(
        ("distance: 30 km", "distance: 400 km"),
        ("payload: 1100 kg,", "payload: 1100 kg, air-temperature: 20 C,"),
    )
    assert "a load space kept at 20 °C" in " ".join(far["snails"].safe.extends)
    assert "a load space" not in " ".join(warm["snails"].safe.extends)
    assert warm["snails"].safe.estimate.low > 2 * far["snails"].safe.estimate.low
