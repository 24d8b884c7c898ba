"""A plan copied from an old one: what its journal has taught goes along, and its dates move by whole weeks."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from typer.testing import CliRunner

from moveplan.cli.app import app
from moveplan.cli.shipped import shipped
from moveplan.cli.starting.copying import copied
from moveplan.cli.starting.like import like_plan
from moveplan.journal.file.store import append
from tests.journal.builders import PLAN_ID, accepted, plan_file


def test_what_the_journal_has_taught_goes_along(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    append(plan, PLAN_ID, lambda _: [(accepted(), "")])
    for task, took, at in (
        ("draw-water", "60 min", "09:00"),
        ("catch-fish", "90 min", "10:30"),
        ("release-fish", "45 min", "15:40"),
    ):
        words = ("done", task, "--took", took, "--at", f"2027-03-13 {at}", "--reason", "not measured")
        found = CliRunner().invoke(app, ["log", str(plan), *words, "--now", "2027-03-13T23:00"])
        assert found.exit_code == 0, found.output
    assert (
        "policy:\n  pace-other-work: 1.6   # learnt from the move before\n" in like_plan(str(plan), {}).text
    )


@pytest.mark.parametrize("today", [date(2026, 11, 29), date(2027, 1, 4), date(2029, 2, 28)])
def test_dates_move_by_whole_weeks_and_leave_no_less_time(today: date) -> None:
    text = "id: x\ntitle: A\nas-of: 2027-01-04 09:00   # written then\ndates: {move-day: 2027-03-13}\nage: 2027-02-31\n"
    made = copied(text, today, plan_id="new", title="B", source="a.yaml")
    assert "as-of" not in made.text
    assert "id: x" not in made.text
    day = date.fromisoformat(made.text.partition("move-day: ")[2][:10])
    assert day - date(2027, 3, 13) == timedelta(weeks=made.weeks)
    assert timedelta() <= (day - today) - (date(2027, 3, 13) - date(2027, 1, 4)) < timedelta(weeks=1)
    assert "age: 2027-02-31\n" in made.text  # what is no date stays, for the reader to say so


def test_a_plan_without_the_day_it_was_written_gets_time_to_prepare() -> None:
    made = copied(
        "title: A\ndates: {move-day: 2020-06-06}\n", date(2027, 1, 4), plan_id="n", title="B", source="a"
    )
    day = date.fromisoformat(made.text.partition("move-day: ")[2][:10])
    assert timedelta(weeks=10) <= day - date(2027, 1, 4) < timedelta(weeks=11)
    assert day.weekday() == date(2020, 6, 6).weekday()


def test_tables_that_a_plan_names_go_along(tmp_path: Path) -> None:
    plan = tmp_path / "mine" / "firm.yaml"
    plan.parent.mkdir()
    for force in ((), ("--force",)):
        found = CliRunner().invoke(app, ["new", str(plan), "--like", "service_firm_office_tank", *force])
        assert found.exit_code == 0, found.output
    table = plan.with_name("service_firm_gear.csv")
    assert table.read_bytes() == (shipped("examples") / table.name).read_bytes()
    table.write_text("id,kind,count,volume\ntubs,tub,50,70 l\n", "utf-8")
    found = CliRunner().invoke(
        app, ["new", str(plan), "--like", "service_firm_office_tank", "--force", "--title", "Again"]
    )
    assert found.exit_code == 0, found.output
    assert "70 l" in table.read_text("utf-8")
