"""Containers are held from filling to emptying, heaters while they warm water, and there are enough of them."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest

from moveplan.practice.ledger.holds import NOT_HELD
from moveplan.practice.phases.before.stored_water import HUNG_BEFORE
from moveplan.quantities.containers.vessels import Use
from tests.examples import project, scheduled


@pytest.mark.parametrize("name", ["house_move", "small_tank_move", "larger_tank_same_spot"])
def test_every_container_but_cans_is_held_while_it_is_in_use(name: str) -> None:
    found = project(name)
    used = Counter(
        (use.vessel.gear, use.from_task, use.until_task)
        for use in found.ledger.containers
        if use.vessel.kind not in NOT_HELD and use.vessel.use is not Use.MIXED
        if use.from_task != use.until_task
    )
    held = {(hold.gear, hold.from_task, hold.until_task): hold.count for hold in found.network.holds}
    assert used
    assert {key: held[key] for key in used} == dict(used)


@pytest.mark.parametrize("name", ["house_move", "several_systems", "house_move_with_gap"])
def test_every_spare_heater_is_held_while_it_warms_water(name: str) -> None:
    found = project(name)
    used: Counter[tuple[str, str, str]] = Counter()
    for row in found.ledger.running:
        for gear in row.held:
            used[gear, row.from_task, row.until_task] += 1
    held = {(hold.gear, hold.from_task, hold.until_task): hold.count for hold in found.network.holds}
    assert {key: held[key] for key in used} == dict(used)
    there = {gear.id: gear.count for gear in found.scheduling.gear}
    assert all(count <= there[gear] for (gear, _, _), count in used.items())


def test_a_pump_mixes_wherever_heaters_hang_in_a_bin_and_goes_over_with_them() -> None:
    """A plan that has none orders one; one that has its own uses it."""
    own, none = project("house_move"), project("small_tank_move")
    for found, gear in ((own, "pump"), (none, "pump")):
        mixing = [row for row in found.ledger.running if row.what == "mixing"]
        assert mixing
        assert all(gear in row.held for row in mixing)
        assert any("and the small pump" in item.name for load in found.loads for item in load.items)
    assert ("pump", 1, 2) in own.gear_needed
    assert ("pump", 1, 0) in none.gear_needed


def test_no_two_mixings_hang_on_the_same_heaters() -> None:
    """All heaters warm each bin: two tanks whose first change is mixed in one week are warmed one after the other."""
    found, planned = scheduled("several_systems")
    placed = {one.task: one for one in planned.placements}
    spans = sorted(
        (placed[row.from_task].start, placed[row.until_task].finish)
        for row in found.ledger.running
        if row.what == "mixing"
    )
    assert len(spans) > 2
    assert all(before[1] <= after[0] for before, after in pairwise(spans))


def test_water_mixed_days_ahead_is_warm_again_before_it_is_poured() -> None:
    placed = {one.task: one for one in scheduled("house_move")[1].placements}
    assert placed["trim-water"].finish <= placed["hang-heaters"].start
    assert placed["warm-stored"].finish <= placed["fill-cans-display"].start
    assert placed["go-or-no-go"].start - placed["hang-heaters"].finish <= HUNG_BEFORE
