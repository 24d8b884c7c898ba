"""What a system is filled with, and what else takes salt water."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from moveplan.quantities.assemble import facts_of
from moveplan.quantities.containers.journeys import journeys_of
from moveplan.quantities.containers.means import means_of
from moveplan.quantities.leg.legs import plain_leg
from moveplan.quantities.leg.refill import drawn_l, ramped, refilled
from moveplan.quantities.water.amounts import making_of
from tests.quantities.plans import edited, plan_of

PLAN = plan_of()
(REEF,) = facts_of(PLAN).systems

LONG = journeys_of(8.0, 1.5, 1.0, 7.0, 1.3)
"""Longer than a bag of air may stay closed, from the catch on; not from the loading on."""


def with_share(share: float, **leg: Any):  # type: ignore[no-untyped-def]
    """Refill the reef with another share of its old water."""
    return refilled(
        REEF, share, "for the test", replace(plain_leg(PLAN), **leg), making_of(PLAN), means_of(PLAN)
    )


@pytest.mark.parametrize("share", [0.0, 0.1, 0.2, 1.0])
def test_old_and_new_water_fill_the_system(share: float) -> None:
    found = with_share(share)
    assert found.water.kept.likely + found.water.new.likely == pytest.approx(found.volumes.total.likely)
    assert found.water.kept.likely == pytest.approx(
        min(share * found.old.there_l, with_share(1.0).water.kept.likely)
    )


def test_more_old_water_is_less_to_make() -> None:
    mixed = [with_share(share).water.mixed_l for share in (0.0, 0.1, 0.2)]
    assert mixed == sorted(mixed, reverse=True)


def test_who_gives_the_animals_away_keeps_nothing() -> None:
    assert with_share(0.5, gives_away=True).water.kept.likely == 0.0


def test_in_waves_the_old_tank_runs_on() -> None:
    found = with_share(0.5, in_waves=True)
    assert found.old.drawn_l == found.old.lent_l == 0.0


def test_water_for_getting_used_to_the_tank_is_mixed_beside_the_spare_water() -> None:
    """Water of the tank runs to fish in open containers, and the tank is filled up with spare water again."""
    ramps = {group.livestock.id: group.ramp for group in REEF.groups if ramped(group)}
    assert ramps
    needed = sum(
        group.packing.count * group.ramp.poured_l
        for group in REEF.groups
        if group.ramp is not None and ramped(group)
    )
    assert needed > 0
    assert REEF.spare_l == pytest.approx(REEF.water.spare.likely + needed)
    assert REEF.water.more.likely >= needed - 1e-6
    away = with_share(0.5, gives_away=True)
    assert (away.spare_l, away.water.new.likely, away.water.mixed_l) == (0.0, 0.0, away.old.lent_l)


def test_bags_are_filled_out_of_what_those_in_them_wait_in() -> None:
    plan = edited(
        ("size: 7 cm, temperament: territorial", "size: 7 cm, temperament: territorial, container: bag"),
    )
    (one,) = facts_of(plan, measured={"clowns": LONG}).systems
    clowns = next(group for group in one.groups if group.livestock.id == "clowns")
    assert clowns.packing.waiting is not None
    waiting = clowns.packing.waiting
    assert drawn_l((clowns,)) == pytest.approx(
        max(waiting.count * waiting.water_l, 2 * clowns.packing.water_l)
    )
