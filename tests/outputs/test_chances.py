"""What a keeper is told beside the verdict, before anything else."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from moveplan.cli.terminal.screen import print_schedule
from moveplan.network.task import State
from moveplan.outputs.agenda import agenda
from moveplan.outputs.calendar.by_person import people_of, person_events
from moveplan.outputs.calendar.event import Event
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.calendar.source import Source
from moveplan.outputs.calendar.words import Wording
from moveplan.outputs.chances import WORTH_SAYING, stake_of
from moveplan.outputs.data.result import result_data
from moveplan.outputs.data.table import tasks_csv
from moveplan.outputs.documents.checklist import checklist_md
from moveplan.outputs.documents.page import page_html
from moveplan.outputs.documents.summary import summary_md
from moveplan.outputs.outlook import Help, Outlook, Verdict
from moveplan.outputs.papers.run_sheets import run_sheets_of
from moveplan.outputs.wording.documents import render
from moveplan.risk.promise.values import Broken, LaterTask, Promise, Root, ToldTask
from moveplan.risk.summary import StartBy
from moveplan.stages.judged import judge
from moveplan.stages.reading import Settings
from tests.outputs.scene import impossible, moving_day, risk
from tests.risk.moves import own_tasks

SCENE = moving_day()
TASKS = SCENE.project.network.tasks
WHO = SCENE.project.scheduling.people[0]
SETTLED = SCENE.milestones()["settled"]
PROMISE = Promise(
    0.8,
    0.55,
    0.005,
    (Broken("hours", WHO.id, 0.4), Broken("day", "2027-05-22", 0.0931), Broken("keys", "keys-back", 0.013)),
    (("settled", SETTLED + 61),),
    (("settled", SETTLED + 33),),
    tuple((task.id, 0.5) for task in TASKS),
)


def simulated(promise: Promise = PROMISE, missed: float = 0.0931) -> Outlook:
    causes = ((TASKS[1].id, 0.06), (TASKS[0].id, 0.02), (TASKS[2].id, 0.01))
    found = replace(risk(10000), promise=promise, day_missed=missed, day_missed_by=causes)
    return replace(SCENE, risk=found, verdict=Verdict.OK if promise.holds else Verdict.TIGHT)


def terminal(outlook: Outlook) -> str:
    return render(outlook, "text", "terminal/show.txt.j2", {"weeks": (), "days": ()})


def events(outlook: Outlook) -> list[Event]:
    """What stands in the calendars of all people."""
    keeper, wording = outlook.project.plan.leads, Wording()
    assert keeper is not None
    return [
        event
        for person in people_of(outlook)
        for event in person_events(Source(outlook, CalendarOptions(person=person, keeper=keeper.id), wording))
    ]


def before(text: str, mark: str) -> str:
    return text[: text.index(mark)]


def test_how_often_the_promise_is_kept_stands_before_every_date() -> None:
    outlook = simulated()
    told = (
        before(summary_md(outlook), "## When, and how sure"),
        before(page_html(outlook), '<dl class="glance">'),
        before(terminal(outlook), "the last animal is home and safe:"),
    )
    for text in told:
        assert "is kept in 55 % of the runs; the plan asks for 80 %" in text
        assert f"{WHO.name} works past the stated hours" in text
        assert "the move slips to the day to fall back on" in text
        assert "the keys go back late" not in text


def test_all_that_alone_breaks_a_promise_is_told_however_seldom_it_does() -> None:
    rows = tuple(Broken("hours", f"p{number}", chance) for number, chance in enumerate((0.03, 0.02, 0.01)))
    for confidence, told in ((0.995, 3), (0.985, 2), (0.975, 2)):
        stake = stake_of(simulated(replace(PROMISE, confidence=confidence, kept=0.94, breaks=rows)))
        assert stake.breaks == rows[:told]
    assert stake_of(simulated(replace(PROMISE, confidence=0.9, kept=0.94, breaks=rows))).breaks == ()


def test_animals_are_told_however_seldom_they_stay_too_long_and_what_breaks_often_stands_first() -> None:
    van = Broken("hire", "van", 0.06, (Root("day", "2027-05-22", 0.8), Root("risk", "tank-leaks", 0.2)))
    alone, seldom, never = (
        Broken("hours", WHO.id, 0.05),
        Broken("hours", "p", 0.03),
        Broken("animals", "any", 0.0),
    )
    groups = tuple(Broken("safe-time", name, 0.045) for name in ("goby", "wrasse"))
    stake = stake_of(
        simulated(replace(PROMISE, kept=0.9, breaks=(van, alone, *groups, seldom), animals=never))
    )
    assert stake.breaks == (alone, van, never)
    text = summary_md(
        simulated(replace(PROMISE, kept=0.9, breaks=(van, alone, *groups, seldom), animals=never))
    )
    assert "longer than it is booked (8 in 10 of these: Sat, 22 May slipped)" in text
    assert "under 1 in 100: animals are longer in a container than is safe" in text


def test_a_day_without_one_to_fall_back_on_slips_to_none() -> None:
    later = replace(PROMISE, breaks=(Broken("day", "2027-06-19", 0.1),))
    text = summary_md(simulated(later))
    assert "Sat, 19 Jun slips, with no fall-back day" in text
    assert "slips to the day to fall back on" not in text


def test_a_plan_that_holds_says_that_nothing_was_tried_against_what_breaks_often() -> None:
    for kept, chance, said in ((0.9, 0.06, True), (0.9, 0.045, False), (0.55, 0.06, False)):
        outlook = simulated(replace(PROMISE, kept=kept, breaks=(Broken("hours", WHO.id, chance),)))
        for text in (summary_md(outlook), page_html(outlook), terminal(outlook)):
            assert ("no change was tried against what breaks" in text) is said


def test_whose_day_often_gets_too_long_is_told_beside_the_promise() -> None:
    rows = ((WHO.id, 0.3), ("nobody", 0.01))
    for text in (
        summary_md(simulated(replace(PROMISE, long_days=rows))),
        terminal(simulated(replace(PROMISE, long_days=rows))),
    ):
        assert f"Not promised: a day of 12 h at most; longer for {WHO.name} (3 in 10)." in text
    assert "Not promised" not in summary_md(simulated())


def test_chances_are_told_as_one_in_so_many_or_so_many_in_ten() -> None:
    rows = ((WHO.id, 0.3), ("nobody", 0.066))
    text = summary_md(simulated(replace(PROMISE, long_days=rows)))
    assert f"longer for {WHO.name} (3 in 10), nobody (1 in 15)." in text
    rare = summary_md(simulated(replace(PROMISE, long_days=((WHO.id, 0.1), ("nobody", 0.066)))))
    assert f"longer for {WHO.name} (1 in 10), nobody (1 in 15)." in rare


def test_what_a_day_is_missed_for_is_told_where_it_is_missed_often() -> None:
    text = summary_md(simulated())
    assert f"“{TASKS[1].title}” (1 in 15) and “{TASKS[0].title}” (1 in 50)." in text
    assert stake_of(simulated(missed=WORTH_SAYING / 2)).causes == ()


def test_a_date_to_begin_by_that_is_passed_is_said_before_the_promise() -> None:
    task = next(one for one in TASKS if SCENE.states.get(one.id, State.NEEDS_ACTION) is State.NEEDS_ACTION)
    start = SCENE.schedule.of(task.id).start
    on_time, late = (
        replace(risk(10000), promise=PROMISE, start_by=(StartBy(task.id, by, 0.8),))
        for by in (max(start, SCENE.now), start - 5)
    )
    for found, told in ((late, True), (on_time, False)):
        outlook = replace(SCENE, risk=found, verdict=Verdict.TIGHT)
        for text in (summary_md(outlook), page_html(outlook), terminal(outlook)):
            assert ("had to begin by" in before(text, "is kept in 55 %")) is told
    begun = replace(
        SCENE, risk=late, verdict=Verdict.TIGHT, states={**SCENE.states, task.id: State.IN_PROCESS}
    )
    assert stake_of(begun).overdue == ()


def test_a_date_to_begin_by_that_lies_before_the_plan_is_said_to_and_stands_on_the_first_card() -> None:
    task = next(one for one in TASKS if SCENE.states.get(one.id, State.NEEDS_ACTION) is State.NEEDS_ACTION)
    begin = SCENE.project.scheduling.start
    for by, words in ((begin, "had to begin before"), (begin + 1, "had to begin by")):
        found = replace(risk(10000), promise=PROMISE, start_by=(StartBy(task.id, by, 0.8),))
        page = page_html(replace(SCENE, now=begin + 10, risk=found, verdict=Verdict.TIGHT))
        assert f"{task.title}” {words}" in before(page, '<section id="grade"')


def test_a_plan_that_is_not_safe_says_how_often_it_is_kept_and_promises_no_time() -> None:
    outlook = replace(simulated(), verdict=Verdict.UNSAFE)
    assert stake_of(outlook).breaks
    assert not stake_of(
        replace(outlook, risk=replace(risk(10000), promise=replace(PROMISE, kept=0.9)))
    ).untested
    for text in (summary_md(outlook), page_html(outlook), terminal(outlook)):
        assert "is kept in 55 % of the runs; the plan asks for 80 %" in text
    assert " promised, " not in terminal(outlook)
    assert "in 80 % of the runs" in terminal(outlook)


def test_times_that_are_seldom_reached_say_so() -> None:
    seldom = replace(PROMISE, start_chances=tuple((task.id, 0.2) for task in TASKS))
    said = f"{len(TASKS)} of {len(TASKS)} starts are reached in fewer than one run in three"
    for outlook, told in ((simulated(seldom), True), (simulated(), False)):
        for text in (summary_md(outlook), page_html(outlook), terminal(outlook)):
            assert (said in text) is told


def test_papers_that_people_carry_say_in_a_line_that_their_times_are_the_earliest() -> None:
    """The checklist once a moving day, each run sheet once, each moving day's event once; nothing where they hold."""
    seldom = replace(PROMISE, start_chances=tuple((task.id, 0.2) for task in TASKS))
    said = "These times are the earliest; most runs come later. Do not hurry."
    for outlook, told in ((simulated(seldom), 1), (simulated(), 0)):
        sheets = run_sheets_of(outlook, agenda(outlook))
        assert sheets
        page = page_html(outlook)
        assert checklist_md(outlook).count(said) == told * len({sheet.day for sheet in sheets})
        assert page[page.index('id="sheets"') : page.index('id="todo"')].count(said) == told * len(sheets)
        for one in events(outlook):
            on_the_day = one.words.title.startswith("Moving day")
            assert one.words.notes.count(said) == told * on_the_day


