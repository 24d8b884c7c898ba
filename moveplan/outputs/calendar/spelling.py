"""What the calendar library needs beside it, so that any text and any value come back as they were.

The library spells and folds; the guards here are for what it lets pass or changes on the way.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any

from icalendar import Component, vCategory, vDDDLists, vDDDTypes, vRecur, vText

#: Which event of the plan it is; by it our own events are told from a neighbour's.
KEY = "X-MOVEPLAN-KEY"

#: What says when an item was made and changed, and how often.
STAMPS = ("DTSTAMP", "SEQUENCE", "CREATED", "LAST-MODIFIED")

_UNWRITABLE = re.compile("[\x00-\x08\x0b-\x1f\x7f\ud800-\udfff]")

Row = tuple[str, bytes, object]


class _Text(vText):
    """TEXT in which a backslash before a capital N stays one; the library takes the two for a line break."""

    __slots__ = ()

    def to_ical(self) -> bytes:
        if "\\N" not in self:
            return super().to_ical()
        return rb"\\N".join(vText(part).to_ical() for part in self.split("\\N"))


def text(words: str) -> vText:
    r"""Make a TEXT value; the one way by which text gets into the file.

    Given a plain string the library escapes some properties only, and never looks for what breaks a line.

    Parameters
    ----------
    words : str
        Any text that a calendar may hold.

    Raises
    ------
    ValueError
        Where it holds a control character other than tab and line feed, or a lone surrogate.

    References
    ----------
    RFC 5545, sections 3.1 and 3.3.11.

    Examples
    --------
    >>> text("Salt; heat, mix: 35 psu").to_ical()
    b'Salt\\; heat\\, mix: 35 psu'
    """
    if _UNWRITABLE.search(words):
        msg = f"{words!r} holds a character that a calendar cannot"
        raise ValueError(msg)
    return _Text(words)


def utc(second: int) -> datetime:
    """Give an instant as the library takes it.

    Parameters
    ----------
    second : int
        UTC seconds since 1970. [s]

    Returns
    -------
    datetime
        In UTC.

    Examples
    --------
    >>> utc(0).isoformat()
    '1970-01-01T00:00:00+00:00'
    """
    return datetime.fromtimestamp(second, UTC)


def respelled(item: Component, names: Iterable[str]) -> Component:
    """Copy some properties of a component that was read, to be written as we write them.

    Parameters
    ----------
    item : Component
        As read from an earlier file.
    names : iterable of str
        Which properties.

    Returns
    -------
    Component
        Of the same kind, with nothing inside it.
    """
    made = type(item)()
    for name in names:
        if name in item:
            made[name] = _respelled(item[name])
    return made


def _respelled(value: Any) -> Any:
    if isinstance(value, vCategory):
        return text(",".join(map(str, value.cats)))
    if isinstance(value, vText):
        spelled = text(str(value))
        spelled.params = value.params
        return spelled
    return value


def told(item: Component) -> list[Row]:
    """List all that a reader could notice, stamps aside, so that what was made and what was read can be compared.

    Parameters
    ----------
    item : Component
        Made here, or read.

    Returns
    -------
    list of (str, bytes, object)
        Name, parameters and value of each property, those of inner components included.
    """
    rows: list[tuple[str, Any]] = item.property_items()
    return [(name, _params(value), _plain(value)) for name, value in rows if name not in STAMPS]


def _params(value: Any) -> bytes:
    params = getattr(value, "params", None)
    return bytes(params.to_ical()) if params else b""


def _plain(value: Any) -> object:
    """Reduce a value to what can be compared; the library's own comparison leaves parameters out."""
    if isinstance(value, vCategory):
        return ",".join(map(str, value.cats))
    if isinstance(value, vDDDLists):
        return [one.dt for one in value.dts]
    if isinstance(value, vRecur):
        return dict(value)
    return value.dt if isinstance(value, vDDDTypes) else value
