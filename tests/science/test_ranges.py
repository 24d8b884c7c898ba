from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import pytest

from moveplan.errors import OutOfRangeError
from moveplan.science.animals.respiration import fish_mass_g, fish_oxygen_use_mg_h
from moveplan.science.carrying.loads import tank_mass_kg
from moveplan.science.gas.transit import loading_density_g_l
from moveplan.science.heat.cooling import u_value_w_m2_k
from moveplan.science.ranges import Argument, arguments, check, ordered, within
from moveplan.science.water.seawater import density_kg_m3, salinity_from_specific_gravity_psu
from tests.science.modules import science_modules


@pytest.mark.parametrize("entry", arguments().values(), ids=arguments())
def test_every_entry_of_the_glossary_is_sound(entry: Argument) -> None:
    assert entry.low <= entry.usual_low < entry.usual_high <= entry.high
    assert entry.meaning
    assert entry.unit
    assert entry.source


def test_the_glossary_names_no_argument_that_nobody_takes() -> None:
    taken: set[str] = set()
    for _, content in science_modules():
        for _, thing in inspect.getmembers(content, lambda x: inspect.isfunction(x) or inspect.isclass(x)):
            if thing.__module__.startswith("moveplan.science"):
                taken |= set(inspect.signature(thing).parameters)
    inside = {"thickness_m", "conductivity_w_m_k"}
    assert set(arguments()) - taken - inside == set()


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: density_kg_m3(26.0, 45.5),
            "salinity_psu = 45.5 is outside 0 to 42 (range of TEOS-10)",
        ),
        (
            lambda: density_kg_m3(-1.0, 35.0),
            "temperature_c = -1.0 is outside 0 to 40 (range of TEOS-10 and of the oxygen and carbonate fits; "
            "tropical animals 20 to 30)",
        ),
        (
            lambda: loading_density_g_l(3000.0, 2.0),
            "biomass_g / water_l = 1500.0 is outside 0 to 180 (g/l; most documented, Amend et al. (1982))",
        ),
        (
            lambda: tank_mass_kg(1.2, 0.6, 0.6, 0.0, 0.012, 2500.0),
            "side_thickness_m = 0.0 is outside 0.002 to 0.1 (panes of tanks; zero would be no wall)",
        ),
        (
            lambda: u_value_w_m2_k([(0.0, 0.035)]),
            "thickness_m = 0.0 is outside 0.0005 to 1 (packing and building materials; ISO 6946:2017)",
        ),
        (
            lambda: fish_oxygen_use_mg_h(20_000.0, 26.0),
            "fish_mass_g = 20000.0 is outside 0.01 to 10000 (masses for which Clarke and Johnston (1999) may "
            "be extrapolated)",
        ),
    ],
)
def test_a_value_out_of_range_is_named_with_its_range_and_source(
    call: Callable[[], object], message: str
) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        call()
    assert str(caught.value) == message


def test_a_specific_gravity_that_no_sea_water_has_is_named_as_the_salinity_it_would_mean() -> None:
    with pytest.raises(OutOfRangeError) as caught:
        salinity_from_specific_gravity_psu(1.045, 25.0, 25.0)
    assert isinstance(caught.value.value, float)
    assert 55.0 < caught.value.value < 62.0
    assert str(caught.value).endswith(
        "is outside 0 to 42 (from specific gravity at these temperatures; range of TEOS-10)"
    )


def test_the_first_offender_of_an_array_is_named() -> None:
    with pytest.raises(OutOfRangeError, match=r"^salinity_psu = 50\.0 "):
        density_kg_m3(np.array([25.0, 25.0, 25.0]), np.array([35.0, 50.0, 60.0]))


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_a_finite_number_is_refused(value: float) -> None:
    with pytest.raises(OutOfRangeError):
        check(salinity_psu=value)
    with pytest.raises(OutOfRangeError):
        within("salinity_psu", np.array([35.0, value]), 0.0, 42.0, "a test")
    with pytest.raises(OutOfRangeError):
        ordered("start_c", value, "end_c", math.nan)


def test_floats_give_floats_and_arrays_give_arrays() -> None:
    assert type(density_kg_m3(25.0, 35.0)) is float
    assert type(density_kg_m3(25, 35)) is float
    many = density_kg_m3(np.array([20.0, 25.0]), np.array([35.0, 35.0]))
    assert many.shape == (2,)
    assert many[1] == density_kg_m3(25.0, 35.0)
    assert fish_mass_g(length_cm=np.array([[5.0], [10.0]])).shape == (2, 1)


def _numeric() -> Iterator[Any]:
    for _, content in science_modules():
        for name, function in inspect.getmembers(content, inspect.isfunction):
            parameters = inspect.signature(function).parameters
            if function.__module__ == content.__name__ and hasattr(function, "__wrapped__"):
                numbers = [key for key in parameters if key in arguments()]
                yield from (pytest.param(function, key, id=f"{name}-{key}") for key in numbers)


@pytest.mark.parametrize(("function", "name"), list(_numeric()))
def test_every_argument_of_every_formula_is_checked(function: Callable[..., Any], name: str) -> None:
    given = {key: _middle(key) for key in inspect.signature(function).parameters if key in arguments()}
    with pytest.raises(OutOfRangeError) as caught:
        function(**(given | {name: math.nan}))
    assert caught.value.argument == name


def _middle(name: str) -> float:
    entry = arguments()[name]
    return 0.5 * (entry.usual_low + entry.usual_high)
