"""Changes of a plan: what is written into the plan file is what was tried."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.changed.change import Change
from moveplan.changed.offers import changes_for, in_bags
from moveplan.risk.promise.judge import promise_of
from moveplan.risk.promise.values import Broken, Promise
from moveplan.stages.reading import composed
from tests.examples import plan, project, scheduled

PROJECT, SCHEDULE = scheduled("house_move")
KINDS = {"later", "earlier", "both", "eve", "hire", "helper", "way"}


def broken(*breaks: Broken) -> Promise:
    found = promise_of(PROJECT, SCHEDULE, 1, runs=400)
    assert found is not None
    return replace(found, breaks=breaks)


CHANGES = list(
    changes_for(PROJECT, SCHEDULE, broken(Broken("hours", "ines", 0.4), Broken("hire", "van", 0.1)))
)


def written(change: Change) -> str:
    return "; ".join(f"{key}={value}" for key, value in change.writes)


def test_each_change_is_another_and_every_kind_is_there() -> None:
    assert len({change.writes for change in CHANGES}) == len(CHANGES)
    assert {change.kind for change in CHANGES} == KINDS


@pytest.mark.parametrize("change", CHANGES, ids=written)
def test_what_is_written_is_what_is_tried(change: Change) -> None:
    """The plan read with the keys written into it is the plan that the program changed."""
    read = plan("house_move", *(f"{key}={value}" for key, value in change.writes))
    tried = change.apply(PROJECT.plan)
    for one in ("people", "vehicles", "livestock", "way"):
        assert getattr(read, one) == getattr(tried, one)
        assert one == "way" or getattr(PROJECT.plan, one) is not None
    assert tried != PROJECT.plan


def test_an_hour_more_on_the_day_is_an_hour_more_to_work_in() -> None:
    change = next(one for one in CHANGES if one.kind == "later")
    assert _worked(change) == {"ines": 60, "bea": 0, "tomas": 0}
    assert change.unpaid_h == 1


def test_an_evening_before_is_on_the_evening_before_and_no_other() -> None:
    """The day that the move slips to has its own evening."""
    change = next(one for one in CHANGES if one.kind == "eve")
    assert _worked(change) == {"ines": 60, "bea": 0, "tomas": 0}


def _worked(change: Change) -> dict[str, int]:
    after = change.carried_out(PROJECT, SCHEDULE).scheduling.people
    before = {one.id: sum(piece.minutes for piece in one.available) for one in PROJECT.scheduling.people}
    return {one.id: sum(piece.minutes for piece in one.available) - before[one.id] for one in after}


def test_a_helper_is_there_on_the_moving_day_alone() -> None:
    changes = [one for one in CHANGES if one.kind == "helper"]
    assert len(changes) == 3
    for change in changes:
        helper = change.carried_out(PROJECT, SCHEDULE).scheduling.people[-1]
        assert helper.id == "helper"
        assert helper.skills == ("lifts",)
        assert len(helper.available) == 1
        assert helper.available[0].minutes == 60 * change.unpaid_h


def test_bags_are_offered_to_who_travels_open_and_is_not_told_otherwise() -> None:
    before = project("shut_down_and_restart")
    (change,) = in_bags(before)
    read = plan("shut_down_and_restart", *(f"{key}={value}" for key, value in change.writes))
    assert read.livestock == change.apply(before.plan).livestock
    assert set(change.who) == {"clowns", "goby", "shrimp", "snails"}
    kinds = {
        held.id: use.vessel.kind
        for use in composed(read, steps=False).ledger.containers
        for held in use.vessel.holds
        if held.count
    }
    assert {group: kinds[group] for group in ("clowns", "goby")} == {"clowns": "bag", "goby": "bag"}
    given = replace(before, plan=read)
    assert list(in_bags(given)) == []
    assert list(in_bags(project("house_move"))) == []


def test_what_breaks_rarely_asks_for_nothing() -> None:
    assert list(changes_for(PROJECT, SCHEDULE, broken(Broken("hours", "ines", 0.01)))) == []
