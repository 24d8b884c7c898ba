"""What done jobs teach: measured paces, fewer jobs counting less, and longer durations and quotes of jobs to come."""

from __future__ import annotations

from dataclasses import replace
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
from moveplan.firm.lessons import Lessons, lessons_of, taught, weight_of
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.quotes import quotes_md
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
