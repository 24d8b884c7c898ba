"""Paths of temperature move the way they must, and no input has a cliff."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from moveplan.science.heat.path import end_temperatures_c, first_exit_h
from moveplan.science.heat.vessels import Segment, Surface, Vessels, vessels_of
from tests.science.ways import temperatures_c

MODEST = settings(max_examples=60, deadline=None, derandomize=True)
STEP = 1e-5
STEEPEST = 300.0
"""Most K that a unit of any input may be worth here [K per K, per h, per W/K, per l, per W]: 2 l of water under
100 W warm by 44 K/h, and 2 l less water or 0.2 W/K less wall are worth no more."""

segments = st.builds(
    Segment,
    duration_h=st.floats(0.0, 6.0),
    air_c=st.floats(-5.0, 40.0),
    surface=st.sampled_from(Surface),
    rise_k=st.one_of(st.just(0.0), st.floats(-25.0, 30.0)),
    rise_constant_h=st.floats(0.1, 3.0),
    heated=st.booleans(),
)
ways = st.lists(segments, min_size=1, max_size=5)
vessels = st.tuples(
    st.floats(2.0, 60.0),
    st.floats(0.2, 6.0),
    st.floats(0.2, 15.0),
    st.floats(0.2, 4.0),
    st.one_of(st.just(0.0), st.floats(0.0, 100.0)),
    st.floats(20.0, 28.0),
)
starts = st.floats(18.0, 30.0)
SUN = [Segment(2.0, 25.0, rise_k=24.4, rise_constant_h=0.3254, heated=True)]
"""A heater at its setting, and air that becomes warmer than it."""


def _seen_c(vessel: tuple[float, ...], start: float, way: list[Segment], hours: list[float]) -> list[float]:
    many = vessels_of(*(np.full(len(hours), value) for value in vessel))
    return list(map(float, temperatures_c(many, start, way, np.array(hours))))


def _last(vessel: tuple[float, ...], start: float, way: list[Segment]) -> float:
    return float(end_temperatures_c(vessels_of(*vessel), start, way)[-1, 0])


@MODEST
@given(vessels, starts, ways)
@example((30.0, 4.7, 12.6, 2.5, 25.0, 25.5), 25.5, SUN)
@example((30.0, 4.7, 12.6, 2.5, 4.7 * 7.5, 25.5), 25.5, [Segment(4.0, 18.0, heated=True)])
@example(
    (14.4, 0.5, 13.1, 1.0, 57.4, 22.5), 26.4, [Segment(1.4, 14.0, Surface.MOVING, 1e-307, 3.0, heated=True)]
)
def test_no_input_has_a_cliff(vessel: tuple[float, ...], start: float, way: list[Segment]) -> None:
    here = _last(vessel, start, way)
    near = [_last(vessel, start + STEP, way)]
    near += [
        _last((*vessel[:at], vessel[at] + STEP, *vessel[at + 1 :]), start, way) for at in range(len(vessel))
    ]
    for at, segment in enumerate(way):
        for key in ("duration_h", "air_c", "rise_k", "rise_constant_h"):
            moved = replace(segment, **{key: getattr(segment, key) + STEP})
            near.append(_last(vessel, start, [*way[:at], moved, *way[at + 1 :]]))
    assert np.abs(np.array(near) - here).max() <= STEEPEST * STEP


@MODEST
@given(vessels, starts, ways, st.floats(0.01, 5.0))
def test_a_warmer_start_and_warmer_air_never_end_colder(
    vessel: tuple[float, ...], start: float, way: list[Segment], more: float
) -> None:
    here = end_temperatures_c(vessels_of(*vessel), start, way)
    warmer = [replace(segment, air_c=segment.air_c + more) for segment in way]
    assert (end_temperatures_c(vessels_of(*vessel), start + more, way) >= here - 1e-7).all()
    assert (end_temperatures_c(vessels_of(*vessel), start, warmer) >= here - 1e-7).all()


@MODEST
@given(vessels, starts, ways)
def test_a_segment_cut_in_two_is_the_same_way(
    vessel: tuple[float, ...], start: float, way: list[Segment]
) -> None:
    def halves(one: Segment) -> list[Segment]:
        half = 0.5 * one.duration_h
        gone = float(np.exp(-half / one.rise_constant_h))
        later = replace(
            one, duration_h=half, air_c=one.air_c + one.rise_k * (1.0 - gone), rise_k=one.rise_k * gone
        )
        return [replace(one, duration_h=half), later]

    cut = [half for segment in way for half in halves(segment)]
    assert _last(vessel, start, cut) == pytest.approx(_last(vessel, start, way), abs=1e-7)


@MODEST
@given(vessels, starts, ways)
def test_a_thermostat_never_heats_above_its_setting(
    vessel: tuple[float, ...], start: float, way: list[Segment]
) -> None:
    cold = [replace(segment, air_c=min(segment.air_c, 20.0), rise_k=0.0, heated=True) for segment in way]
    whole = sum(float(segment.duration_h) for segment in way)
    seen = _seen_c(vessel, start, cold, list(np.linspace(0.0, whole, 200)))
    assert max(seen) <= max(start, vessel[5]) + 1e-7


@MODEST
@given(vessels, st.floats(22.0, 28.0), ways)
def test_the_time_of_leaving_fits_the_temperatures(
    vessel: tuple[float, ...], start: float, way: list[Segment]
) -> None:
    low, high = 21.5, 28.5
    one: Vessels = vessels_of(*vessel)
    found = float(first_exit_h(one, start, way, low, high)[0])
    wider = float(first_exit_h(one, start, way, low - 0.5, high + 0.5)[0])
    assert wider >= found
    whole = sum(float(segment.duration_h) for segment in way)
    before = _seen_c(vessel, start, way, list(np.linspace(0.0, min(found, whole), 200)))
    assert low - 1e-6 <= min(before) <= max(before) <= high + 1e-6
    if np.isfinite(found):
        (there,) = _seen_c(vessel, start, way, [found])
        assert min(abs(there - low), abs(there - high)) < 1e-5


def test_many_containers_get_what_each_gets_alone() -> None:
    rows = [
        (30.0, 4.7, 12.6, 2.5, 25.0, 25.5),
        (15.0, 2.5, 7.3, 1.3, 0.0, 25.0),
        (4.0, 0.28, 0.3, 0.26, 50.0, 24.0),
    ]
    way = [Segment(4.0, 18.0, heated=True), Segment(0.2, 8.0, Surface.MOVING), *SUN, Segment(3.0, 12.0)]
    together = end_temperatures_c(vessels_of(*np.array(rows).T), 25.2, way)
    for number, row in enumerate(rows):
        assert together[:, number] == pytest.approx(end_temperatures_c(vessels_of(*row), 25.2, way)[:, 0])
