from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.quantities.assemble import facts_of
from moveplan.quantities.containers.means import MAINS_PUMP
from moveplan.quantities.containers.vessels import Use, Vessel
from moveplan.quantities.course import rebuilt
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.leg.lading import gear_of
from moveplan.quantities.leg.legs import plain_leg
from tests.quantities.plans import SECOND, TEXT, edited, plan_of, water_in


def of_animals(facts: SystemFacts) -> tuple[Vessel, ...]:
    """Containers of animals; bags are filled out of those in which they wait, if they do."""
    found = facts.of_use(Use.ANIMALS, Use.CORALS, Use.WAITING)
    waiting = {own for vessel in facts.of_use(Use.WAITING) for own in vessel.livestock}
    return tuple(vessel for vessel in found if vessel.kind != "bag" or not waiting & set(vessel.livestock))


def open_vessels(facts: SystemFacts) -> tuple[Vessel, ...]:
    """Containers that are filled when clean water is drawn."""
    return (*of_animals(facts), *facts.of_use(Use.ROCK, Use.MEDIA, Use.OLD_WATER))


def test_kept_and_new_water_fill_the_system() -> None:
    facts = facts_of(plan_of())
    (one,) = facts.systems
    assert facts.water.kept.likely + facts.water.new.likely == pytest.approx(one.volumes.total.likely)


def test_the_loads_weigh_what_the_parts_weigh() -> None:
    facts = facts_of(plan_of())
    masses = [item.kg for load in facts.trips.loads for item in load.items]
    assert all(kg > 0 for kg in masses)
    assert sum(load.kg for load in facts.trips.loads) == pytest.approx(sum(masses))
    assert facts.trips.vehicles() == ("van",)


def test_the_plans_share_of_old_water_is_kept() -> None:
    (wished,) = facts_of(edited(("    rock: 20 kg", "    water-kept: 10 %\n    rock: 20 kg"))).systems
    (usual,) = facts_of(plan_of()).systems
    assert wished.water.kept.likely == pytest.approx(0.1 * wished.old.there_l)
    assert wished.water.kept.likely < usual.water.kept.likely
    assert wished.water.kept.basis == "18 l of 178 l in 2 tubs, 10 %: as the plan says"


def test_no_more_is_drawn_than_stands_above_the_pool_in_which_fish_are_caught() -> None:
    (one,) = facts_of(edited(("    rock: 20 kg", "    water-kept: 100 %\n    rock: 20 kg"))).systems
    old = one.old
    assert old.pool_l == pytest.approx(1000 * 0.88 * 0.43 * 0.10)
    assert old.drawn_l == pytest.approx(old.there_l - old.pool_l)
    assert old.lowered_l == pytest.approx(0.0)
    assert old.drawn_l + old.lent_l == pytest.approx(water_in(open_vessels(one)))
    assert one.water.kept.likely == pytest.approx(
        old.there_l - old.pool_l - water_in(of_animals(one)) - one.tubs.used_l
    )


def test_containers_for_which_the_old_water_is_too_little_are_filled_with_new_water_that_is_mixed() -> None:
    many = edited(("water-height: 40 cm", "water-height: 22 cm"), ("sump: 40 l", "sump: 0 l"))
    (one,) = facts_of(many).systems
    assert one.old.lent_l > 0
    assert one.water.kept.likely == 0.0
    assert one.old.drawn_l + one.old.lent_l == pytest.approx(water_in(open_vessels(one)))
    assert one.water.mixed_l >= one.volumes.total.likely + one.water.spare.likely + one.old.lent_l


def test_two_systems_add_up() -> None:
    plan = plan_of(TEXT.replace("livestock:\n", SECOND + "livestock:\n"))
    facts = facts_of(plan)
    assert [one.system.id for one in facts.systems] == ["reef", "frags"]
    assert facts.water.kept.likely == pytest.approx(sum(one.water.kept.likely for one in facts.systems))
    names = [name for name, _ in facts.named]
    assert "frags: water" in names
    assert names[-1] == "drive"


def test_the_gear_needed_is_counted_against_what_is_there() -> None:
    gear = "gear:\n  - {id: tubs, kind: tub, count: 3, volume: 60 l}\n"
    rows = {
        kind: (needed, there)
        for kind, needed, there in facts_of(edited(("water-making:", gear + "water-making:"))).gear_needed
    }
    assert rows["tub"][1] == 3
    assert rows["tub"][0] > 3
    assert rows["heater"] == (2, 0)
    assert rows["air-pump"][0] >= 2


