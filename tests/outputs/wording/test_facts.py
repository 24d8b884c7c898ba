from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from moveplan.estimate import Estimate
from moveplan.outputs.wording.facts import Facts, facts_of
from moveplan.times import Interval
from tests.outputs.scene import moving_day
from tests.outputs.scene_plan import at


def facts(**changes: object) -> Facts:
    project = moving_day().project
    return facts_of(replace(project, plan=replace(project.plan, **changes)))  # type: ignore[arg-type]


MORNING = at("2027-05-22 07:30")


@pytest.mark.parametrize(
    ("locale", "day", "clock"),
    [
        ("en_IE", "Saturday 22 May 2027", "07:30"),
        ("en-US", "Saturday, May 22, 2027", "7:30\u202fAM"),
        ("de_DE", "Samstag, 22. Mai 2027", "07:30"),
        ("no such locale", "Saturday, 22 May 2027", "07:30"),
    ],
)
def test_dates_are_printed_in_the_locale_of_the_plan(locale: str, day: str, clock: str) -> None:
    assert (facts(locale=locale).day(MORNING), facts(locale=locale).clock(MORNING)) == (day, clock)


def test_a_moment_names_the_year_only_where_it_is_another_than_the_plans() -> None:
    assert facts().moment(MORNING) == "Sat, 22 May, 07:30"
    assert facts().moment(at("2028-01-02 08:00")) == "Sun 2 Jan 2028, 08:00"


def test_a_limit_at_midnight_ends_the_day_before() -> None:
    assert facts(locale="en_US").until(at("2027-05-23 00:00")) == "Sat, May 22, end of the day"
    assert facts().until(at("2027-05-23 00:04")) == "Sat, 22 May, end of the day"
    assert facts().until(at("2027-05-23 00:05")) == "Sun, 23 May, 00:05"


def test_a_span_names_the_second_day_only_where_it_is_another() -> None:
    assert facts().span(Interval(MORNING, MORNING + 45)) == "07:30 – 08:15"
    assert facts().span(Interval(MORNING, MORNING + 1440)) == "07:30 – Sun, 23 May, 07:30"
    assert facts().span(Interval(MORNING, MORNING)) == "07:30"


def test_summer_time_is_that_of_the_zone() -> None:
    assert facts().stamp(at("2027-03-27 12:00")) == "2027-03-27T12:00:00+00:00"
    assert facts().stamp(at("2027-03-28 12:00")) == "2027-03-28T12:00:00+01:00"


def test_quantities_are_printed_in_the_keepers_units() -> None:
    water = Estimate(240, 260, 280, "l", "scene")
    assert facts().amount(water) == "260 l"
    assert facts(units="us").amount(water) == "68.7 US gal"
    assert facts().spread(water) == ("240 l", "280 l")
    assert facts().amount(Estimate(80, 90, 100, "min", "scene")) == "1 h 30 min"
    assert facts().amount(Estimate(7.9, 8.0, 8.1, "dKH", "scene")) == "8 dKH"
    assert (facts(units="us").mass(38.0), facts(units="us").dimension(1.2192)) == ("83.8 lb", "48 in")
    german = facts(locale="de_DE")
    assert (german.mass(99.6), german.volume(2.66), german.temperature(25.5)) == (
        "99,6 kg",
        "2,66 l",
        "25,5 °C",
    )
    assert german.in_units("58.7 l at 2.5 °C, rule 3.1.4") == "58,7 l at 2,5 °C, rule 3.1.4"
    hire = "2 days of hire at 90.00 a day, 1180.50 in all"
    assert german.spoken(hire) == "2 days of hire at 90,00\xa0€ a day, 1.180,50\xa0€ in all"
    assert german.as_written("{volume: 2.5 l}") == "{volume: 2.5 l}"


def test_a_label_can_show_both_temperatures() -> None:
    assert (facts().temperature(25.5), facts().other_temperature(25.5)) == ("25.5 °C", "77.9 °F")
    assert facts(units="us").other_temperature(25.5) == "25.5 °C"


def test_money_has_the_currency_and_a_true_minus_sign() -> None:
    assert facts().money(Decimal("38.08")) == "€38"
    assert facts().money(Decimal(-15)) == "−€15"
    assert facts().money(Decimal("0.31")) == "under €1"
    assert facts().about(Decimal("243.53")) == "€250"
    assert [facts().gain(Decimal(one)) for one in ("243.53", "12.4", "12.5", "5.44", "0.2")] == [
        "€240",
        "€10",
        "€10",
        "€5",
        "under €1",
    ]
    assert facts(locale="de_DE").price(Decimal("1234.5")) == "1.234,50\u00a0€"
    assert (facts().price(Decimal("0.004")), facts().price(Decimal(95))) == ("€0.004", "€95.00")
    assert facts().number(Decimal("-10.00")) == "−10"


def test_a_share_is_printed_as_percent() -> None:
    assert facts().share(0.031) == "3.1 %"


@pytest.mark.parametrize(
    ("system", "container", "printed"),
    [
        ("metric", "2 × 12 l bag", "2 × 12 l (3.17 US gal) bag"),
        ("us", "3.17 US gal bag", "3.17 US gal (12 l) bag"),
        ("us", "1 × 15.9 US gal wrapped aerated tub", "1 × 15.9 US gal (60.2 l) wrapped aerated tub"),
        ("metric", "Display reef", "Display reef"),
    ],
)
def test_a_container_says_its_size_in_both_units(system: str, container: str, printed: str) -> None:
    assert facts(units=system).both_volumes(container) == printed


def test_dates_of_messages_are_told_as_people_say_them_and_what_is_to_be_written_stays() -> None:
    facts = facts_of(moving_day().project)
    told = facts.spoken('from 2027-05-22 08:00 to 10:30, by 2028-01-02 07:15: write "hire: 2027-05-22 18:00"')
    assert "2027-05-22 08" not in told
    assert "08:00 to 10:30" in told
    assert "2028" in told
    assert told.endswith('07:15: write "hire: 2027-05-22 18:00"')
    assert facts.spoken("room 2027-99-99") == "room 2027-99-99"
