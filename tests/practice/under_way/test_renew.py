"""What is left to do, scheduled anew: what is done stays, and nothing moves that need not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from moveplan import pipeline
from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.file.store import append
from moveplan.journal.records import (
    Accepted,
    Begun,
    Done,
    Dropped,
    Entry,
    MovedDay,
    MovedMoment,
    Out,
    Record,
    Vehicle,
)
from moveplan.journal.state import state_of
from moveplan.journal.taking.known import day_in, moment_in
from moveplan.journal.waters.ripening import Ripening
from moveplan.network.task import State
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.outlook import Outlook
from moveplan.practice.under_way.renew import renewed
from moveplan.practice.under_way.story import Story
from moveplan.scheduling.effort import Effort
from moveplan.times import MINUTES_A_DAY, to_local

OWN = """\
id: bridge-1
title: Small bridge
purpose: own-tasks
timezone: Europe/Dublin
start: 2027-03-01 08:00
as-of: 2027-03-01 08:00
tasks:
  - {id: dig, duration: 4 h}
  - {id: pour, duration: 6 h, after: [dig]}
  - {id: cure, duration: 1 day, after: [pour]}
  - {id: deck, duration: 5 h, after: [cure]}
  - {id: paint, duration: 3 h, after: [{task: deck, gap: 2 h, at-most: 1 day}]}
  - {id: sign, duration: 1 h, not-before: 2027-03-02 08:00}
"""
SETTINGS = pipeline.Settings(effort=Effort(seconds=0.5), runs=0)
START = 30_064_800
"""2027-03-01 08:00 in Dublin, UTC. [min]"""


def _outlook(plan: Path, *records: Record) -> Outlook:
    append(plan, "bridge-1", lambda _: [(record, "") for record in records])
    return pipeline.outlook_of(plan, SETTINGS)


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Give a plan of own tasks whose schedule was accepted."""
    path = tmp_path / "bridge.yaml"
    path.write_text(OWN, encoding="utf-8")
    first = pipeline.outlook_of(path, SETTINGS)
    data = snapshot_data(snapshot_of_outlook(first))
    append(path, "bridge-1", lambda _: [(Accepted(at=first.now, schedule=data), "")])
    return path


def _hours(outlook: Outlook) -> dict[str, tuple[float, float]]:
    return {
        one.task: ((one.start - START) / 60, (one.finish - START) / 60) for one in outlook.schedule.placements
    }


def test_nothing_has_happened_and_nothing_moves(plan: Path) -> None:
    found = pipeline.outlook_of(plan, SETTINGS)
    assert _hours(found) == {
        "dig": (0, 4),
        "pour": (4, 10),
        "cure": (10, 34),
        "deck": (34, 39),
        "paint": (41, 44),
        "sign": (24, 25),
    }
    assert found.drift is not None
    assert found.drift.moved == ()


def test_what_is_done_keeps_its_real_times_and_pushes_the_rest(plan: Path) -> None:
    found = _outlook(
        plan, Begun(at=START + 7, task="dig"), Done(at=START + 5 * 60 + 3, task="dig", took_min=290)
    )
    hours = _hours(found)
    assert hours["dig"] == (7 / 60, 5.05)
    assert hours["pour"] == (5.05, 11.05)
    assert hours["sign"] == (24, 25)
    assert found.states["dig"] is State.COMPLETED
    assert "dig" not in found.times
    assert found.drift is not None
    assert [one.task for one in found.drift.moved] == ["pour", "cure", "deck", "paint"]


def test_what_runs_has_its_remaining_time(plan: Path) -> None:
    found = _outlook(plan, Begun(at=START + 60, task="dig"))
    assert found.states["dig"] is State.IN_PROCESS
    assert _hours(found)["dig"] == (1, 5)
    late = pipeline.outlook_of(plan, replace(SETTINGS, now=to_local(START + 400, ZoneInfo("UTC"))))
    assert _hours(late)["dig"][1] == pytest.approx(401 / 60)


def test_what_was_dropped_keeps_the_order_of_what_is_around_it(plan: Path) -> None:
    found = _outlook(plan, Dropped(at=START, task="cure", reason="quick cement"))
    hours = _hours(found)
    assert found.states["cure"] is State.CANCELLED
    assert hours["deck"][0] >= hours["pour"][1]
    assert [one.task for one in found.schedule.placements] == ["dig", "pour", "cure", "deck", "paint", "sign"]


