"""What travels, item by item, with its mass and size."""

from __future__ import annotations

from collections import Counter

import pytest

from moveplan.quantities.assemble import facts_of
from moveplan.quantities.containers.pricing import ONE_HAND_KG
from moveplan.quantities.containers.vessels import Use, Vessel
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.freight.freight import LoadItem
from moveplan.quantities.freight.lifting import TUB_KG, bearers
from moveplan.quantities.freight.sizes import tub_size_m
from moveplan.quantities.leg.cargo import items_of
from tests.quantities.plans import edited, plan_of

ONE_PERSON_KG = 15.0
"""One man takes it up by handles low down; Health and Safety Executive, L23, recalled. [kg]"""


@pytest.fixture(scope="module")
def facts() -> SystemFacts:
    (one,) = facts_of(plan_of()).systems
    return one


def items(facts: SystemFacts) -> tuple[LoadItem, ...]:
    return items_of(facts.handled, facts.vessels, ONE_PERSON_KG)


def test_a_tub_has_the_volume_it_says() -> None:
    for volume in (20.0, 60.0, 90.0):
        length, width, height = tub_size_m(volume)
        assert 1000 * length * width * height == pytest.approx(volume)


def test_tank_stand_and_sump_travel_with_what_they_weigh(facts: SystemFacts) -> None:
    found = {item.name: item.kg for item in items(facts)}
    assert found["empty tank of Reef"] == pytest.approx(facts.masses.tank.likely)
    assert found["stand of Reef"] == pytest.approx(40.0)
    assert found["empty sump of Reef"] == pytest.approx(6.0)
    assert "emergency kit and tools" in found


def test_every_container_travels_once_under_its_number_with_what_it_weighs(facts: SystemFacts) -> None:
    numbered = {item.number: item for item in items(facts) if item.number}
    assert len(numbered) == sum(bool(item.number) for item in items(facts))
    travelling = [one for one in facts.vessels if one.kind != "bag" and one.use is not Use.WAITING]
    assert numbered.keys() == {vessel.number for vessel in travelling}
    for vessel in travelling:
        assert numbered[vessel.number].kg == pytest.approx(vessel.kg + inside_kg(facts, vessel))


def inside_kg(facts: SystemFacts, box: Vessel) -> float:
    """What the bags weigh that stand in a box."""
    own = {held.id for held in box.holds} if box.use is Use.BAGS else set()
    return sum(one.kg for one in facts.vessels if one.number in own)


def test_everything_wet_is_light_enough_for_those_who_carry_it(facts: SystemFacts) -> None:
    for vessel in facts.vessels:
        assert vessel.kg <= {"can": 16.0, "pail": ONE_HAND_KG}.get(vessel.kind, TUB_KG) + 1e-6, vessel


def test_new_and_spare_water_fill_the_cans(facts: SystemFacts) -> None:
    for use, litres in ((Use.NEW_WATER, facts.water.new.likely), (Use.SPARE_WATER, facts.spare_l)):
        cans = facts.of_use(use)
        assert sum(can.water_l for can in cans) == pytest.approx(litres)
        assert 14.0 * (len(cans) - 1) < litres <= 14.0 * len(cans)


def test_bags_travel_in_their_boxes_and_what_they_waited_in_stays() -> None:
    bags = "  - {id: bags, kind: bag, count: 20, volume: 12 l}\n  - {id: boxes, kind: box, count: 4, volume: 40 l}\n"
    plan = edited(
        ("water-making:", f"gear:\n{bags}water-making:"),
        ("size: 7 cm, temperament: territorial", "size: 7 cm, temperament: territorial, container: bag"),
    )
    (one,) = facts_of(plan).systems
    bagged = [vessel for vessel in one.vessels if vessel.kind == "bag"]
    boxes = one.of_use(Use.BAGS)
    assert len(bagged) >= 2
    assert sorted(held.id for box in boxes for held in box.holds) == sorted(bag.number for bag in bagged)
    found = {item.number: item for item in items(one) if item.number}
    assert not {vessel.number for vessel in (*bagged, *one.of_use(Use.WAITING))} & found.keys()
    for box in boxes:
        assert found[box.number].kg == pytest.approx(box.kg + inside_kg(one, box))
        assert found[box.number].rigid


@pytest.mark.parametrize("most_kg", [ONE_PERSON_KG, 7.2])
def test_sand_travels_whole_in_as_few_buckets_as_one_person_carries(
    facts: SystemFacts, most_kg: float
) -> None:
    buckets = [item for item in items_of(facts.handled, (), most_kg) if item.name.startswith("bucket of")]
    wet_kg = 1.3 * 18  # drained sand over dry: common practice, no source
    assert sum(item.kg for item in buckets) == pytest.approx(wet_kg)
    assert all(item.kg <= most_kg and bearers(item) == 1 for item in buckets)
    assert (len(buckets) - 1) * most_kg < wet_kg


def test_animals_go_in_last(facts: SystemFacts) -> None:
    order = [item.livestock for item in items(facts)]
    assert order == sorted(order)
    last = facts.of_use(Use.ANIMALS, Use.CORALS, Use.MEDIA, Use.BAGS)
    assert Counter(order)[True] == sum(one.kind != "bag" for one in last)
