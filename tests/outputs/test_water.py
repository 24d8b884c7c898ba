"""The share of old water in every output: data, terminal, summary and page say the same."""

from __future__ import annotations

import json

import pytest

from moveplan.cli.terminal.findings import print_checks
from moveplan.outputs.water import choices_data, priced
from tests.examples import project

FEW = project("several_systems", "gear.tubs.count=13")
"""Three tanks with one tub fewer than could be filled with old water."""


def test_every_share_is_given_as_data_with_its_price_and_source() -> None:
    (data,) = choices_data(FEW)
    assert data["systems"] == ["Display reef", "Frag tank"]
    assert data["tasks"] == ["draw-keep-water-display", "draw-keep-water-frags"]
    shares = [row["share"] for row in data["shares"]]
    assert shares == sorted(shares)
    assert shares[:3] == [0.0, 0.25, 0.5]
    (planned,) = (row for row in data["shares"] if row["planned"])
    volumes_l, before_mg_l = (222.2, 67.7), (8, 10)
    for row in data["shares"]:
        own = [row["nitrate_mg_l"][name] / at for name, at in zip(data["systems"], before_mg_l, strict=True)]
        kept_l = sum(share * litres for share, litres in zip(own, volumes_l, strict=True))
        assert kept_l / sum(volumes_l) == pytest.approx(row["share"], abs=0.005)
        assert row["share"] > planned["share"] or own == [row["share"]] * 2, "of each tank the same share"
    more = data["shares"][data["shares"].index(planned) + 1]
    assert (planned["trips"], more["trips"]) == (1, 1)
    assert more["cost"] > planned["cost"], "a tub has to be bought for it"
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
    print_checks([FEW], as_json=False)
    text = " ".join(capsys.readouterr().out.split())
    assert "what changes with the share" in text
    assert "planned, 50 %: 145 l kept in 9 tubs beside what rock and corals travel in, 145 l new" in text
    assert "but more would take 1 tub that is not there" in text


def test_no_more_is_kept_than_the_animals_leave() -> None:
    """Animals, damp rock and the water at the bottom take their part first: of the rest all is kept, or nothing."""
    found = project("house_move")
    (data,) = choices_data(found)
    most = data["shares"][-1]
    assert [row["planned"] for row in data["shares"]] == [False, True]
    assert most["share"] < 0.6
    drawn = sum(
        one.litres
        for one in found.ledger.pours
        if one.source == "system:display" and one.target.startswith("container:") and "draw" in one.task
    )
    assert most["kept_litres"] < drawn