def test_a_greatest_gap_that_is_passed_is_a_danger_and_no_dead_end(plan: Path) -> None:
    done = [
        Done(at=START + at, task=name)
        for name, at in (("dig", 240), ("pour", 600), ("cure", 2040), ("deck", 2340))
    ]
    late = Done(at=START + 2340 + 2 * MINUTES_A_DAY, task="sign")
    found = _outlook(plan, *done, late)
    assert found.verdict.value == "unsafe"
    assert [problem.message for problem in found.problems] == [
        "“paint” was to follow “deck” within 1 day, and cannot any more"
    ]
    assert _hours(found)["paint"][0] >= (2340 + 2 * MINUTES_A_DAY) / 60


def test_done_out_of_order_is_taken_as_it_was(plan: Path) -> None:
    found = _outlook(plan, Done(at=START + 300, task="deck"))
    hours = _hours(found)
    assert hours["deck"] == (0, 5)
    assert hours["cure"][0] >= hours["pour"][1]


def test_what_nobody_logged_is_named_and_planned_from_now_on(plan: Path) -> None:
    now = to_local(START + 3000, ZoneInfo("UTC"))
    found = pipeline.outlook_of(plan, replace(SETTINGS, now=now))
    assert _hours(found)["dig"] == (50, 54)
    assert [problem.message for problem in found.project.findings] == [
        "should be over by now, and nothing says that it is: dig, pour, cure, deck, paint, sign; it is planned anew "
        "from now on"
    ]


def test_what_must_be_over_is_taken_as_done_when_it_was_planned(plan: Path) -> None:
    found = _outlook(plan, Done(at=START + 39 * 60, task="deck"))
    hours = _hours(found)
    assert (hours["dig"], hours["pour"], hours["cure"]) == ((0, 4), (4, 10), (10, 34))
    assert hours["paint"] == (41, 44)
    assert found.states["dig"] is State.NEEDS_ACTION
    assert [problem.message for problem in found.project.findings] == [
        "should be over by now, and nothing says that it is: sign; it is planned anew from now on",
        "taken as done when it was planned, because what waits for it has begun: cure, pour, dig",
    ]


def test_a_task_that_left_the_plan_is_said_and_its_record_kept(plan: Path) -> None:
    append(plan, "bridge-1", lambda _: [(Done(at=START + 240, task="dig"), "")])
    plan.write_text(OWN.replace("  - {id: dig, duration: 4 h}\n", "").replace(", after: [dig]", ""))
    found = pipeline.outlook_of(plan, SETTINGS)
    assert "the journal says that dig is done, but the plan no longer has this task" in [
        problem.message for problem in found.project.findings
    ]


