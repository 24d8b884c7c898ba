"""Answers of the interview: each is read as the plan file would read it, and becomes values for its template."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import count
from typing import Any

from moveplan.planfile.schema.leaves import Choice, Number, Quantity, Text
from moveplan.planfile.schema.move import ZoneLeaf
from moveplan.planfile.schema.refusals import each, refusal
from moveplan.planfile.schema.systems import SIZE
from moveplan.planfile.schema.when import day_of
from moveplan.planfile.schema.words import PURPOSES, SPOTS, UNITS
from moveplan.science.livestock import UnknownKindError, kind_named
from moveplan.units import quoted

_BY = re.compile(r"\s*[x×]\s*|\s+by\s+", re.IGNORECASE)
_SIZED = re.compile(r"(.*?[0-9.])\s*([^0-9.\s].*)?")
_ANIMALS = re.compile(r"(?:([0-9]{1,5})\s*[x×]?\s+)?([^0-9]+?)(?:\s+([0-9].*))?")
_ABOUT = re.compile(r"^(?:about|around|roughly|some|ca\.?|~)\s*(?=[0-9])", re.IGNORECASE)
_ONE, _PAIR = (
    re.compile(r"^(?:an?|one)\s+", re.IGNORECASE),
    re.compile(r"^(?:a\s+)?pair\s+(?:of\s+)?", re.IGNORECASE),
)
_BARE = re.compile(r"[0-9]+(?:,[0-9]{3})*(?:\.[0-9]+)?")
_THOUSANDS = re.compile(r"(?<=[0-9]),(?=[0-9]{3}(?![0-9]))")
_UNITS_OF: Mapping[str, Mapping[str, str]] = {
    "distance": {"metric": "km", "us": "miles"},
    "payload": {"metric": "kg", "us": "lb"},
    "water": {"metric": "l/day", "us": "US gal/day"},
    "delivery": {"metric": "weeks", "us": "weeks"},
}
_LENGTH_UNIT = {"metric": "cm", "us": "in"}
"""What a number alone means, in the units that the plan is printed in."""
_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ./+_%°-]*[A-Za-z0-9.%])?")
_SLUG = re.compile(r"[^a-z0-9]+")
_ANIMAL_SIZE = Quantity("cm", 0.1, 300, "7 cm")
_FEWEST_PEOPLE = 2


@dataclass(frozen=True, slots=True)
class Named:
    """Somebody who takes part.

    Parameters
    ----------
    id, name : str
        Identity in the file and what to print. [-]
    first : bool
        Whether it is the keeper. [-]
    """

    id: str
    name: str
    first: bool


@dataclass(frozen=True, slots=True)
class Animals:
    """Animals of one kind.

    Parameters
    ----------
    id, kind, count, size : str
        As they are written into the file; an empty size is left out. [-]
    """

    id: str
    kind: str
    count: str
    size: str


@dataclass(frozen=True, slots=True)
class Sizes:
    """Outer dimensions of a tank, as they are written into the file."""

    length: str
    width: str
    height: str


def read_answer(key: str, text: str, today: date, units: str = "metric") -> str:
    """Read an answer, and refuse it in words where it cannot be one.

    Parameters
    ----------
    key : str
        The question. [-]
    text : str
        The answer. [-]
    today : date
        Days of the plan lie after it. [-]
    units : str
        ``metric`` or ``us``: what a number without a unit means. [-]

    Returns
    -------
    str
        The answer as it is kept. [-]

    Raises
    ------
    RefusedError
        With what is wrong and what to write instead.
    """
    shown = " ".join(text.split())
    if key in {"move-day", "restart-day"}:
        day = day_of(shown)
        if day <= today:
            raise refusal(f"{day} is not after today, {today}", "write a day that lies ahead")
        return day.isoformat()
    return _READERS[key](_with_unit(key, shown, units))


def _with_unit(key: str, text: str, units: str) -> str:
    """Add the unit of the plan to a number that has none.

    >>> _with_unit("payload", "2,200", "us"), _with_unit("tank", "120x50x50", "metric")
    ('2200 lb', '120x50x50 cm')
    """
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
        By question, each read already; questions that were not asked are left out. [-]
    plan_id : str
        Id of the plan. [-]
    today : date
        The day on which it is written. [-]
    """
    texts = {key.replace("-", "_"): answers.get(key, "") for key in _READERS}
    return texts | {
        "id": plan_id,
        "today": today.isoformat(),
        "move_day": answers["move-day"],
        "restart_day": answers.get("restart-day", ""),
        "house": answers["purpose"].startswith("house-move"),
        "tank": _sizes(answers["tank"]),
        "new_tank": _sizes(answers["new-tank"]) if "new-tank" in answers else None,
        "animals": _animals(answers["animals"]),
        "people": _people(answers["people"]),
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


def _animals(text: str) -> tuple[Animals, ...]:
    rows = each(_group, [part.strip() for part in text.split(",") if part.strip()])
    if not rows:
        raise refusal("no animal is named", 'write for example "2 clownfish, 10 snails"')
    ids = _free_ids([row.kind for row in rows])
    return tuple(replace(row, id=name) for row, name in zip(rows, ids, strict=True))


def _free_ids(slugs: Sequence[str]) -> list[str]:
    """Give equal ids a number.

    >>> _free_ids(["goby", "goby", "snail"])
    ['goby', 'goby-2', 'snail']
    """
    ids: list[str] = []
    for slug in slugs:
        numbered = (slug if number == 1 else f"{slug}-{number}" for number in count(1))
        ids.append(next(name for name in numbered if name not in ids))
    return ids


def _group(text: str) -> Animals:
    parts = _ANIMALS.fullmatch(_counted(text))
    if parts is None:
        raise refusal(f"{quoted(text)} is not a count and a kind", 'write for example "2 clownfish 7 cm"')
    try:
        kind = kind_named(parts[2][:80])
    except UnknownKindError as error:
        names = " or ".join(f'"{name}"' for name in error.nearest)
        remedy = (
            f"did you mean {names}?" if names else "write a kind such as clownfish, goby, snail or soft coral"
        )
        raise refusal(f"no kind of animal is called {quoted(parts[2])}", remedy) from None
    Number(1, 10_000, "2", whole=True).read(parts[1] or "1")
    if parts[3]:
        _ANIMAL_SIZE.read(parts[3])
    return Animals(kind.id, kind.id, parts[1] or "1", parts[3] or "")


def _counted(text: str) -> str:
    """Write a count that was said in words as a number.

    >>> _counted("a tang"), _counted("pair of clownfish"), _counted("about 20 snails")
    ('1 tang', '2 clownfish', '20 snails')
    """
    return _ONE.sub("1 ", _PAIR.sub("2 ", _ABOUT.sub("", text.strip())))


def _people(text: str) -> tuple[Named, ...]:
    names = [part.strip() for part in text.split(",") if part.strip()]
    if len(names) < _FEWEST_PEOPLE:
        raise refusal("an empty tank is carried by two at least", "name a second person")
    slugs = [_SLUG.sub("-", name.casefold()).strip("-")[:40] or "person" for name in names]
    return tuple(
        Named(slug, name, position == 0)
        for position, (slug, name) in enumerate(zip(_free_ids(slugs), names, strict=True))
    )


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
    "animals": _checked(_animals),
    "people": _checked(_people),
    "payload": _checked(Quantity("kg", 50, 40_000, "1100 kg").read),
    "water": _checked(Quantity("l/day", 0, 100_000, "190 l/day").read),
}
