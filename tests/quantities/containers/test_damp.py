"""Rock and media in tubs: what the air under the lid lasts for, and that they are back in the tank by then."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.quantities.assemble import facts_of
from moveplan.quantities.containers.damp import MOST_H, media_breathe, rock_breathes
from moveplan.quantities.facts import SystemFacts
from tests.examples import project as project_of
from tests.quantities.plans import plan_of

_OXYGEN_MG_L = 1000 * 0.2095 * (101.325 - 3.36 * 0.981) * 31.998 / (8.314 * 299.15)
"""Of moist air at 26 °C and 101.325 kPa, by the law of perfect gases: a fifth of the dry air, 32 g a mole."""


@pytest.fixture(scope="module")
def facts() -> SystemFacts:
    (one,) = facts_of(plan_of()).systems
    return one


def test_rock_lasts_as_long_as_half_of_the_oxygen_over_it(facts: SystemFacts) -> None:
    """By hand: the air is the tub less a litre, the stone (2.83 kg a litre) and the water in its pores."""
    tubs, system = facts.tubs, facts.system
    dry = system.rock_kg / tubs.rock
    air = tubs.volume_l - 1.0 - dry / 2.83 - (tubs.rock_kg - dry) / 1.025
    found = rock_breathes(tubs, system)
    assert found.low == pytest.approx(min(air * _OXYGEN_MG_L / 2 / (18.0 * dry), 24.0), rel=0.03)
    assert found.low <= found.likely <= found.high <= MOST_H


def test_a_small_tub_packed_full_lasts_for_less(facts: SystemFacts) -> None:
    full = replace(facts.tubs, volume_l=facts.tubs.volume_l / 4)
    assert rock_breathes(full, facts.system).low < 0.5 * MOST_H


def test_no_air_is_no_time(facts: SystemFacts) -> None:
    brim = replace(facts.tubs, volume_l=1.0)
    assert rock_breathes(brim, facts.system).high == 0.0


def test_media_that_took_up_more_breathe_more(facts: SystemFacts) -> None:
    some, much = (media_breathe(facts.tubs, facts.system, load) for load in (400.0, 40_000.0))
    assert some.low == MOST_H > much.low > 0.0


@pytest.mark.parametrize("name", ["house_move", "service_firm_office_tank", "larger_tank_same_spot"])
def test_both_are_back_before_the_air_is_used_up(name: str) -> None:
    project = project_of(name)
    gaps = {
        (link.before.split("-")[0], link.after.split("-")[0]): link
        for link in project.network.links
        if link.any_length and link.before.startswith(("rock-out", "pack-media"))
    }
    assert 12 * 60 < (gaps["rock", "rock"].max_gap_min or 0) <= 60 * MOST_H
    assert 0 < (gaps["pack", "fill"].max_gap_min or 0) <= 60 * MOST_H


def test_where_live_rock_is_all_the_filter_the_rock_alone_has_a_limit() -> None:
    network = project_of("small_tank_move").network
    limits = {link.before for link in network.links if link.any_length and link.after.startswith("rock-in")}
    assert limits == {"rock-out-nano"}
    assert not any(task.id.startswith("pack-media") for task in network.tasks)
    assert not any("biological media" in step for task in network.tasks for step in task.steps)
    (strip,) = (task for task in network.tasks if task.id == "strip-equipment-nano")
    assert any("Media of a filter that nobody named" in step for step in strip.steps)
