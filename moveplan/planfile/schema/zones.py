"""Which country a time zone lies in, and which zone somebody means who writes its letters."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from functools import cache
from importlib import resources
from zoneinfo import ZoneInfo

US_UNITS = frozenset({"US", "LR", "MM"})
"""Countries that measure in US units; recalled. [-]"""
_MEANT = {
    "America/Halifax": ("AST", "ADT"),
    "America/New_York": ("EST", "EDT", "ET"),
    "America/Chicago": ("CST", "CDT", "CT"),
    "America/Denver": ("MST", "MDT", "MT"),
    "America/Los_Angeles": ("PST", "PDT", "PT"),
    "America/Anchorage": ("AKST", "AKDT"),
    "Pacific/Honolulu": ("HST",),
    "Europe/London": ("BST",),
    "Europe/Berlin": ("CEST", "MEZ"),
    "Australia/Perth": ("AWST",),
    "Australia/Adelaide": ("ACST", "ACDT"),
    "Australia/Sydney": ("AEST", "AEDT"),
    "Pacific/Auckland": ("NZST", "NZDT"),
}
_OF_LETTERS = {letters: zone for zone, several in _MEANT.items() for letters in several}
"""The place in whose zone most people live who write these letters; recalled. [-]"""


@cache
def country_of_zones() -> Mapping[str, str]:
    """Country of each zone that has one; within a country the zone with most people comes first."""
    rows = (line.split("\t") for line in _table("zone.tab") if not line.startswith("#"))
    return {row[2]: row[0] for row in rows}


def country_of(zone: str) -> str:
    """Find the country of a zone, by an older name of it too; empty where it lies in none.

    >>> country_of("America/Chicago"), country_of("US/Central"), country_of("UTC")
    ('US', 'US', '')
    """
    return country_of_zones().get(zone) or country_of_zones().get(_renamed().get(zone, ""), "")


@cache
def _renamed() -> Mapping[str, str]:
    """Zones by the names that they had before."""
    links = (line.split() for line in _table("tzdata.zi") if line.startswith("L "))
    return {old: new for _mark, new, old in links}


def _table(name: str) -> list[str]:
    return resources.files("tzdata.zoneinfo").joinpath(name).read_text("utf-8").splitlines()


def meant_by(letters: str) -> str:
    """Name the zone that somebody means who writes its letters; empty where they are no such letters.

    >>> meant_by("cst"), meant_by("Mars")
    ('America/Chicago', '')
    """
    return _OF_LETTERS.get(letters.upper(), "")


def never_moves_its_clocks(zone: ZoneInfo) -> bool:
    """Whether a zone is an offset that goes by the letters of a place whose clocks do move.

    >>> never_moves_its_clocks(ZoneInfo("EST")), never_moves_its_clocks(ZoneInfo("UTC"))
    (True, False)
    """
    names = {datetime(2027, month, 1, tzinfo=zone).tzname() for month in (1, 7)}
    return names == {zone.key} and bool(meant_by(zone.key))
