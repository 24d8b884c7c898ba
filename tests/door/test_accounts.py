"""The accounts of a finished schedule, by hand, and each way in which they can be broken.

A tank of 100 l: 30 l kept in T1, 70 l poured away, 70 l mixed; at the end 30 + 70 = 100 l.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.door.accounts import accounts_close
from moveplan.errors import Fault
from moveplan.estimate import exactly
from moveplan.network.graph import Network
from moveplan.network.task import Task
from moveplan.practice.ledger.entries import Body, InUse, Ledger, Pour
from moveplan.practice.project import Project
from moveplan.quantities.containers.vessels import Held, Use, Vessel
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Engine, Placement, Schedule, Status
from moveplan.times import Interval
from tests.quantities.plans import plan_of

TASKS = {"mix": (0, 60), "drain": (100, 160), "throw": (160, 170), "fill": (200, 260)}
TUB = Vessel("T1", "tub", "tub", Use.OLD_WATER, "reef", 60.0, 30.0, 2.0, (Held("old-water"),))
POURS = (
    Pour("mix", "tap", "purified", 70.0),
    Pour("mix", "purified", "new:reef", 70.0),
    Pour("drain", "system:reef", "container:T1", 30.0),
    Pour("throw", "system:reef", "drain", 70.0),
    Pour("fill", "container:T1", "system:reef", 30.0),
    Pour("fill", "new:reef", "system:reef", 70.0),
)


def _project(**ledger: object) -> Project:
    network = Network(tuple(Task(id=name, title=name, estimate=exactly(60, "min", "")) for name in TASKS))
    body = Body("reef", "Reef", 100.0, 80.0, "old", "both", full=True)
    books = {"pours": POURS, "containers": (InUse(TUB, "drain", "fill"),), "bodies": (body,)} | ledger
    needed = (("tub", 1, 0), ("air-pump", 1, 0), ("tub-heater", 1, 0))
    problem = SchedulingProblem(network, -10, -10)
    return Project(plan_of(), "", network, problem, gear_needed=needed, ledger=Ledger(**books))  # type: ignore[arg-type]


def _schedule(**moved: tuple[int, int]) -> Schedule:
    spans = TASKS | moved
    rows = (Placement(name, *span, (Interval(*span),)) for name, span in spans.items() if span != (0, 0))
    return Schedule(Status.FEASIBLE, Engine.SERIAL, tuple(rows))


def _poured(number: int, litres: float) -> tuple[Pour, ...]:
    return tuple(replace(one, litres=litres) if at == number else one for at, one in enumerate(POURS))


def _used(*vessels: Vessel) -> tuple[InUse, ...]:
    return (InUse(TUB, "drain", "fill"), *(InUse(vessel, "drain", "fill") for vessel in vessels))


BROKEN: list[tuple[dict[str, object], tuple[str, ...]]] = [
    (
        {"pours": POURS[:4] + POURS[5:]},
        (
            "left-in-container",
            "tank-not-as-planned",
        ),
    ),
    ({"pours": POURS[1:]}, ("account-below-zero",)),
    (
        {"pours": _poured(0, -70.0)},
        (
            "pour-below-zero",
            "account-below-zero",
        ),
    ),
    (
        {"pours": _poured(3, 60.0)},
        (
            "tank-runs-over",
            "tank-not-as-planned",
        ),
    ),
    (
        {"pours": (*POURS[:2], Pour("drain", "system:reef", "container:T1", 85.0), *POURS[3:])},
        (
            "account-below-zero",
            "drawn-too-low",
            "tank-not-as-planned",
            "container-overfull",
            "left-in-container",
        ),
    ),
    (
        {"containers": _used(TUB)},
        (
            "container-twice",
            "too-many-containers",
        ),
    ),
    ({"containers": _used(replace(TUB, number="T2"))}, ("too-many-containers",)),
    ({"containers": (InUse(replace(TUB, stones=2), "drain", "fill"),)}, ("too-few-outlets",)),
    (
        {"containers": _used(*(replace(TUB, number=f"H{n}", gear=f"h{n}", heater_w=25.0) for n in (1, 2)))},
        ("too-few-heaters",),
    ),
]
FAULTS = [fault for books, _ in BROKEN for fault in accounts_close(_project(**books), _schedule())]
"""Faults of every code of this checker."""


def test_books_in_order_close() -> None:
    assert accounts_close(_project(), _schedule()) == ()


@pytest.mark.parametrize("row", BROKEN, ids=lambda row: row[1][0])
def test_each_broken_account_is_found(row: tuple[dict[str, object], tuple[str, ...]]) -> None:
    books, codes = row
    assert {fault.code for fault in accounts_close(_project(**books), _schedule())} == set(codes)


def test_what_is_poured_too_early_is_found() -> None:
    """New water is mixed after the tank was filled with it."""
    found = accounts_close(_project(), _schedule(mix=(300, 360)))
    assert found == (Fault("account-below-zero", ("new:reef",), (-70.0,), ("fill",)),)


@pytest.mark.parametrize("gone", [("mix",), ("mix", "drain"), ("mix", "drain", "throw")])
def test_tasks_that_are_over_need_no_place(gone: tuple[str, ...]) -> None:
    left = dict.fromkeys(gone, (0, 0))
    assert accounts_close(_project(), _schedule(**left)) == ()


def test_nothing_is_asked_without_a_schedule() -> None:
    assert accounts_close(_project(pours=POURS[1:]), Schedule(Status.UNKNOWN, Engine.SERIAL)) == ()


@pytest.mark.parametrize(
    ("litres", "codes"), [(120.0, []), (121.0, ["tank-runs-over"])], ids=["to the rim", "over the rim"]
)
def test_an_empty_tank_is_tested_up_to_its_rim(litres: float, codes: list[str]) -> None:
    """Tap water may stand up to the rim of an empty tank, 120 l; of 1 l more half a litre runs over."""
    body = Body("reef", "Reef", 100.0, 80.0, "old", "both", full=True, rim_l=120.0)
    tested = (Pour("fill", "tap", "system:reef", litres), Pour("fill", "system:reef", "drain", litres))
    project = _project(bodies=(body,), pours=(*POURS[:4], *tested, *POURS[4:]))
    assert [fault.code for fault in accounts_close(project, _schedule())] == codes
