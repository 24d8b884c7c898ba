"""A surer schedule where the promise is not kept, and changes that help: each carried out before it is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan import door, surer
from moveplan.changed_plans import changes_for
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.reading import Settings
from moveplan.risk.judge import promise_of
from moveplan.risk.summary import Broken, Promise, RiskSummary
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Schedule
from moveplan.surer import LEAST_GAIN, MOST, helps_for, surest
from tests.examples import scheduled

PROJECT, SCHEDULE = scheduled("house_move")
SETTINGS = Settings(effort=Effort(seconds=0.1, engine="serial"), runs=2000)


def promised(schedule: Schedule) -> Promise:
    found = promise_of(PROJECT, schedule, 1)
    assert found is not None
    return found


PROMISE = promised(SCHEDULE)


def kept(schedule: Schedule) -> float:
    return promised(schedule).kept


def test_a_schedule_that_keeps_the_promise_stays() -> None:
    easy = replace(PROJECT, plan=replace(PROJECT.plan, confidence=0.05))
    assert surest(easy, SCHEDULE, SETTINGS) is SCHEDULE


def test_the_surest_of_several_is_no_less_sure_and_passes_the_door() -> None:
    strict = replace(PROJECT, plan=replace(PROJECT.plan, confidence=0.999))
    found = surest(strict, SCHEDULE, SETTINGS)
    assert kept(found) >= kept(SCHEDULE) - 0.01
    assert door.faults_of(PROJECT, found) == ()


def test_a_plan_whose_animals_are_past_their_risk_is_searched_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """The promise is easy to keep, so that only the accepted risk of the safe times can ask for more."""
    asked: list[int] = []

    def searched(_project: object, _settings: object, searches: int) -> tuple[()]:
        asked.append(searches)
        return ()

    monkeypatch.setattr(surer, "_searched", searched)
    risk = max(one.chance for one in PROMISE.breaks if one.what == "safe-time")
    for accepted, searches in ((2 * risk, []), (risk / 2, [surer.SEARCHES])):
        easy = replace(PROJECT, plan=replace(PROJECT.plan, confidence=0.05, safe_time_risk=accepted))
        assert surest(easy, SCHEDULE, SETTINGS) is SCHEDULE
        assert asked == searches


def test_without_runs_nothing_is_judged() -> None:
    assert surest(PROJECT, SCHEDULE, replace(SETTINGS, runs=0)) is SCHEDULE


def test_changes_name_keys_that_can_be_written() -> None:
    late = replace(PROMISE, breaks=(Broken("hours", "ines", 0.4), Broken("hire", "van", 0.1)))
    found = list(changes_for(PROJECT, SCHEDULE, late))
    writes = [change.writes for change in found]
    assert len(set(writes)) == len(writes)
    assert any(one[0][0] == "people.ines.moving-day" and one[0][1].endswith("-24:00") for one in writes)
    assert (("vehicles.van.hire", "{from: 2027-03-12 16:00, until: 2027-03-15 14:00}"),) in writes
    assert {change.kind for change in found} == {"later", "earlier", "both", "hire"}


def test_what_breaks_rarely_asks_for_nothing() -> None:
    rare = replace(PROMISE, breaks=(Broken("hours", "ines", 0.01),))
    assert list(changes_for(PROJECT, SCHEDULE, rare)) == []


def test_a_change_is_carried_out_in_the_plan_and_in_the_hours() -> None:
    late = replace(PROMISE, breaks=(Broken("hours", "ines", 0.4),))
    change = next(iter(changes_for(PROJECT, SCHEDULE, late)))
    after = change.carried_out(PROJECT, SCHEDULE)
    longer = {one.id: sum(piece.minutes for piece in one.available) for one in after.scheduling.people}
    before = {one.id: sum(piece.minutes for piece in one.available) for one in PROJECT.scheduling.people}
    assert longer["ines"] == before["ines"] + 60
    assert longer["bea"] == before["bea"]


def test_what_helps_is_surer_and_nothing_told_is_beaten() -> None:
    strict = replace(PROJECT, plan=replace(PROJECT.plan, confidence=0.95))
    promise = replace(PROMISE, confidence=0.95)
    risk = RiskSummary(2000, 1, (), promise=promise)
    outlook = Outlook(strict, strict.plan.now, Verdict.TIGHT, (), SCHEDULE, risk=risk)
    found = helps_for(outlook, strict, SCHEDULE, SETTINGS)
    assert 0 < len(found) <= MOST
    assert all(one.kept >= promise.kept + LEAST_GAIN for one in found)
    assert len({one.writes for one in found}) == len(found)
    assert helps_for(replace(outlook, verdict=Verdict.OK), strict, SCHEDULE, SETTINGS) == ()
