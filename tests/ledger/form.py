"""Whether what the ledger needs is stated at all, and in its form."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Any

from tests.ledger.common import Fault, Result, minute

Check = Callable[[Any], bool]


def amount(value: Any) -> bool:
    """Finite number that is not below zero."""
    return number(value) and value >= 0


def number(value: Any) -> bool:
    """Any finite number, and not a truth value."""
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def words(value: Any) -> bool:
    """Text that says something."""
    return isinstance(value, str) and bool(value.strip())


def moment(value: Any) -> bool:
    """Moment with its offset."""
    try:
        minute(value)
    except (TypeError, ValueError):
        return False
    return True


def or_null(check: Check) -> Check:
    """Null, or what passes."""
    return lambda value: value is None or check(value)


def one_of(*allowed: str) -> Check:
    """One of a few words."""
    return lambda value: value in allowed


def rows(form: dict[str, Check]) -> Check:
    """List of rows of a form."""
    return lambda value: isinstance(value, list) and all(not _bad(row, form) for row in value)


HELD = {"count": amount}
CONTAINER: dict[str, Check] = {
    "number": words,
    "kind": one_of("tub", "pail", "can", "bag", "box", "bucket", "vat"),
    "gear": words,
    "volume_litres": amount,
    "water_litres": amount,
    "kg": amount,
    "holds": lambda value: isinstance(value, list) and all(map(_held, value)),
    "from_task": words,
    "until_task": words,
    "from": moment,
    "until": moment,
    "heater_watts": or_null(amount),
    "heater": or_null(words),
    "air": or_null(words),
}
FORMS: dict[str, dict[str, Check]] = {
    "containers": CONTAINER,
    "gear": {
        "id": words,
        "name": words,
        "kind": words,
        "count": amount,
        "to_get": amount,
        "outlets": or_null(amount),
    },
    "systems": {
        "id": words,
        "name": words,
        "litres": amount,
        "drawable_litres": amount,
        "place": or_null(words),
        "role": one_of("old", "new", "holding", "both"),
    },
    "ledger.water": {"task": words, "at": moment, "from": words, "to": words, "litres": number},
    "ledger.heat": {
        "container": words,
        "path": rows({"at": moment, "celsius": number, "low": number}),
        "heater": or_null(words),
    },
    "ledger.air": {"container": words, "outlet_of": words, "from": moment, "until": moment},
    "ledger.power": {"place": words, "from": moment, "until": moment, "watts": amount},
}
FOOD: dict[str, Check] = {
    "livestock": words,
    "last_meal": or_null(moment),
    "catch": or_null(moment),
    "next_meal": or_null(moment),
}


def of_form(result: Result) -> Iterator[Fault]:
    """Keys that are missing, or hold something else than they should."""
    for name, form in FORMS.items():
        yield from _of_rows(name, _found(result, name), form)
    food = (result.get("ledger") or {}).get("food")
    if food is not None:
        yield from _of_rows("ledger.food", food, FOOD)


def _found(result: Result, name: str) -> Any:
    value: Any = result
    for key in name.split("."):
        value = value.get(key) if isinstance(value, dict) else None
    return value


def _of_rows(name: str, value: Any, form: dict[str, Check]) -> Iterator[Fault]:
    if not isinstance(value, list):
        yield Fault("form", f"{name} is not there")
        return
    for place, row in enumerate(value):
        for key in _bad(row, form):
            yield Fault("form", f"{name}[{place}].{key}: {row.get(key, 'missing') if row else row!r}")


def _bad(row: Any, form: dict[str, Check]) -> list[str]:
    if not isinstance(row, dict):
        return ["row"]
    return [key for key, check in form.items() if key not in row or not check(row[key])]


def _held(held: Any) -> bool:
    if not isinstance(held, dict):
        return False
    if "livestock" in held:
        return words(held["livestock"]) and amount(held.get("count"))
    return words(held.get("what"))
