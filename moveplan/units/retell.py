"""Tell the metric quantities inside a sentence in the keeper's units."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

from moveplan.units.show import (
    show_distance,
    show_flow,
    show_length,
    show_mass,
    show_number,
    show_pressure,
    show_rate,
    show_rounded,
    show_temperature,
    show_volume,
)
from moveplan.units.table import INCH_M, POUND_KG, US_GALLON_L

_FOOT_M = float(12 * INCH_M)

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
    "kg/m³": lambda value, _: f"{show_rounded(value / float(POUND_KG) * _FOOT_M**3)} lb/ft³",
    "kg/l": lambda value, _: f"{show_rounded(value / float(POUND_KG) * float(US_GALLON_L))} lb/US gal",
    "kg/m": lambda value, _: f"{show_rounded(value / float(POUND_KG) * _FOOT_M)} lb/ft",
    "bar": show_pressure,
    "W/K": lambda value, _: f"{show_rounded(value / 1.8)} W/°F",
}
_QUANTITY = re.compile(
    r"(?<![\w.,/])(?:(-?\d+(?:\.\d+)?) to )?(-?\d+(?:\.\d+)?) "
    r"(l/min|l/day|l/km|l/h|km/h|km|kg/m³|kg/l|kg/m|kg|g/day|g(?= of )|cm|mm|bar|kPa|°C|W/K|K|l|m)(?![\w/²³(])"
)
_NUMBER = re.compile(r"(?<![\w.,:/-])(-?\d+)\.(\d+)(?![\w:]|[.,]\d)")


def retold(text: str, units: str) -> str:
    """Tell the metric quantities in a sentence of the program's own in the keeper's units.

    Concentrations stay as they are: hobby and science write them in metric units everywhere. Both ends of a
    range such as ``10 to 20 l`` are told.

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
    '48.1 US gal at 24.8 US gal/day, 0.5 mg/l, 57.3 lb of dry rock at 177 lb/ft³'
    """
    if units != "us":
        return text
    return _QUANTITY.sub(_in_us_units, text)


def told_beside(text: str, units: str) -> str:
    """Tell sizes by which things are sold in the keeper's units, and leave the metric ones of the label beside.

    >>> told_beside("Water in 2 l bottles", "us"), told_beside("5 kg", "metric")
    ('Water in 0.528 US gal (2 l) bottles', '5 kg')
    """
    if units != "us":
        return text
    return _QUANTITY.sub(lambda found: f"{_in_us_units(found)} ({found[0]})", text)


def _in_us_units(found: re.Match[str]) -> str:
    first, second, unit = found.groups()
    told = _SHOWN[unit](float(second), "us")
    if first is None:
        return told
    low, of = _SHOWN[unit](float(first), "us").split(" ", 1)
    return f"{low} to {told}" if told.endswith(f" {of}") else f"{low} {of} to {told}"


@cache
def decimal_sign(locale: str) -> str:
    """Find what stands before the tenths of a number: a point where the locale is unknown.

    >>> decimal_sign("de_DE"), decimal_sign("en-US"), decimal_sign("nowhere")
    (',', '.', '.')
    """
    if locale.replace("_", "-").split("-")[0] in ("", "en"):
        return "."  # what most plans have, without reading the tables of all locales
    from babel import Locale, UnknownLocaleError
    from babel.numbers import get_decimal_symbol

    try:
        return get_decimal_symbol(Locale.parse(locale.replace("-", "_")))
    except (UnknownLocaleError, ValueError):
        return "."


def localised(text: str, sign: str) -> str:
    """Write the numbers of a sentence of the program's own with a locale's decimal sign.

    >>> localised("58.7 l at 25.5 °C, EN 12195-1:2010, version 1.2.3", ",")
    '58,7 l at 25,5 °C, EN 12195-1:2010, version 1.2.3'
    """
    return text if sign == "." else _NUMBER.sub(rf"\1{sign}\2", text)
