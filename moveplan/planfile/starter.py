"""Answers of the interview: each is read as the plan file would read it, and becomes values for its template."""

from __future__ import annotations

import json
import re
from calendar import month_name
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from moveplan.planfile.replies.named import animals_in, people_in, with_roles
from moveplan.planfile.replies.several import (
    NONE_YET,
    UNKNOWN,
    USUAL,
    fillings_in,
    gear_in,
    keys_in,
    roles_in,
    van_in,
)
from moveplan.planfile.schema.leaves import Choice, Number, Quantity, Text
from moveplan.planfile.schema.move import ZoneLeaf
from moveplan.planfile.schema.refusals import each, refusal
from moveplan.planfile.schema.systems import SIZE
from moveplan.planfile.schema.when import day_of
from moveplan.planfile.schema.words import PURPOSES, SPOTS, UNITS
from moveplan.units import quoted, show_volume

_BY = re.compile(r"\s*[x×]\s*|\s+by\s+", re.IGNORECASE)
_SIZED = re.compile(r"(.*?[0-9.])\s*([^0-9.\s].*)?")
_BARE = re.compile(r"[0-9]+(?:,[0-9]{3})*(?:\.[0-9]+)?")
_THOUSANDS = re.compile(r"(?<=[0-9]),(?=[0-9]{3}(?![0-9]))")
_GALLONS_A_DAY = re.compile(
    r"(?<=[0-9])\s*(?:US\s+)?(?:gpd\b|gal(?:lons?)?\s*(?:/|per|a)\s*d(?:ay)?\b)", re.IGNORECASE
)
"""What is printed on units for purified water; those gallons are US ones (recalled)."""
_NTH = r"([0-9]{1,2})(?:st|nd|rd|th)?"
_NAMED_DAY = re.compile(
    rf"(?:([A-Za-z]{{3,9}})\.?\s+{_NTH}|{_NTH}\s+(?:of\s+)?([A-Za-z]{{3,9}})\.?)(?:,?\s+([0-9]{{4}}))?"
)
_DAYS_WITHIN = re.compile(rf"(?<![\w-])(?:{_NAMED_DAY.pattern})(?![\w:])")
_UNITS_OF: Mapping[str, Mapping[str, str]] = {
    "distance": {"metric": "km", "us": "miles"},
    "water": {"metric": "l/day", "us": "US gal/day"},
    "delivery": {"metric": "weeks", "us": "weeks"},
}
_LENGTH_UNIT = {"metric": "cm", "us": "in"}
"""What a number alone means, in the units that the plan is printed in."""
_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ./+_%°-]*[A-Za-z0-9.%])?")
LIFTS = ("none", "old", "new", "both")


@dataclass(frozen=True, slots=True)
class Sizes:
    """Outer dimensions of a tank, as they are written into the file."""

    length: str
    width: str
    height: str


def read_answer(key: str, text: str, today: date, before: Mapping[str, str] | None = None) -> str:
    """Read an answer, and refuse it in words where it cannot be one.

    Parameters
    ----------
    today : date
        Days of the plan lie after it.
    before : Mapping of str to str, optional
        Answers that were read before: ``units`` say what a number alone means, ``people`` who there is.

    Raises
    ------
    RefusedError
        With what is wrong and what to write instead.
    """
    shown = " ".join(text.split())
    if key in {"move-day", "restart-day"}:
        day = day_of(_year_first(shown, today))
        if day <= today:
            raise refusal(f"{day} is not after today, {today}", "write a day that lies ahead")
        return day.isoformat()
    before = before or {}
    units = before.get("units", "metric")
    if key in _SEVERAL:
        Text("as usual").read(shown)
        shown = _years_first(shown, today) if key == "keys" else shown
        found = _SEVERAL[key](shown, before)
        return found if isinstance(found, str) else shown
    return _READERS[key](_with_unit(key, shown, units))


