"""Read a quantity, or say what is wrong with it and what to write."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from moveplan.units.show import show_number
from moveplan.units.table import (
    KINDS,
    SUMMED_KINDS,
    TARGETS,
    TWO_MEANINGS,
    ZERO_AT,
    plain,
    split_ratio,
    unit_factor,
)

_LONGEST = 60
"""Longest text that is read as a number with a unit. Chosen. [character]"""
_SHORT = 5
"""Longest number in which a bound is told, so that it is told in a fitting unit. [character]"""
_FAR = ("m", "ft")
"""Units offered where metres are usual."""
_NUMBER = r"[+-]?(?:[0-9]{1,12}(?:\.[0-9]{0,12})?|\.[0-9]{1,12})"
_BARE = re.compile(_NUMBER)
_PAIR = re.compile(rf"({_NUMBER})\s*([^0-9.+-]*(?:(?<=[a-z])[23](?![0-9.]))?)\s*")
_COMMA = re.compile(r"[0-9],[0-9]")


class QuantityError(ValueError):
    """A text that is no quantity of the kind wanted.

    Parameters
    ----------
    message : str
        What is wrong.
    remedy : str
        What to write instead.
    """

    def __init__(self, message: str, remedy: str = "") -> None:
        super().__init__(f"{message}; {remedy}" if remedy else message)
        self.message = message
        self.remedy = remedy


def quoted(text: str) -> str:
    r"""Quote a text for a message: shortened, on one line, nothing invisible left in it.

    >>> quoted("48 in\nand more")
    '"48 in\\nand more"'
    """
    short = text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1]}…"
    return '"' + "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in short) + '"'


def kind_of_unit(unit: str) -> str:
    """Name the kind of quantity a unit measures; empty where it is unknown.

    >>> kind_of_unit("US gal"), kind_of_unit("furlong")
    ('volume', '')
    """
    return next((kind for kind in KINDS if unit_factor(unit, kind) is not None), "")


@lru_cache(maxsize=8192)
def _value(text: str, unit: str) -> Fraction | None:
    target = TARGETS[unit]
    rest, total, pairs = plain(text), Fraction(0), 0
    sign = "-" if rest.startswith("-") else ""
    rest = rest.removeprefix("-") if sign else rest.removeprefix("+")
    while rest:
        pair = _PAIR.match(rest)
        factor = unit_factor(pair[2], target.kind) if pair else None
        if pair is None or factor is None or pair[1][0] in "+-":
            return None
        total += Fraction(sign + pair[1]) * factor
        if target.kind == "temperature":
            total += ZERO_AT.get(pair[2].strip(), Fraction(0))
        rest, pairs = rest[pair.end() :], pairs + 1
    if not pairs or (pairs > 1 and target.kind not in SUMMED_KINDS):
        return None
    return total / target.scale


@dataclass(frozen=True, slots=True)
class Measure:
    """A kind of quantity, the unit it is kept in, and the range that is accepted.

    Parameters
    ----------
    unit : str
        A unit of `moveplan.units.table.TARGETS`; a share (``%``) is read as a fraction of one.
    low, high : float
        Accepted range, in `unit`.
    sample : str
        A quantity that is offered to who wrote none.
    """

    unit: str
    low: float
    high: float
    sample: str

    @property
    def kind(self) -> str:
        """Kind of quantity in a word, such as ``length``."""
        return TARGETS[self.unit].kind

    @property
    def offered(self) -> tuple[str, ...]:
        """Units offered to the keeper, metric first."""
        return _FAR if self.unit == "m" and self.sample.endswith(" m") else TARGETS[self.unit].keepers

    def read(self, text: str) -> float:
        """Read a quantity.

        Parameters
        ----------
        text : str
            Number and unit, such as ``48 in`` or ``1 h 30 min``.

        Returns
        -------
        float
            The quantity in `unit`; a share as a fraction of one.

        Raises
        ------
        QuantityError
            With the fault and what to write instead.

        >>> Measure("m", 0.0, 10.0, "60 cm").read("48 in")
        1.2192
        """
        value = _value(text, self.unit) if len(text) <= _LONGEST else None
        if value is None:
            raise self._fault(text.strip())
        if value < self.low or value > self.high:
            raise self._out_of_range(text, value)
        return float(value / 100) if self.unit == "%" else float(value)

    def _fits(self, text: str) -> bool:
        value = _value(text, self.unit)
        return value is not None and self.low <= value <= self.high

    def _offer(self, *texts: str) -> str:
        fitting = [quoted(text) for text in dict.fromkeys(texts) if self._fits(text)]
        return f"write {' or '.join(fitting)}" if fitting else f'write for example "{self.sample}"'

    def _out_of_range(self, text: str, value: Fraction) -> QuantityError:
        low = value < self.low
        bound, less, way = (
            (_written(self.low, self.unit), "less", "more")
            if low
            else (_written(self.high, self.unit), "more", "less")
        )
        meant = self._in_another_unit(text)
        remedy = f'write "{bound}" or {way}' + (f"; or is it {meant}?" if meant else "")
        return QuantityError(f"{quoted(text)} is {less} than {bound}", remedy)

    def _in_another_unit(self, text: str) -> str:
        """Find the scale of temperature in which the same number would be in range: the wrong one is easily written."""
        pair = _PAIR.fullmatch(plain(text)) if self.kind == "temperature" else None
        units = TARGETS[self.unit].keepers if pair else ()
        return " or ".join(f"{pair[1]} {unit}" for unit in units if pair and self._fits(f"{pair[1]} {unit}"))

    def _fault(self, text: str) -> QuantityError:
        if not text:
            return QuantityError("has no value", f'write for example "{self.sample}"')
        if len(text) <= _LONGEST and _BARE.fullmatch(plain(text)):
            offered = self._offer(*(f"{text} {unit}" for unit in self.offered))
            return QuantityError(f"{quoted(text)} has no unit", offered)
        if _COMMA.search(text):
            offered = self._offer(text.replace(",", "."), text.replace(",", ""))
            return QuantityError(f"{quoted(text)} has a comma", offered)
        pair = _PAIR.fullmatch(plain(text)) if len(text) <= _LONGEST else None
        if pair is None or not pair[2].strip():
            message = f"{quoted(text)} is not {_article(self.kind)}"
            return QuantityError(message, f'write for example "{self.sample}"')
        return self._wrong_unit(text, pair[1], pair[2].strip())

    def _wrong_unit(self, text: str, number: str, unit: str) -> QuantityError:
        doubtful = self._two_meanings(text, number, unit)
        if doubtful is not None:
            return doubtful
        other = kind_of_unit(unit)
        if other and other != self.kind:
            message = f"{quoted(text)} is {_article(other)}, not {_article(self.kind)}"
        else:
            message = f"{quoted(text)} has no unit of {self.kind} that is known here"
        return QuantityError(
            message, self._offer(*(f"{number} {keeper}" for keeper in TARGETS[self.unit].keepers))
        )

    def _two_meanings(self, text: str, number: str, unit: str) -> QuantityError | None:
        if unit in {"ton", "tons"} and self.kind == "mass":
            offered = self._offer(f"{number} t", f"{number} kg")
            return QuantityError(f"{quoted(text)} may mean tons of 907, 1000 or 1016 kg", offered)
        stem, *below = split_ratio(unit)
        if stem not in TWO_MEANINGS or self.kind not in {"volume", "flow"}:
            return None
        name, long_name, us_l, uk_l = TWO_MEANINGS[stem]
        per = "".join(f"/{time}" for time in below)
        us, uk = (f"{show_number(_two_digits(float(number) * float(one)))} l{per}" for one in (us_l, uk_l))
        message = f"{quoted(text)} is {us} in US {long_name} and {uk} in UK {long_name}"
        return QuantityError(message, self._offer(f"{number} US {name}{per}", f"{number} UK {name}{per}"))


def _two_digits(value: float) -> float:
    return float(round(value)) if abs(value) >= 10 else float(f"{value:.2g}")


def _article(kind: str) -> str:
    return f"an {kind}" if kind[0] in "ae" else f"a {kind}"


def _written(bound: float, unit: str) -> str:
    for spelling in (*TARGETS[unit].keepers, unit):
        factor = unit_factor(spelling, TARGETS[unit].kind) or Fraction(1)
        number = show_number(float(Fraction(str(bound)) * TARGETS[unit].scale / factor))
        text = f"{number} {spelling}"
        if len(number) <= _SHORT and _value(text, unit) == Fraction(str(bound)):
            return text
    return f"{show_number(bound)} {unit}"
