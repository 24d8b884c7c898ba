"""Tanks as bodies of water: which run in the beginning, which in the end."""

from __future__ import annotations

import pytest

from tests.examples import project

ROLES = {
    "house_move": {"both"},
    "house_move_with_gap": {"both", "holding"},
    "larger_tank_other_spot": {"old", "new"},
    "house_move_into_larger_tank": {"old", "new"},
}


@pytest.mark.parametrize(("name", "roles"), ROLES.items())
def test_bodies_are_what_the_way_of_moving_empties_and_fills(name: str, roles: set[str]) -> None:
    bodies = project(name).ledger.bodies
    assert {body.role for body in bodies} == roles
    assert len({body.id for body in bodies}) == len(bodies)
    for body in bodies:
        assert body.full == (body.role in ("old", "both"))
        assert 0 < body.drawable_l < body.litres or body.role in ("new", "holding")
