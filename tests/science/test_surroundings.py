"""Tables of walls, vehicles, days and circuits: sound rows, and what follows from them."""

from __future__ import annotations

import numpy as np
import pytest

from moveplan.errors import OutOfRangeError
from moveplan.science.animals.oxygen_limits import oxygen_gate_mg_l, oxygen_limit_mg_l
from moveplan.science.heat.circuits import circuits
from moveplan.science.heat.cooling import u_value_w_m2_k
from moveplan.science.heat.outside_air import Band, air_of_the_hour_c, outside_air
from moveplan.science.heat.vehicle_air import vehicle_airs
from moveplan.science.heat.vessels import Surface, vessels_of
from moveplan.science.heat.walls import wall_u_w_m2_k, walls
from moveplan.science.limits import limits
from moveplan.science.tables import table


def _box_m2(length_m: float, width_m: float, depth_m: float) -> float:
    """Bottom, lid and the walls up to the water line."""
    return 2.0 * length_m * width_m + 2.0 * (length_m + width_m) * depth_m


def _pail_m2(diameter_m: float, depth_m: float) -> float:
    return np.pi * diameter_m * (0.5 * diameter_m + depth_m)


@pytest.mark.parametrize("wall", walls())
def test_moving_air_takes_more_heat_than_still_air_and_neighbours_less(wall: str) -> None:
    still, moving, packed = (wall_u_w_m2_k(wall, surface) for surface in Surface)
    assert moving > still > packed > 0.0


@pytest.mark.parametrize(
    ("area", "wall", "litres", "hours"),
    [
        (_box_m2(0.56, 0.36, 0.030 / (0.56 * 0.36)), "tub", 30.0, 7.24),
        (_box_m2(0.56, 0.36, 0.030 / (0.56 * 0.36)), "tub-wrapped", 30.0, 19.8),
        (_pail_m2(0.28, 0.015 / (np.pi * 0.07 * 0.28)), "pail", 15.0, 6.87),
        (_box_m2(0.29, 0.24, 0.020 / (0.29 * 0.24)), "pail", 20.0, 6.97),
        (_box_m2(0.40, 0.40, 0.004 / 0.16), "polystyrene-40", 4.0, 16.1),
        (_box_m2(0.40, 0.40, 0.008 / 0.16), "polystyrene-25", 8.0, 19.2),
        (_box_m2(0.50, 0.35, 0.016 / 0.175), "polystyrene-40", 16.0, 45.8),
    ],
)
def test_time_constants_of_usual_containers(area: float, wall: str, litres: float, hours: float) -> None:
    """By hand from rho cp V / (U A), still air, three figures."""
    conductance = wall_u_w_m2_k(wall, Surface.STILL) * area
    capacity = float(vessels_of(litres, conductance, conductance, conductance).capacity_wh_k[0])
    assert capacity / conductance == pytest.approx(hours, rel=0.006)


@pytest.mark.parametrize("material", table("materials"))
def test_every_conductivity_makes_a_wall(material: str) -> None:
    row = table("materials")[material]
    low, likely, high = (u_value_w_m2_k([(0.02, k)]) for k in row["conductivity"])
    assert low <= likely <= high < 1.0 / 0.13
    assert row["source"]
    assert row["meaning"]


def test_every_vehicle_rises_between_its_low_and_its_high() -> None:
    for air in vehicle_airs().values():
        low, likely, high = air.rise_k
        assert 0.0 <= low <= likely <= high <= 40.0
        assert 0.2 <= air.rise_constant_h <= 1.0
        assert air.source


def test_days_are_ordered_and_the_south_is_six_months_on() -> None:
    for month in range(1, 13):
        for band in Band:
            day = outside_air(month, band)
            assert list(day.least_c) == sorted(day.least_c)
            assert list(day.greatest_c) == sorted(day.greatest_c)
            assert all(least < most for least, most in zip(day.least_c, day.greatest_c, strict=True))
        assert outside_air(month, Band.SOUTH) == outside_air((month + 5) % 12 + 1, Band.NORTH)
        assert outside_air(month, Band.EQUATOR) == outside_air(1, Band.EQUATOR)
    with pytest.raises(OutOfRangeError):
        outside_air(13, Band.NORTH)


def test_the_course_of_a_day_has_no_step() -> None:
    hours = np.linspace(0.0, 24.0, 2401)
    course = np.asarray(air_of_the_hour_c(np.full(2401, 8.0), np.full(2401, 20.0), hours, np.full(2401, 5.5)))
    assert np.abs(np.diff(course)).max() < 0.03
    assert course[0] == pytest.approx(course[-1])
    assert (course.min(), course.max()) == pytest.approx((8.0, 20.0))


def test_a_circuit_gives_no_more_than_its_rating() -> None:
    for circuit in circuits().values():
        assert 0.0 < circuit.continuous_w <= circuit.circuit_v * circuit.circuit_a
    assert circuits()["vehicle-12-v"].continuous_w == 120.0


def test_the_shares_of_oxygen_are_those_that_the_functions_take_for_granted() -> None:
    share = {name: limits()[name].value for name in limits() if name.endswith("_share")}
    assert share["oxygen_plan_share"] > share["oxygen_alarm_share"] > share["oxygen_stop_share"]
    given = oxygen_gate_mg_l(26.0, 35.0, 83.5, share["gate_oxygen_local_share"], share["gate_oxygen_share"])
    assert oxygen_gate_mg_l(26.0, 35.0, 83.5) == given
    assert oxygen_limit_mg_l(share["oxygen_alarm_share"], 26.0, 35.0) == pytest.approx(3.99, abs=0.005)
