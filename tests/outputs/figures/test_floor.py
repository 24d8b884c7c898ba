from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.outputs.figures.floor import Floor, Spot

SIDES = st.lists(st.tuples(st.floats(0.1, 2.0), st.floats(0.1, 2.0)), max_size=25)


@settings(max_examples=60, deadline=None)
@given(SIDES)
def test_nothing_stands_on_another_or_outside_or_behind_what_came_before(
    sides: list[tuple[float, float]],
) -> None:
    floor = Floor(1.7, 3.1)
    spots = [spot for one, other in sides if (spot := floor.put(one, other)) is not None]
    for at, spot in enumerate(spots):
        assert spot.across_m >= -1e-9
        assert spot.across_m + spot.wide_m <= 1.7 + 2e-3
        assert spot.along_m + spot.deep_m <= 3.1 + 2e-3
        for later in spots[at + 1 :]:
            side_by_side = (
                spot.across_m + spot.wide_m <= later.across_m + 2e-3
                or later.across_m + later.wide_m <= spot.across_m + 2e-3
            )
            assert side_by_side or spot.along_m + spot.deep_m <= later.along_m + 2e-3


def test_the_gap_beside_a_wide_thing_is_used() -> None:
    floor = Floor(1.7, 3.0)
    assert floor.put(1.2, 0.6) == Spot(0.0, 0.0, 1.2, 0.6)
    assert floor.put(0.4, 0.5) == Spot(1.2, 0.0, 0.5, 0.4)
    assert floor.put(1.7, 0.5) == Spot(0.0, 0.6, 1.7, 0.5)


def test_what_has_no_size_or_finds_no_room_is_not_put_down() -> None:
    floor = Floor(1.0, 1.0)
    assert floor.put(0.0, 0.5) is None
    assert floor.put(1.0, 0.8) is not None
    assert floor.put(0.5, 0.3) is None
    assert Floor(0.0, 0.0).put(0.5, 0.5) is None
