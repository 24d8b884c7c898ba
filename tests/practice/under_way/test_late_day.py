"""Past the point of no return there is always a list to follow, with what is broken on top, animals first."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from moveplan import pipeline
from moveplan.journal.now.failure import ASSUMED_MIN
from moveplan.journal.now.next_up import next_up
from moveplan.journal.records import Begun, Entry, Met, Record
from moveplan.journal.state import state_of
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.closed import CARRY
from moveplan.outputs.outlook import Verdict
from moveplan.practice.compose import project_of
from moveplan.practice.under_way import renew
from moveplan.practice.under_way.given_way import passed
from moveplan.practice.under_way.story import Story, told
from moveplan.times import Interval, to_local
from moveplan.units import show_duration
from tests.journal.replay import EXAMPLES, SETTINGS, outlook_of
from tests.practice.late_days import (
    OVERNIGHT_MIN,
    Case,
    animals_first,
    drawn,
    hold,
    nothing_unsaid,
    on_paper,
    stopped,
)

CASES = [
    Case("house_move", 0.3, 15),
    Case("house_move", 0.3, 120, "bea"),
    Case("house_move", 0.5, 360),
    Case("house_move", 0.5, 45, "tomas"),
    Case("house_move", 0.7, 120, "bea"),
    Case("house_move", 0.6, 60, "ines"),
    Case("house_move", 0.8, 480, "tomas"),
    Case("house_move_into_larger_tank", 0.5, 360),
    Case("house_move_into_larger_tank", 0.6, 360, "noor"),  # out after midnight, in hours of the day before
    Case("larger_tank_other_spot", 0.5, 120),
    Case("larger_tank_other_spot", 0.1, 15, "sorcha"),  # the others come an hour later
    Case("house_move", 0.5, 15, failed=("vehicle", "van"), lasting_min=20 * 60),  # longer than its hire
    Case("house_move", 0.4, 15, failed=("tank", "display"), lasting_min=21 * 60),
    Case("house_move", 0.6, 15, failed=("power", "harbour"), lasting_min=3 * 24 * 60),
    Case("small_tank_move", 0.5, 15, failed=("tank", "nano"), lasting_min=180 * 24 * 60),  # beyond the plan
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_there_is_always_a_list_and_nothing_broken_is_unsaid(case: Case) -> None:
    assert hold(case)


@pytest.mark.parametrize("example", ["house_move", "short_plan", "small_tank_move"])
def test_of_late_days_drawn_at_random_none_is_without_a_list(example: str) -> None:
    assert sum(hold(case) for case in drawn(example, 6, seed=5)) >= 3


@pytest.mark.parametrize("accepted", [True, False], ids=["weeks nobody logged", "no schedule in force"])
def test_corals_that_are_out_wait_for_no_week_that_nobody_logged(accepted: bool) -> None:
    """The accepted line is damaged, or nothing but the begin was logged: fish are caught that morning, unfed."""
    outlook = outlook_of("house_move")
    met = outlook.schedule.of("no-way-back-display").finish
    records: list[Record] = [
        Met(at=met, task="no-way-back-display", by="Ines", reason="stopped the clock"),
        Begun(at=met + 10, task="corals-out-display"),
    ]
    snapshot = snapshot_of_outlook(outlook) if accepted else None
    now = met + 75
    story = Story(
        state_of([Entry(at, one) for at, one in enumerate(records, start=1)]), snapshot, snapshot, now
    )
    settings = replace(SETTINGS, now=to_local(now, outlook.project.plan.zone))
    plan, _ = pipeline.begin(EXAMPLES / "house_move.yaml", settings)
    hung, again = pipeline.renew(project_of(told(plan, story)), story, settings)
    assert again.late
    assert again.found.of("catch-fish-display").start < now + 4 * 60
    nothing_unsaid(hung, again, story)
    shown = pipeline.judge_again(hung, again, story, settings)
    animals_first(shown, again)
    on_paper(shown)


@pytest.mark.parametrize("share", [0.4, 0.5])
def test_animals_stay_in_the_containers_that_are_filled_whoever_falls_out(share: float) -> None:
    project, story = stopped("house_move", share, 15, "bea")
    hung, again = pipeline.renew(project, story, SETTINGS)
    stays = snapshot_of_outlook(pipeline.judge_again(hung, again, story, SETTINGS)).stays
    found = {(stay.group, stay.shut_task): (stay.container, stay.containers) for stay in stays}
    assert story.last is not None
    filled = [stay for stay in story.last.stays if story.state.of(stay.shut_task).begun is not None]
    assert {stay.group for stay in filled} >= {"goby", "cardinals", "clowns", "hermits", "leathers"}
    for stay in filled:
        assert found[stay.group, stay.shut_task] == (stay.container, stay.containers)


def test_late_in_the_evening_nothing_is_advised_that_belongs_to_the_morning() -> None:
    project, story = stopped("house_move", 0.5, 8 * 60)
    settings = replace(SETTINGS, runs=100)
    hung, again = pipeline.renew(project, story, settings)
    outlook = pipeline.judge_again(hung, again, story, settings)
    advice = [problem.remedy for problem in outlook.problems]
    assert any(one.startswith("let these out first") for one in advice)
    assert "shorten the moving day" not in advice
    assert not any(re.search(r"within \d+\.\d h", problem.message) for problem in outlook.problems)
    assert any(
        re.search(r": \d+ h \d+ min too short as it goes: ", problem.message) for problem in outlook.problems
    )


@pytest.mark.parametrize(("share", "delay_min", "where"), [(0.5, 120, "vehicle"), (0.6, 240, "room")])
def test_what_the_countdown_calls_too_short_stands_on_top(share: float, delay_min: int, where: str) -> None:
    """In the vehicle too, whose cold or heat ends the time before any gap between closing and opening is passed."""
    project, story = stopped("house_move", share, delay_min)
    hung, again = pipeline.renew(project, story, SETTINGS)
    outlook = pipeline.judge_again(hung, again, story, SETTINGS)
    closed = next_up(snapshot_of_outlook(outlook), story.state, story.now).travelling
    short = [(one.number, one.spare_min) for one in closed if one.spare_min is not None and one.spare_min < 0]
    assert short
    messages = [problem.message for problem in outlook.problems]
    told_of = []
    for number, spare_min in short:
        (at,) = (at for at, text in enumerate(messages) if re.match(rf"(\w+, )*{number}\b.* \(", text))
        assert f": {show_duration(-spare_min)} too short as it goes: " in messages[at]
        told_of.append(at)
    assert max(told_of) < len(set(told_of))  # before everything else
    assert outlook.verdict is Verdict.UNSAFE
    remedies = {problem.remedy for problem in outlook.problems[: len(set(told_of))]}
    if where == "vehicle":
        assert {one.split(" now")[0] for one in remedies} == {CARRY}
    else:
        assert remedies == {"let these out first"}
        assert any(re.search(r"within \d+ h \d+ min, and cannot", text) for text in messages)


def test_what_has_no_air_stands_on_top() -> None:
    project, story = stopped("house_move", 0.5, 15)
    story = replace(story, state=replace(story.state, airless={"B4": story.now - 5}))
    hung, again = pipeline.renew(project, story, SETTINGS)
    outlook = pipeline.judge_again(hung, again, story, SETTINGS)
    assert re.match(r"B4 \(Watchman goby\).*: no air since ", outlook.problems[0].message)
    assert outlook.problems[0].remedy == "give it air now"


def test_a_drive_that_is_held_is_as_long_as_the_way_however_often_it_is_planned_again() -> None:
    project, story = stopped("house_move", 0.5, 0, failed=("vehicle", "van"), lasting_min=20 * 60)
    (failure,) = story.state.failures
    homes = []
    for _ in range(3):
        assert "drive-van" in story.standing().begun  # type: ignore[union-attr]
        hung, again = pipeline.renew(project, story, SETTINGS)
        homes.append(again.found.of("drive-van").finish)
        snapshot = snapshot_of_outlook(pipeline.judge_again(hung, again, story, SETTINGS))
        found = next_up(snapshot, story.state, story.now)
        (settled,) = (expected for name, _, expected in found.milestones if name == "settled")
        planned = snapshot.task(snapshot.milestones["settled"])
        assert planned is not None
        assert settled - planned.finish <= 60  # nothing is behind a plan that was made this minute
        story = replace(story, last=snapshot, agreed=snapshot)
    assert len(set(homes)) == 1
    assert homes[0] <= failure.planned_on + 120


def test_hours_and_hire_that_give_way_have_their_price() -> None:
    project, story = stopped("house_move", 0.5, 570, "")
    plan = replace(
        project.plan,
        vehicles=tuple(replace(one, hire_until=story.now + 60) for one in project.plan.vehicles),
    )
    hung, again = pipeline.renew(project_of(plan), story, SETTINGS)
    said = {problem.message.split(" ")[0]: problem.message for problem in again.given_way}
    bea = next(one for one in hung.scheduling.people if one.id == "bea")
    pieces = [piece for one in again.found.placements if "bea" in one.people for piece in one.segments]
    worked = {minute for piece in pieces for minute in range(piece.start, piece.finish)}
    outside = worked - {minute for hour in bea.available for minute in range(hour.start, hour.finish)}
    over = len(outside)
    assert over > 0
    zone = hung.plan.zone
    ends = max(hour.finish for hour in bea.available if hour.finish <= min(outside))
    assert said["Bea"].startswith(
        f"Bea Lindqvist has hours until {to_local(ends, zone):%a %H:%M} and works until "
        f"{to_local(max(outside) + 1, zone):%a %H:%M}: {show_duration(over)} more, "
    )
    hired = f"{to_local(story.now + 60, zone):%a %H:%M}"
    assert f" and hired until {hired}, " in said["Hired"]
    assert f" more, {18 * over / 60:.2f} EUR" in said["Bea"]  # 18 an hour, of the example
    assert said["Ines"].endswith(" more")  # who is not paid costs nothing
    assert "longer: up to 95.00 EUR for one more day of hire" in said["Hired"]  # 95 a day, of the example


@pytest.mark.parametrize(
    ("over", "hours", "words"),
    [
        ([(100, 120)], [(0, 100), (700, 900)], ["has hours until 100 and works until 120"]),
        ([(100, 110), (130, 140)], [(0, 90)], ["has hours until 90 and works until 140"]),
        ([(680, 700)], [(0, 100), (700, 900)], ["has hours from 700 and works from 680"]),
        ([(5, 9)], [], ["has no hours and works from 5 until 9"]),
        (
            [(100, 101), (690, 700)],
            [(0, 100), (300, 310), (700, 900)],
            ["has hours until 100 and works until 101", "has hours from 700 and works from 690"],
        ),
    ],
)
def test_when_hours_end_or_begin_is_said_with_the_work_that_passes_them(
    over: list[tuple[int, int]], hours: list[tuple[int, int]], words: list[str]
) -> None:
    def spans(rows: list[tuple[int, int]]) -> tuple[Interval, ...]:
        return tuple(Interval(*row) for row in rows)

    assert list(passed(spans(over), spans(hours), str)) == words


def test_without_that_rule_the_list_is_gone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Break it on purpose: a day nine hours behind with every limit kept has no list."""
    project, story = stopped("house_move", 0.5, 540, "")
    monkeypatch.setattr(renew, "past_return", lambda *_: False)
    assert pipeline.renew(project, story, SETTINGS)[1].found.placements == ()