def doubt_of(key: str, answers: Mapping[str, str]) -> str:
    """Ask about an answer that can be read and is hardly meant; empty where there is no doubt.

    >>> doubt_of("new-tank", {"tank": "100 x 50 x 50 cm", "new-tank": "80 x 50 x 50 cm"})
    '200 l after 250 l: is that meant?'
    """
    if key != "new-tank" or not {"tank", "new-tank"} <= {*answers}:
        return ""
    old_l, new_l = _box_l(answers["tank"]), _box_l(answers["new-tank"])
    units = answers.get("units", "metric")
    return (
        f"{show_volume(new_l, units)} after {show_volume(old_l, units)}: is that meant?"
        if new_l < old_l
        else ""
    )


def _box_l(text: str) -> float:
    sizes = _sizes(text)
    return 1000 * SIZE.read(sizes.length) * SIZE.read(sizes.width) * SIZE.read(sizes.height)


def _year_first(text: str, today: date) -> str:
    """Write a day with the name of its month as the plan does; without a year it is the next one.

    >>> _year_first("June 12", date(2027, 7, 1)), _year_first("12 March 2027", date(2027, 1, 1))
    ('2028-06-12', '2027-03-12')
    """
    found = _NAMED_DAY.fullmatch(text)
    months = [name.casefold() for name in month_name]
    word = (found[1] or found[4]).casefold() if found else ""
    month = next((number for number, name in enumerate(months) if len(word) > 2 and name.startswith(word)), 0)
    if found is None or not month:
        return text
    day, year = int(found[2] or found[3]), int(found[5] or today.year)
    later = not found[5] and (month, day) <= (today.month, today.day)
    return f"{year + later:04}-{month:02}-{day:02}"


def _years_first(text: str, today: date) -> str:
    """Write every day of several that is named by its month as the plan does.

    >>> _years_first("18 June 14:00 and 20 June", date(2027, 1, 1))
    '2027-06-18 14:00 and 2027-06-20'
    """
    return _DAYS_WITHIN.sub(lambda found: _year_first(found[0], today), text)


def _with_unit(key: str, text: str, units: str) -> str:
    """Add the unit of the plan to a number that has none.

    >>> _with_unit("distance", "2,200", "us"), _with_unit("tank", "120x50x50", "metric")
    ('2200 miles', '120x50x50 cm')
    """
    if key == "water":
        text = _GALLONS_A_DAY.sub(" US gal/day", text) if units == "us" or "gpd" in text.casefold() else text
    if key in _UNITS_OF:
        plain = _THOUSANDS.sub("", text)
        return f"{plain} {_UNITS_OF[key][units]}" if _BARE.fullmatch(plain) else plain
    if key in {"tank", "new-tank"} and _BY.search(text):
        return text if re.search(r"[^0-9.\sx×by]", text, re.IGNORECASE) else f"{text} {_LENGTH_UNIT[units]}"
    return text


def starter_values(answers: Mapping[str, str], plan_id: str, today: date) -> Mapping[str, Any]:
    """Turn answers into what the template of a plan file names.

    Parameters
    ----------
    answers : Mapping of str to str
        By question, each read already; questions that were not asked are left out.
    today : date
        The day on which it is written.
    """
    texts = {key.replace("-", "_"): answers.get(key, "") for key in _READERS}
    units = answers.get("units", "metric")
    entered, empty = keys_in(answers.get("keys", UNKNOWN))
    hired, payload = van_in(answers["payload"], units) if "payload" in answers else ("", "")
    return texts | {
        "access_from": entered,
        "keys_back": empty,
        "lift": answers.get("lift", NONE_YET),
        "fillings": fillings_in(answers.get("contents", USUAL), units),
        "gear": gear_in(answers.get("gear", NONE_YET), units),
        "hired": hired,
        "payload": payload,
        "id": plan_id,
        "today": today.isoformat(),
        "move_day": answers["move-day"],
        "restart_day": answers.get("restart-day", ""),
        "house": answers["purpose"].startswith("house-move"),
        "tank": _sizes(answers["tank"]),
        "new_tank": _sizes(answers["new-tank"]) if "new-tank" in answers else None,
        "animals": animals_in(answers["animals"], units),
        "people": with_roles(people_in(answers["people"]), answers.get("roles", "")),
    }


