"""Past the point of no return there is always a list to follow, with what is broken on top, animals first."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from moveplan import pipeline
from moveplan.journal.failure import ASSUMED_MIN, Failed
from moveplan.journal.records import Accepted, Entry, Out, Record
from moveplan.journal.snapshot import snapshot_data
from moveplan.journal.state import state_of
from moveplan.outputs.checklist import checklist_md
from moveplan.outputs.outlook import Outlook
from moveplan.practice import renew
from moveplan.practice.compose import project_of
from moveplan.practice.project import Project
from moveplan.practice.renew import Renewed
from moveplan.practice.story import Story, told
from moveplan.times import to_local
from tests.journal.replay import EXAMPLES, SETTINGS, Replay, outlook_of


@cache
def _history(example: str) -> tuple[Replay, tuple[tuple[int, int], ...]]:
    """Carry an example out as planned: how many records there are at each moment."""
    replay = Replay(outlook_of(example), (1.0, 1.0), seed=1)
    return replay, tuple((now, len(replay.records)) for now in replay.moments())


def _stopped(
    example: str, share: float, delay_min: int, out: str, failed: tuple[str, str] = ("", "")
) -> tuple[Project, Story]:
    """Stop an example at a share of its moving day, and go on so much later, without one of its people or things."""
    replay, counts = _history(example)
    day = [task for task in replay.snapshot.tasks if task.day]
    first, last = min(task.start for task in day), max(task.finish for task in day)
    stop = first + round(share * (last - first))
    logged = max(count for at, count in counts if at <= stop)
    outlook = outlook_of(example)
    records: list[Record] = [
        Accepted(at=outlook.now, schedule=snapshot_data(replay.snapshot)),
        *replay.records[:logged],
    ]
    now = stop + delay_min
    if out:
        today = to_local(now, outlook.project.plan.zone).date()
        records.append(Out(at=now, person=out, first=today, last=today))
    if failed[0]:
        records.append(Failed(at=now, what=failed[0], name=failed[1]))
    state = state_of([Entry(number, record) for number, record in enumerate(records, start=1)])
    story = Story(state, replay.snapshot, replay.snapshot, now)
    plan, _ = pipeline.begin(EXAMPLES / f"{example}.yaml", SETTINGS)
    return project_of(told(plan, story)), story


CASES = [
    ("house_move", 0.3, 15, ""),
    ("house_move", 0.3, 120, "bea"),
    ("house_move", 0.5, 360, ""),
    ("house_move", 0.5, 45, "tomas"),
    ("house_move", 0.7, 120, "bea"),
    ("house_move", 0.6, 60, "ines"),
    ("house_move", 0.8, 480, "tomas"),
    ("house_move_into_larger_tank", 0.5, 360, ""),
    ("larger_tank_other_spot", 0.5, 120, ""),
]


@pytest.mark.parametrize(("example", "share", "delay_min", "out"), CASES)
def test_there_is_always_a_list_and_nothing_broken_is_unsaid(
    example: str, share: float, delay_min: int, out: str
) -> None:
    project, story = _stopped(example, share, delay_min, out)
    hung, again = pipeline.renew(project, story, SETTINGS)
    assert len(again.found.placements) == len(project.network.tasks)
    assert again.late
    _nothing_unsaid(hung, again, story)
    if out:
        ahead = [
            one for one in again.found.placements if one.task not in again.behind and one.start >= story.now
        ]
        days = {task.id for task in project.network.tasks if task.day}
        assert not [one.task for one in ahead if out in one.people and one.task in days]
    outlook = pipeline.weigh_again(hung, again, story, SETTINGS)
    _animals_first(outlook, again)
    _on_paper(outlook)


def _nothing_unsaid(project: Project, again: Renewed, story: Story) -> None:
    placed = {one.task: one for one in again.shown.placements}
    said = {(link.before, link.after) for link in again.broken}
    for link in project.network.links:
        if link.max_gap_min is None or link.after in again.behind:
            continue
        before, after = placed[link.before], placed[link.after]
        gap = (after.finish if link.relation.to_finish else after.start) - (
            before.finish if link.relation.from_finish else before.start
        )
        if gap > link.max_gap_min + project.scheduling.grid_min:
            assert (link.before, link.after) in said
    words = " ".join(problem.message for problem in again.given_way)
    for person in project.scheduling.people:
        beyond = [
            one.task
            for one in again.found.placements
            if person.id in one.people and one.task not in again.behind
            for piece in one.segments
            if not any(hour.start <= piece.start and piece.finish <= hour.finish for hour in person.available)
        ]
        assert not beyond or person.name in words, beyond


def _animals_first(outlook: Outlook, again: Renewed) -> None:
    """Find the animals before people and things, whether or not the engine had to let those give way."""
    dangers = outlook.drift.dangers if outlook.drift else ()
    assert outlook.problems[: len(dangers)] == dangers
    assert set(again.given_way) <= set(outlook.problems[len(dangers) :])


def _on_paper(outlook: Outlook) -> None:
    """Read the list: what is broken first, then every task."""
    assert outlook.follow
    text = checklist_md(outlook)
    first = text.index(". **Go through the plan with everybody")
    for problem in outlook.problems:
        assert text.index(problem.message[:40].replace("_", "\\_")) < first
    assert text.count("- [") >= len(outlook.schedule.placements)


def test_hours_and_hire_that_give_way_have_their_price() -> None:
    project, story = _stopped("house_move", 0.5, 570, "")
    plan = replace(
        project.plan,
        vehicles=tuple(replace(one, hire_until=story.now + 60) for one in project.plan.vehicles),
    )
    hung, again = pipeline.renew(project_of(plan), story, SETTINGS)
    said = {problem.message.split(" ")[0]: problem.message for problem in again.given_way}
    bea = next(one for one in hung.scheduling.people if one.id == "bea")
    pieces = [piece for one in again.found.placements if "bea" in one.people for piece in one.segments]
    worked = {minute for piece in pieces for minute in range(piece.start, piece.finish)}
    over = len(worked - {minute for hour in bea.available for minute in range(hour.start, hour.finish)})
    assert over > 0
    assert f" more, {18 * over / 60:.2f} EUR" in said["Bea"]  # 18 an hour, of the example
    assert said["Ines"].endswith(" more")  # who is not paid costs nothing
    assert "longer: up to 95.00 EUR for one more day of hire" in said["Hired"]  # 95 a day, of the example


def test_without_that_rule_the_list_is_gone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Break it on purpose: a day nine hours behind with every limit kept has no list."""
    project, story = _stopped("house_move", 0.5, 540, "")
    monkeypatch.setattr(renew, "past_return", lambda *_: False)
    assert pipeline.renew(project, story, SETTINGS)[1].found.placements == ()


def test_before_the_point_of_no_return_nothing_gives_way() -> None:
    project, story = _stopped("house_move", 0.0, 0, "")
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
    project, story = _stopped("house_move", share, 0, "", (what, name))
    hung, again = pipeline.renew(project, story, SETTINGS)
    placed = {one.task: one for one in again.shown.placements}
    assert placed[waits].start >= story.now + ASSUMED_MIN
    outlook = pipeline.weigh_again(hung, again, story, SETTINGS)
    words = next(problem.message for problem in outlook.problems if "failed at" in problem.message)
    assert "planned on as if it worked again at" in words
    _nothing_unsaid(hung, again, story)
    _animals_first(outlook, again)
    _on_paper(outlook)
