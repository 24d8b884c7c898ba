from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from moveplan.estimate import Estimate
from moveplan.journal.records import Reading
from moveplan.outputs.agenda import agenda
from moveplan.outputs.documents.page import page_html
from moveplan.outputs.figures.filters import FilterPicture, filter_pictures
from moveplan.outputs.figures.scale import FITS
from moveplan.outputs.outlook import Outlook
from tests.outputs.scene import moving_day

RENAMED = {
    "mix-water": "dose-ammonia-display",
    "ripen-mix": "ripen-display",
    "check-health": "cycle-done-display",
    "pack-rock": "rock-out-display",
    "rebuild-tank": "rock-in-display",
}


def outlook() -> Outlook:
    """The scene with a tank that ripens and rock that is moved."""
    plain = moving_day()
    project = plain.project
    tasks = tuple(replace(task, id=RENAMED.get(task.id, task.id)) for task in project.network.tasks)
    placements = tuple(
        replace(one, task=RENAMED.get(one.task, one.task)) for one in plain.schedule.placements
    )
    return replace(
        plain,
        project=replace(
            project,
            network=replace(project.network, tasks=tasks, links=()),
            quantities=(("display: water", Estimate(280, 310, 330, "l", "scene")),),
        ),
        schedule=replace(plain.schedule, placements=placements),
    )


def pictures(of: Outlook) -> tuple[FilterPicture, ...]:
    return filter_pictures(of, agenda(of))


def test_a_cycle_begins_with_its_dose_and_has_its_hold_point() -> None:
    cycle, dip = pictures(outlook())
    found = agenda(outlook())
    dosed = found.line("dose-ammonia-display")
    assert dosed is not None
    assert cycle.scale.span.start == dosed.placement.finish
    assert cycle.hold == found.line("cycle-done-display")
    assert dip.hold is None


def test_lines_stand_where_the_model_says() -> None:
    for picture in pictures(outlook()):
        curve = picture.found.curve
        (one, x_one), *_, (other, x_other) = picture.ticks
        for trace, values in zip(picture.traces, (curve.ammonia, curve.nitrite), strict=True):
            for (x, y), value, day in zip(trace.points, values, curve.day, strict=True):
                assert abs(x - x_one - (value - one) * (x_other - x_one) / (other - one)) < 0.3
                assert y == picture.scale.y(picture.scale.span.start + round(1440 * day))


def test_filters_fit_a_small_screen_and_figures_of_the_axis_stand_apart() -> None:
    for picture in pictures(outlook()):
        assert picture.width == FITS
        assert all(other - one >= 40 for (_, one), (_, other) in pairwise(picture.ticks))
        assert all(x <= picture.right for trace in picture.traces for x, _ in trace.points)


def test_the_cycle_starts_with_the_dose_and_ends_below_both_limits() -> None:
    cycle = pictures(outlook())[0]
    assert cycle.found.curve.ammonia[0] == 2.0
    for trace in cycle.traces:
        assert trace.points[-1][0] < trace.x_gate


def test_readings_of_this_system_are_shown_in_their_place() -> None:
    start = pictures(outlook())[0].scale.span.start
    readings = (
        Reading(at=start + 4320, what="ammonia", value=1.0, unit="mg N/l", said="1 mg/l N"),
        Reading(
            at=start + 4320, what="nitrite", value=0.5, unit="mg N/l", said="0.5 mg/l N", system="display"
        ),
        Reading(at=start + 4320, what="nitrite", value=9.0, unit="mg N/l", said="9 mg/l N", system="other"),
        Reading(at=start + 4320, what="ph", value=8.1, unit="-", said="8.1"),
        Reading(at=start - 60, what="ammonia", value=1.0, unit="mg N/l", said="1 mg/l N"),
    )
    cycle = pictures(replace(outlook(), readings=readings))[0]
    assert [dot.reading.said for dot in cycle.dots] == ["1 mg/l N", "0.5 mg/l N"]
    ticks = dict(cycle.ticks)
    assert [dot.x for dot in cycle.dots] == [ticks[1.0], ticks[0.5]]
    assert {dot.y for dot in cycle.dots} == {cycle.scale.y(start + 4320)}


def test_without_water_or_rock_nothing_is_drawn() -> None:
    assert pictures(moving_day()) == ()
    empty = replace(outlook(), project=replace(outlook().project, quantities=()))
    assert len(pictures(empty)) == 1


@pytest.mark.parametrize("readings", [(), (Reading(at=1, what="ph", value=8.1, unit="-", said="8.1"),)])
def test_the_page_says_it_in_words(readings: tuple[Reading, ...]) -> None:
    text = page_html(replace(outlook(), readings=readings))
    assert "while the new filter ripens" in text
    assert "No reading was recorded yet" in text
