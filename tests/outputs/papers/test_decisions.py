"""What can still be missed stands in one list by date; what is met on the day itself stands with the day."""

from __future__ import annotations

from dataclasses import replace

from moveplan.network.task import State
from moveplan.outputs.agenda import agenda
from moveplan.outputs.documents.summary import summary_md
from moveplan.outputs.papers.decisions import ORDER, by_date, decisions_of
from moveplan.practice.hires import hires_of
from moveplan.stages.judged import judge
from moveplan.stages.reading import Settings
from tests.examples import scheduled


def test_orders_bookings_and_long_leads_stand_beside_decisions_and_the_day_does_not() -> None:
    outlook = judge(*scheduled("house_move"), Settings(runs=400))
    lines = agenda(outlook)
    found = by_date(decisions_of(outlook, lines))
    told = [one.line.task.id for one in found]
    assert len(told) == len(set(told))
    assert [one.by for one in found] == sorted(one.by for one in found)
    (hire,) = hires_of(outlook.project.plan, outlook.schedule)
    assert {ORDER, *hire.bookings} & set(told) == {ORDER, "book-vehicle-van"}
    assert outlook.risk is not None
    assert {one.task for one in outlook.risk.start_by} <= set(told)
    assert not any(one.line.task.day for one in found)
    before = {line.task.id for line in lines.hold_points if not line.task.day}
    assert before <= set(told)


def test_what_is_booked_already_is_not_to_be_missed_any_more() -> None:
    outlook = judge(*scheduled("house_move"), Settings(runs=400))
    assert "| Book " in summary_md(outlook)
    assert "Putting the day off late costs up to €239, from 7 days before on (assumed)." in summary_md(
        outlook
    )
    done = replace(outlook, states={**outlook.states, "book-vehicle-van": State.COMPLETED})
    assert "| Book " not in summary_md(done)
