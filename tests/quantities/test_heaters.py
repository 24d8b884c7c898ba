"""Spare heaters: which there are, how many hang on a circuit, and that no two tanks are warmed by the same one."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from moveplan.pipeline import compose
from moveplan.plan.supplies import GearItem
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.heaters import Heater, by_gear, fewest_heaters, hung, power_w, spare_heaters
from tests.examples import plan
from tests.quantities.plans import plan_of

MIXED = (
    GearItem("small", "Tub heaters", "heater", 3, power_w=25.0),
    GearItem("weak", "Weak heater", "heater", 1, power_w=100.0),
    GearItem("strong", "Strong heaters", "heater", 2, power_w=300.0),
)


def test_the_strongest_hang_first_and_only_whole_ones() -> None:
    heaters = spare_heaters(replace(plan_of(), gear=MIXED))
    assert by_gear(heaters) == (("strong", 2), ("weak", 1))
    assert power_w(hung(heaters, 700.0)) == 700.0
    assert power_w(hung(heaters, 699.0)) == 600.0
    assert hung(heaters, 99.0) == ()


def test_what_is_missing_is_ordered() -> None:
    bare = replace(plan_of(), gear=())
    assert spare_heaters(bare) == (Heater("heater", 200.0),) * fewest_heaters(bare)
    assert len(spare_heaters(bare, 3)) == fewest_heaters(bare) + 3


@pytest.mark.parametrize("name", ["house_move", "several_systems"])
def test_no_spare_heater_is_dealt_to_two_tanks(name: str) -> None:
    facts = facts_of(plan(name))
    dealt = Counter(one.gear for system in facts.systems for one in system.helping)
    assert dealt
    assert dealt <= Counter(dict(by_gear(spare_heaters(plan(name)))))
    for system in facts.systems:
        own = sum(one.count * one.power_w for one in system.rebuilt.equipment if one.kind == "heater")
        assert system.heater_w == own + power_w(system.helping)


def test_each_tank_of_several_has_one_at_least() -> None:
    several = replace(plan("several_systems"), gear=())
    systems = facts_of(several).systems
    assert fewest_heaters(several) == len(systems) == 2, "the tank that travels empty and dry needs none"
    assert all(system.helping for system in systems)


def test_where_all_own_heaters_would_boil_a_tub_a_weaker_one_is_ordered() -> None:
    """The example has three of 300 W and a tub that is heated; with a small one of its own nothing is ordered."""
    strong, own = plan("house_move"), plan("house_move", "gear.few={kind: heater, count: 1, power: 25 W}")
    assert {item.power_w for item in strong.gear if item.kind == "heater"} == {300.0}
    for one, there in ((strong, 0), (own, 1)):
        project = compose(one)
        heated = [use.vessel for use in project.ledger.containers if use.vessel.heater_w]
        assert [vessel.heater_w for vessel in heated] == [25.0]
        assert ("tub-heater", 1, there) in project.gear_needed
        ordered = [
            step for task in project.network.tasks if task.id == "order-missing" for step in task.steps
        ]
        assert ("1 × small heater with thermostat" in " ".join(ordered)) is (not there)
        assert any("tub heater" in said.message for said in project.findings) is (not there)
