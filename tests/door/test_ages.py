"""Water past its shelf life, by hand: purified for 30 days, mixed for 14 and 3 that it may slip, old for two."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.door.ages import water_fresh
from moveplan.errors import Fault
from moveplan.practice.ledger.entries import InUse, Pour
from moveplan.quantities.containers.vessels import Use, Vessel
from moveplan.scheduling.schedule import Engine, Schedule, Status
from tests.door.test_accounts import POURS, TUB, _project, _schedule

DAY = 1440
BIN = Vessel("M1", "vat", "bin-120", Use.MIXED, "", 120.0, 0.0, 4.0, ())
BINNED = (
    Pour("mix", "tap", "purified", 70.0),
    Pour("drain", "purified", "container:M1", 70.0),
    Pour("throw", "container:M1", "container:C1", 20.0),
    Pour("fill", "container:M1", "system:reef", 50.0),
    Pour("fill", "container:C1", "system:reef", 20.0),
)
CAN = Vessel("C1", "can", "can", Use.NEW_WATER, "reef", 20.0, 20.0, 1.0, ())
USES = (InUse(BIN, "drain", "fill"), InUse(CAN, "throw", "fill"))


def stale(schedule: Schedule, **books: object) -> list[Fault]:
    return list(water_fresh(_project(**{"pours": BINNED, "containers": USES} | books), schedule))


def at(**days: float) -> Schedule:
    """Each task an hour long, ending so many days after the first moment."""
    spans = {name: (round(day * DAY) - 60, round(day * DAY)) for name, day in days.items()}
    return _schedule(**spans)


FAULTS = stale(at(mix=1, drain=2, throw=15, fill=20))
"""Faults of the code of this checker."""


def test_water_that_keeps_is_poured() -> None:
    assert stale(at(mix=1, drain=30.9, throw=40, fill=47.8)) == []


def test_purified_water_keeps_for_thirty_days_or_as_the_plan_says() -> None:
    late = at(mix=1, drain=31.5, throw=32, fill=33)
    assert stale(late) == [Fault("water-stale", ("purified", "container:M1"), (30.5, 30.0), ("drain",))]
    project = _project(pours=BINNED, containers=USES)
    longer = replace(project, plan=replace(project.plan, policy={"purified_water_keeps": 40.0}))
    assert water_fresh(longer, late) == ()


def test_mixed_water_takes_its_age_along_into_cans() -> None:
    found = stale(at(mix=1, drain=2, throw=15, fill=20))
    assert [(one.ids, one.values) for one in found] == [
        (("container:M1", "system:reef"), (18.0, 17.0)),
        (("container:C1", "system:reef"), (18.0, 17.0)),
    ]


@pytest.mark.parametrize(("day", "codes"), [(3.9, []), (4.5, ["water-stale"])])
def test_old_water_goes_back_within_two_days(day: float, codes: list[str]) -> None:
    schedule = at(mix=1, drain=2, throw=3, fill=day)
    books = {"pours": POURS, "containers": (InUse(TUB, "drain", "fill"),)}
    assert [one.code for one in stale(schedule, **books)] == codes


def test_what_was_made_before_the_schedule_begins_is_not_judged() -> None:
    """Nobody knows how late a move became: the list goes on."""
    schedule = at(drain=40, throw=41, fill=42)
    gone = replace(schedule, placements=tuple(one for one in schedule.placements if one.task != "mix"))
    assert stale(gone) == []


def test_without_placements_nothing_is_asked() -> None:
    assert stale(Schedule(Status.UNKNOWN, Engine.SERIAL)) == []
