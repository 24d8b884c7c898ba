"""What a keeper is told beside the verdict, before anything else."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from moveplan.outputs.chances import TOO_OFTEN, chances_of, cost_error, stake_of
from moveplan.outputs.documents import render
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.page import page_html
from moveplan.outputs.summary import summary_md
from tests.outputs.scene import impossible, moving_day, risk

SCENE = moving_day()
TASKS = SCENE.project.network.tasks


def simulated(missed: float | None, overtime: float | None = None) -> Outlook:
    found = replace(
        risk(10000),
        day_missed=missed,
        overtime=overtime,
        day_missed_by=((TASKS[1].id, 0.06), (TASKS[0].id, 0.02), (TASKS[2].id, 0.01)),
        errors=(("day-missed", 0.0031), ("overtime", 0.0046)),
    )
    return replace(SCENE, risk=found)


def terminal(outlook: Outlook) -> str:
    return render(outlook, "text", "terminal/show.txt.j2", {"weeks": (), "day": ()})


def test_a_likely_miss_stands_before_the_dates_with_what_it_is_missed_for() -> None:
    outlook = simulated(0.0931)
    text = summary_md(outlook)
    before = text[: text.index("## When, and how sure")]
    assert "in 9.31 % ± 0.3 % the move slips to the day to fall back on" in before
    assert f"“{TASKS[1].title}” (6 %) and “{TASKS[0].title}” (2 %)." in before
    assert TASKS[2].title not in before
    assert text.count("slips to the day to fall back on") == 1
    page = page_html(outlook)
    assert page.index("the move slips to the day to fall back on") < page.index('id="risk"')
    assert "in 9.31 % of the runs the move slips to the day to fall back on" in terminal(outlook)


def test_a_rare_miss_is_told_further_down_only() -> None:
    outlook = simulated(0.0431)
    assert not stake_of(outlook)
    assert stake_of(outlook).causes == ()
    assert "slips to the day" not in terminal(outlook)


def test_work_past_the_hours_alone_names_no_causes() -> None:
    found = stake_of(simulated(0.01, 0.7))
    assert [name for name, _, _ in found.chances] == ["overtime"]
    assert found.causes == ()


@pytest.mark.parametrize(("missed", "warned"), [(TOO_OFTEN, False), (TOO_OFTEN + 0.001, True)])
def test_a_day_missed_more_often_than_once_in_three_is_no_promise(missed: float, warned: bool) -> None:
    outlook = simulated(missed)
    for text in (summary_md(outlook), page_html(outlook), terminal(outlook)):
        assert ("do not promise it to anybody" in text) is warned


def test_what_cannot_be_done_has_no_chances() -> None:
    outlook = replace(impossible(), risk=simulated(0.9).risk)
    assert not stake_of(outlook)
    assert "do not promise" not in page_html(outlook)


def test_without_runs_there_are_no_chances() -> None:
    assert not stake_of(replace(SCENE, risk=None))
    assert tuple(chances_of(None)) == ()


def test_what_the_runs_cost_stands_in_both_documents_with_its_error() -> None:
    cost = SCENE.cost
    assert cost is not None
    found = replace(risk(10000), errors=(("cost.p80", 1.5),))
    outlook = replace(
        SCENE,
        risk=found,
        cost=replace(cost, p50=Decimal("300.10"), p80=Decimal("340.20"), reserve=Decimal(40)),
    )
    summary, page = summary_md(outlook), page_html(outlook)
    assert (
        "€300.10 at most in half of the runs and €340.20 at most in 8 of 10 (± €1.50, 10,000 runs)" in summary
    )
    assert "<b>€340.20</b> at most in 8 of 10 (standard error €1.50)" in page
    assert cost_error(None) is None
    assert cost_error(risk(10000)) is None
