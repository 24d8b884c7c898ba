"""The share of old water in every output: data, terminal, summary and page say the same."""

from __future__ import annotations

import json

import pytest

from moveplan.cli.findings import print_check
from moveplan.outputs.water import choices_data, priced
from tests.practice.test_ways import project


def test_every_share_is_given_as_data_with_its_price_and_source() -> None:
    (data,) = choices_data(project("house_move"))
    assert data["systems"] == ["Display reef"]
    assert data["tasks"] == ["draw-keep-water-display"]
    assert [row["share"] for row in data["shares"]] == [0.0, 0.25, 0.5, 0.8]
    assert [row["planned"] for row in data["shares"]] == [False, False, True, False]
    planned = data["shares"][2]
    assert planned["nitrate_mg_l"] == {"Display reef": round(8 * planned["own_share"], 2)}
    assert planned["making_minutes"] > 24 * 60
    assert planned["cost"] > 0
    assert "mass balance" in data["source"]
    json.dumps(data)


def test_a_plan_that_fills_no_tank_on_its_day_has_no_choice() -> None:
    assert priced(project("larger_tank_other_spot")) == ()
    assert [one.choice.tasks for one in priced(project("house_move_with_gap"))] == [
        ("draw-keep-water-display-in",)
    ]


def test_the_terminal_shows_what_changes_with_the_share(capsys: pytest.CaptureFixture[str]) -> None:
    print_check(project("house_move"), as_json=False)
    text = " ".join(capsys.readouterr().out.split())
    assert "Old water to keep: what changes with the share" in text
    assert "planned, 50 %: 171 l kept in 1 tub beside what rock and corals travel in, 124 l new" in text
    assert "but more would take 1 tub that is not there" in text