def shown_by(outlook: Outlook, capsys: pytest.CaptureFixture[str]) -> str:
    """What ``show`` prints, with its lines joined."""
    print_schedule(outlook, as_json=False)
    return " ".join(capsys.readouterr().out.split())


def test_what_follows_the_moving_days_says_where_less_than_half_of_the_runs_begin_it_by_then(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A hundred runs; the times of thirty of them are no later than the plan's, or those of eighty."""
    first = min(SCENE.starts()[task.id] for task in TASKS if task.day)
    task = next(
        task for task in TASKS if not task.day and not task.repeats and SCENE.starts()[task.id] > first
    )
    start = SCENE.starts()[task.id]
    for share, told in ((30, True), (80, False)):
        by = tuple(start - 60 if at < share else start + 600 for at in range(100))
        later = (LaterTask(task.id, by, float(first)),)
        outlook = simulated(replace(PROMISE, start_chances=(), later=later))
        (row,) = (row for row in result_data(outlook)["tasks"] if row["id"] == task.id)
        assert row["start_chance"] == share / 100
        table = csv.DictReader(io.StringIO(tasks_csv(outlook).decode("utf-8-sig"), newline=""))
        assert {one["task"]: one["chance"] for one in table if one["chance"]} == {task.id: f"0.{share}"}
        shown = shown_by(outlook, capsys)
        assert shown.count("often later: begun by then in 30 % of the runs") == told
        for text in (checklist_md(outlook), page_html(outlook)):
            assert text.count("often later: begun by then in 30 % of the runs") == told
        notes = [one.words.notes for one in events(outlook)]
        assert any("Often later: begun by then in 30 % of the runs." in text for text in notes) is told


def test_how_often_all_promised_dates_hold_together_is_said() -> None:
    outlook = simulated(replace(PROMISE, dates_kept=0.7154))
    assert result_data(outlook)["promise"]["dates_kept"] == 0.7154
    assert "Both dates hold in 71 %, each in 80 %." in summary_md(outlook)
    assert "Both dates hold in 71 % of the runs, each in 80 %." in page_html(outlook)
    assert "Both dates hold in 71 % of the runs, each in 80 %." in terminal(outlook)
    assert "dates hold in" not in terminal(simulated())
    assert "dates hold in" not in summary_md(simulated())


def test_no_plan_can_be_done_without_a_word_whose_likely_durations_pass_a_date(tmp_path: Path) -> None:
    """Two hours by the plan, of a spread (invented) that lies mostly above them."""
    tasks = (
        "people:\n  ann: {name: Ann, hours: {mon-sun: 08:00-20:00}}\n"
        "tasks:\n  dig: {title: Dig, duration: {low: 60 min, likely: 120 min, high: 600 min}, people: 1, "
    )
    for by, missed in (("10:00", True), ("18:00", False)):
        project, schedule = own_tasks(tmp_path, tasks + f"finish-by: 2027-03-01 {by}}}\n")
        outlook = judge(project, schedule, Settings(runs=400))
        assert outlook.risk is not None
        (one,) = outlook.risk.finish_by
        assert (one.likely > one.by) is missed
        assert (one.chance < 0.5) is missed
        assert (outlook.verdict is Verdict.TIGHT) is missed
        assert one.likely < one.promised
        (row,) = result_data(outlook)["risk"]["finish_by"]
        assert (row["task"], row["chance"]) == ("dig", one.chance)
        head = terminal(outlook).splitlines()[0]
        assert ("it can be done only with luck: a date is kept in" in head) is missed
        for text in (summary_md(outlook), page_html(outlook), checklist_md(outlook)):
            assert ("“Dig” is to be finished by" in text) is missed
        assert ("Every hard limit is kept" in summary_md(outlook)) is not missed


def test_how_far_behind_half_of_the_runs_are_is_said_by_the_clock() -> None:
    """A count of starts tells nobody what to expect; the clock does."""
    starts = SCENE.starts()
    tied = sorted((task for task in TASKS if task.day), key=lambda task: starts[task.id])
    late = tuple(
        ToldTask(task.id, starts[task.id] + 10 * at, starts[task.id] + 10 * at + 5, 0.5)
        for at, task in enumerate(tied)
    )
    seldom = replace(PROMISE, start_chances=tuple((task.id, 0.2) for task in tied), told=late)
    (noon, half), (evening, most) = stake_of(simulated(seldom)).behind
    assert (noon, half) == (starts[tied[len(tied) // 2].id], 10 * (len(tied) // 2))
    assert (evening, most) == (starts[tied[-1].id], 10 * (len(tied) - 1))
    text = terminal(simulated(seldom))
    assert "half of the runs are" in text
    assert "do not hurry" in text
    assert "starts are reached in" not in text


def test_the_grade_follows_the_promise() -> None:
    assert "it is tight" in summary_md(simulated())
    assert "it is tight" not in summary_md(simulated(replace(PROMISE, kept=0.8)))


def test_milestones_are_told_as_promised_with_the_likely_beside_and_no_tight_plan_promises_a_time() -> None:
    data = result_data(simulated())
    assert data["milestones"]["settled"] > data["likely"]["settled"]
    for kept, word in ((0.8, "promised"), (0.55, "in 80 % of the runs")):
        text = terminal(simulated(replace(PROMISE, kept=kept)))
        line = next(row for row in text.splitlines() if "the last animal is home and safe:" in row)
        assert word in line
        assert "likely" in line


@pytest.mark.parametrize(
    ("kept", "confidence", "words"),
    [
        (0.93, 0.95, "it can be done, but it is tight: kept as promised in 93 % of cases"),
        (0.699, 0.8, "it can be done, but it is tight: kept as promised in 69 % of cases"),
        (0.5, 0.8, "it can be done, but it is tight: kept as promised in 50 % of cases"),
        (0.49, 0.8, "it can be done only with luck: kept as promised in 49 % of cases"),
        (0.03, 0.8, "it can be done only with luck: kept as promised in 3 % of cases"),
    ],
)
def test_the_first_line_of_a_tight_plan_says_in_how_many_cases_it_holds(
    kept: float, confidence: float, words: str
) -> None:
    outlook = simulated(replace(PROMISE, kept=kept, confidence=confidence))
    assert words in terminal(outlook).splitlines()[0]
    assert words in summary_md(outlook).lower()
    assert words in page_html(outlook).lower()


def test_what_helps_is_told_with_what_to_write() -> None:
    helped = Help(
        "later", ((f"people.{WHO.id}.moving-day", "07:00-23:30"),), (WHO.id,), 0.83, Decimal(18), 1.5
    )
    outlook = replace(simulated(), helps=(helped,))
    for text in (summary_md(outlook), page_html(outlook), terminal(outlook)):
        assert f"{WHO.name} stays later: kept in 83 %, for €20 and 2 h more of unpaid time; write" in text
        assert "moving-day: 07:00-23:30" in text
    told = result_data(outlook)["promise"]["helps"]
    assert told == [
        {
            "change": f"people.{WHO.id}.moving-day=07:00-23:30",
            "kind": "later",
            "kept": 0.83,
            "cost": 18,
            "unpaid_hours": 1.5,
            "tried": True,
        }
    ]


def test_what_cannot_be_done_promises_nothing() -> None:
    outlook = replace(impossible(), risk=simulated().risk)
    assert not stake_of(outlook)
    assert "is kept in" not in before(page_html(outlook), 'id="trust"')


def test_without_runs_nothing_is_promised() -> None:
    assert not stake_of(replace(SCENE, risk=None))


def test_what_to_keep_ready_is_rounded_up_and_exact_in_the_data() -> None:
    cost = SCENE.cost
    assert cost is not None
    ready = replace(cost, p50=Decimal("300.10"), promised=Decimal("341.20"), reserve=Decimal("41.20"))
    outlook = replace(simulated(), cost=ready)
    for text in (summary_md(outlook), page_html(outlook)):
        assert "keep €350 ready; likely €310" in text
    deposit = replace(ready.lines[0], item="deposit-keys", group="deposits", amount=Decimal(60))
    paid = replace(outlook, cost=replace(ready, lines=(*ready.lines, deposit)))
    for text in (summary_md(paid), page_html(paid)):
        assert "ready, €60 of it for deposits that come back; likely €310" in text
    assert result_data(outlook)["cost"]["promised"] == 341.20
