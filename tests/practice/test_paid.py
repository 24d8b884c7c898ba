"""Who is called for a moving day is paid from meeting to leaving, in the bill and in every run."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from moveplan.cost.book import PAY
from moveplan.cost.lines import cost_of
from moveplan.practice.attendance.whereabouts import Piece
from moveplan.practice.paid import AWAY_MIN, Called, called_of
from moveplan.risk.assess import risk_summary
from tests.examples import scheduled
from tests.network.builders import task


def piece(start: int, finish: int) -> Piece:
    return Piece(task(f"t{start}", finish - start), start, finish, once=True)


def test_the_time_between_two_tasks_is_paid_and_a_night_is_not() -> None:
    work = (piece(0, 60), piece(30, 45), piece(100, 160), piece(160 + AWAY_MIN, 700))
    assert Called("ada", 1800, work).waits() == [(60, 40)]


@pytest.mark.parametrize(("name", "paid"), [("service_firm_office_tank", 6), ("house_move", 1)])
def test_the_bill_and_the_planned_run_pay_from_meeting_to_leaving(name: str, paid: int) -> None:
    project, schedule = scheduled(name)
    usual = tuple(price for price in project.plan.prices if not price.item.startswith(PAY))
    project = replace(project, plan=replace(project.plan, prices=usual))
    found, lines = called_of(project, schedule), {one.item: one for one in cost_of(project, schedule).lines}
    assert len(found) == paid
    tied = {task.id for task in project.network.tasks if task.day}
    for one in found:
        day = [
            stands for stands in schedule.placements if one.person in stands.people and stands.task in tied
        ]
        there = max(stands.finish for stands in day) - min(stands.start for stands in day)
        hours = sum(line.quantity for item, line in lines.items() if item.startswith(f"{PAY}{one.person}-"))
        assert there < AWAY_MIN * 2, "one moving day"
        assert hours * 60 >= there - Decimal("0.6")
        assert sum(minutes for _, minutes in one.waits()) > 0
    cost = risk_summary(project, schedule, runs=100).cost
    assert cost is not None
    paid_lines = [line for item, line in lines.items() if item.startswith(PAY)]
    pay = sum(line.amount for line in paid_lines)
    hundredths = sum(Decimal("0.005") * line.amount / line.quantity for line in paid_lines if line.quantity)
    assert abs(cost.planned - pay) <= hundredths, "hours are billed in hundredths"


def test_waiting_costs_in_the_runs_what_it_costs_in_the_bill() -> None:
    """Where nobody waits less in a run than planned, a run costs no less than the bill's waits."""
    project, schedule = scheduled("service_firm_office_tank")
    free = replace(
        project,
        scheduling=replace(
            project.scheduling,
            people=tuple(replace(one, cents_per_hour=0) for one in project.scheduling.people),
        ),
    )
    paid, unpaid = (risk_summary(one, schedule, runs=200).cost for one in (project, free))
    assert paid is not None
    assert unpaid is not None
    assert unpaid.planned == 0
    assert paid.p50 - unpaid.p50 > paid.planned * Decimal("0.8")
