"""Several systems moved together: a display, a frag tank and a quarantine tank, each way, and livestock split."""

from __future__ import annotations

from pathlib import Path

import pytest

from moveplan.errors import CannotBeDoneError
from moveplan.network.task import Kind
from moveplan.planfile import read_plan
from moveplan.practice.compose import project_of
from moveplan.practice.project import Project
from tests import examples
from tests.examples import EXAMPLES

FRAGS = (
    "systems.frags={name: Frag tank, place: %s, moves-to: %s, sump: 0 l, stand: 15 kg, rock: 2 kg, sand: 0 kg, "
    "feed: 0.3 g/day, tank: {length: 60 cm, width: 40 cm, height: 35 cm, wall: 6 mm, base: 6 mm, material: glass, "
    "water-height: 30 cm}, equipment: {heater: {kind: heater, power: 100 W}}}"
)
SICK_BAY = (
    "systems.sick-bay={name: Quarantine tank, role: quarantine, place: %s, moves-to: %s, sump: 0 l, stand: 12 kg, "
    "rock: 0 kg, sand: 0 kg, feed: 0.2 g/day, tank: {length: 60 cm, width: 35 cm, height: 35 cm, wall: 6 mm, base: "
    "6 mm, material: glass, water-height: 30 cm}, equipment: {heater: {kind: heater, power: 100 W}}}"
)
ANIMALS = (
    "livestock.plugs={name: Coral frags, kind: soft-coral, count: 12, size: 4 cm, system: frags}",
    "livestock.gramma={name: Royal gramma, kind: gramma, count: 1, size: 6 cm, system: sick-bay}",
)
BOARDED = (
    "places.shop={name: Tide pool shop, floor: 0, distance: 5 km, drive: {low: 8 min, likely: 12 min, high: 25 min}}",
    "boarding.shop={name: Coral table at the shop, place: shop, volume: 300 l, cost: 3 per day}",
    "livestock.leathers.boarded=shop",
    "livestock.hammers.boarded=shop",
)
MOVES = {
    "house_move_with_gap": ("flat", "house"),
    "house_move_into_larger_tank": ("flat", "cottage"),
    "larger_tank_same_spot": ("home", "home"),
    "larger_tank_other_spot": ("home", "home"),
}


def three(name: str, *changes: str) -> Project:
    ends = MOVES[name]
    return examples.project(name, FRAGS % ends, SICK_BAY % ends, *ANIMALS, *changes)


def ids(found: Project) -> set[str]:
    return {task.id for task in found.network.tasks}


@pytest.mark.parametrize("name", MOVES)
def test_three_systems_make_one_sound_network(name: str) -> None:
    """One beginning, one end, nothing that dangles: the rules of GAO-16-89G (recalled) hold for these too."""
    network = three(name).network
    driving = {link.before for link in network.links if link.relation.from_finish}
    driven = {link.after for link in network.links if not link.relation.to_finish}
    assert [task.id for task in network.tasks if task.id not in driven] == ["agree-plan"]
    assert [task.id for task in network.tasks if task.id not in driving][:-1] == []
    for task in network.tasks:
        assert task.crew is not None or task.kind in (Kind.WAIT, Kind.HOLD_POINT), task.id
    titles = [(task.title, task.place) for task in network.tasks if not task.id.endswith("-in")]
    assert len(titles) == len(set(titles))


def test_each_body_of_water_waits_in_a_holding_system_of_its_own() -> None:
    found = three("house_move_with_gap")
    names = {task.title for task in found.network.tasks if task.id.startswith("holding-ready-")}
    assert names == {
        "Holding tank is ready for animals",
        "Holding tank of Frag tank is ready for animals",
        "Holding tank of Quarantine tank is ready for animals",
    }
    assumed = [one for one in found.assumptions if one.key == "systems.holding"]
    assert [one.value for one in assumed] == [
        "a holding system of 100 l of its own for Frag tank",
        "a holding system of 100 l of its own for Quarantine tank",
    ]
    assert all("what the animals that wait need" in one.why for one in assumed)


@pytest.mark.parametrize("name", ["larger_tank_same_spot", "larger_tank_other_spot"])
def test_systems_that_change_neither_place_nor_tank_are_left_alone(name: str) -> None:
    found = three(name)
    assert not [task for task in ids(found) if "frags" in task or "sick-bay" in task]
    assert [(one.key, one.value) for one in found.assumptions if "stays as it is" in one.value] == [
        ("systems.frags", "Frag tank stays as it is"),
        ("systems.sick-bay", "Quarantine tank stays as it is"),
    ]


def test_beside_a_tank_that_is_ripe_the_others_are_rebuilt_on_the_day() -> None:
    found = ids(three("house_move_into_larger_tank"))
    assert {"cycle-done-display", "place-tank-frags", "fill-tank-sick-bay"} <= found
    assert "cycle-done-frags" not in found


def test_corals_are_boarded_while_the_fish_move() -> None:
    found = three("house_move_with_gap", *BOARDED)
    out = found.network.task("board-out-shop")
    assert out.title == "Bring 3 × Leather corals and 3 × Hammer colonies to Coral table at the shop"
    assert out.steps[0].startswith("Lift 3 × Leather corals and 3 × Hammer colonies under water")
    assert not any("trap" in step for step in out.steps)
    assert "corals-out-display" not in ids(found)
    assert {"catch-fish-display", "board-back-shop-in"} <= ids(found)


def test_a_tank_without_rock_has_shelters_to_take_out() -> None:
    network = three("house_move_into_larger_tank").network
    assert network.task("rock-out-sick-bay").title == "Take shelters and pipes out of Quarantine tank"
    assert network.task("rock-in-sick-bay").title == "Put shelters and pipes back into Quarantine tank"
    assert "mark-positions-sick-bay" not in {task.id for task in network.tasks}


def test_systems_that_go_different_ways_are_refused_in_a_sentence() -> None:
    plan = read_plan(
        Path(EXAMPLES / "house_move_into_larger_tank.yaml"), changes=(FRAGS % ("cottage", "flat"), ANIMALS[0])
    )
    with pytest.raises(CannotBeDoneError) as caught:
        project_of(plan)
    (problem,) = caught.value.problems
    assert problem.message == (
        "Frag tank moves from Weir Cottage to Dock Street flat, Display reef from Dock Street flat to Weir Cottage: "
        "a plan follows one way"
    )
    assert problem.remedy == "write a plan of its own for Frag tank, or correct its place and moves-to"
    assert "systems.frags" in problem.where
