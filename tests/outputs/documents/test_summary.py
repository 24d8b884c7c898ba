from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from moveplan.errors import Problem, WayOut
from moveplan.estimate import Provenance
from moveplan.outputs.documents.checklist import checklist_md
from moveplan.outputs.documents.page import page_html
from moveplan.outputs.documents.summary import Group, cost_groups, groups, summary_md
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.pipeline import judge
from moveplan.risk.register.ranked import best_offers
from moveplan.risk.summary import Measure, Percentiles, RegisterEntry, StartBy
from moveplan.stages.reading import Settings
from tests.examples import NAMES, scheduled
from tests.outputs.hostile import hostile
from tests.outputs.scene import REASONS, ROUTES, bare, impossible, minutes, moving_day, risk

PUMP = Measure("pump", "A second battery air pump", Decimal(18), probability_left=0.4)

SIMULATED = replace(moving_day(), risk=risk(10000))


@pytest.mark.parametrize("outlook", [SIMULATED, moving_day(), bare(), impossible()])
@pytest.mark.parametrize("document", [summary_md, checklist_md])
def test_parts_stand_one_blank_line_apart(document: Callable[[Outlook], str], outlook: Outlook) -> None:
    assert "\n\n\n" not in document(outlook)


def test_verdict_and_dates_come_first() -> None:
    text = summary_md(moving_day())
    lines = text.splitlines()
    assert lines[4] == "## It can be done"
    assert "| Settled: the last animal is home and safe | Sat, 22 May, 16:30 |" in lines
    assert " Fall-back day Saturday 29 May 2027." in text
    assert " Old home empty by (given) Tue, 1 Jun, 12:00." in text


def test_dates_say_how_sure_they_are() -> None:
    assert SIMULATED.risk is not None
    text = summary_md(SIMULATED)
    row = next(line for line in text.splitlines() if line.startswith("| Settled"))
    found = SIMULATED.risk.settled
    assert isinstance(found, Percentiles)
    assert row.count(" | ") == 4
    assert "From 10,000 trial runs." in text
    assert "tandard error" not in text


def test_costs_are_summed_by_group_and_say_whose_prices_they_are() -> None:
    text = summary_md(moving_day())
    assert "| Water | Salt | €38 | given |\n" in text
    assert "| Income | Old sand sold | −€15 | invented |\n" in text
    assert "| **Total** | | **€252** | |\n" in text
    assert "Reserve" not in text


def test_groups_add_up_to_the_total() -> None:
    cost = moving_day().cost
    assert cost is not None
    groups_ = cost_groups(cost)
    assert [group for group, _ in groups_] == ["water", "vehicles", "livestock", "income"]
    assert sum(amount for _, amount in groups_) == cost.total == Decimal("251.58")
    assert cost_groups(None) == ()


def test_a_group_of_given_and_invented_prices_says_how_much_is_given() -> None:
    cost = moving_day().cost
    assert cost is not None
    salt, *_ = cost.lines
    dear = replace(
        salt, item="tap", name="Tap water", amount=Decimal("50.00"), provenance=cost.lines[3].provenance
    )
    both = replace(cost, lines=(salt, dear))
    assert groups(both) == (Group("water", ("Tap water", "Salt"), Decimal("88.08"), Decimal("38.08")),)
    assert "| Water | Tap water; Salt | €88 | €38 at given prices |" in summary_md(
        replace(moving_day(), cost=both)
    )


def test_livestock_stands_against_its_safe_time_with_the_range() -> None:
    row = "| Yellow-finned tang (1) | 7 h | 7 h 50 min to 15 h | ammonia builds up | 50 min |"
    assert row in summary_md(moving_day())
    over = summary_md(
        replace(SIMULATED, risk=replace(risk(10000), over_limit=((ROUTES[1].livestock, 0.03),)))
    )
    assert f"{row} 1 in 30 |\n" in over
    assert "| Passed in runs |\n" in over
    assert "The plan accepts 5 % of the runs for each group." in over


def test_a_group_over_its_safe_time_is_marked() -> None:
    outlook = moving_day()
    tang = ROUTES[1]
    stops = tuple(
        replace(stop, safe=replace(stop.safe, estimate=minutes(300, 400, 500))) if stop.safe else stop
        for stop in tang.stops
    )
    project = replace(outlook.project, routes=(replace(tang, stops=stops),))
    text = summary_md(replace(outlook, project=project, verdict=Verdict.UNSAFE, problems=REASONS))
    assert "| **over by 2 h** |" in text
    assert "## When, and how sure" not in text


