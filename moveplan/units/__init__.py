"""Quantities with units: read into the program's own units, and printed in the keeper's.

Everywhere else numbers are plain floats whose names end in their unit; this is the only place that converts.
A bare number and a bare gallon are refused, because nobody can know what they mean. Start reading in
``table.py`` (what is known), then ``read.py`` and ``show.py``.
"""

from moveplan.units.pattern import quantity_pattern, unit_words
from moveplan.units.read import Measure, QuantityError, kind_of_unit, quoted
from moveplan.units.retell import decimal_sign, localised, retold, told_beside
from moveplan.units.show import (
    show_distance,
    show_duration,
    show_flow,
    show_kept,
    show_length,
    show_mass,
    show_nearly,
    show_number,
    show_odds,
    show_power,
    show_pressure,
    show_rate,
    show_rounded,
    show_share,
    show_temperature,
    show_volume,
    show_within,
)
from moveplan.units.table import unit_factor

__all__ = [
    "Measure",
    "QuantityError",
    "decimal_sign",
    "kind_of_unit",
    "localised",
    "quantity_pattern",
    "quoted",
    "retold",
    "show_distance",
    "show_duration",
    "show_flow",
    "show_kept",
    "show_length",
    "show_mass",
    "show_nearly",
    "show_number",
    "show_odds",
    "show_power",
    "show_pressure",
    "show_rate",
    "show_rounded",
    "show_share",
    "show_temperature",
    "show_volume",
    "show_within",
    "told_beside",
    "unit_factor",
    "unit_words",
]