def test_before_the_point_of_no_return_nothing_gives_way() -> None:
    project, story = stopped("house_move", 0.0, 0, "")
    again = pipeline.renew(project, story, SETTINGS)[1]
    assert not again.late
    assert again.given_way == ()


@pytest.mark.parametrize(
    ("share", "what", "name", "waits"),
    [
        (0.1, "vehicle", "van", "drive-van"),
        (0.4, "vehicle", "van", "drive-van"),
        (0.6, "tank", "display", "fill-tank-display"),
        (0.6, "power", "harbour", "start-equipment-display"),
    ],
)
def test_what_failed_stands_on_top_and_what_hangs_on_it_waits(
    share: float, what: str, name: str, waits: str
) -> None:
    project, story = stopped("house_move", share, 0, "", (what, name))
    hung, again = pipeline.renew(project, story, SETTINGS)
    placed = {one.task: one for one in again.shown.placements}
    assert placed[waits].start >= story.now + ASSUMED_MIN
    outlook = pipeline.judge_again(hung, again, story, SETTINGS)
    words = next(problem.message for problem in outlook.problems if "failed at" in problem.message)
    assert "planned on as if it worked again at" in words
    if what == "vehicle":
        (remedy,) = (problem.remedy for problem in outlook.problems if problem.message == words)
        kg = round(sum(load.kg for load in project.loads))
        assert f"{kg} kg were to leave at Sat " in remedy
        drivers = "Ines Farrow +353 1 000 0021 or Tomas Reddy +353 1 000 0022"
        assert f"; {drivers} may drive it; the animals' containers go first" in remedy
    nothing_unsaid(hung, again, story)
    animals_first(outlook, again)
    on_paper(outlook)


def test_animals_that_wait_through_the_night_for_a_vehicle_are_said_to_be_alone() -> None:
    """The crew goes home; what stands in the rooms until the van is back is named, and the list goes on."""
    project, story = stopped("service_firm_office_tank", 0.1, 15, "", ("vehicle", "van-two"), OVERNIGHT_MIN)
    hung, again = pipeline.renew(project, story, SETTINGS)
    outlook = pipeline.judge_again(hung, again, story, SETTINGS)
    assert ("alone", "old-office") in {note[:2] for note in outlook.project.day_notes}
    on_paper(outlook)
