"""How much old water to keep: what changes with the share, and what moves the proposal away from nitrate alone."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from moveplan.plan.move import Plan
from moveplan.planfile import read_plan
from moveplan.practice.courses import course_of
from moveplan.practice.ways import NEW_TANK_AHEAD
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.facts import Facts
from moveplan.quantities.shares import SHOWN, Share, shares_of

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def plan(name: str, *changes: str) -> Plan:
    return read_plan(EXAMPLES / f"{name}.yaml", changes=changes)


@cache
def facts(name: str, *changes: str) -> Facts:
    return facts_of(plan(name, *changes))


def rows(name: str, *changes: str) -> tuple[Share, ...]:
    return shares_of(plan(name, *changes), facts(name, *changes))


def test_the_planned_share_stands_among_the_round_ones() -> None:
    found = rows("short_plan")
    assert [one.share for one in found] == sorted({*SHOWN, 0.6})
    assert [one.share for one in found if one.planned] == [0.6]
    assert [one.share for one in rows("house_move", "systems.display.water-kept=25 %")] == list(SHOWN)


def test_the_planned_row_is_what_the_rest_of_the_plan_goes_by() -> None:
    (planned,) = (one for one in rows("house_move") if one.planned)
    assert planned.water == facts("house_move").water
    assert planned.trips == facts("house_move").trips.count
    assert planned.gear_needed == facts("house_move").gear_needed


def test_nitrate_follows_from_the_mass_balance() -> None:
    """C kept / total: old water of a known nitrate thinned with water that has none, as in any dilution."""
    total = facts("house_move").systems[0].volumes.total.likely
    for one in rows("house_move"):
        ((_, nitrate),) = one.nitrate
        assert nitrate == pytest.approx(8.0 * one.water.kept.likely / total)
        assert one.own == pytest.approx(one.water.kept.likely / total)
        assert one.water.kept.likely + one.water.new.likely == pytest.approx(total)


def test_with_more_old_water_there_is_less_to_make_and_more_to_carry() -> None:
    found = rows("service_firm_office_tank")
    for less, more in pairwise(found):
        assert less.water.salt.likely > more.water.salt.likely
        assert less.making is not None
        assert more.making is not None
        assert less.making.likely > more.making.likely
        assert less.tubs <= more.tubs
        assert less.load_kg < more.load_kg, "new water is made at the new office, old water has to be driven"
        assert less.hands.likely < more.hands.likely
    assert found[-1].trips == 2


def test_the_load_is_tubs_and_cans_by_mass() -> None:
    for one in rows("house_move"):
        tubs = facts("house_move").systems[0].tubs
        assert one.load_kg == pytest.approx(
            one.tubs * (0.03 * tubs.volume_l + 1.025 * tubs.water_l) + one.cans * 21.5
        )


def test_water_that_is_bought_takes_no_making() -> None:
    assert all(one.making is None for one in rows("small_tank_move"))


def test_nothing_changes_where_no_tank_is_filled_on_the_day() -> None:
    ahead = plan("larger_tank_other_spot")
    (leg,) = course_of(ahead, NEW_TANK_AHEAD).legs
    assert shares_of(ahead, facts_of(ahead, leg)) == ()


def test_missing_tubs_move_the_proposal_a_little() -> None:
    found = facts("house_move").systems[0]
    assert found.share == 0.5
    assert found.water.kept.basis.endswith(
        "50 % wished: nitrate of 8 mg/l is low, and matched water spares the animals, but more would take 1 tub that "
        "is not there"
    )
    assert facts("house_move", "gear.tubs.count=20").systems[0].share == 0.6


def test_a_share_that_the_plan_names_is_left_alone() -> None:
    found = facts("house_move", "systems.display.water-kept=75 %").systems[0]
    assert found.share == 0.75
    assert found.water.kept.basis.endswith("75 % wished: as the plan says")


def test_water_that_could_not_be_made_in_time_is_kept() -> None:
    slow = "water-making.rate=7 l/day"
    found = facts("house_move", slow).systems[0]
    assert found.share == 0.8
    assert "but with less the new water could not be made in time" in found.water.kept.basis


def test_a_second_trip_moves_the_proposal() -> None:
    """A van that carries all but the last tubs of old water; new water waits at the new office."""
    heavy = ("systems.display.water-kept=none", "systems.display.nitrate=8 mg/l", "gear.tubs.count=80")
    found = facts("service_firm_office_tank", *heavy).systems[0]
    small = facts(
        "service_firm_office_tank",
        *heavy,
        "vehicles.van-one.payload=900 kg",
        "vehicles.van-two.payload=900 kg",
    ).systems[0]
    assert found.share == 0.6
    assert small.share < found.share
    assert "would take 2 trips in place of 1" in small.water.kept.basis
