"""How much old water to keep: what changes with the share, and what moves the proposal away from nitrate alone."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from moveplan.plan.move import Plan
from moveplan.planfile import read_plan
from moveplan.practice.ways.courses import course_of
from moveplan.practice.ways.fitting import NEW_TANK_AHEAD
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.facts import Facts
from moveplan.quantities.leg.shares import Share, shares_of

EXAMPLES = Path(__file__).parents[3] / "examples"


@cache
def plan(name: str, *changes: str) -> Plan:
    return read_plan(EXAMPLES / f"{name}.yaml", changes=changes)


@cache
def facts(name: str, *changes: str) -> Facts:
    return facts_of(plan(name, *changes))


def rows(name: str, *changes: str) -> tuple[Share, ...]:
    return shares_of(plan(name, *changes), facts(name, *changes))


def test_shares_are_told_as_they_come_out_and_each_once() -> None:
    for name in ("house_move", "service_firm_office_tank"):
        found = rows(name)
        there = sum(one.old.there_l for one in facts(name).systems if not one.standing)
        assert [one.planned for one in found].count(True) == 1
        assert [one.share for one in found] == sorted(one.share for one in found)
        assert len({round(one.share, 2) for one in found}) == len(found)
        for one in found:
            assert one.share == pytest.approx(one.water.kept.likely / there)


def test_what_limits_the_share_is_said_beside_it() -> None:
    found = facts("house_move", "systems.display.water-kept=95 %").systems[0]
    comes_out = found.water.kept.likely / found.old.there_l
    assert comes_out < 0.95
    assert (
        f", {100 * comes_out:.0f} %: as the plan says; 95 % was the aim, but animals travel in"
        in found.water.kept.basis
    )
    assert "at the bottom are stirred up" in found.water.kept.basis


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
    """0.03 kg of container a litre of volume; 60 l tubs, 20 l cans; seawater as 1.025 kg/l."""
    for one in rows("small_tank_move"):
        (found,) = facts("small_tank_move").systems
        water_l = one.water.kept.likely + one.water.new.likely + found.spare_l
        assert one.load_kg == pytest.approx(
            0.03 * (one.tubs * found.tubs.volume_l + one.cans * 20) + 1.025 * water_l
        )


def test_water_that_is_bought_takes_no_making() -> None:
    assert all(one.making is None for one in rows("small_tank_move"))


def test_nothing_changes_where_no_tank_is_filled_on_the_day() -> None:
    ahead = plan("larger_tank_other_spot")
    (leg,) = course_of(ahead, NEW_TANK_AHEAD).legs
    assert shares_of(ahead, facts_of(ahead, leg)) == ()


FIRM = (
    "systems.display.water-kept=none",
    "systems.display.nitrate=8 mg/l",
    *(f"livestock.{fish}.boarded=none" for fish in ("chromis", "anthias", "wrasses")),
    "vehicles.van-two.payload=1350 kg",
    "vehicles.van-two.load-space={length: 4.2 m, width: 1.8 m, height: 2.0 m}",
    "places.new-office.distance=12 km",
    "places.new-office.drive={low: 20 min, likely: 28 min, high: 55 min}",
)
"""The office tank with water that is worth keeping, and nobody who says how much of it; its fish go over with it, in
two long vans and further away."""


def test_missing_tubs_move_the_proposal_a_little() -> None:
    found = facts("service_firm_office_tank", *FIRM).systems[0]
    assert found.share == 0.4
    assert found.water.kept.basis.endswith(
        "40 %: nitrate of 8 mg/l is low, and matched water spares the animals, but more would take 18 tubs that are "
        "not there"
    )
    assert facts("service_firm_office_tank", *FIRM, "gear.tubs.count=80").systems[0].share == 0.6


def test_a_share_that_the_plan_names_is_left_alone_and_where_it_cannot_be_kept_the_reason_is_said() -> None:
    found = facts("house_move", "systems.display.water-kept=75 %").systems[0]
    assert found.share == 0.75
    assert found.water.kept.likely < 0.75 * found.old.there_l
    assert ": as the plan says; 75 % was the aim, but animals travel in " in found.water.kept.basis
    kept = facts("service_firm_office_tank", "systems.display.water-kept=30 %").systems[0]
    assert kept.water.kept.basis.endswith("30 %: as the plan says")


def test_water_that_could_not_be_made_in_time_is_kept() -> None:
    slow = ("systems.display.nitrate=20 mg/l", "gear.tubs.count=80", "water-making.rate=26 l/day")
    found = facts("service_firm_office_tank", *FIRM, *slow).systems[0]
    assert found.share == 0.6
    assert "but with less the new water could not be made in time" in found.water.kept.basis


def test_a_second_trip_moves_the_proposal() -> None:
    """Two vans that carry all but the last tubs of old water; new water waits at the new office."""
    space = "{{length: {} m, width: 1.8 m, height: 2.0 m}}"
    one, other = (
        facts(
            "service_firm_office_tank",
            *FIRM,
            "gear.tubs.count=80",
            *(f"vehicles.{van}.payload=3000 kg" for van in ("van-one", "van-two")),
            *(f"vehicles.{van}.load-space={space.format(length)}" for van in ("van-one", "van-two")),
        ).systems[0]
        for length in (4.0, 5.4)
    )
    assert one.share == 0.6, "two trips whatever the share"
    assert other.share == 0.25
    assert "would take 2 trips in place of 1" in other.water.kept.basis
