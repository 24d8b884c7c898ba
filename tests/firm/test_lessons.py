"""What done jobs teach: measured paces, fewer jobs counting less, and longer durations and quotes of jobs to come."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from math import sqrt
from pathlib import Path
from shutil import copytree
from tempfile import mkdtemp

import pytest

from moveplan.errors import PlanFileError
from moveplan.firm.dispatch import outlook_of
from moveplan.firm.file.reader import read_firm
from moveplan.firm.jobs import Read, composed_alone, read_jobs
from moveplan.firm.lessons import KindPace, Lessons, by_kind, lessons_of, taught, weight_of
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.quotes import quotes_md
from moveplan.firm.placing.staffed import Staff, staffed_project
from moveplan.firm.quote import quotes_of
from moveplan.plan.move import Learnt
from tests.firm.firms import EXAMPLES, SETTINGS
from tests.firm.test_real import JOB, SLOWER, case

FIRST_JOB = "  - {plan: jobs/garden_flat.yaml, day: 2027-05-08, promised: yes, promise-price: 150}\n"
LATE = "late_call"


@cache
def next_month(learn: str) -> Path:
    """Write a firm file with the one job that is not done yet, beside what was recorded of the other."""
    folder = Path(mkdtemp(prefix="moveplan-lessons-"))
    copytree(case().after.firm.path.parent / "jobs", folder / "jobs")
    text = (EXAMPLES / "one_too_many.yaml").read_text("utf-8")
    assert FIRST_JOB in text
    text = text.replace(FIRST_JOB, "").replace("jobs:\n", f"{learn}jobs:\n")
    (folder / "firm.yaml").write_text(text, "utf-8")
    return folder / "firm.yaml"


@cache
def built(learn: str) -> FirmOutlook:
    return outlook_of(next_month(learn), SETTINGS)


LEARN = "learn: [jobs/garden_flat.yaml]\n"


def test_one_job_counts_by_the_root_of_a_fifth_and_five_in_full() -> None:
    assert weight_of(1) == sqrt(1 / 5)
    assert weight_of(5) == weight_of(50) == 1.0
    assert [weight_of(n) for n in range(7)] == sorted(weight_of(n) for n in range(7))


def test_a_job_of_the_firm_that_is_done_teaches_its_pace_drawn_towards_the_usual_one() -> None:
    """Every piece of work took one and a half times as long; of one job that counts by 0.45."""
    lessons = case().after.lessons
    assert lessons.jobs == (JOB,)
    for name in ("pace_moving_day", "pace_other_work"):
        assert lessons.paces[name] == pytest.approx(1 + weight_of(1) * (SLOWER - 1), abs=0.02)
    for _, usual, real in lessons.tasks:
        assert real == pytest.approx(usual * (1 + weight_of(1) * (SLOWER - 1)), abs=1)


def test_a_job_that_is_not_done_teaches_nothing() -> None:
    assert case().half.lessons == Lessons()
    assert case().before.lessons == Lessons()
    assert "no job is done yet" in quotes_md(case().before, quotes_of(case().before))


def test_where_one_person_led_all_that_was_measured_their_crew_is_neither_slower_nor_faster() -> None:
    kinds = case().after.lessons.kinds
    (lead,) = {one.lead for one in kinds if one.lead}
    assert lead == case().after.placed[0].sent.crew[0]
    assert {one.kind for one in kinds if one.lead} == {one.kind for one in kinds if not one.lead}
    for one in kinds:
        assert (one.jobs, one.factor) == (1, 1.0)
        assert one.real_min == pytest.approx(SLOWER * one.usual_min, abs=5)
    text = quotes_md(case().after, quotes_of(case().after))
    assert "| catch fish | Ruth Ansty leads | 1 |" in text


ROWS = {
    "one": [("catch-fish-reef", 100, 200, True), ("pack-dry-reef", 60, 60, True)],
    "two": [("catch-fish-den", 100, 100, True)],
    "three": [("catch-fish-hall", 200, 300, True), ("own-task", 50, 500, False)],
}
LEADS = {"one": "ruth", "two": "owen", "three": "ruth"}


def test_each_kind_of_task_is_added_up_over_all_jobs_and_over_those_of_each_lead() -> None:
    """Of 400 min 600 were used: 500 of 300 with Ruth, in two jobs, and 100 of 100 with Owen, in one."""
    found = {(one.kind, one.lead): one for one in by_kind(ROWS, LEADS)}
    assert set(found) == {
        *(("catch-fish", lead) for lead in ("", "ruth", "owen")),
        *(("pack-dry", lead) for lead in ("", "ruth")),
    }
    sums = {key: (one.jobs, one.usual_min, one.real_min) for key, one in found.items()}
    assert sums["catch-fish", ""] == (3, 400, 600)
    assert sums["catch-fish", "ruth"] == (2, 300, 500)
    assert sums["catch-fish", "owen"] == (1, 100, 100)
    slower = 1 + weight_of(2) * 300 / 420 * ((500 / 300) / 1.5 - 1)
    faster = 1 + weight_of(1) * 100 / 220 * (1.0 / 1.5 - 1)
    assert found["catch-fish", "ruth"].factor == pytest.approx(slower, abs=0.005)
    assert found["catch-fish", "owen"].factor == pytest.approx(faster, abs=0.005)
    assert found["pack-dry", "ruth"].factor == 1.0


def test_the_next_job_lasts_longer_with_the_crew_that_took_longer() -> None:
    firm = read_firm(EXAMPLES / "one_too_many.yaml")
    read = read_jobs(firm)
    kinds = (KindPace("catch-fish", "", 6, 600, 600), KindPace("catch-fish", "owen", 5, 300, 450, 1.4))
    plan = taught(read, Lessons(jobs=("before",), weight=1.0, kinds=kinds))[LATE].plan
    likely = {
        lead: {
            task.id: task.estimate.likely
            for task in staffed_project(
                firm, firm.job(LATE), plan, Staff(date(2027, 5, 8), (lead, "jun", "petra")), steps=False
            ).network.tasks
        }
        for lead in ("ruth", "owen")
    }
    same = likely["ruth"].keys() & likely["owen"].keys()
    longer = {task for task in same if likely["owen"][task] != likely["ruth"][task]}
    assert longer
    assert all(task.startswith("catch-fish") for task in longer)
    for task in longer:
        assert likely["owen"][task] == pytest.approx(1.4 * likely["ruth"][task], abs=5)


def test_what_was_learnt_makes_the_next_job_longer_and_dearer_and_the_page_says_on_how_many_it_rests() -> (
    None
):
    usual, slower = built(""), built(LEARN)
    assert slower.lessons.jobs == (JOB,)
    before, after = (
        {task.id: task.estimate.likely for task in one.placed[0].outlook.project.network.tasks if task.crew}
        for one in (usual, slower)
    )
    same = [task for task in before if task in after]
    assert all(after[task] >= before[task] for task in same)
    assert sum(after[task] for task in same) > 1.1 * sum(before[task] for task in same)
    quotes = [quotes_of(one)[LATE] for one in (usual, slower)]
    assert quotes[1].likely.total > quotes[0].likely.total
    text = quotes_md(slower, quotes_of(slower)).replace("\\", "")
    assert "rest on 1 job that is done (garden_flat)" in text
    assert "Durations rest on 1 done job." in text
    assert "counts by 45 %" in text


def test_a_plan_that_names_its_own_look_back_keeps_it_and_a_done_job_stays_as_it_was() -> None:
    firm = read_firm(next_month(LEARN))
    read = read_jobs(firm)
    lessons = lessons_of(firm, read)
    own = Learnt((("catch-fish-reef", 60, 120),), {})
    mine = {LATE: Read(replace(read[LATE].plan, learnt=own))}
    assert taught(mine, lessons)[LATE].plan.learnt == own
    done = {JOB: read[LATE]}
    assert taught(done, lessons) == done
    plain, slow = (composed_alone(one[LATE].plan) for one in (read, taught(read, lessons)))
    likely = [sum(task.estimate.likely for task in one.network.tasks if task.crew) for one in (plain, slow)]
    assert likely[1] > 1.1 * likely[0]


@pytest.mark.parametrize(
    ("learn", "said"),
    [
        ("learn: [jobs/no_such.yaml]\n", "no such file"),
        ("learn: [jobs/surgery.yaml]\n", "nothing was accepted and recorded"),
    ],
    ids=["missing", "never-accepted"],
)
def test_a_plan_that_teaches_nothing_is_told_with_its_line(learn: str, said: str) -> None:
    path = next_month(learn)
    firm = read_firm(path)
    with pytest.raises(PlanFileError, match=said) as caught:
        lessons_of(firm, read_jobs(firm))
    assert f"{path}:" in str(caught.value)
    assert "learn" in str(caught.value)
