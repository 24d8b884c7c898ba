"""Air stones by hand, and each way in which their pumps or batteries may not do: a tub that travels for eight hours."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.door.air import faults_of_air
from moveplan.errors import Fault
from moveplan.network.graph import Network
from moveplan.plan.supplies import GearItem
from moveplan.practice.comfort.outlets import Aired
from moveplan.practice.comfort.whereabouts import Standing
from moveplan.practice.ledger.entries import InUse
from moveplan.practice.project import Project
from moveplan.quantities.containers.vessels import Held, Use, Vessel
from moveplan.scheduling.problem import SchedulingProblem
from tests.quantities.plans import plan_of

PUMP = GearItem("pump", "Battery pump", "air-pump", 1, battery_h=10.0, outlets=2)
TUB = Vessel(
    "T1", "tub", "tub", Use.ANIMALS, "reef", 60.0, 15.0, 2.0, (Held("livestock", "goby", 1),), stones=1
)
STAYS = 8 * 60


def _standing(number: str = "T1", stays: int = STAYS) -> Standing:
    return Standing(InUse(replace(TUB, number=number), "catch", "release"), 0, stays, 0, ())


def _aired(one: Standing, since: int = 0, until: int = STAYS, pump: str = "pump") -> Aired:
    return Aired(one, pump, pump, since, until)


def _faults(
    standings: tuple[Standing, ...], rows: tuple[Aired, ...], pump: GearItem = PUMP
) -> tuple[Fault, ...]:
    network = Network(())
    problem = SchedulingProblem(network, 0, 0)
    project = Project(
        replace(plan_of(), gear=(pump,)), "", network, problem, gear_needed=(("air-pump", 1, pump.count),)
    )
    inside = {(id(one.use), "goby"): (0, one.until) for one in standings}
    return faults_of_air(project, standings, inside, rows)


ONE, TWO, THREE = (_standing(f"T{number}") for number in (1, 2, 3))
LONG = _standing(stays=21 * 60)
BROKEN = {
    "too-many-on-pump": ((ONE, TWO, THREE), (_aired(ONE), _aired(TWO), _aired(THREE)), PUMP),
    # two outlets of 10 h are 20 h of air a day; three tubs one after the other would want 24 h
    "battery-empty": (
        (ONE, TWO, THREE),
        (_aired(ONE), _aired(TWO), _aired(THREE, STAYS, 2 * STAYS)),
        replace(PUMP, battery_h=8.0, outlets=1, count=2),
    ),
    "too-little-air": ((ONE,), (_aired(ONE, 0, STAYS - 60),), PUMP),
}
FAULTS = [fault for books in BROKEN.values() for fault in _faults(*books)]
"""Faults of every code of this checker."""


def test_outlets_and_batteries_in_order_pass() -> None:
    assert _faults((ONE, TWO), (_aired(ONE), _aired(TWO))) == ()
    assert _faults((LONG,), (_aired(LONG, 0, 10 * 60),)) == (), "no safe time counts on more than one battery"


@pytest.mark.parametrize("code", BROKEN)
def test_each_broken_promise_of_air_is_found(code: str) -> None:
    assert code in {fault.code for fault in _faults(*BROKEN[code])}


def test_a_pump_that_runs_longer_than_its_battery_is_found() -> None:
    (fault,) = _faults((LONG,), (_aired(LONG, 0, 11 * 60),))
    assert fault == Fault("battery-empty", ("pump",), (11 * 60, 2 * 10 * 60))
