from __future__ import annotations

from itertools import pairwise

from moveplan.outputs.agenda import agenda
from moveplan.outputs.figures.weeks import Weeks, weeks
from tests.outputs.scene import impossible, moving_day


def picture() -> Weeks:
    outlook = moving_day()
    found = weeks(outlook, agenda(outlook))
    assert found is not None
    return found


def test_waits_are_pools_as_long_as_they_last_and_care_is_a_string_of_beads() -> None:
    pools = {pool.line.task.id: pool for pool in picture().pools}
    assert set(pools) == {"wait-for-salt", "make-water", "ripen-mix", "test-water"}
    assert abs(pools["wait-for-salt"].height - 4 * 16) < 0.11
    assert pools["wait-for-salt"].beads == ()
    assert len(pools["test-water"].beads) == 14


def test_pools_that_overlap_stand_side_by_side() -> None:
    pools = picture().pools
    for one, other in pairwise(pools):
        if one.x == other.x:
            assert one.y + one.height <= other.y


def test_labels_never_cover_each_other_and_never_stand_above_their_day() -> None:
    labels = picture().labels
    assert [label.more for label in labels if label.moving] == [15]
    assert all(label.y >= label.y_true for label in labels)
    assert all(other.y - one.y >= 18 for one, other in pairwise(labels))


def test_nothing_is_drawn_without_a_schedule() -> None:
    assert weeks(impossible(), agenda(impossible())) is None
