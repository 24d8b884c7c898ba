"""What cannot be kept any more, in the order in which it presses."""

from __future__ import annotations

from dataclasses import replace

from moveplan.network.link import Link, Relation
from moveplan.outputs.drift import worst_first
from moveplan.scheduling.schedule import Placement
from moveplan.times import Interval
from tests.outputs.scene import moving_day


def test_what_is_passed_by_most_is_told_first_whatever_its_name() -> None:
    spans = {"bag-clowns": (0, 30), "bag-wrasse": (10, 40), "drive": (200, 240), "release-a": (420, 430)}
    spans["release-b"] = (425, 440)
    placed = tuple(Placement(name, *span, (Interval(*span),)) for name, span in spans.items())
    schedule = replace(moving_day().schedule, placements=placed)
    clowns = Link("bag-clowns", "release-a", max_gap_min=383)  # 7 too long: 420 - 30 - 383
    wrasse = Link(
        "bag-wrasse", "release-b", Relation.FINISHTOFINISH, max_gap_min=366
    )  # 34 too long: 440 - 40 - 366
    drive = Link("bag-clowns", "drive", max_gap_min=150)  # 20 too long
    gone = Link("bag-clowns", "dropped", max_gap_min=1)
    assert worst_first((clowns, drive, gone, wrasse), schedule) == [wrasse, drive, clowns, gone]
