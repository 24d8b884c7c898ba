"""Working hours and absences."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any, TypeAlias

from moveplan.hours import Absence, HoursRule
from moveplan.planfile.schema.leaves import Leaf
from moveplan.planfile.schema.recurrence import recurrence
from moveplan.planfile.schema.refusals import RefusedError, below, each, refusal
from moveplan.planfile.schema.when import DAY_FORM, SPAN_FORM, day_of, minute_of, span_of
from moveplan.times import MINUTES_A_DAY
from moveplan.units import quoted

_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_CODES = dict(zip(_DAYS, ("MO", "TU", "WE", "TH", "FR", "SA", "SU"), strict=True))
_DASH = re.compile(r"\s*[-–]\s*")
_RULE_FORM = {"type": "string", "pattern": "[fF][rR][eE][qQ]="}
_FOR_EVER = date(2199, 12, 31)
_TIME = r"[0-9]{1,2}:[0-9]{2}(?::[0-9]{2}(?:\.[0-9]+)?)?"
_STRETCH_FORM = {"type": "string", "pattern": rf"^\s*{_TIME}\s*[-–]\s*{_TIME}\s*$"}
_STRETCHES_FORM = {"anyOf": [_STRETCH_FORM, {"type": "array", "items": _STRETCH_FORM, "minItems": 1}]}
_WEEK_DAY = (
    "(?:"
    + "|".join(
        f"[{day[0]}{day[0].upper()}][{day[1]}{day[1].upper()}][{day[2]}{day[2].upper()}][a-zA-Z]*"
        for day in _DAYS
    )
    + ")"
)
_DAYS_FORM = rf"^\s*(?:[dD][aA][iI][lL][yY]|{_WEEK_DAY}(?:\s*[-–]\s*{_WEEK_DAY})?)\s*$"
_SAMPLE = "{mon-fri: 18:00-21:30, sat-sun: 09:00-18:00}"
_MOST_ROWS = 200
"""Most rows of hours that are read. Chosen. [-]"""
NO_HOURS = "none"
"""Written by who has time on the moving day alone. [-]"""


def stretch_of(text: str) -> tuple[int, int]:
    """Read hours of a day; an end before the beginning is on the next day.

    >>> stretch_of("18:00-21:30"), stretch_of("22:00-02:00")
    ((1080, 1290), (1320, 1560))
    """
    begin, *rest = _DASH.split(text.strip(), maxsplit=1)
    try:
        first, last = minute_of(begin), minute_of(rest[0] if rest else "")
    except RefusedError:
        message = f"{quoted(text)} is not a stretch of hours" if text.strip() else "has no value"
        raise refusal(message, 'write for example "18:00-21:30"') from None
    if first in {last, MINUTES_A_DAY}:
        raise refusal(f"{quoted(text)} is no time at all", 'write "00:00-24:00" for the whole day')
    return first, last if last > first else last + MINUTES_A_DAY


def week_days_of(text: str) -> tuple[str, ...]:
    """Read days of the week as RFC 5545 writes them.

    >>> week_days_of("fri-mon"), week_days_of("daily")
    (('FR', 'SA', 'SU', 'MO'), ('MO', 'TU', 'WE', 'TH', 'FR', 'SA', 'SU'))
    """
    if text.strip().casefold() == "daily":
        return tuple(_CODES.values())
    begin, *rest = (part.strip()[:3] for part in _DASH.split(text.casefold(), maxsplit=1))
    end = rest[0] if rest else begin
    if begin not in _DAYS or end not in _DAYS:
        raise refusal(f"{quoted(text)} is not a day of the week", 'write "mon", "mon-fri" or "daily"')
    first, count = _DAYS.index(begin), (_DAYS.index(end) - _DAYS.index(begin)) % 7 + 1
    return tuple(_CODES[_DAYS[(first + step) % 7]] for step in range(count))


@dataclass(frozen=True)
class StretchesLeaf(Leaf[tuple[HoursRule, ...]]):
    """Hours of every day: one stretch or a list of them."""

    def take(self, value: object) -> tuple[HoursRule, ...]:
        """Read one stretch or a list."""
        return tuple(HoursRule("FREQ=DAILY", *hours) for hours in each(stretch_of, _rows(value)))

    def json(self) -> dict[str, Any]:
        """Describe the hours."""
        return {**_STRETCHES_FORM, "examples": ["06:30-23:00"]}


@dataclass(frozen=True)
class HoursLeaf(Leaf[tuple[HoursRule, ...]]):
    """Hours of the week, or a list of recurrence rules with their hours; or ``none``."""

    def take(self, value: object) -> tuple[HoursRule, ...]:
        """Read a mapping of days, a list of rules, one stretch for every day, or that there are none."""
        if isinstance(value, str) and value.strip().casefold() == NO_HOURS:
            return ()
        if value in ({}, []):
            remedy = (
                f'write for example "{_SAMPLE}"; or {NO_HOURS}, for whoever has time on the moving day alone'
            )
            raise refusal("no hours stand here", remedy)
        if isinstance(value, dict):
            return tuple(rule for rules in each(_of_days, value.items()) for rule in rules)
        if isinstance(value, list) and value and len(value) <= _MOST_ROWS:
            return each(lambda row: _ruled(row) if isinstance(row, dict) else self._daily(row), value)
        return (self._daily(value),)

    def _daily(self, value: object) -> HoursRule:
        if not isinstance(value, str):
            raise refusal("hours of the week belong here", f'write for example "{_SAMPLE}"')
        return HoursRule("FREQ=DAILY", *stretch_of(value))

    def json(self) -> dict[str, Any]:
        """Describe the hours."""
        week = {
            "type": "object",
            "minProperties": 1,
            "propertyNames": {"pattern": _DAYS_FORM},
            "additionalProperties": _STRETCHES_FORM,
        }
        ruled = _keyed({"rule": _RULE_FORM, "from": {"type": "string"}, "to": {"type": "string"}})
        rows = {"type": "array", "minItems": 1, "items": {"anyOf": [_STRETCH_FORM, ruled]}}
        none = {"type": "string", "pattern": r"^\s*[nN][oO][nN][eE]\s*$"}
        return {"anyOf": [_STRETCH_FORM, none, week, rows], "examples": [_SAMPLE]}


def _rows(value: object) -> list[str]:
    rows = [row for row in (value if isinstance(value, list) else [value]) if isinstance(row, str)]
    if not rows or (isinstance(value, list) and not len(rows) == len(value) <= _MOST_ROWS):
        raise refusal("hours of the day belong here", 'write for example "18:00-21:30"')
    return rows


def _of_days(row: tuple[str, object]) -> tuple[HoursRule, ...]:
    days, hours = row
    with below(days):
        rule = f"FREQ=WEEKLY;BYDAY={','.join(week_days_of(days))}"
        return tuple(HoursRule(rule, *stretch) for stretch in each(stretch_of, _rows(hours)))


def _ruled(row: dict[str, object]) -> HoursRule:
    texts = _texts(row, ("rule", "from", "to"), "{rule: FREQ=WEEKLY;BYDAY=SA, from: 09:00, to: 18:00}")
    begin, end = stretch_of(f"{texts['from']}-{texts['to']}")
    with below("rule"):
        return HoursRule(recurrence(texts["rule"], anchored=False), begin, end)


def _texts(row: dict[str, object], keys: tuple[str, ...], sample: str, optional: str = "") -> dict[str, str]:
    wrong = [key for key in row if key not in keys] + [
        key for key in keys if key not in row and key != optional
    ]
    if wrong or not all(isinstance(value, str) for value in row.values()):
        raise refusal(f"the keys here are {', '.join(keys)}", f'write for example "{sample}"')
    return {key: str(row.get(key, "")) for key in keys}


def _keyed(keys: dict[str, Any], optional: str = "") -> dict[str, Any]:
    """Describe a mapping with these keys and no others."""
    wanted = [key for key in keys if key != optional]
    return {"type": "object", "properties": keys, "required": wanted, "additionalProperties": False}


@dataclass(frozen=True)
class AwayLeaf(Leaf[tuple[Absence, ...]]):
    """Days off: a date, a span, or a rule from a first day on; or a list of them."""

    def take(self, value: object) -> tuple[Absence, ...]:
        """Read one absence or a list."""
        rows = value if isinstance(value, list) else [value]
        if len(rows) > _MOST_ROWS:
            raise refusal(f"more than {_MOST_ROWS} absences are listed", "write spans or a rule")
        return each(self._one, rows)

    def _one(self, row: object) -> Absence:
        if isinstance(row, str):
            return Absence(*span_of(row))
        if not isinstance(row, dict):
            raise refusal("dates belong here", f'write for example "{self.example()}"')
        sample = "{rule: FREQ=WEEKLY;BYDAY=TU, from: 2027-01-05, until: 2027-03-30}"
        texts = _texts(row, ("rule", "from", "until"), sample, optional="until")
        first, last = day_of(texts["from"]), day_of(texts["until"]) if "until" in row else _FOR_EVER
        if last < first:
            raise refusal("until is before from", "exchange the two")
        with below("rule"):
            return Absence(first, last, recurrence(texts["rule"], anchored=True))

    def json(self) -> dict[str, Any]:
        """Describe the absences."""
        span = {"type": "string", "pattern": SPAN_FORM}
        days = {"rule": _RULE_FORM, "from": DAY_FORM, "until": DAY_FORM}
        one = {"anyOf": [span, _keyed(days, optional="until")]}
        return {"anyOf": [one, {"type": "array", "items": one}], "examples": ["2027-02-13 to 2027-02-14"]}


Hours: TypeAlias = Annotated[tuple[HoursRule, ...], HoursLeaf()]
Stretches: TypeAlias = Annotated[tuple[HoursRule, ...], StretchesLeaf()]
Away: TypeAlias = Annotated[tuple[Absence, ...], AwayLeaf()]
