"""What can be typed for a reading, as numbers that a page reckons with: the units, forms and ranges of the terminal.

Each unit is a polynomial of the number that was typed; of a unit that says nothing without the temperature of the
sample each coefficient is a polynomial of that. [unit of each; °C]
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from moveplan.journal.taking.slip import STEPS
from moveplan.journal.waters.doubt import FAR
from moveplan.journal.waters.readings import BARE, KINDS, value_of

_UNITS: Mapping[str, tuple[str, ...]] = {
    "temperature": ("C", "F", "K"),
    "salinity": ("psu", "ppt", "\N{PER MILLE SIGN}", "g/kg"),
    "alkalinity": ("dKH", "meq/l", "ppm", "mg/l"),
    "oxygen": ("mg/l", "ppm"),
    "ammonia": ("mg/l", "ppm"),
    "nitrite": ("mg/l", "ppm"),
    "nitrate": ("mg/l", "ppm"),
}
"""Units that are proportional to what is kept, but for their zero."""
_GRAMS = [0, 0.99819, -0.00074143, 8.46e-07]
"""Salinity of grams in a litre; within 0.001 of what the terminal takes, up to 43 g/l. [-]"""
_GRAVITY = [[-0.17547, 0.0041425], [1.261, 0.0043561, -4.8704e-05], [-0.00036467]]
"""Salinity of the thousandths that a sample is heavier than fresh water as warm as it is. [-]"""
_CONDUCTED = [
    [-0.90298, 0.014124, -0.00032096],
    [1.1261, -0.032479, 0.00058379, -4.7262e-06],
    [0.0030149, -9.267e-05, 9.4568e-07],
]
"""Salinity of a conductivity in mS/cm. [-]"""
FRESH = (0.99997, 4.3396e-05, -7.2181e-06, 3.249e-08)
"""Density of fresh water by its temperature. [kg/l]

The three are least-squares fits to TEOS-10 and PSS-78 as the terminal has them, for 15 to 32 °C and salinities from 20
to 42, and within 0.01 of them there.
"""
FITTED_C = (15, 32)
"""Temperatures of a sample for which the fits hold. [°C]"""
_FIGURES = 7
"""Figures of a factor that are sent: more than any instrument shows. Chosen. [-]"""


def typed_readings() -> dict[str, list[Any]]:
    """Give for each thing that phones read what can be typed.

    Returns
    -------
    dict of str to list
        Least and greatest value, step in which it is sent, change that is far, a sample, units, units of a bare number
        with their ranges, and ways of counting with the share of what is kept, the first of which is meant where none
        is named.
    """
    return {what: _row(what) for what in STEPS}


def _row(what: str) -> list[Any]:
    kind = KINDS[what]
    bare: list[Sequence[Any]] = [
        [unit.split()[0], _short(low), _short(high)] for unit, low, high in BARE.get(what, ())
    ]
    units = {unit: _line(what, unit) for unit in _UNITS.get(what, ())}
    forms = {form: _short(share) for form, share in kind.forms.items()}
    if what == "ph":
        units, bare = {"pH": 1}, [["pH", kind.low, kind.high]]
    elif what == "alkalinity":
        forms = {"caco3": 1}
    elif what == "salinity":
        units |= {"g/l": _GRAMS, "sg": _GRAVITY, "mS/cm": _CONDUCTED}
        bare = [["sg", 1, 1.05], *bare]
    return [
        kind.low,
        kind.high,
        STEPS[what],
        _short(FAR[what]),
        kind.sample,
        units,
        bare,
        *([forms] if forms else ()),
    ]


def _line(what: str, unit: str) -> list[Any] | float:
    """Give the zero of a unit and its factor, by what the terminal makes of two numbers; of 0 the factor alone."""
    first, second = (value_of(what, f"{number} {unit}") for number in (10, 20))
    form = next(iter(KINDS[what].forms.values()), 1.0)
    slope = (second - first) / 10.0 / form
    zero = _short(first / form - 10.0 * slope)
    return [zero, _short(slope)] if zero else _short(slope)


def _short(value: float) -> float:
    """Write a number in few figures, a whole one without its fraction."""
    found = round(float(f"{value:.{_FIGURES}g}"), 9)
    return int(found) if found.is_integer() else found