def test_a_risk_says_chance_cost_delay_loss_response_and_who() -> None:
    row = (
        "**The tank leaks after the move**: 1 in 25 (assumed), €850 if so, 1 day later."
        " What to do: Stop filling, keep the animals in tubs with heat and air (Una Harte).\n"
    )
    assert row in summary_md(moving_day())


def many(count: int) -> tuple[RegisterEntry, ...]:
    first = moving_day().risk.register[0]  # type: ignore[union-attr]
    return tuple(replace(first, id=str(number)) for number in range(count))


def test_a_long_register_shows_the_five_that_weigh_most() -> None:
    text = summary_md(replace(SIMULATED, risk=replace(risk(10000), register=many(14))))
    assert text.count("**The van stops on the way with animals aboard**") == 5
    assert "The page has all 14 risks and their signs.\n" in text


def test_measures_say_what_they_cost_and_what_they_save() -> None:
    idle = Measure("idle", "A second route", Decimal(0), delay_left=0.5)
    entry = replace(many(1)[0], probability=0.2, cost=Decimal(800), measures=(PUMP, idle))
    assert [offer.measure.id for offer in best_offers(moving_day().project, (entry,), 3)] == ["pump"]
    row = "| A second battery air pump | The van stops on the way with animals aboard | €18 | €95 |\n"
    assert row in summary_md(replace(moving_day(), risk=replace(risk(0), register=(entry,))))


def test_a_measure_that_costs_more_than_it_saves_says_so() -> None:
    """A gain of 5.44 was once told as 10 beside a cost of 15: it is told to the unit, and as less than it costs."""
    dear = replace(PUMP, cost=Decimal(15))
    entry = replace(many(1)[0], probability=0.2, cost=Decimal("36.27"), measures=(dear,))
    saves = entry.lowers_by(dear)
    assert Decimal(4) < saves < Decimal(6)
    text = summary_md(replace(moving_day(), risk=replace(risk(0), register=(entry,))))
    assert f"aboard | €15 | €{round(saves)}, less than it costs |\n" in text


def test_what_spares_delay_is_offered_before_what_spares_money() -> None:
    quick = Measure("quick", "A second driver", Decimal(40), delay_left=0.1, cost_left=0.99)
    entry = replace(many(1)[0], probability=0.2, cost=Decimal(800), delay_min=60, measures=(PUMP, quick))
    project = moving_day().project
    assert [offer.measure.id for offer in best_offers(project, (entry,), 3)] == ["quick", "pump"]
    before = replace(entry, tasks=(next(task.id for task in project.network.tasks if not task.day),))
    assert [offer.measure.id for offer in best_offers(project, (before,), 3)] == ["pump", "quick"]


def test_a_measure_whose_figures_are_not_assumed_says_so() -> None:
    given = replace(PUMP, provenance=Provenance.GIVEN, effect=Provenance.COMPUTED)
    entry = replace(many(1)[0], probability=0.2, cost=Decimal(800), measures=(given,))
    row = "aboard | €18 (given in the plan) | €95 (computed) |\n"
    assert row in summary_md(replace(moving_day(), risk=replace(risk(0), register=(entry,))))


def test_without_a_reason_it_says_that_none_can_be_named() -> None:
    text = summary_md(replace(impossible(), problems=(), verdict=Verdict.UNDECIDED))
    assert "No single reason can be named." in text


def test_decisions_come_by_date_and_with_runs_the_start_by_dates_too() -> None:
    without, with_runs = summary_md(moving_day()), summary_md(SIMULATED)
    row = "| Fri, 21 May, {} | Go or no-go | Fri, 21 May, 18:00 | Per Olin, Una Harte |\n"
    assert (
        row.format("20:00") in without
    )  # the latest start by the network alone, as all of the column are starts
    assert "Begin:" not in without
    late = (
        "| Mon, 10 May | Begin: Make 310 l of purified water"
        " | Wed, 12 May, 18:00 (**later than is sure enough**) |  |\n"
    )
    assert late in with_runs
    assert (
        "**Some of what is marked below is planned later than is sure enough: begin it earlier.**"
        in with_runs
    )
    assert with_runs.index(late) < with_runs.index(row.format("20:40"))
    assert "What begins at the latest moment is ready in 90 % of the runs." in with_runs


