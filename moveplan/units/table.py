"""Units that a plan file may use, with exact factors.

References
----------
International inch, foot, yard, mile, pound and US gallon: NIST Special Publication 811 (2008), appendix B.8.
UK gallon: Weights and Measures Act 1985, schedule 1. Pound-force: standard gravity 9.80665 m/s².
Alkalinity: 1 dKH is 10 mg/l CaO; molar masses 56.0774 g/mol (CaO) and 100.0869 g/mol (CaCO3).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

US_GALLON_L = Fraction("3.785411784")
UK_GALLON_L = Fraction("4.54609")
POUND_KG = Fraction("0.45359237")
INCH_M = Fraction("0.0254")
POUND_PER_SQUARE_INCH_BAR = POUND_KG * Fraction("9.80665") / INCH_M**2 / 100_000
MONTH_DAYS = Fraction("365.25") / 12

_PER = re.compile(r"\s*/\s*|\s+per\s+")


def _spelled(rows: Mapping[str, str | int | Fraction]) -> dict[str, Fraction]:
    return {name: Fraction(factor) for names, factor in rows.items() for name in names.split("|")}


UNITS: Mapping[str, Mapping[str, Fraction]] = {
    "length": _spelled(
        {
            "mm|millimetre|millimetres|millimeter|millimeters": "0.001",
            "cm|centimetre|centimetres|centimeter|centimeters": "0.01",
            "m|metre|metres|meter|meters": 1,
            "km|kilometre|kilometres|kilometer|kilometers": 1000,
            'in|inch|inches|"': INCH_M,
            "ft|foot|feet|'": 12 * INCH_M,
            "yd|yard|yards": 36 * INCH_M,
            "mile|miles|mi": 63360 * INCH_M,
        }
    ),
    "mass": _spelled(
        {
            "mg": "0.000001",
            "g|gram|grams|gramme|grammes": "0.001",
            "kg|kilo|kilos|kilogram|kilograms": 1,
            "t|tonne|tonnes": 1000,
            "oz|ounce|ounces": POUND_KG / 16,
            "lb|lbs|pound|pounds": POUND_KG,
        }
    ),
    "volume": _spelled(
        {
            "ml|millilitre|millilitres|milliliter|milliliters": "0.001",
            "l|litre|litres|liter|liters": 1,
            "m3|m³|cubic metre|cubic metres|cubic meter|cubic meters": 1000,
            "us gal|us gals|us gallon|us gallons": US_GALLON_L,
            "uk gal|uk gals|uk gallon|uk gallons": UK_GALLON_L,
            "us qt|us quart|us quarts": US_GALLON_L / 4,
            "uk qt|uk quart|uk quarts": UK_GALLON_L / 4,
            "us pt|us pint|us pints": US_GALLON_L / 8,
            "uk pt|uk pint|uk pints": UK_GALLON_L / 8,
            "us fl oz|us fluid ounces": US_GALLON_L / 128,
            "uk fl oz|uk fluid ounces": UK_GALLON_L / 160,
            "ft3|ft³|cubic foot|cubic feet": (12 * INCH_M) ** 3 * 1000,
            "in3|in³|cubic inch|cubic inches": INCH_M**3 * 1000,
        }
    ),
    "duration": _spelled(
        {"min|mins|minute|minutes": 1, "h|hr|hrs|hour|hours": 60, "d|day|days": 1440, "week|weeks": 10080}
    ),
    "age": _spelled(
        {"day|days": 1 / MONTH_DAYS, "week|weeks": 7 / MONTH_DAYS, "month|months": 1, "year|years": 12}
    ),
    "power": _spelled({"w|watt|watts": 1, "kw|kilowatt|kilowatts": 1000}),
    "pressure": _spelled(
        {"bar": 1, "mbar|hpa": "0.001", "kpa": "0.01", "mpa": 10, "psi": POUND_PER_SQUARE_INCH_BAR}
    ),
    "temperature": _spelled({"°c|c": 1, "°f|f": Fraction(5, 9), "k": 1}),
    "share": _spelled({"%|percent|per cent": 1}),
    "concentration": _spelled({"mg/l|ppm": 1}),
    "alkalinity": _spelled(
        {
            "dkh": 1,
            "meq/l": Fraction("5.60774") / 2,
            # kits that count in ppm or mg/l count calcium carbonate; common practice, no source
            "mg/l caco3|mg/l as caco3|ppm caco3|ppm as caco3|ppm|mg/l": Fraction("5.60774")
            / Fraction("100.0869"),
        }
    ),
}

ZERO_AT = {"f": Fraction(-160, 9), "°f": Fraction(-160, 9), "k": Fraction("-273.15")}
"""Where the zero of a temperature unit stands on the Celsius scale. [°C]"""

SUMMED_KINDS = frozenset({"length", "mass", "duration", "age"})
"""Kinds that are also written in two units, such as ``4 ft 6 in``."""

RATIOS = {"flow": ("volume", "duration"), "feeding": ("mass", "duration")}
KINDS = (*UNITS, *RATIOS)

TWO_MEANINGS: Mapping[str, tuple[str, str, Fraction, Fraction]] = {
    spelling: (names[0], names[1], us_l, uk_l)
    for names, us_l, uk_l in (
        (("gal", "gallons", "gals", "gallon"), US_GALLON_L, UK_GALLON_L),
        (("qt", "quarts", "quart"), US_GALLON_L / 4, UK_GALLON_L / 4),
        (("pt", "pints", "pint"), US_GALLON_L / 8, UK_GALLON_L / 8),
        (("fl oz", "fluid ounces"), US_GALLON_L / 128, UK_GALLON_L / 160),
    )
    for spelling in names
}
"""Spelling, long name, and litres in the US and the UK, of units that say nothing without their country."""


@dataclass(frozen=True, slots=True)
class Target:
    """A unit that the program keeps a kind of quantity in.

    Parameters
    ----------
    kind : str
        Kind of quantity, such as ``length``.
    scale : Fraction
        The unit, in the base unit of its kind.
    keepers : tuple of str
        Units offered to the keeper, metric first.
    """

    kind: str
    scale: Fraction
    keepers: tuple[str, ...]


def plain(text: str) -> str:
    """Write a text in lower case with single spaces and a plain minus sign."""
    return " ".join(text.replace("\N{MINUS SIGN}", "-").casefold().split())


def unit_factor(unit: str, kind: str) -> Fraction | None:
    """Give a unit in the base unit of its kind (m, kg, l, min, °C, %), exactly; None where it is none.

    Parameters
    ----------
    unit : str
        As the keeper wrote it.

    >>> unit_factor("lb", "mass")
    Fraction(45359237, 100000000)
    """
    spelling = plain(unit)
    if kind not in RATIOS:
        return UNITS[kind].get(spelling)
    parts = split_ratio(spelling)
    if len(parts) != 2:
        return None
    above, below = RATIOS[kind]
    over, under = UNITS[above].get(parts[0]), UNITS[below].get(parts[1])
    return None if over is None or under is None else over / under


def split_ratio(unit: str) -> list[str]:
    """Split ``l/day`` or ``l per day`` at its stroke."""
    return _PER.split(unit)


def _target(kind: str, unit: str, *keepers: str) -> tuple[str, Target]:
    factor = unit_factor(unit, kind)
    if factor is None:
        raise LookupError(unit)
    return unit, Target(kind, factor, keepers)


TARGETS: Mapping[str, Target] = dict(
    (
        _target("length", "m", "cm", "in"),
        _target("length", "cm", "cm", "in"),
        _target("length", "mm", "mm", "in"),
        _target("length", "km", "km", "miles"),
        _target("mass", "kg", "kg", "lb"),
        _target("mass", "g", "g", "oz"),
        _target("volume", "l", "l", "US gal"),
        _target("flow", "l/h", "l/h", "US gal/h"),
        _target("flow", "l/day", "l/day", "US gal/day"),
        _target("feeding", "g/day", "g/day", "oz/day"),
        _target("duration", "min", "min", "h"),
        _target("duration", "h", "h", "min"),
        _target("duration", "day", "days", "weeks"),
        _target("age", "month", "months", "years"),
        _target("power", "W", "W"),
        _target("pressure", "bar", "bar", "psi"),
        _target("temperature", "°C", "C", "F"),
        _target("share", "%", "%"),
        _target("concentration", "mg/l", "mg/l"),
        _target("alkalinity", "dKH", "dKH", "meq/l"),
    )
)
"""Units of the program, by their spelling."""