def yaml_scalar(text: object) -> str:
    """Write a text so that YAML reads it as that text.

    >>> yaml_scalar("20 km"), yaml_scalar("Reef: the move")
    ('20 km', '"Reef: the move"')
    """
    shown = str(text)
    return shown if _PLAIN.fullmatch(shown) else json.dumps(shown, ensure_ascii=not shown.isprintable())


def _sizes(text: str) -> Sizes:
    parts = _BY.split(text)
    if len(parts) != len(("length", "width", "height")):
        raise refusal(
            f"{quoted(text)} is not length x width x height", 'write for example "120 x 60 x 55 cm"'
        )
    sized = [_SIZED.fullmatch(part) for part in parts]
    unit = next((part[2] for part in reversed(sized) if part and part[2]), "")
    whole = [
        f"{part[1]} {part[2] or unit}".strip() if part else text
        for part, text in zip(sized, parts, strict=True)
    ]
    each(SIZE.read, whole)
    return Sizes(*whole)


def _checked(read: Callable[[str], object]) -> Callable[[str], str]:
    """Keep the text of an answer that can be read."""

    def reader(text: str) -> str:
        read(text)
        return text

    return reader


_READERS: Mapping[str, Callable[[str], str]] = {
    "title": Text("My reef moves").read,
    "purpose": Choice(tuple(purpose for purpose in PURPOSES if purpose != "own-tasks")).read,
    "timezone": lambda text: ZoneLeaf().read(text).key,
    "units": Choice(UNITS).read,
    "distance": _checked(Quantity("km", 0, 3000, "20 km").read),
    "old-floor": _checked(Number(-5, 60, "1", whole=True).read),
    "new-floor": _checked(Number(-5, 60, "1", whole=True).read),
    "tank": _checked(_sizes),
    "new-tank": _checked(_sizes),
    "spot": Choice(SPOTS).read,
    "delivery": _checked(Quantity("day", 0, 400, "6 weeks").read),
    "people": _checked(people_in),
    "water": _checked(Quantity("l/day", 0, 100_000, "190 l/day").read),
}
_SEVERAL: Mapping[str, Callable[[str, Mapping[str, str]], object]] = {
    "animals": lambda text, before: animals_in(text, before.get("units", "metric")),
    "keys": lambda text, before: _keys_around(text, before.get("move-day", "")),
    "lift": lambda text, _: Choice(LIFTS).read(text),
    "contents": lambda text, before: fillings_in(text, before.get("units", "metric")),
    "roles": lambda text, before: roles_in(text, _names(before)),
    "gear": lambda text, before: gear_in(text, before.get("units", "metric")),
    "payload": lambda text, before: _van(text, before.get("units", "metric")),
}
"""What reads answers that say several things, or that depend on others."""


def _names(before: Mapping[str, str]) -> list[str]:
    if "people" not in before:
        raise refusal("nobody is named yet", "name who takes part as well, with --people")
    return [one.name for one in people_in(before["people"])]


def _van(text: str, units: str) -> str:
    hired, payload = van_in(text, units)
    return ", ".join(filter(None, ({"yes": "hired", "no": "own"}.get(hired, ""), payload)))


def _keys_around(text: str, move_day: str) -> None:
    """Want the new keys by the day of the move, and the old ones not back before it."""
    entered, empty = keys_in(text)
    if move_day and entered[:10] > move_day:
        raise refusal(
            f"{entered} is after the move on {move_day}", "write when you may enter the new home first"
        )
    if move_day and empty and empty[:10] < move_day:
        raise refusal(f"{empty} is before the move on {move_day}", "write until when the old home is yours")
