"""Containers are held from filling to emptying, and there are enough of them."""

from __future__ import annotations

from collections import Counter

import pytest

from moveplan.practice.holds import NOT_HELD
from moveplan.quantities.containers.vessels import Use
from tests.examples import project


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
