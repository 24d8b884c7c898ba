"""The ledger of a move: balances that never go below nothing, and containers in use from filling to emptying."""

from __future__ import annotations

from collections import defaultdict

import pytest

from moveplan.practice.ledger.entries import DRAIN, LEAST_L, Balances, Body, filled
from moveplan.practice.project import Project
from moveplan.quantities.containers.vessels import Held, Use, Vessel
from tests.examples import project

REEF = Body("reef", "Reef", 200.0, 180.0, "old", "both", full=True)
LATER = Body("later", "Later", 300.0, 280.0, "new", "new", full=False)
TUB = Vessel("T1", "tub", "tubs", Use.OLD_WATER, "reef", 60.0, 15.0, 1.8, (Held("old-water"),))
MOVES = ("house_move", "small_tank_move", "larger_tank_same_spot")


def test_a_tank_that_runs_is_full_and_one_that_does_not_is_empty() -> None:
    balances = Balances((REEF, LATER))
    assert balances["system:reef"] == 200.0
    assert balances["system:later"] == balances["container:T1"] == 0.0


def test_water_is_moved_and_neither_made_nor_lost() -> None:
    balances = Balances((REEF,))
    balances.book(filled((TUB,), "system:reef"))
    assert (balances["system:reef"], balances["container:T1"]) == (185.0, 15.0)
    emptied = balances.emptied(("container:T1", "container:T2"))
    assert emptied == (("container:T1", DRAIN, 15.0),)
    balances.book(emptied)
    assert balances[DRAIN] == 15.0
    assert balances["container:T1"] == 0.0


def test_no_more_is_taken_than_is_there_one_after_the_other() -> None:
    balances = Balances(())
    balances.book((("tap", "container:C1", 10.0), ("tap", "container:C2", 10.0)))
    accounts = ("container:C1", "container:C2")
    assert balances.taken(accounts, "system:reef", 13.0) == (
        ("container:C1", "system:reef", 10.0),
        ("container:C2", "system:reef", 3.0),
    )
    assert sum(one for _, _, one in balances.taken(accounts, "system:reef", 99.0)) == 20.0
    assert balances.taken(accounts, "system:reef", LEAST_L / 2) == ()


@pytest.mark.parametrize("name", MOVES)
def test_every_pour_is_of_a_task_between_accounts_that_exist(name: str) -> None:
    found = project(name)
    tasks = {task.id for task in found.network.tasks}
    bodies = {f"system:{body.id}" for body in found.ledger.bodies}
    containers = {use.vessel.account for use in found.ledger.containers}
    for pour in found.ledger.pours:
        assert pour.task in tasks
        assert pour.litres > 0
        for account in (pour.source, pour.target):
            kind = account.partition(":")[0]
            assert kind in ("tap", "drain", "purified", "new") or account in bodies | containers, account


@pytest.mark.parametrize("name", MOVES)
def test_containers_take_no_more_than_they_hold_and_are_filled_while_in_use(name: str) -> None:
    found = project(name)
    volumes: dict[str, float] = {use.vessel.account: use.vessel.volume_l for use in found.ledger.containers}
    into: dict[tuple[str, str], float] = defaultdict(float)
    for pour in found.ledger.pours:
        if pour.target.startswith("container:"):
            into[pour.task, pour.target] += pour.litres
    for (_, account), litres in into.items():
        assert litres <= volumes[account] + 1e-6


@pytest.mark.parametrize("name", MOVES)
def test_what_is_drawn_stands_above_the_pool_for_the_catch(name: str) -> None:
    found = project(name)
    for body in found.ledger.bodies:
        if body.full:
            drawn = _drawn(found, body.id)
            assert drawn <= body.drawable_l + 1e-6


def _drawn(found: Project, body: str) -> float:
    return sum(
        pour.litres
        for pour in found.ledger.pours
        if pour.task.startswith("draw-keep-water") and pour.source == f"system:{body}"
    )
