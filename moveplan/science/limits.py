"""Limits and defaults, each with its range, its source, and how well it is known (data/limits.toml).

Functions of this package take these numbers as arguments; a plan may set its own within the range.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType
from typing import Any

from moveplan.science.carrying.hand_work import MOST_TIMES, PACE_TIMES, Rate, rates
from moveplan.science.ranges import within
from moveplan.science.tables import table


class KnownAs(StrEnum):
    """How well a number is known."""

    FOUND = "found"
    RECALLED = "recalled"
    COMMON_PRACTICE = "common practice"
    POLICY = "policy"


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit or a default.

    Parameters
    ----------
    name : str
        Key of the limit. [-]
    value : float
        The number, in ``unit``. [-]
    unit : str
        Unit; a hyphen for a pure number. [-]
    low, high : float
        Range in which a plan may set another value. [-]
    meaning : str
        What it is, in one phrase. [-]
    source : str
        Published source, or what the choice leans on. [-]
    known_as : KnownAs
        Found in the source, recalled, common practice, or chosen for this tool. [-]
    """

    name: str
    value: float
    unit: str
    low: float
    high: float
    meaning: str
    source: str
    known_as: KnownAs

    def __post_init__(self) -> None:
        within(self.name, self.value, self.low, self.high, self.source)


@cache
def limits() -> Mapping[str, Limit]:
    """Every limit and default by name, the likely values of hand work among them.

    >>> limits()["oxygen_alarm_share"].value, str(limits()["oxygen_alarm_share"].known_as)
    (0.6, 'policy')
    >>> limits()["coral_out"].value, limits()["coral_out"].unit
    (3, 'min')
    """
    found = {name: _limit(name, row) for name, row in table("limits").items()}
    work = {name.replace("-", "_"): rate for name, rate in rates().items()}
    return MappingProxyType(found | {name: _of_work(name, rate) for name, rate in work.items()})


def _limit(name: str, row: dict[str, Any]) -> Limit:
    low, high = map(float, row["range"])
    known_as = KnownAs(row["known_as"])
    return Limit(name, float(row["value"]), row["unit"], low, high, row["meaning"], row["source"], known_as)


def _of_work(name: str, rate: Rate) -> Limit:
    """Let a plan set the likely value of hand work within a wide range."""
    times = PACE_TIMES if rate.unit == "m/s" else MOST_TIMES
    low, high = round(rate.likely / times, 3), round(rate.likely * times, 3)
    per = "" if rate.unit == rate.per else f", for each {rate.per.split()[-1]}"
    meaning, source = f"{rate.note}{per}", "common practice, no source"
    return Limit(name, rate.likely, rate.unit, low, high, meaning, source, KnownAs.COMMON_PRACTICE)
