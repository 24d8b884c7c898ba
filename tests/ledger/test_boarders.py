"""Animals that go to a boarding place are fed last, brought late, and billed by the days of their way."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from tests.cli.command import Run
from tests.ledger.built import built
from tests.practice.test_boarding import BOARDED
from tests.quantities.plans import TEXT


def test_a_built_plan_feeds_boarders_last_brings_them_late_and_bills_the_days_of_their_way(
    run: Run, tmp_path: Path
) -> None:
    """Within the week before the decision on Thursday, 11 March."""
    text = TEXT
    for old, new in (*BOARDED, ("kind: clownfish, count: 2", "kind: clownfish, count: 2, boarded: quay")):
        text = text.replace(old, new.replace("BOARDS", "cost: 4 per day"))
    plan = tmp_path / "plan.yaml"
    plan.write_text(text, encoding="utf-8")
    result = built(run, plan, tmp_path / "out", "--now", "2027-01-04T09:00")
    assert result["status"] == "ok"
    tasks = {task["id"]: task for task in result["tasks"]}
    assert "2027-03-04" <= tasks["board-out-quay"]["start"] < "2027-03-11"
    (row,) = (row for row in result["ledger"]["food"] if row["livestock"] == "clowns")
    assert row["last_meal"] == tasks["last-feed-boarded-quay"]["finish"]
    assert row["catch"] == tasks["board-out-quay"]["start"]
    assert (row["next_meal"], row["fed_by"]) == (None, "quay")
    assert 20 * 60 <= row["fast_minutes"] <= 36 * 60
    lines = {line["item"]: line for line in result["cost"]["lines"]}
    (route,) = (group["route"] for group in result["livestock"] if group["id"] == "clowns")
    (away,) = (stop for stop in route if stop["container"] == "Quay shop")
    assert route[-1]["where"] == "Vale Road", "the second place boards animals, the third is the new home"
    days = date.fromisoformat(away["until"][:10]) - date.fromisoformat(away["from"][:10])
    assert lines["boarding-quay"]["quantity"] == days.days
    assert lines["food-quay"]["quantity"] > 0
