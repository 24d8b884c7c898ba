"""What if: values put in place of others, counted from what stands there, and every message about what cannot be."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import pytest

from moveplan.errors import PlanFileError
from moveplan.plan.move import Plan
from moveplan.planfile.problems import ContradictionError
from moveplan.planfile.reader import plan_of
from moveplan.planfile.shifted import Shift, step_of

NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001
PLAN = """\
title: A move
timezone: Europe/Dublin
dates: {move-day: 2027-03-13, access-from: 2027-03-11 12:00, keys-back: 2027-03-26 12:00, earliest-start: 2027-01-09}
places: {old: {}, new: {distance: 20 km}, shop: {distance: 4 km}}
systems: {reef: {tank: {length: 120 cm, width: 60 cm, height: 55 cm}, rock: 30 kg}}
livestock: {snails: {kind: snail, count: 10}}
people: {ines: {away: [2027-02-13 to 2027-02-14]}, tom: {}}
vehicles: {van: {payload: 1000 kg, hire: {from: 2027-03-12 16:00, until: 2027-03-14 10:00}}}
boarding: {shop: {place: shop, volume: 200 l, from: 2027-03-10, until: 2027-03-20}}
prices:
"""


def changed(*changes: str, usual: dict[str, str] | None = None) -> Plan:
    return plan_of(PLAN.encode(), Path("plan.yaml"), NOW, changes, usual)


def message(*changes: str) -> str:
    with pytest.raises(PlanFileError) as caught:
        changed(*changes)
    return str(caught.value)


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("+14 days", Shift(14)),
        ("-2 weeks", Shift(-14)),
        ("+ 1 day", Shift(1)),
        ("+0.5 days", None),
        ("14 days", None),
        ("+14", None),
    ],
)
def test_steps(text: str, step: Shift | None) -> None:
    assert step_of(text) == step


def test_dates_move_with_what_is_booked_for_them() -> None:
    before, after = changed(), changed("dates=+7 days")
    assert before.dates is not None
    assert after.dates is not None
    assert after.dates.move_days == (date(2027, 3, 20),)
    assert after.dates.earliest_start == before.dates.earliest_start
    assert after.boarding[0].first == date(2027, 3, 17)
    week = 7 * 1440
    moved = [(before.dates.access_from, after.dates.access_from)]
    moved += [(before.vehicles[0].hire_from, after.vehicles[0].hire_from)]
    moved += [(before.vehicles[0].hire_until, after.vehicles[0].hire_until)]
    assert all(one is not None and other == one + week for one, other in moved)
    assert after.people[0] == before.people[0]


def test_one_date_moves_alone() -> None:
    before, after = changed(), changed("dates.keys-back=+1 week")
    assert before.dates is not None
    assert after.dates is not None
    assert (
        after.dates.keys_back == (before.dates.keys_back or 0) + 7 * 1440 - 60
    )  # summer time begins meanwhile
    assert after.dates.move_days == before.dates.move_days


def test_numbers_are_scaled_with_their_unit() -> None:
    assert changed("vehicles.van.payload=-20 %").vehicles[0].payload_kg == 800
    assert changed("systems.reef.rock=+33 %").systems[0].rock_kg == pytest.approx(39.9)
    assert changed("livestock.snails.count=+50 %").livestock[0].count == 15


def test_what_is_assumed_counts_where_nothing_stands() -> None:
    """A tenth less than the usual 80 % is 72 %; three tenths more than the 60 % named here are 78 %."""
    assert changed("confidence=-10 %").confidence == pytest.approx(0.72)
    kept = changed("systems.reef.water-kept=+30 %", usual={"systems.reef.water-kept": "60 %"})
    assert kept.systems[0].water_kept == pytest.approx(0.78)


def test_blocks_that_may_stand_there_are_begun() -> None:
    plan = changed("risks.fish-fight=strike", "prices.salt=4 per kg", "policy.alarm-oxygen=4 mg/l")
    assert plan.risks[0].strike
    assert [price.item for price in plan.prices] == ["salt"]
    assert plan.policy


def test_changes_that_gainsay_the_rest_are_told_apart() -> None:
    with pytest.raises(ContradictionError) as caught:
        changed("dates.keys-back=-4 weeks")
    assert str(caught.value) == (
        "plan.yaml:3 dates.keys-back: the old home is left before the move-day 2027-03-13; write a later time"
    )


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        (
            "people.tim=none",
            'plan.yaml:7 people.tim: a change names it, but the plan has no such entry; did you mean "tom"?',
        ),
        (
            "people.bob.cost=3 per hour",
            "plan.yaml:7 people.bob: a change names it, but the plan has no such entry; keys here are ines, tom",
        ),
        (
            "dates",
            'plan.yaml: "dates" is not a change; write for example "dates.access-from=2027-03-27",'
            ' "people.tom=none" or "dates=+14 days"',
        ),
        (
            "dates=+30 %",
            'plan.yaml:3 dates: only days can be added to dates; write for example "dates=+14 days"',
        ),
        (
            "systems.reef.rock=+3 days",
            'plan.yaml:5 systems.reef.rock: "+3 days" cannot be added to what stands there; days and weeks are added'
            ' to dates, percent to numbers: "+14 days", "-2 weeks", "+30 %"',
        ),
        (
            "dates.keys-back=+3 %",
            'plan.yaml:3 dates.keys-back: "+3 %" cannot be added to what stands there; days and weeks are added to'
            ' dates, percent to numbers: "+14 days", "-2 weeks", "+30 %"',
        ),
        (
            "systems.reef.water-kept=+30 %",
            'plan.yaml:5 systems.reef.water-kept: nothing stands there to which "+30 %" could be added; write the value'
            " itself instead of what is added to it",
        ),
        (
            "livestock.snails.count=+33 %",
            'plan.yaml:6 livestock.snails.count: "13.3" is not a whole number; write for example "2"',
        ),
        (
            "dates.keys-back=+9999 weeks",
            "plan.yaml:3 dates.keys-back: 2218-11-13 is out of range; write a year from 2000 to 2199",
        ),
    ],
)
def test_what_cannot_be_changed_is_said(change: str, expected: str) -> None:
    assert message(change) == expected
