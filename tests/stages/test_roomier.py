"""Room where a promise breaks: nearer limits for what is planned, the true ones for what is judged."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from moveplan.door import door
from moveplan.risk.promise.judge import promise_of
from moveplan.risk.promise.values import Broken, Promise
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.verify import verify
from moveplan.stages import roomier
from moveplan.stages.reading import Settings
from moveplan.stages.roomier import ROOM_MIN, Near
from moveplan.stages.surer import best_of, judged_by_runs, surest
from moveplan.times import Interval
from tests.examples import scheduled
from tests.risk.moves import changed

QUICK = Effort(seconds=0.05, engine="serial")
HOUSE, FOUND = scheduled("house_move")


def _promise(*breaks: Broken, overruns: tuple[tuple[str, str], ...] = ()) -> Promise:
    return Promise(0.8, 0.5, 0.01, breaks, overruns=overruns)


def _made(promise: Promise) -> list[Near]:
    return list(roomier.roomier(HOUSE, Near(FOUND, HOUSE.scheduling), promise, QUICK))


def test_room_makes_a_plan_surer_whose_day_ends_with_somebodys_hours(tmp_path: Path) -> None:
    """Both people go home when the last animal is to be in: kept less often than asked, until there is room."""
    hours, shorter = "moving-day: 08:00-22:00", "moving-day: 08:00-18:20"
    project, tight = changed(tmp_path, "small_tank_move", hours, shorter)
    settings = Settings(effort=Effort(seconds=1.2, engine="serial"), runs=2000)
    before = judged_by_runs(project, tight, settings)
    assert before is not None
    assert before.promise.kept < before.promise.confidence
    found = surest(project, tight, settings)
    after = judged_by_runs(project, found, settings)
    assert after is not None
    assert after.promise.kept >= min(before.promise.kept + 0.1, before.promise.confidence)
    assert door.faults_of(project, found) == ()
    assert best_of(project, (before, after)) is after


def test_hours_are_nearer_for_the_plan_alone_and_what_fits_stands_where_it_stood() -> None:
    crowded = min(
        (
            one
            for one in FOUND.placements
            if one.people == ("ines",)
            and not one.segment_people
            and not one.task.startswith("last-feed")  # a meal has minutes of its own beside the hours
        ),
        key=lambda one: min(
            hours.finish - one.finish
            for person in HOUSE.scheduling.people
            if person.id == "ines"
            for hours in person.available
            if hours.overlaps(one.segments[-1])
        ),
    )
    made = _made(_promise(Broken("hours", "ines", 0.4), overruns=(("ines", crowded.task),)))
    assert made
    for near in made:
        (changed,) = [
            (own, nearer)
            for own, nearer in zip(HOUSE.scheduling.people, near.problem.people, strict=True)
            if own != nearer
        ]
        assert changed[0].id == "ines"
        (lost,) = set(changed[0].available) - set(changed[1].available)
        (left,) = set(changed[1].available) - set(changed[0].available)
        assert (lost.start, lost.finish - left.finish in ROOM_MIN) == (left.start, True)
        assert verify(near.problem, near.schedule) == ()
        assert verify(HOUSE.scheduling, near.schedule) == ()
        moved = [
            old for old, new in zip(FOUND.placements, near.schedule.placements, strict=True) if old != new
        ]
        late = Interval(left.finish, lost.finish)
        assert any(late.overlaps(piece) for one in moved for piece in one.segments)


def test_a_vehicle_that_is_short_asks_for_room_of_whoever_uses_it_last() -> None:
    last = max((one for one in FOUND.placements if "van" in one.vehicles), key=lambda one: one.finish)
    spent = {
        person.id
        for one in roomier._short_of_time(HOUSE, FOUND, _promise(), Broken("hire", "van", 0.3))
        for person, _ in roomier._spent(HOUSE.scheduling, one, Broken("hire", "van", 0.3))
    }
    assert spent == set(last.people)


@pytest.mark.parametrize("what", ["safe-time", "keys"])
def test_what_no_hours_can_help_is_left_to_others(what: str) -> None:
    assert _made(_promise(Broken(what, "clowns", 0.4))) == []


def test_what_somebody_overruns_is_told_with_the_task() -> None:
    strict = replace(HOUSE, plan=replace(HOUSE.plan, confidence=0.999))
    promise = promise_of(strict, FOUND, 1)
    assert promise is not None
    late = {one.id for one in promise.breaks if one.what == "hours"}
    assert {person for person, _ in promise.overruns} == late
    tasks = {one.task: one.people for one in FOUND.placements}
    assert all(person in tasks[task] for person, task in promise.overruns)
