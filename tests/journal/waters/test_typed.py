"""What pages reckon readings with is what the terminal makes of the same texts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from moveplan.journal.taking.slip import STEPS
from moveplan.journal.waters.readings import KINDS, ReadingError, read_value
from moveplan.journal.waters.typed import FITTED_C, FRESH, typed_readings
from moveplan.science.water.seawater import density_kg_m3, specific_gravity

ROWS = typed_readings()


def _poly(rows: Any, x: float, t: float = 0.0) -> float:
    if not isinstance(rows, Sequence):
        return float(rows)
    return sum(_poly(row, t) * x**i for i, row in enumerate(rows))


NUMBERS = (0.4, 1.5, 5.5, 8, 8.25, 24.5, 36, 77.9, 143, 297.5)
TEXTS = [
    (what, unit, form, number)
    for what, row in ROWS.items()
    for unit in row[5]
    if unit not in ("sg", "mS/cm")
    for form in (row[7] if row[7:] and what != "alkalinity" else ("",))
    for number in NUMBERS
]


def _read(what: str, text: str) -> float | None:
    try:
        return read_value(what, text)[0]
    except ReadingError:
        return None


def test_every_unit_gives_what_the_terminal_makes_of_it() -> None:
    taken = set()
    for what, unit, form, number in TEXTS:
        low, high, step, _, _, units, _, *forms = ROWS[what]
        rows = units[unit] if isinstance(units[unit], list) else [0, units[unit]]
        made = _poly(rows, number) * (forms[0][form] if form else 1)
        value = _read(what, f"{number} {unit} {form}".strip())
        assert value == (pytest.approx(made, abs=step / 50) if low <= made <= high else None)
        if value is not None:
            taken.add((what, unit, form))
    assert taken == {text[:3] for text in TEXTS}


@pytest.mark.parametrize("what", STEPS)
def test_ranges_steps_and_what_is_meant_where_nothing_is_named_are_the_terminals(what: str) -> None:
    low, high, step, _, sample, _, bare, *forms = ROWS[what]
    assert _read(what, sample) is not None
    assert (low, high, step) == (KINDS[what].low, KINDS[what].high, STEPS[what])
    if forms and what != "alkalinity":
        assert _read(what, "2 mg/l") == _read(what, f"2 mg/l {next(iter(forms[0]))}")
    for unit, *ends in bare:
        if unit != "sg":
            assert [_read(what, f"{one:g}") for one in ends] == [
                _read(what, f"{one:g} {unit}") for one in ends
            ]


@pytest.mark.parametrize("degrees", range(FITTED_C[0], FITTED_C[1] + 1))
def test_gravity_and_conductivity_are_fitted_within_a_fifth_of_the_step(degrees: int) -> None:
    units = ROWS["salinity"][5]
    for salinity in range(22, 41, 3):
        ratio = round(float(specific_gravity(float(salinity), float(degrees), float(degrees))), 4)
        wanted = read_value("salinity", f"{ratio} at {degrees} C")[0]
        assert _poly(units["sg"], 1000 * (ratio - 1), degrees) == pytest.approx(wanted, abs=0.01)
        shown = 53.0 * salinity / 35 * (1 + 0.02 * (degrees - 25))
        wanted = read_value("salinity", f"{shown:.1f} mS/cm at {degrees} C")[0]
        if 20 <= wanted <= 42:
            assert _poly(units["mS/cm"], round(shown, 1), degrees) == pytest.approx(wanted, abs=0.01)
    fresh = float(density_kg_m3(float(degrees), 0.0)) / 1000
    assert _poly(FRESH, degrees) == pytest.approx(fresh, abs=5e-6)


@pytest.mark.parametrize(
    ("what", "text", "same"),
    [
        ("alkalinity", "8,0 dKH", "8.0 dKH"),
        ("temperature", "25,5", "25.5 C"),
        ("salinity", "1,026 at 25 C", "1.026 at 25 C"),
        ("ph", "8,1", "8.1"),
    ],
)
def test_a_decimal_comma_is_a_point(what: str, text: str, same: str) -> None:
    assert read_value(what, text) == read_value(what, same)


def test_a_comma_that_may_part_thousands_is_asked() -> None:
    with pytest.raises(ReadingError, match="has a comma"):
        read_value("nitrate", "1,000 ppm")
