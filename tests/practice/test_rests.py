"""Breaks on a long day: for everybody who is there, one half after the other, before the drive and before animals."""

from __future__ import annotations

import pytest

from moveplan.network.task import Kind
from moveplan.practice.project import Project
from tests.examples import project
from tests.practice.test_trade_order import waits_for

LONG_DAYS = (
    "house_move",
    "larger_tank_same_spot",
    "several_systems",
    "small_tank_move",
    "shut_down_and_restart",
)


def rests_of(found: Project) -> dict[str, set[str]]:
    """Ids of the breaks of each person."""
    rests: dict[str, set[str]] = {}
    for task in found.network.tasks:
        if task.kind is Kind.REST:
            assert task.crew is not None
            (who,) = task.crew.named
            rests.setdefault(who, set()).add(task.id)
    return rests


@pytest.mark.parametrize("name", LONG_DAYS)
def test_everybody_has_two_breaks(name: str) -> None:
    found = project(name)
    rests = rests_of(found)
    assert set(rests) == {one.id for one in found.plan.people}
    assert all(len(own) == 2 for own in rests.values())


@pytest.mark.parametrize("name", LONG_DAYS)
def test_somebody_stays_with_the_animals(name: str) -> None:
    """Of each kind of break at least one waits for at least one other."""
    network = project(name).network
    for key in ("meal-", "pause-"):
        own = {task.id for task in network.tasks if task.kind is Kind.REST and task.id.startswith(key)}
        assert any(waits_for(network, one) & own for one in own)


def test_who_does_not_catch_eats_meanwhile_and_who_does_when_the_fish_are_in_never_all_at_once() -> None:
    network = project("house_move").network
    before = waits_for(network, "meal-tomas")
    assert "rock-out-display" in before
    assert "catch-fish-display" not in before
    assert "meal-tomas" in waits_for(network, "meal-ines")
    for who in ("ines", "bea"):
        assert "catch-fish-display" in waits_for(network, f"meal-{who}")


@pytest.mark.parametrize("who", ["ines", "tomas", "bea"])
def test_second_breaks_begin_when_the_tank_stands_and_after_ones_own_meal(who: str) -> None:
    before = waits_for(project("house_move").network, f"pause-{who}")
    assert {"place-tank-display", f"meal-{who}"} <= before


def test_a_pair_catches_at_once_after_the_rock_and_eats_then() -> None:
    network = project("short_plan").network
    assert "catch-fish-reef" in waits_for(network, "meal-mara")
    between = {link.after: link.max_gap_min for link in network.links if link.before == "rock-out-reef"}
    assert between["catch-fish-reef"] is not None


def test_who_is_alone_and_handles_no_animals_rests_too() -> None:
    found = project("small_tank_move", "people.dara.moving-day=08:00-12:00", "people.dara.cares=no")
    assert rests_of(found) == {"milo": {"meal-milo", "pause-milo"}}


def test_where_all_handle_animals_one_rests_after_another() -> None:
    network = project("house_move", "people.tomas.cares=yes").network
    assert "meal-ines" in waits_for(network, "meal-bea")
    assert "meal-ines" not in waits_for(network, "meal-tomas")


def test_of_several_who_catch_some_stay_while_the_others_eat_and_who_ate_first_breaks_first() -> None:
    network = project("service_firm_office_tank").network
    assert "meal-lead" in waits_for(network, "meal-host")
    assert "pause-third" in waits_for(network, "pause-lead")
    assert "meal-bea" not in waits_for(project("house_move").network, "meal-ines")


def test_nobody_drives_or_handles_animals_again_without_a_break() -> None:
    network = project("house_move").network
    meals = {f"meal-{who}" for who in ("ines", "tomas", "bea")}
    assert meals <= waits_for(network, "drive-van")
    assert meals <= waits_for(network, "load-animals-van")
    before = waits_for(network, "water-matched-display")
    assert {"pause-ines", "pause-bea"} <= before
    assert "pause-tomas" not in before  # he handles no animals: nobody waits for his break
    assert "pause-tomas" in waits_for(network, "watch-evening-display")


def test_who_is_there_for_a_short_while_needs_no_break() -> None:
    rests = rests_of(project("service_firm_office_tank", "people.host.moving-day=13:00-16:00"))
    assert set(rests) == {"lead", "second", "third", "fourth", "fifth", "sixth"}


def test_who_is_away_on_the_day_has_no_break_and_no_signature() -> None:
    found = project("house_move", "people.ines.away=2027-03-12 to 2027-03-21", "people.tomas.cares=yes")
    assert "ines" not in rests_of(found)
    (question,) = [task for task in found.network.tasks if task.id == "no-way-back-display"]
    assert question.crew is not None
    assert question.crew.named == ()


@pytest.mark.parametrize(("change", "keeper"), [("", "ines"), ("people.bea.lead=yes", "bea")])
def test_one_person_asks_books_decides_and_signs(change: str, keeper: str) -> None:
    found = project("house_move", *([change] if change else []))
    named = {task.id: task.crew.named for task in found.network.tasks if task.crew is not None}
    for task in ("agree-plan", "ask-permission", "book-vehicle-van", "brief-crew", "go-or-no-go"):
        assert named[task] == (keeper,)
    assert named["no-way-back-display"] == named["leak-check-display"] == (keeper,)
    assert named["corals-out-display"] == ()


@pytest.mark.parametrize("name", LONG_DAYS)
def test_all_hands_at_animals_care(name: str) -> None:
    for task in project(name).network.tasks:
        if task.id.startswith(("catch-fish", "corals-out", "place-corals", "release-", "invertebrates-out")):
            assert task.crew is not None
            assert dict(task.crew.skills)["cares"] == task.crew.count
