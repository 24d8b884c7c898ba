"""The ruler of the hours that lack: its shares are those of the minutes, and few enough labels stand on it."""

from __future__ import annotations

import pytest

from moveplan.errors import Lack
from moveplan.outputs.figures.ruler import ruler_of

CHAIN = Lack("too late", 480, 630, 200, 150, (("fetch", 60), ("load", 80), ("drive", 60)))


def test_what_is_there_and_what_is_needed_stand_to_one_scale() -> None:
    ruler = ruler_of(CHAIN)
    assert ruler.there == (0.0, 75.0)
    assert ruler.parts == ((0.0, 30.0), (30.0, 40.0), (70.0, 30.0))
    assert ruler.missing == (75.0, 25.0)
    assert CHAIN.short_min == 50


def test_labels_stand_on_whole_hours_of_the_clock() -> None:
    ruler = ruler_of(Lack("too late", 500, 640, 200, 140, (("fetch", 200),)), lambda moment: moment % 1440)
    assert ruler.by_clock
    assert [moment for _, moment in ruler.ticks] == [540, 600, 660]
    assert ruler.ticks[0][0] == pytest.approx(20.0)


def test_where_it_is_too_late_already_nothing_is_there() -> None:
    ruler = ruler_of(Lack("too late", 600, 540, 60, -60, (("drive", 60),)))
    assert ruler.there[1] == 0.0
    assert ruler.parts == ((50.0, 50.0),)


@pytest.mark.parametrize("minutes", [7, 45, 300, 2_000, 9_000, 60_000])
def test_work_without_a_clock_is_measured_in_hours_and_few_labels(minutes: int) -> None:
    ruler = ruler_of(Lack("too much work", 0, 100_000, minutes, minutes // 2))
    assert not ruler.by_clock
    assert 1 <= len(ruler.ticks) <= 5
    assert ruler.parts == ((0.0, 100.0),)
