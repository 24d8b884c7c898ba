"""Tell the metric quantities inside a sentence in the keeper's units."""

from __future__ import annotations

import re
from collections.abc import Callable

from moveplan.units.show import (
    show_distance,
    show_flow,
    show_length,
    show_mass,
    show_number,
    show_rate,
    show_rounded,
    show_temperature,
    show_volume,
)
from moveplan.units.table import INCH_M, US_GALLON_L

KPA_A_POUND_A_SQUARE_FOOT = 0.04788025898
"""Pound-force a square foot: NIST SP 811, appendix B.8 (recalled). [kPa]"""

_SHOWN: dict[str, Callable[[float, str], str]] = {
    "l": show_volume,
    "kg": show_mass,
    "g": lambda value, units: show_mass(value / 1000, units),
    "g/day": lambda value, units: f"{show_mass(value / 1000, units)}/day",
    "m": show_length,
    "cm": lambda value, units: show_length(value / 100, units),
    "mm": lambda value, _: f"{show_number(round(value / 1000 / float(INCH_M), 2))} in",
    "km": show_distance,
    "l/h": show_flow,
    "l/min": lambda value, units: f"{show_volume(value, units)}/min",
    "l/day": show_rate,
    "l/km": lambda value, _: f"{show_rounded(value * 1.609344 / float(US_GALLON_L))} US gal a mile",
    "km/h": lambda value, units: show_distance(value, units).replace(" miles", " mph"),
    "°C": show_temperature,
    "K": lambda value, _: f"{show_number(round(1.8 * value, 1))} °F",
    "kPa": lambda value, _: f"{show_number(round(value / KPA_A_POUND_A_SQUARE_FOOT))} lb/ft²",
}
_QUANTITY = re.compile(
    r"(?<![\w.,/])(-?\d+(?:\.\d+)?) (l/min|l/day|l/km|l/h|km/h|km|kg|g/day|g(?= of )|cm|mm|kPa|°C|K|l|m)(?![\w/²³(])"
)


def retold(text: str, units: str) -> str:
    """Tell the metric quantities in a sentence of the program's own in the keeper's units.

    Concentrations and densities stay as they are: hobby and science write them in metric units everywhere.

    Parameters
    ----------
    text : str
        A sentence such as the basis of an estimate, with quantities such as ``182 l``.
    units : str
        ``metric`` or ``us``.

    Returns
    -------
    str
        The sentence; unchanged where the keeper's units are metric.

    >>> retold("182 l at 94 l/day, 0.5 mg/l, 26 kg of dry rock at 2830 kg/m³", "us")
    '48.1 US gal at 24.8 US gal/day, 0.5 mg/l, 57.3 lb of dry rock at 2830 kg/m³'
    """
    if units != "us":
        return text
    return _QUANTITY.sub(lambda found: _SHOWN[found[2]](float(found[1]), units), text)
