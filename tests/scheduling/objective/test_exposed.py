"""What counts as exposed: greatest gaps that get worse with time, and no others."""

from __future__ import annotations

from dataclasses import replace

from moveplan.network.link import Link
from moveplan.scheduling.objective.aims import exposed
from tests.examples import project


def test_a_short_greatest_gap_counts_and_a_long_one_or_one_of_any_length_does_not() -> None:
    stay = Link("catch", "release", max_gap_min=300)
    assert exposed(stay)
    assert not exposed(replace(stay, max_gap_min=3 * 1440))
    assert not exposed(replace(stay, max_gap_min=None))
    assert not exposed(replace(stay, any_length=True))


def test_a_fast_up_to_its_limit_is_no_exposure() -> None:
    """A meal as late as may be would fill the last minute of the evening before the move."""
    links = project("house_move").network.links
    meals = [link for link in links if link.before.startswith("last-feed") and link.max_gap_min is not None]
    assert meals
    assert not any(exposed(link) for link in meals)
    assert any(exposed(link) for link in links)