@pytest.fixture(scope="module")
def move(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the example of a house move whose schedule was accepted."""
    path = tmp_path_factory.mktemp("move") / "house_move.yaml"
    example = Path(__file__).parents[3] / "examples" / "house_move.yaml"
    path.write_text(example.read_text("utf-8"), encoding="utf-8")
    first = pipeline.outlook_of(path, SETTINGS)
    assert first.schedule.placements
    append(
        path,
        first.project.plan.id,
        lambda _: [(Accepted(at=first.now, schedule=snapshot_data(snapshot_of_outlook(first))), "")],
    )
    return path


def _story(move: Path, tmp_path: Path, *records: Record) -> Outlook:
    path = tmp_path / move.name
    path.write_text(move.read_text("utf-8"), encoding="utf-8")
    journal = move.with_name("house_move.journal.jsonl")
    path.with_name(journal.name).write_bytes(journal.read_bytes())
    plan_id = pipeline.read(path, SETTINGS).id
    append(path, plan_id, lambda _: [(record, "") for record in records])
    return pipeline.outlook_of(path, SETTINGS)


def _accepted(move: Path) -> Snapshot:
    from moveplan.practice.under_way.story import story_of

    story = story_of(move, pipeline.read(move, SETTINGS).id, 0)
    assert story is not None
    assert story.first is not None
    return story.first


def test_an_accepted_move_stays_as_it_is(move: Path, tmp_path: Path) -> None:
    found = _story(move, tmp_path)
    assert found.drift is not None
    assert found.drift.moved == ()
    assert {one.task: one.segments for one in found.schedule.placements} == {
        task.id: task.segments for task in _accepted(move).tasks
    }


def test_one_late_task_moves_few_others(move: Path, tmp_path: Path) -> None:
    first = _accepted(move).task("agree-plan")
    assert first is not None
    found = _story(move, tmp_path, Done(at=first.finish + 3 * MINUTES_A_DAY, task="agree-plan"))
    assert found.schedule.placements
    assert found.drift is not None
    assert len(found.drift.moved) <= 12  # of 104: a late wait is caught up with, and some work gets cheaper
    assert all(one.before == one.after for one in found.drift.milestones)


def test_a_helper_who_is_out_on_days_without_work_moves_nothing(move: Path, tmp_path: Path) -> None:
    out = Out(at=_accepted(move).now, person="bea", first=day_in("2027-02-01"), last=day_in("2027-02-02"))
    found = _story(move, tmp_path, out)
    assert found.drift is not None
    assert found.drift.moved == ()


def test_a_move_day_a_week_later_moves_the_milestones_a_week(move: Path, tmp_path: Path) -> None:
    now = _accepted(move).now
    week = 7 * MINUTES_A_DAY
    van = Vehicle(at=now, vehicle="van", since=30_080_640 + week + 480, until=30_083_880 + week)
    found = _story(move, tmp_path, MovedDay(at=now, what="move-day", day=day_in("2027-03-20")), van)
    assert found.drift is not None
    slips = {one.name: one.after - one.before for one in found.drift.milestones}
    assert abs(slips["settled"] - week) < MINUTES_A_DAY / 2


def test_keys_that_come_late_turn_the_move_into_no_other(move: Path, tmp_path: Path) -> None:
    """The plan leaves the way open; without what was accepted a shut-down would fit these dates."""
    late = MovedMoment(
        at=_accepted(move).now, what="access-from", to=moment_in("2027-03-14T10:00", ZoneInfo("UTC"))
    )
    found = _story(move, tmp_path, late)

    assert (found.verdict.value, found.project.way) == ("cannot-be-done", "same-day")
    assert found.now == _accepted(move).now
    assert [problem.message for problem in found.problems] == [
        'the way "same-day" does not fit: the new home opens on 2027-03-14, after the move day 2027-03-13'
    ]


def test_a_van_that_is_not_there_on_the_day_is_no_plan(move: Path, tmp_path: Path) -> None:
    now = _accepted(move).now
    found = _story(move, tmp_path, MovedDay(at=now, what="move-day", day=day_in("2027-03-20")))
    assert found.verdict.value == "cannot-be-done"
    assert any("van" in problem.message for problem in found.problems)


def test_a_filter_ripens_for_as_long_as_its_readings_let_expect(tmp_path: Path) -> None:
    path = tmp_path / "bridge.yaml"
    path.write_text(
        OWN[: OWN.index("tasks:")]
        + """tasks:
  - {id: dose-ammonia-reef, duration: 15 min}
  - {id: ripen-reef, duration: 30 days, after: [dose-ammonia-reef]}
  - {id: cycle-done-reef, duration: 15 min, after: [ripen-reef]}
""",
        encoding="utf-8",
    )
    day = MINUTES_A_DAY
    state = state_of([Entry(1, Done(at=START + 15, task="dose-ammonia-reef"))])
    since = START + 15
    cycle = Ripening("reef", since, since + 16 * day, since + 18 * day, since + 21 * day, 6, True)
    story = Story(state, None, None, START + 10 * day, ripening=(cycle,))
    project = pipeline.compose(pipeline.read(path, SETTINGS))
    again = renewed(project, story, Effort(seconds=0.5))
    placed = {one.task: one for one in again.shown.placements}
    assert (placed["ripen-reef"].start, placed["ripen-reef"].finish) == (since, since + 18 * day)
    assert placed["cycle-done-reef"].start == since + 18 * day
    assert again.states["ripen-reef"] is State.IN_PROCESS
    misfit = renewed(project, replace(story, ripening=(replace(cycle, fits=False),)), Effort(seconds=0.5))
    assert misfit.shown.of("ripen-reef").finish == since + 30 * day


def test_what_could_be_sooner_stays_until_improving_is_asked_for(plan: Path) -> None:
    """Digging takes half as long now: what comes after keeps its told starts, or is looked for anew."""
    plan.write_text(OWN.replace("{id: dig, duration: 4 h}", "{id: dig, duration: 2 h}"), encoding="utf-8")
    stays = _hours(pipeline.outlook_of(plan, SETTINGS))
    improved = _hours(pipeline.outlook_of(plan, replace(SETTINGS, improve=True)))
    assert (stays["pour"], stays["paint"]) == ((4, 10), (41, 44))
    assert (improved["pour"], improved["paint"]) == ((2, 8), (39, 42))


def test_ten_minutes_late_on_the_first_day_move_a_handful(move: Path, tmp_path: Path) -> None:
    first = _accepted(move).task("agree-plan")
    assert first is not None
    found = _story(move, tmp_path, Done(at=first.finish + 10, task="agree-plan"))
    assert found.drift is not None
    assert 0 < len(found.drift.moved) <= 6  # of 120 and more: what waits for it, and who did it
    assert all(one.before == one.after for one in found.drift.milestones)
