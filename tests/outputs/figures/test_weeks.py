from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from moveplan.outputs.agenda import agenda
from moveplan.outputs.figures.scale import CHARACTER_PX, FITS
from moveplan.outputs.figures.weeks import DAY_PX, Weeks, weeks
from tests.outputs.scene import impossible, moving_day


def picture() -> Weeks:
    outlook = moving_day()
    found = weeks(outlook, agenda(outlook))
    assert found is not None
    return found


def long_named(length: int) -> Weeks:
    outlook = moving_day()
    network = outlook.project.network
    tasks = tuple(
        replace(task, title="Rinse the sand of the reef tank " * (length // 32)) for task in network.tasks
    )
    named = replace(outlook, project=replace(outlook.project, network=replace(network, tasks=tasks)))
    found = weeks(named, agenda(named))
    assert found is not None
    return found


def test_waits_are_pools_as_long_as_they_last_and_care_is_a_string_of_beads() -> None:
    pools = {pool.line.task.id: pool for pool in picture().pools}
    assert set(pools) == {"wait-for-salt", "make-water", "ripen-mix", "test-water"}
    for pool in pools.values():
        placement = pool.line.placement
        assert (pool.y, pool.y + pool.height) == (
            picture().days.y(placement.start),
            picture().days.y(placement.finish),
        )
    assert pools["wait-for-salt"].beads == ()
    assert len(pools["test-water"].beads) == 14


def test_pools_that_overlap_stand_side_by_side() -> None:
    pools = picture().pools
    for one, other in pairwise(pools):
        if one.x == other.x:
            assert one.y + one.height <= other.y


def test_a_day_is_as_tall_as_its_words_and_each_label_stands_at_the_top_of_its_day() -> None:
    for found in (picture(), long_named(96)):
        tall = {top: below - top for top, below in pairwise(found.days.tops)}
        labels = dict(found.labels)
        assert [label.more for label in labels.values() if label.moving] == [15]
        for top, height in tall.items():
            label = labels.get(top)
            assert height == (label.height if label else DAY_PX)
            if label:
                assert top == found.days.y(
                    min(found.days.midnights, key=lambda at: abs(found.days.y(at) - top))
                )
                assert height > 17 * len(label.title)
        assert len(labels) == len(set(labels) & set(tall))


def test_titles_are_wrapped_and_never_cut_and_all_of_it_fits_a_small_screen() -> None:
    found = long_named(96)
    assert found.width == FITS
    for _, label in found.labels:
        if not label.moving:
            more = f" +{label.more}" if label.more else ""
            assert " ".join(label.title).strip() == label.first.task.title.strip() + more
            room = found.width - found.x_labels
            assert all(len(line) * CHARACTER_PX <= room for line in label.title)


def test_nothing_is_drawn_without_a_schedule() -> None:
    assert weeks(impossible(), agenda(impossible())) is None
