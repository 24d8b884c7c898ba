"""A TOML file of rows under names, and the lines on which they stand."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from moveplan.planfile.problems import Fault
from moveplan.planfile.text import UnreadableError, decoded

_PLACE = re.compile(r" \(at line (\d+), column \d+\)$| \(at end of document\)$")
_LINE = re.compile(r"\s*\[\s*(?P<table>[^\]]*?)\s*\]|\s*(?P<key>[^=\[\]#\s]+)\s*=")


@dataclass(frozen=True, slots=True)
class TomlTable:
    """Rows under names.

    Parameters
    ----------
    rows : Mapping of str to object
        As TOML gives them; numbers with a point are decimal to the last digit.
    lines : Mapping of tuple of str to int
        Lines of names and of their keys, as far as they are written in the plain way.
    """

    rows: Mapping[str, Any]
    lines: Mapping[tuple[str, ...], int]


def toml_table(content: bytes, sample: str) -> TomlTable:
    """Read a TOML file.

    Parameters
    ----------
    content : bytes
        What stands in it.
    sample : str
        What could stand there, for messages.

    Raises
    ------
    UnreadableError
        With the line at fault.
    """
    text = decoded(content)
    try:
        rows = tomllib.loads(text, parse_float=Decimal)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise UnreadableError([_not_toml(error, sample)]) from None
    return TomlTable(rows, _lines(text))


def _not_toml(error: Exception, sample: str) -> Fault:
    message = str(error)
    place = _PLACE.search(message)
    line = int(place[1]) if place and place[1] else 0
    why = message[: place.start()] if place else message
    return Fault(line, (), f"this is not TOML: {why[:1].lower()}{why[1:]}", sample)


def _lines(text: str) -> Mapping[tuple[str, ...], int]:
    lines: dict[tuple[str, ...], int] = {}
    item = ""
    for number, line in enumerate(text.splitlines(), 1):
        found = _LINE.match(line)
        if found is None:
            continue
        if found["table"] is not None:
            item = found["table"].strip("\"'")
            lines.setdefault((item,), number)
        else:
            key = found["key"].strip("\"'")
            lines.setdefault((item, key) if item else (key,), number)
    return lines
