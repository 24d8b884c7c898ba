"""Hours in containers as the tasks tell them, and when two rounds mean the same."""

from __future__ import annotations

from moveplan.practice.measured import NEAR_H, alike
from moveplan.quantities.containers.journeys import journeys_of


def measured(before_h: float, after_h: float = 2.0):  # type: ignore[no-untyped-def]
    """One leg with one group."""
    return ({"clowns": journeys_of(before_h, 1.0, after_h, 1.0, 1.0)},)


def test_a_quarter_of_an_hour_more_or_less_is_the_same() -> None:
    assert alike(measured(3.0), measured(3.0 + NEAR_H))
    assert not alike(measured(3.0), measured(4.0))
    assert not alike(measured(3.0), measured(3.0, 3.0))


def test_other_groups_are_never_the_same() -> None:
    assert not alike(measured(3.0), ({},))
