"""Readings with their units: what a test kit or a meter shows, in the units that the limits are kept in."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.errors import Problem
from moveplan.near import nearest
from moveplan.units import Measure, QuantityError, quoted, show_number

_N, _O, _H = 14.007, 15.999, 1.008
"""Standard atomic weights, IUPAC (2021), rounded to three places. [g/mol]"""


@dataclass(frozen=True, slots=True)
class Kind:
    """One thing that is measured.

    Parameters
    ----------
    unit : str
        Unit it is kept in.
    low, high : float
        What can be read at all, in that unit.
    sample : str
        How it is written.
    forms : Mapping of str to float
        Ways of counting a concentration, each with its share of what is kept.
    """

    unit: str
    low: float
    high: float
    sample: str
    forms: Mapping[str, float]


_AS_NITROGEN = "mg N/l"
KINDS: Mapping[str, Kind] = {
    "temperature": Kind("°C", -2, 45, "25.5 C", {}),
    "salinity": Kind("-", 0, 60, "35 psu", {}),
    "ammonia": Kind(
        _AS_NITROGEN, 0, 100, "0.2 mg/l N", {"n": 1.0, "nh3": _N / (_N + 3 * _H), "nh4": _N / (_N + 4 * _H)}
    ),
    "nitrite": Kind(_AS_NITROGEN, 0, 200, "0.1 mg/l N", {"n": 1.0, "no2": _N / (_N + 2 * _O)}),
    "nitrate": Kind("mg NO3/l", 0, 2000, "8 mg/l NO3", {"no3": 1.0, "n": (_N + 3 * _O) / _N}),
    "ph": Kind("-", 5, 10, "8.1", {}),
    "alkalinity": Kind("dKH", 0, 40, "8 dKH", {}),
    "oxygen": Kind("mg/l", 0, 40, "6.5 mg/l", {}),
}
"""What can be read. Ammonia and nitrite without a form are taken as nitrogen, the stricter reading."""

_FORM = re.compile(
    r"^(?P<amount>.*?)\s*(?:as\s+)?(?P<form>nh3|nh4|no2|no3|n)(?:\s*[+-])?(?:-n)?$", re.IGNORECASE
)
_INSIDE = re.compile(r"(?i)\bmg\s*(?P<form>nh3|nh4|no2|no3|n)\s*/\s*l$")
_THOUSANDS = re.compile(r"[0-9],[0-9]{3}(?![0-9])")
"""A comma that may part thousands, save in a salinity, of which none has so many."""
_BARE = re.compile(r"[0-9]{1,6}(?:\.[0-9]{0,6})?")
BARE: Mapping[str, tuple[tuple[str, float, float], ...]] = {
    "temperature": (("C", 10.0, 34.0), ("F", 50.0, 93.0)),
    "salinity": (("psu", 5.0, 45.0),),
    "ammonia": (("mg/l", 0.0, 10.0),),
    "nitrite": (("mg/l", 0.0, 50.0),),
    "nitrate": (("mg/l", 0.0, 300.0),),
    "alkalinity": (("dKH", 5.0, 30.0), ("meq/l", 1.0, 4.99), ("ppm CaCO3", 50.0, 600.0)),
    "oxygen": (("mg/l", 0.0, 15.0),),
}
"""Units that a bare number can only have, from its least to its greatest; ranges of one thing never meet. What hardly
any water of a tank reads wants its unit written, for it may be a slip or the number of another thing; assumed. [-]"""
_GRAVITY = re.compile(
    r"(?P<ratio>1\.0[0-4][0-9]{0,4})(?:\s*sg)?"
    r"(?:\s*(?:at\s+)?(?P<sample>[0-9]{1,2}(?:\.[0-9])?)\s*(?P<unit>°?\s*[CF])?"
    r"(?:\s*/\s*(?P<reference>[0-9]{1,2}(?:\.[0-9])?)\s*(?:°?\s*[CF])?)?)?",
    re.IGNORECASE,
)

_CONDUCTED = re.compile(
    r"(?P<value>[0-9]{1,2}(?:\.[0-9]+)?)\s*mS/cm"
    r"(?:\s*(?:at\s+)?(?P<sample>[0-9]{1,2}(?:\.[0-9])?)\s*°?\s*(?P<unit>[CF]))?",
    re.IGNORECASE,
)
_IN_A_LITRE = re.compile(r"(?P<value>[0-9]{1,2}(?:\.[0-9]+)?)\s*g/l", re.IGNORECASE)
_METER_C = 25.0
"""Temperature that grams in a litre are taken at: another by 5 K changes them by less than 0.2 %. [°C]"""


class ReadingError(ValueError):
    """A text that is no reading.

    Parameters
    ----------
    problem : Problem
        What is wrong and what to write.
    """

    def __init__(self, problem: Problem) -> None:
        super().__init__(str(problem))
        self.problem = problem


def read_value(what: str, text: str) -> tuple[float, str]:
    """Read what a kit or a meter shows.

    Parameters
    ----------
    what : str
        One of ``KINDS``.
    text : str
        Number and unit.

    Returns
    -------
    tuple of (float, str)
        Value and the unit it is kept in.

    Raises
    ------
    ReadingError
        With the fault and what to write.

    Examples
    --------
    >>> read_value("ammonia", "0.2 mg/l")
    (0.2, 'mg N/l')
    >>> read_value("nitrite", "0.33 mg/l NO2")[0].__round__(3)
    0.1
    >>> read_value("temperature", "77.9 F")
    (25.5, '°C')
    >>> read_value("temperature", "77.9")
    (25.5, '°C')
    >>> round(read_value("salinity", "1.0264 at 25 C")[0], 1)
    35.0
    >>> [round(read_value("salinity", said)[0], 1) for said in ("53 mS/cm at 25 C", "36 g/l")]
    [34.9, 35.0]
    """
    kind = KINDS.get(what)
    if kind is None:
        raise _fault(f"{quoted(what)} is not measured here", _offer(what))
    value = value_of(what, with_unit(what, text))
    if not kind.low <= value <= kind.high:
        limits = f"{show_number(kind.low)} to {show_number(kind.high)}"
        raise _fault(
            f"{what} {quoted(text)} is out of range", f"write {limits} {kind.unit}".removesuffix(" -")
        )
    return value, kind.unit


def _fault(message: str, remedy: str) -> ReadingError:
    return ReadingError(Problem(message, "", remedy))


def _offer(what: str) -> str:
    near = nearest(what, KINDS)
    return f"did you mean {near}?" if near else f"write one of {', '.join(KINDS)}"


def value_of(what: str, text: str) -> float:
    """Work out what a number with its unit is in the unit that is kept, whether or not an instrument can show it.

    Parameters
    ----------
    what : str
        One of ``KINDS``.
    text : str
        Number and unit, with a decimal point.
    """
    kind = KINDS[what]
    if what == "ph":
        return _bare(text.casefold().removeprefix("ph").removesuffix("ph").strip(), what, kind)
    if what == "salinity":
        return _salinity(text, kind)
    if kind.forms:
        return _concentration(text, what, kind)
    measure = Measure(kind.unit, -1000.0, 100_000.0, kind.sample)
    return _measured(measure, text, what)


def _measured(measure: Measure, text: str, what: str) -> float:
    try:
        return measure.read(text)
    except QuantityError as error:
        raise _fault(f"{what}: {error.message}", error.remedy) from None


def _bare(text: str, what: str, kind: Kind) -> float:
    try:
        if not re.fullmatch(r"[+-]?[0-9]{1,6}(?:\.[0-9]{0,6})?", text):
            raise ValueError
        return float(text)
    except ValueError:
        raise _fault(
            f"{what}: {quoted(text)} is not a number", f'write for example "{kind.sample}"'
        ) from None


def with_unit(what: str, text: str) -> str:
    """Add the unit that a bare number can only have, and write a decimal comma as a point; all else stays as it is.

    Parameters
    ----------
    what : str
        What was measured.
    text : str
        As it was written.

    Examples
    --------
    >>> with_unit("temperature", "78"), with_unit("alkalinity", "2.9"), with_unit("alkalinity", "143")
    ('78 F', '2.9 meq/l', '143 ppm CaCO3')
    >>> with_unit("alkalinity", "8,0 dKH"), with_unit("salinity", "1,0264 at 25 C"), with_unit("nitrate", "1,000 ppm")
    ('8.0 dKH', '1.0264 at 25 C', '1,000 ppm')
    """
    said = text.strip()
    if what == "salinity" or not _THOUSANDS.search(said):
        said = re.sub(r"(?<=[0-9]),(?=[0-9])", ".", said)
    if not _BARE.fullmatch(said):
        return said
    units = [unit for unit, low, high in BARE.get(what, ()) if low <= float(said) <= high]
    return f"{said} {units[0]}" if units else said


def _gravity(found: re.Match[str], text: str, kind: Kind) -> float:
    """Work out the salinity of a specific gravity, which needs the temperature of its scale."""
    from moveplan.errors import OutOfRangeError
    from moveplan.science.water.seawater import salinity_from_specific_gravity_psu

    if found["sample"] is None:
        raise _fault(
            f"salinity: {quoted(text)} is a specific gravity, which says nothing without its temperatures",
            f'write them as the instrument has them, such as "{found["ratio"]} at 25 C" or '
            f'"{found["ratio"]} at 25/4 C", or the salinity, such as "{kind.sample}"',
        )
    sample = float(found["sample"])
    reference = float(found["reference"]) if found["reference"] else sample
    unit = (found["unit"] or "").upper()
    if unit.endswith("F") or (not unit and sample >= 50.0):
        sample, reference = ((degrees - 32.0) / 1.8 for degrees in (sample, reference))
    try:
        return float(salinity_from_specific_gravity_psu(float(found["ratio"]), sample, reference))
    except OutOfRangeError as error:
        raise _fault(f"salinity: {quoted(text)}: {error}", f'write for example "{kind.sample}"') from None


def _conducted(found: re.Match[str], text: str) -> float:
    """Work out the salinity of a conductivity, which changes by 2 % with each kelvin."""
    from moveplan.errors import OutOfRangeError
    from moveplan.science.water.seawater import salinity_from_conductivity_psu

    if found["sample"] is None:
        raise _fault(
            f"salinity: {quoted(text)} is a conductivity, which says nothing without its temperature",
            f'write what the meter refers it to, such as "{text} at 25 C", or the salinity, such as "35 psu"',
        )
    sample = float(found["sample"])
    degrees = (sample - 32.0) / 1.8 if found["unit"].upper() == "F" else sample
    try:
        return float(salinity_from_conductivity_psu(float(found["value"]), degrees))
    except OutOfRangeError as error:
        raise _fault(f"salinity: {quoted(text)}: {error}", 'write for example "53 mS/cm at 25 C"') from None


def _in_a_litre(grams: float) -> float:
    """Work out the salinity of what weighs so much in a litre, by the density that it has then."""
    from moveplan.science.water.seawater import ABSOLUTE_PER_PRACTICAL, density_kg_m3

    salinity = grams
    for _ in range(8):
        salinity = (
            1000.0 * grams / float(density_kg_m3(_METER_C, min(salinity, 42.0))) / ABSOLUTE_PER_PRACTICAL
        )
    return salinity


def _salinity(text: str, kind: Kind) -> float:
    conducted, weighed = _CONDUCTED.fullmatch(text), _IN_A_LITRE.fullmatch(text)
    if conducted is not None:
        return _conducted(conducted, text)
    if weighed is not None:
        return _in_a_litre(float(weighed["value"]))
    gravity = _GRAVITY.fullmatch(text)
    if gravity is not None:
        return _gravity(gravity, text, kind)
    for unit in ("psu", "ppt", "‰", "g/kg"):
        if text.casefold().endswith(unit):
            return _bare(text[: -len(unit)].strip(), "salinity", kind)
    if _BARE.fullmatch(text) and float(text) <= kind.high:
        raise _fault(f"salinity: {quoted(text)} has no unit", f'write "{text} psu"')
    raise _fault(f"salinity: {quoted(text)} is not a salinity", f'write for example "{kind.sample}"')


def _concentration(text: str, what: str, kind: Kind) -> float:
    amount, form = _split(text)
    share = kind.forms.get(form) if form else next(iter(kind.forms.values()))
    if share is None:
        raise _fault(f"{what}: {quoted(text)} is not counted as {what}", f'write for example "{kind.sample}"')
    measure = Measure("mg/l", -1000.0, 100_000.0, kind.sample)
    return _measured(measure, amount, what) * share


def _split(text: str) -> tuple[str, str]:
    """Split an amount from the way in which it is counted: ``0.2 mg/l NH4``, ``0.2 mg N/l``."""
    inside = _INSIDE.search(text)
    if inside:
        return text[: inside.start()] + "mg/l", inside["form"].casefold()
    behind = _FORM.match(text)
    if behind and behind["amount"].casefold().rstrip().endswith(("/l", "ppm")):
        form = behind["form"].casefold()
        return behind["amount"], "n" if text.casefold().endswith("-n") else form
    return text, ""


def as_taken(what: str, text: str) -> str:
    """Say a reading as it was taken: with the unit, the salinity, or the form that was left open.

    Parameters
    ----------
    what : str
        What was measured, a reading that can be read.
    text : str
        As it was written.

    Examples
    --------
    >>> as_taken("nitrite", "0.1"), as_taken("salinity", "1.0264 at 25 C"), as_taken("temperature", "25.5 C")
    ('0.1 mg/l as N', '1.0264 at 25 C, salinity 35', '25.5 C')
    """
    said = with_unit(what, text)
    kind = KINDS[what]
    if what == "salinity" and any(one.fullmatch(said) for one in (_GRAVITY, _CONDUCTED, _IN_A_LITRE)):
        return f"{said}, salinity {show_number(round(read_value(what, said)[0], 1))}"
    open_form = bool(kind.forms) and not _split(said)[1]
    return f"{said} as {next(iter(kind.forms)).upper()}" if open_form else said
