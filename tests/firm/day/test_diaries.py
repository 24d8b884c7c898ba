"""Drives of a day: a crew comes from the base and goes back to it, and whoever does more goes on from there."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from moveplan.firm.day.diaries import Leg, TooMuch, legs_of, too_much, too_soon
from moveplan.firm.day.roads import BASE, Roads
from moveplan.firm.file.reader import read_firm
from moveplan.firm.placing.traces import Stop
from moveplan.times import Interval, local_day
from tests.firm.firms import EXAMPLES

WAYS = {
    (one, two): (15, 5.0)
    for one in (BASE, "a.old", "a.new", "b.old")
    for two in (BASE, "a.old", "a.new", "b.old")
}
ROADS = Roads(WAYS)
MOVE = Stop(600, 900, "a", "a.old", "a.new", 300, ("carry",), moving=True)


def test_whoever_came_with_the_crew_goes_back_with_it_before_a_visit_of_their_own() -> None:
    visit = Stop(930, 1000, "a", "a.old", "a.old", 70, ("clean",))
    assert legs_of(ROADS, (MOVE, visit)) == (
        Leg(BASE, "a.old", 15, 585, "a"),
        Leg("a.new", BASE, 15, 900, "a"),
        Leg(BASE, "a.old", 15, 915),
        Leg("a.old", BASE, 15, 1000),
    )
    assert not list(too_soon(ROADS, (MOVE, visit)))


def test_a_visit_for_which_there_is_no_time_by_the_base_comes_too_soon() -> None:
    visit = Stop(915, 1000, "a", "a.old", "a.old", 85, ("clean",))
    early = Stop(500, 580, "b", "b.old", "b.old", 80, ("look",))
    assert list(too_soon(ROADS, (MOVE, visit))) == [(MOVE, visit, 30)]
    assert list(too_soon(ROADS, (early, MOVE))) == [(early, MOVE, 30)]


def test_desk_work_after_a_visit_is_done_where_one_is_and_after_a_crew_at_the_base() -> None:
    desk = Stop(910, 940, "a", BASE, BASE, 30, ("order",))
    assert list(too_soon(ROADS, (MOVE, desk))) == [(MOVE, desk, 15)]
    visit = Stop(800, 900, "b", "b.old", "b.old", 100, ("look",))
    assert not list(too_soon(ROADS, (visit, desk)))
    assert legs_of(ROADS, (visit, desk)) == (Leg(BASE, "b.old", 15, 785), Leg("b.old", BASE, 15, 940))


def test_two_moving_days_with_too_short_a_night_between_let_none_of_the_crew_begin_so_early() -> None:
    """Home at 22:15, so nobody leaves before 9:15; the other way round all are to be home by 18:45 for 5:45."""
    firm = read_firm(EXAMPLES / "firm.yaml")
    jun, eve = firm.worker("jun"), local_day(date(2027, 5, 4), firm.zone).start
    day = eve + 1440
    one = Stop(eve + 20 * 60, eve + 22 * 60, "a", "a.old", "a.new", 120, ("carry",), moving=True)
    two = Stop(day + 6 * 60, day + 7 * 60, "b", "b.old", "b.old", 60, ("catch",), moving=True)
    home, leaves = eve + 22 * 60 + 15, day + 6 * 60 - 15
    aside = jun.rest_min + 15
    assert too_much(firm, ROADS, jun, (one, two), "b") == TooMuch(crew=(Interval(home, home + aside),))
    assert too_much(firm, ROADS, jun, (one, two), "a") == TooMuch(crew=(Interval(leaves - aside, leaves),))
    later = replace(two, start=home + aside, finish=home + aside + 60)
    assert too_much(firm, ROADS, jun, (one, later), "b") == TooMuch()


def test_a_visit_gives_way_to_the_night_and_no_moving_day_does() -> None:
    firm = read_firm(EXAMPLES / "firm.yaml")
    jun, eve = firm.worker("jun"), local_day(date(2027, 5, 4), firm.zone).start
    day = eve + 1440
    late = Stop(eve + 20 * 60, eve + 22 * 60, "a", "a.old", "a.old", 120, ("look",))
    two = Stop(day + 6 * 60, day + 7 * 60, "a", "a.old", "a.old", 60, ("catch",), moving=True)
    assert too_much(firm, ROADS, jun, (late, two), "a") == TooMuch(own=(Interval(late.start, late.finish),))
