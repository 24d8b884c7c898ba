"""A surer schedule where the promise is not kept, and changes that help: each carried out before it is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.changed.helps import MOST, helps_for
from moveplan.door import door
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.practice.project import Project
from moveplan.risk.promise.judge import promise_of
from moveplan.risk.promise.values import Broken, Promise
from moveplan.risk.summary import RiskSummary
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.stages import surer
from moveplan.stages.reading import Settings
from moveplan.stages.surer import LEAST_GAIN, Judged, surest
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


@pytest.fixture(name="asked")
def _asked(monkeypatch: pytest.MonkeyPatch) -> list[Effort]:
    """Efforts of the searches that are asked for, none of which finds anything."""
    asked: list[Effort] = []

    def found(_project: object, _settings: object, effort: Effort) -> tuple[()]:
        asked.append(effort)
        return ()

    monkeypatch.setattr(surer, "_found", found)
    return asked


def risking(accepted: float) -> Project:
    """Make the promise easy to keep, so that only the accepted risk of the safe times can ask for more."""
    return replace(PROJECT, plan=replace(PROJECT.plan, confidence=0.05, safe_time_risk=accepted))


RISK = max(one.chance for one in PROMISE.breaks if one.what == "safe-time")


def test_a_plan_whose_animals_are_within_their_risk_is_not_searched_again(asked: list[Effort]) -> None:
    assert surest(risking(2 * RISK), SCHEDULE, SETTINGS) is SCHEDULE
    assert asked == []


@pytest.mark.parametrize(
    ("effort", "usual"),
    [
        (Effort(seconds=0.2), 1),
        (Effort(seconds=surer.USUAL_S), 0),
        (Effort(seconds=0.2, engine="serial"), 0),
    ],
)
def test_before_a_plan_is_called_unsafe_it_is_looked_at_as_hard_as_can_be(
    asked: list[Effort], effort: Effort, usual: int
) -> None:
    assert surest(risking(RISK / 2), SCHEDULE, replace(SETTINGS, effort=effort)) is SCHEDULE
    quick = [one for one in asked if one.engine == "serial" and one.seconds == surer.QUICK_S]
    assert [one.seed for one in quick] == [1 + more for more in range(surer.SEARCHES_UNSAFE)]
    less = [one for one in asked if not one.fewer_dates]
    assert [(one.engine, one.seconds) for one in less] == [(effort.engine, effort.seconds)]
    rest = [one for one in asked if one not in quick and one not in less]
    assert [(one.engine, one.seconds) for one in rest] == [("auto", 2.0)] * usual


def with_risks(*chances: float, kept: float = 0.9) -> Judged:
    breaks = tuple(Broken("safe-time", f"group-{number}", one) for number, one in enumerate(chances))
    return Judged(replace(SCHEDULE), replace(PROMISE, kept=kept, breaks=breaks))


@pytest.mark.parametrize(
    ("worse", "better"),
    [
        (with_risks(0.06, 0.06, kept=0.9), with_risks(0.2, kept=0.5)),
        (with_risks(0.2, kept=0.9), with_risks(0.1, kept=0.5)),
        (with_risks(0.01, kept=0.8), with_risks(0.02, kept=0.9)),
    ],
    ids=["fewer groups past their risk", "less far past", "the promise kept more often"],
)
def test_animals_come_before_the_promise(
    monkeypatch: pytest.MonkeyPatch, worse: Judged, better: Judged
) -> None:
    monkeypatch.setattr(surer, "judged_by_runs", lambda *_: worse)
    monkeypatch.setattr(surer, "_found", lambda *_: (better,))
    strict = replace(PROJECT, plan=replace(PROJECT.plan, confidence=0.999, safe_time_risk=0.05))
    assert surest(strict, worse.schedule, SETTINGS) is better.schedule
    monkeypatch.setattr(surer, "judged_by_runs", lambda *_: better)
    monkeypatch.setattr(surer, "_found", lambda *_: (worse,))
    assert surest(strict, better.schedule, SETTINGS) is better.schedule


def test_the_first_safe_schedule_ends_the_search(monkeypatch: pytest.MonkeyPatch) -> None:
    searched: list[int] = []
    without: list[int] = []  # no fewer days of those who help
    safe, unsafe = with_risks(0.01), with_risks(0.2)

    def found(_project: object, _settings: object, effort: Effort) -> tuple[Judged]:
        (searched if effort.fewer_dates else without).append(effort.seed)
        return (safe if effort.seed == surer.SEARCHES + 2 else unsafe,)

    monkeypatch.setattr(surer, "judged_by_runs", lambda *_: unsafe)
    monkeypatch.setattr(surer, "_found", found)
    project = risking(0.05)
    assert surest(project, unsafe.schedule, SETTINGS) is safe.schedule
    assert searched == [1 + more for more in range(surer.SEARCHES + 2)]
    assert without == [1]


def test_without_runs_nothing_is_judged() -> None:
    assert surest(PROJECT, SCHEDULE, replace(SETTINGS, runs=0)) is SCHEDULE


def test_what_helps_is_surer_and_nothing_told_is_beaten() -> None:
    tight, schedule = scheduled("tight_day")
    promise = promise_of(tight, schedule, 1)
    assert promise is not None
    risk = RiskSummary(2000, 1, (), promise=promise)
    outlook = Outlook(tight, tight.plan.now, Verdict.TIGHT, (), schedule, risk=risk)
    found = helps_for(outlook, tight, schedule, SETTINGS)
    assert 0 < len(found) <= MOST
    assert all(one.kept >= promise.kept + LEAST_GAIN for one in found)
    assert len({one.writes for one in found}) == len(found)
    enough = [one.kept >= promise.confidence for one in found]
    assert any(enough)
    assert enough == sorted(enough, reverse=True), "what is enough by itself comes first"
    assert helps_for(replace(outlook, verdict=Verdict.OK), tight, schedule, SETTINGS) == ()


def test_of_schedules_that_are_sure_enough_the_one_with_the_shorter_waits_is_taken() -> None:
    """A share beyond what is asked for is worth no hour of an animal in its container."""
    late = replace(SCHEDULE, placements=tuple(_longer_day(one) for one in SCHEDULE.placements))
    easy = replace(PROJECT, plan=replace(PROJECT.plan, confidence=0.05))
    sure = replace(PROMISE, confidence=0.05, kept=0.99, breaks=())
    judged = [surer.Judged(late, sure), surer.Judged(SCHEDULE, replace(sure, kept=0.9))]
    assert surer.best_of(easy, judged).schedule is SCHEDULE
    assert surer.best_of(easy, judged[:1]).schedule is late


def _longer_day(stands: Placement) -> Placement:
    """Let the fish go in an hour later than they did."""
    if not stands.task.startswith("release-fish"):
        return stands
    return replace(stands, start=stands.start + 60, finish=stands.finish + 60)
