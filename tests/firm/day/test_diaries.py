"""Drives of a day: a crew comes from the base and goes back to it, and whoever does more goes on from there."""

from __future__ import annotations

from moveplan.firm.day.diaries import Leg, legs_of, too_soon
from moveplan.firm.day.roads import BASE, Roads
from moveplan.firm.placing.traces import Stop

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
