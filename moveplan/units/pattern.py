"""Quantities as regular expressions, for editors that check a plan while it is written."""

from __future__ import annotations

from collections.abc import Iterable

from moveplan.units.table import RATIOS, SUMMED_KINDS, UNITS

_NUMBER = r"(?:[0-9]{1,12}(?:\.[0-9]{0,12})?|\.[0-9]{1,12})"


def quantity_pattern(kind: str, *, signed: bool) -> str:
    r"""Describe what is read as a quantity, as a regular expression that JavaScript and Python both know.

    Parameters
    ----------
    kind : str
        Kind of quantity, such as ``length``.
    signed : bool
        Whether it may be negative.

    >>> import re
    >>> bool(re.search(quantity_pattern("length", signed=False), "4 ft 6 in"))
    True
    """
    sign = "[+\N{MINUS SIGN}-]?" if signed else "[+]?"
    pair = rf"{_NUMBER}\s*(?:{_units(kind)})\s*"
    return rf"^\s*{sign}(?:{pair})+$" if kind in SUMMED_KINDS else rf"^\s*{sign}{pair}$"


def unit_words(kind: str) -> str:
    """List the units of a kind, as they are read in any case.

    >>> unit_words("pressure")
    'bar, mbar, hpa, kpa, mpa, psi'
    """
    if kind not in RATIOS:
        return ", ".join(UNITS[kind])
    above, below = RATIOS[kind]
    return f"a unit of {above}, then / or per, then a unit of {below}"


def _units(kind: str) -> str:
    if kind not in RATIOS:
        return _any_case(UNITS[kind])
    above, below = (_any_case(UNITS[one]) for one in RATIOS[kind])
    return rf"(?:{above})(?:\s*/\s*|\s+[pP][eE][rR]\s+)(?:{below})"


def _any_case(units: Iterable[str]) -> str:
    longest_first = sorted(units, key=lambda unit: (-len(unit), unit))
    return "|".join("".join(map(_letter, unit)) for unit in longest_first)


def _letter(letter: str) -> str:
    if letter == " ":
        return r"\s+"
    upper = letter.upper()
    return letter if upper == letter or len(upper) > 1 else f"[{letter}{upper}]"