def test_in_one_home_air_comes_from_the_mains_and_on_the_road_from_batteries() -> None:
    (facts,) = facts_of(plan_of()).systems
    ten = [replace(facts.vessels[0], stones=2)] * 5

    def pumps(gear: str, *, driven: bool) -> dict[str, tuple[int, int]]:
        plan = edited(("water-making:", f"gear: [{gear}]\nwater-making:"))
        rows = gear_of(plan, ten, driven=driven)
        return {kind: (needed, there) for kind, needed, there in rows if kind.endswith("air-pump")}

    battery, wall = "{id: b, kind: air-pump, count: 3}", "{id: w, kind: mains-air-pump, outlets: 6}"
    assert pumps("", driven=True) == {"air-pump": (11, 0)}
    assert pumps("", driven=False) == {"air-pump": (1, 0), MAINS_PUMP: (3, 0)}
    assert pumps(battery, driven=False) == {"air-pump": (4, 3), MAINS_PUMP: (2, 0)}
    assert pumps(f"{battery}, {wall}", driven=False) == {"air-pump": (4, 3), MAINS_PUMP: (2, 1)}
    assert pumps(f"{battery}, {wall}", driven=True) == {"air-pump": (11, 3)}


def test_more_people_carry_and_care() -> None:
    alone = facts_of(
        edited(("leo: {name: Leo, lifts: yes, cares: yes}", "leo: {name: Leo, lifts: no, cares: no}"))
    )
    both = facts_of(plan_of())
    assert (alone.carriers, both.carriers) == (1, 2)
    (one,), (two,) = alone.systems, both.systems
    assert one.times["corals-out"].likely > two.times["corals-out"].likely
    assert alone.impossible
    assert not both.impossible


def test_sand_that_is_kept_or_absent_is_not_rinsed() -> None:
    assert "sand-rinse" in facts_of(plan_of()).systems[0].times
    kept = facts_of(edited(("    sand: 18 kg", "    sand: 18 kg\n    old-sand: keep")))
    assert "sand-rinse" not in kept.systems[0].times
    bare = facts_of(edited(("    sand: 18 kg", "    sand: 0 kg")))
    assert "sand-rinse" not in bare.systems[0].times


def test_the_same_tank_is_rebuilt_where_there_is_no_new_one() -> None:
    (one,) = plan_of().systems
    assert rebuilt(one) is one
    leg = plain_leg(plan_of())
    assert leg.drives
    assert leg.shifts[0].carries == (one,)


def test_a_heavy_tank_on_a_suspended_floor_and_a_small_vehicle_are_worth_knowing() -> None:
    plan = edited(
        ("floor: 0, steps: 2, carry: 10 m, floor-kind: slab", "floor: 2, steps: 30, carry: 10 m"),
        ("length: 90 cm, width: 45 cm, height: 45 cm", "length: 180 cm, width: 70 cm, height: 45 cm"),
        ("payload: 1100 kg", "payload: 400 kg"),
    )
    messages = [problem.message for problem in facts_of(plan).findings]
    assert any(message.startswith("running, Reef weighs ") for message in messages)
    assert any(message.startswith("the load needs ") for message in messages)
    assert facts_of(plan_of()).findings == ()


def test_a_hire_on_another_day_carries_nothing() -> None:
    hire = "hire: {from: 2027-03-14 08:00, until: 2027-03-15 18:00}"
    space = "load-space: {length: 4 m, width: 1.8 m, height: 1.9 m}"
    other = f"  second: {{name: Late van, payload: 1500 kg, {space}, {hire}}}\n"
    plan = edited(("water-making:", other + "water-making:"))
    assert facts_of(plan).trips.vehicles() == ("van",)


def test_every_estimate_says_where_it_comes_from() -> None:
    facts = facts_of(plan_of())
    estimates = [value for _, value in facts.named]
    estimates += [value for one in facts.systems for value in one.times.values()]
    estimates += list(facts.times.values())
    for value in estimates:
        assert value.low <= value.likely <= value.high
        assert value.basis
        assert value.unit


def test_without_livestock_nothing_is_packed() -> None:
    plan = replace(plan_of(), livestock=())
    facts = facts_of(plan)
    assert facts.systems[0].groups == ()
    assert all(
        not item.livestock or "media" in item.name for load in facts.trips.loads for item in load.items
    )
