from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from moveplan.outputs.outlook import Verdict
from moveplan.outputs.summary import cost_groups, summary_md
from tests.outputs.hostile import hostile
from tests.outputs.scene import REASONS, ROUTES, bare, impossible, minutes, moving_day, risk


def test_verdict_and_dates_come_first() -> None:
    lines = summary_md(moving_day()).splitlines()
    assert lines[4] == "## It can be done"
    assert "| Settled: the last animal is home and safe | Sat, 22 May, 16:30 |" in lines
    assert "| Fall-back day | Saturday 29 May 2027 |" in lines
    assert "| Old home empty by (given) | Tue, 1 Jun, 12:00 |" in lines


def test_a_cost_line_has_quantity_unit_price_and_provenance() -> None:
    text = summary_md(moving_day())
    assert "| Salt | 11.9 kg | €3.20 | €38.08 | given in the plan |\n" in text
    assert "| Old sand sold | −10 kg | €1.50 | −€15.00 | assumed |\n" in text
    assert "| **Total** | | | **€251.58** | |\n" in text
    assert "Reserve" not in text


def test_groups_add_up_to_the_total() -> None:
    cost = moving_day().cost
    assert cost is not None
    groups = cost_groups(cost)
    assert [group for group, _ in groups] == ["water", "vehicles", "livestock", "income"]
    assert sum(amount for _, amount in groups) == cost.total == Decimal("251.58")
    assert cost_groups(None) == ()


def test_livestock_stands_against_its_safe_time_with_the_range() -> None:
    row = (
        "| Yellow-finned tang (1) | 1 × 25 l bag | 7 h | 7 h 50 min to 15 h | ammonia builds up | 50 min |\n"
    )
    assert row in summary_md(moving_day())


def test_a_group_over_its_safe_time_is_marked() -> None:
    outlook = moving_day()
    tang = ROUTES[1]
    stops = tuple(
        replace(stop, safe=replace(stop.safe, estimate=minutes(300, 400, 500))) if stop.safe else stop
        for stop in tang.stops
    )
    project = replace(outlook.project, routes=(replace(tang, stops=stops),))
    text = summary_md(replace(outlook, project=project, verdict=Verdict.UNSAFE, problems=REASONS))
    assert "| **over by 2 h** |\n" in text
    assert "## Dates" not in text


def test_the_register_says_sign_chance_cost_delay_response_and_who() -> None:
    row = (
        "| The tank leaks after the move | A wet paper under a joint | 4 % (assumed) | €850.00 | 1 day "
        "| Stop filling, keep the animals in tubs with heat and air. | Una Harte |\n"
    )
    assert row in summary_md(moving_day())


def test_a_long_register_shows_the_ten_that_weigh_most() -> None:
    outlook = moving_day()
    assert outlook.risk is not None
    many = tuple(replace(outlook.risk.register[0], id=str(number)) for number in range(14))
    text = summary_md(replace(outlook, risk=replace(outlook.risk, register=many)))
    assert text.count("| The van stops on the way with animals aboard |") == 10
    assert "These ten weigh most; the page has all 14.\n" in text


def test_without_a_reason_it_says_that_none_can_be_named() -> None:
    text = summary_md(replace(impossible(), problems=(), verdict=Verdict.UNDECIDED))
    assert "No single reason can be named." in text


def test_decisions_come_by_date_and_with_runs_the_start_by_dates_too() -> None:
    without, with_runs = summary_md(moving_day()), summary_md(replace(moving_day(), risk=risk(10000)))
    row = "| Go or no-go | Fri, 21 May, 18:00 | Fri, 21 May, 20:30 | Per Olin, Una Harte |\n"
    assert row in without
    assert "to be ready in" not in without
    assert (
        "| Begin: Make 310 l of purified water | Wed, 12 May, 18:00 "
        "| Mon, 10 May, 18:00, to be ready in 90 % of runs |  |\n"
    ) in with_runs


def test_what_cannot_be_done_gives_the_reasons_and_the_ways_out_first() -> None:
    lines = summary_md(impossible()).splitlines()
    assert lines[4] == "## It cannot be done as written"
    assert lines[8] == f"1. {REASONS[0].message}"
    assert lines[10] == "   - Way out: hire the van until 18:00; tried, it works"


def test_it_lists_the_gear_to_get() -> None:
    text = summary_md(moving_day())
    assert "| Lidded tubs | 16 | 14 | 2 |\n" in text
    assert "| Battery air pumps | 2 | 4 | 0 |\n" in text


def test_it_counts_the_assumptions() -> None:
    assert "2 things were not said in the plan and had to be assumed" in summary_md(moving_day())
    one = replace(
        moving_day(), project=replace(moving_day().project, assumptions=moving_day().project.assumptions[:1])
    )
    assert "1 thing was not said in the plan and had to be assumed; `moveplan check` lists it" in summary_md(
        one
    )


def test_it_fits_on_two_pages_of_text() -> None:
    assert len(summary_md(moving_day()).splitlines()) < 110


def test_own_tasks_show_dates_and_decisions_only() -> None:
    headings = [line for line in summary_md(bare()).splitlines() if line.startswith("## ")]
    assert headings == ["## It can be done", "## Dates", "## Decisions, by date", "## How far to trust this"]


def test_hostile_names_add_no_line_and_no_cell() -> None:
    def frame(text: str) -> list[int]:
        return [line.replace("\\|", "").count("|") for line in text.splitlines()]

    assert frame(summary_md(hostile(moving_day()))) == frame(summary_md(moving_day()))