def test_what_is_planned_in_time_is_not_marked() -> None:
    early = (StartBy("make-water", SIMULATED.schedule.of("make-water").start, 0.9),)
    text = summary_md(replace(SIMULATED, risk=replace(risk(10000), start_by=early)))
    assert "Begin: Make 310 l of purified water" in text
    assert "later than is sure enough" not in text


def test_what_cannot_be_done_gives_the_reasons_and_the_ways_out_first() -> None:
    lines = summary_md(impossible()).splitlines()
    assert lines[4] == "## It cannot be done as written"
    assert lines[8] == f"1. {REASONS[0].message}"
    assert lines[10] == "   - Way out: hire the van until 18:00; tried, it works"


def test_each_way_out_has_a_line_of_its_own_with_its_price_and_what_to_write() -> None:
    hire = WayOut(
        "have Van all day", "1 day of hire at 90.00 a day, 90.00 in all", True, (("vehicles.van.hire", "{}"),)
    )
    problem = Problem("no van", remedy="one; or other", ways=(hire, WayOut("allow another day", tried=False)))
    lines = summary_md(replace(impossible(), problems=(problem,))).splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith("   - Way out:"))
    assert re.fullmatch(
        r"   - Way out: have Van all day \(1 day of hire at (.*90) a day, \1 in all\) "
        r"\(tried, it works\); write `vehicles\.van\.hire: \{\}`",
        lines[at],
    )
    assert "€" in lines[at] or "£" in lines[at]
    assert lines[at + 1] == "   - Or: allow another day (not tried)"


def test_it_lists_the_gear_to_get() -> None:
    assert " To get: 2 × Lidded tubs.\n" in summary_md(moving_day())


def test_it_counts_the_assumptions() -> None:
    assert "2 things were not said in the plan and had to be assumed" in summary_md(moving_day())
    one = replace(
        moving_day(), project=replace(moving_day().project, assumptions=moving_day().project.assumptions[:1])
    )
    assert "1 thing was not said in the plan and had to be assumed; `moveplan check` lists it" in summary_md(
        one
    )


def lines_on_paper(text: str) -> int:
    """Lines of 110 characters, a third more for the room that headings and tables take; about 60 go on a page of A4."""
    return sum(math.ceil(max(len(line), 1) / 110) for line in text.splitlines() if line)


@pytest.mark.parametrize("name", NAMES)
def test_it_fits_on_two_pages(name: str) -> None:
    """Measured in a browser: 90 to 96 such lines fill two pages of A4 at 9 point, more or less as tables wrap."""
    assert lines_on_paper(summary_md(judge(*scheduled(name), Settings(runs=400)))) <= 100


def test_own_tasks_show_dates_and_decisions_only() -> None:
    headings = [line for line in summary_md(bare()).splitlines() if line.startswith("## ")]
    assert headings == [
        "## It can be done",
        "## When, and how sure",
        "## What must be decided, by which date",
        "## How far to trust this",
    ]


def test_hostile_names_add_no_line_and_no_cell() -> None:
    def frame(text: str) -> list[int]:
        return [line.replace("\\|", "").count("|") for line in text.splitlines()]

    assert frame(summary_md(hostile(moving_day()))) == frame(summary_md(moving_day()))


def test_risks_of_the_plan_are_data_wherever_they_stand() -> None:
    markup = "<img src=x onerror=alert(1)> | **bold** [a](b)"
    measure = Measure("pump", markup, Decimal(18), probability_left=0.4)
    entry = replace(
        many(1)[0], cost=Decimal(800), event=markup, trigger=markup, response=markup, measures=(measure,)
    )
    outlook = replace(moving_day(), risk=replace(risk(0), register=(entry,)))
    page, text = page_html(outlook), summary_md(outlook)
    assert "<img" not in page
    assert page.count("&lt;img src=x onerror=alert(1)&gt;") >= 5
    assert markup not in text
    assert text.count(r"\<img src=x onerror=alert(1)\> \| \*\*bold\*\*") >= 3


def test_what_the_day_asks_of_people_beyond_what_it_should_is_said_in_the_summary() -> None:
    scene = moving_day()
    told = replace(
        scene, project=replace(scene.project, day_said=("animals wait at Old and nobody is there",))
    )
    text = summary_md(told)
    assert "- **Know beforehand:** animals wait at Old and nobody is there.\n" in text
    assert text.index("Know beforehand") < text.index("## When")
    assert "Know beforehand" not in summary_md(scene)
