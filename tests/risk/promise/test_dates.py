"""Dates that the keeper gives tasks of his own are promised with all the rest."""

from __future__ import annotations

import json
from functools import cache
from math import sqrt

import numpy as np
import pytest

from moveplan.changed.beside import with_changes
from moveplan.journal.file.kept import snapshot_data, snapshot_of
from moveplan.journal.records import Begun, Done
from moveplan.journal.rest.promised import promise_ahead
from moveplan.journal.state import state_of
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.data.result import result_data, result_json
from moveplan.outputs.documents.checklist import checklist_md
from moveplan.outputs.documents.page import page_html
from moveplan.outputs.documents.summary import summary_md
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.pipeline import foresee, judge, schedule
from moveplan.scheduling.effort import Effort
from moveplan.stages.reading import Settings
from tests.examples import plan, project
from tests.journal.builders import entries
from tests.outputs.test_chances import terminal
from tests.risk.one_by_one import Slow, error

RUNS, SLOW_RUNS = 2000, 400
SETTINGS = Settings(runs=RUNS, effort=Effort(seconds=0.1, engine="serial"))


def painting(by: str) -> str:
    """Three hours by the plan, of an invented spread that lies mostly above them, in an evening that ends at nine."""
    lasts = "duration: {low: 2 h, likely: 3 h, high: 9 h}"
    return f"tasks={{paint: {{title: Paint the wall, {lasts}, people: 1, finish-by: {by}}}}}"


@cache
def outlook(by: str) -> Outlook:
    hung, found = schedule(project("short_plan", painting(by)), SETTINGS)
    return with_changes(judge(hung, found, SETTINGS, tell=True), hung, found, SETTINGS, foresee)


SOON, LATE = "2027-04-05 21:30", "2027-04-15 20:30"


def test_a_date_that_is_kept_too_seldom_makes_a_plan_tight_and_breaks_what_is_promised() -> None:
    soon, late = outlook(SOON), outlook(LATE)
    assert (soon.verdict, late.verdict) == (Verdict.TIGHT, Verdict.OK)
    assert soon.risk is not None
    assert soon.risk.promise is not None
    (dated,) = soon.risk.finish_by
    (broken,) = (one for one in soon.risk.promise.breaks if one.what == "date")
    assert broken.id == "paint"
    assert broken.chance == pytest.approx(1 - dated.chance)
    assert soon.risk.promise.kept <= dated.chance < 0.5 < soon.risk.promise.confidence
    assert dated.by < dated.likely <= dated.promised


@pytest.mark.parametrize("by", [SOON, LATE])
def test_a_slow_simulation_of_the_result_finds_the_same_share(by: str) -> None:
    data = json.loads(result_json(outlook(by)))
    slow = Slow(data, SLOW_RUNS, seed=7)
    runs = [slow.run(number) for number in range(SLOW_RUNS)]
    chances = {one["id"]: one["chance"] for one in data["promise"]["breaks"] if one["what"] == "date"}
    passed = float(np.mean([("date", "paint") in run.broken for run in runs]))
    kept = float(np.mean([not run.broken for run in runs]))
    for share, chance in ((passed, chances.get("paint", 0.0)), (kept, data["promise"]["kept"])):
        assert abs(share - chance) <= 3 * sqrt(error(chance, SLOW_RUNS) ** 2 + error(chance, RUNS) ** 2)
    assert bool(chances) is (by == SOON)


def test_a_later_date_is_tried_and_offered_with_what_to_write() -> None:
    (later,) = (one for one in outlook(SOON).helps if one.kind == "date")
    ((key, value),) = later.writes
    assert key == "tasks.paint.finish-by"
    changed = plan("short_plan", painting(SOON), f"{key}={value}").tasks
    assert changed == plan("short_plan", painting(value)).tasks
    again = outlook(value)
    assert again.verdict is Verdict.OK
    assert again.risk is not None
    assert again.risk.promise is not None
    assert again.risk.promise.kept == pytest.approx(later.kept, abs=0.04)


def test_every_paper_says_which_date_is_passed_and_what_would_help() -> None:
    (later,) = (one for one in outlook(SOON).helps if one.kind == "date")
    said = "“Paint the wall” passes its date, Mon, Apr 5, 9:30 PM: half of the runs finish it by Sat, Apr 10"
    helps = f"tasks.paint.finish-by: {later.writes[0][1]}"
    for text in (terminal(outlook(SOON)), summary_md(outlook(SOON)), page_html(outlook(SOON))):
        assert said in text.replace("\u202f", " ")
        assert "a later date for “Paint the wall”" in text
        assert helps in text.replace("&#34;", '"')
        assert "dates of own tasks" in text
    assert "“Paint the wall” is to be finished by Mon, Apr 5, 9:30 PM" in checklist_md(outlook(SOON))
    for text in (terminal(outlook(LATE)), summary_md(outlook(LATE)), checklist_md(outlook(LATE))):
        assert "passes its date" not in text
        assert "is to be finished by" not in text
    assert result_data(outlook(SOON))["status"] == "tight"


def test_on_the_way_a_date_counts_until_its_task_is_done() -> None:
    snapshot = snapshot_of(json.loads(json.dumps(snapshot_data(snapshot_of_outlook(outlook(SOON))))), "test")
    paint = next(one for one in snapshot.tasks if one.id == "paint")
    ahead = promise_ahead(snapshot, state_of(entries()), snapshot.now)
    records = entries(Begun(at=paint.start, task="paint"), Done(at=paint.start + 600, task="paint"))
    over = promise_ahead(snapshot, state_of(records), paint.start + 600)
    assert ahead is not None
    assert over is not None
    assert {what: chance for what, _, chance in ahead.breaks}["date"] > 0.3
    assert "date" not in {what for what, _, _ in over.breaks}
