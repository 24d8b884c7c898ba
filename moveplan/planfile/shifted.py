"""Values of a plan file counted from what stands there: dates some days later, numbers some percent more."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from moveplan.planfile.problems import Fault
from moveplan.planfile.text import Node

_STEP = re.compile(r"([+-])\s*([0-9]{1,4}(?:\.[0-9]{1,2})?)\s*(days?|d|weeks?|%)")
_DATE = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
_NUMBER = re.compile(r"\s*([0-9]{1,12}(?:\.[0-9]{1,12})?)(\s*[^0-9].*|\s*)", re.DOTALL)
_STAYS = "earliest-start"
"""The date that does not move with the others: work may begin as early as before. [-]"""
_BOOKED = (("vehicles", "hire"), ("boarding", "from"), ("boarding", "until"))
"""What is booked for the days of the move, by section and key. [-]"""


@dataclass(frozen=True, slots=True)
class Shift:
    """How much is added.

    Parameters
    ----------
    days : int
        To dates. [day]
    factor : Decimal or None
        What numbers are multiplied by; None: dates are meant.
    """

    days: int = 0
    factor: Decimal | None = None


def step_of(text: str) -> Shift | None:
    """Read ``+14 days``, ``-2 weeks`` or ``+30 %``; None where it is none of these.

    >>> step_of("+2 weeks")
    Shift(days=14, factor=None)
    """
    found = _STEP.fullmatch(text.strip())
    if found is None:
        return None
    amount = Decimal(found[1] + found[2])
    if found[3] == "%":
        return Shift(factor=max(1 + amount / 100, Decimal(0)))
    days = amount * (7 if found[3].startswith("w") else 1)
    return Shift(int(days)) if days == int(days) else None


def shifted(node: Node, step: Shift) -> Node | None:
    """Add to what stands at a place, and to every date below it; None where nothing there can be added to.

    Parameters
    ----------
    node : Node
        What stands there; it is left as it is.
    step : Shift
        How much.
    """
    if isinstance(node.value, str):
        text = _scaled(node.value, step.factor) if step.factor is not None else _later(node.value, step.days)
        return None if text is None else Node(node.line, text, node.flow)
    if step.factor is not None:
        return None
    if isinstance(node.value, list):
        rows = [shifted(inner, step) for inner in node.value]
        return Node(node.line, [row for row in rows if row is not None], node.flow) if all(rows) else None
    parts = {key: shifted(inner, step) for key, inner in node.value.items()}
    if not any(parts.values()):
        return None
    return Node(node.line, {key: parts[key] or inner for key, inner in node.value.items()}, node.flow)


def _scaled(text: str, factor: Decimal) -> str | None:
    found = _NUMBER.fullmatch(text)
    if found is None or _DATE.match(text.strip()):
        return None
    return f"{(Decimal(found[1]) * factor).normalize():f}{found[2]}"


def _later(text: str, days: int) -> str | None:
    try:
        later, count = _DATE.subn(lambda found: _day_later(found, days), text)
    except (ValueError, OverflowError):
        return None
    return later if count else None


def _day_later(found: re.Match[str], days: int) -> str:
    return (date(int(found[1]), int(found[2]), int(found[3])) + timedelta(days=days)).isoformat()


def moved_with_the_dates(root: Node, step: Shift) -> list[Fault]:
    """Move every date under ``dates`` but the earliest start, and what is booked for the days of the move, in place.

    Parameters
    ----------
    root : Node
        The plan file, sections by id.
    step : Shift
        By how many days.
    """
    sections = root.value if isinstance(root.value, dict) else {}
    dates = sections.get("dates")
    if step.factor is not None or dates is None or not isinstance(dates.value, dict):
        remedy = 'write for example "dates=+14 days"'
        return [Fault(dates.line if dates else 0, ("dates",), "only days can be added to dates", remedy)]
    _move(dates, [key for key in dates.value if key != _STAYS], step)
    for section, key in _BOOKED:
        holder = sections.get(section)
        rows = holder.value.values() if holder is not None and isinstance(holder.value, dict) else ()
        for entry in rows:
            _move(entry, [key], step)
    return []


def _move(holder: Node, keys: list[str], step: Shift) -> None:
    """Move what stands under some keys, where it can be moved; what is no date is told later."""
    if isinstance(holder.value, dict):
        for key in keys:
            after = shifted(holder.value[key], step) if key in holder.value else None
            if after is not None:
                holder.value[key] = after
