"""Formulas at the ends of what they are for, each expected value by hand from the source named at the formula."""

from __future__ import annotations

from math import exp
from typing import Any

import numpy as np
import pytest

from moveplan.errors import OutOfRangeError
from moveplan.science.animals.kind_names import kind_named
from moveplan.science.animals.livestock import endangers
from moveplan.science.carrying.lifting import team_band, team_limit_kg
from moveplan.science.carrying.travel import break_time_h
from moveplan.science.filter.cycling import ripe_start
from moveplan.science.gas.bag import _root
from moveplan.science.gas.stays import Stay
from moveplan.science.gas.transit import water_states
from moveplan.science.numbers import Array
from moveplan.science.water.purified import permeate_flow_l_h, temperature_correction
from moveplan.science.water.salt import water_to_lower_kg
from moveplan.science.water.seawater import salinity_from_specific_gravity_psu, specific_gravity


@pytest.mark.parametrize(("temperature_c", "slope"), [(24.0, 3020), (26.0, 2640), (27.0, 2640)])
def test_a_membrane_changes_its_slope_at_25_degrees(temperature_c: float, slope: float) -> None:
    expected = exp(slope * (1 / (temperature_c + 273.15) - 1 / 298.15))
    assert temperature_correction(temperature_c) == pytest.approx(expected, rel=1e-9)


def test_a_hunter_eats_what_is_shorter_than_half_of_it() -> None:
    lionfish, goby = kind_named("lionfish"), kind_named("goby")
    assert endangers(lionfish, 20.0, goby, 9.9)
    assert not endangers(lionfish, 20.0, goby, 10.0)
    assert not endangers(lionfish, 20.0, goby, 10.5)


def test_a_break_follows_each_two_hours_that_more_driving_follows() -> None:
    """Highway Code, rule 91 (recalled)."""
    assert [break_time_h(hours) for hours in (1.9, 2.0, 2.1, 4.0, 4.1)] == [0.0, 0.0, 0.25, 0.25, 0.5]


def test_salinity_is_found_up_to_the_end_of_its_range() -> None:
    ratio = specific_gravity(41.9, 25.0, 25.0)
    assert salinity_from_specific_gravity_psu(ratio, 25.0, 25.0) == pytest.approx(41.9, abs=1e-6)
    with pytest.raises(OutOfRangeError):
        salinity_from_specific_gravity_psu(specific_gravity(42.0, 25.0, 25.0) + 0.002, 25.0, 25.0)


@pytest.mark.parametrize(("target", "taken"), [(0.9, False), (1.0, True)])
def test_dilution_ends_where_hardly_any_salt_is_left(target: float, taken: bool) -> None:
    if taken:
        assert water_to_lower_kg(100.0, 25.0, 36.0, target) > 0
    else:
        with pytest.raises(OutOfRangeError):
            water_to_lower_kg(100.0, 25.0, 36.0, target)


def stay(**changed: float) -> Stay:
    usual = {
        "water_l": 4.0,
        "gas_l": 2.0,
        "temperature_c": 25.0,
        "salinity_psu": 35.0,
        "oxygen_use_mg_h": 20.0,
        "ammonia_mg_n_h": 1.0,
        "oxygen_fraction": 0.2095,
        "aeration_h": 0.0,
        "ambient_c": 25.0,
        "constant_h": 10.0,
    }
    return Stay(**usual | changed)


@pytest.mark.parametrize(
    ("key", "value"),
    [("temperature_c", 1.9), ("temperature_c", 35.1), ("salinity_psu", 27.9), ("salinity_psu", 40.1)],
)
def test_water_outside_the_range_of_its_constants_is_refused(key: str, value: float) -> None:
    """Lueker et al. (2000) hold from 2 to 35 °C, Bower and Bidwell (1978) near salinity 34."""
    with pytest.raises(OutOfRangeError) as caught:
        stay(**{key: value})
    assert caught.value.argument == key
    stay(**{key: round(value)})


def test_oxygen_that_is_used_up_is_nothing_and_never_less() -> None:
    (after,) = water_states([stay()], [1000.0])
    assert after.oxygen_mg_l == 0.0


@pytest.mark.parametrize(
    ("people", "kg", "band"),
    [
        (2, 35.0, "green"),
        (2, 35.1, "amber"),
        (2, 50.1, "red"),
        (2, 85.0, "red"),
        (2, 85.1, "beyond"),
        (3, 75.0, "amber"),
        (3, 125.1, "beyond"),
        (4, 100.0, "amber"),
        (4, 170.1, "beyond"),
    ],
)
def test_a_load_on_the_end_of_a_band_is_still_in_it(people: int, kg: float, band: str) -> None:
    """INDG383, team handling, recalled: 35, 50, 85 kg for two, 40, 75, 125 for three, 40, 100, 170 for four."""
    assert team_band(people, kg) == band


@pytest.mark.parametrize(
    "given",
    [
        {"people": []},
        {"people": ["men"] * 5},
        {"twist_degrees": 91.0},
        {"lifts_per_h": 481.0},
        {"distance_m": -1.0},
    ],
)
def test_the_rule_of_lifting_ends_where_its_source_ends(given: dict[str, Any]) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        team_limit_kg(**({"people": ["men"], "zones": ["low"]} | given))
    assert caught.value.argument == next(iter(given))


def test_ten_metres_may_be_carried_without_a_rest() -> None:
    near, far = (team_limit_kg(["men"], ["knuckle"], distance_m=way) for way in (10.0, 10.1))
    assert [near, far] == pytest.approx([20.0, 16.0])


def test_water_must_be_driven_through_a_membrane() -> None:
    """A twentieth of a bar above the osmotic pressure is the least that is reckoned with."""
    assert permeate_flow_l_h(100.0, 4.0, 25.0, 2.051, 2.0, 0.0) == pytest.approx(100 / 24 * 0.051 / 4)
    with pytest.raises(OutOfRangeError):
        permeate_flow_l_h(100.0, 4.0, 25.0, 2.049, 2.0, 0.0)


def test_a_root_is_looked_for_only_between_values_of_both_signs() -> None:
    low, high = np.array([1.0, 1.0, -1.0]), np.array([2.0, 3.0, 2.0])

    def squares(value: Array) -> Array:
        return np.asarray(value**2 - np.array([2.0, 8.0, -1.0]))

    assert _root(squares, low, high) == pytest.approx([2**0.5, 8**0.5, 2.0], abs=1e-9)


def test_a_tank_in_balance_with_nothing_holds_neither_bacteria_nor_nitrate() -> None:
    start = ripe_start(0.0, 25.0)
    for held in (start.nitrate_mg_n_l, start.ammonia_oxidisers_mg_l, start.nitrite_oxidisers_mg_l):
        assert not np.any(held)
