"""Records as lines of JSON, and back: every line checked, so that nothing half-written is taken for a record."""

from __future__ import annotations

import json
import math
import re
import zlib
from collections.abc import Callable, Mapping
from dataclasses import fields
from datetime import UTC, date, datetime
from typing import Any

from moveplan.journal import records
from moveplan.journal.now import failure
from moveplan.journal.records import Record
from moveplan.times import to_minutes

FORMAT = 1
"""Version of a line of the journal; lines of another one are refused. [-]"""
KINDS: Mapping[str, type[Record]] = {
    "accepted": records.Accepted,
    "begun": records.Begun,
    "done": records.Done,
    "dropped": records.Dropped,
    "met": records.Met,
    "reading": records.Reading,
    "moved": records.MovedMoment,
    "moved-day": records.MovedDay,
    "moved-dates": records.MovedDates,
    "out": records.Out,
    "back": records.Back,
    "vehicle": records.Vehicle,
    "counted": records.Counted,
    "shut": records.Shut,
    "opened": records.Opened,
    "tended": records.Tended,
    "spent": records.Spent,
    "note": records.Note,
    "undo": records.Undo,
    "failed": failure.Failed,
    "works": failure.Works,
}
"""Records by the word that names them in the file."""

_NAMES = {one: name for name, one in KINDS.items()}
_FIELDS = {kind: tuple(one.name for one in fields(kind)) for kind in KINDS.values()}
_LAST_YEAR = 9998
"""Last year of a moment, so that what follows it lies before the year 9999 ends. [a]"""


class LineError(ValueError):
    """A line that is no record of this plan; the message says why."""


def _text(value: object) -> str:
    if isinstance(value, str):
        return value
    raise LineError("a text belongs there")


def _whole(value: object) -> int:
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    raise LineError("a whole number belongs there")


def _number(value: object) -> float:
    if isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value):
        return float(value)
    raise LineError("a number belongs there")


def _day(value: object) -> date:
    try:
        return date.fromisoformat(_text(value))
    except ValueError:
        raise LineError("a day such as 2027-03-13 belongs there") from None


def minute_of(value: object) -> int:
    """Read a moment of a line, ISO 8601 with an offset.

    >>> minute_of("2027-03-13T08:00Z")
    30082080
    """
    try:
        moment = datetime.fromisoformat(_text(value))
        if moment.tzinfo is None or moment.year > _LAST_YEAR:
            raise ValueError
        return to_minutes(moment)
    except (ValueError, OverflowError):
        raise LineError("a moment such as 2027-03-13T08:00Z belongs there") from None


def stamp(minutes: int) -> str:
    """Write a moment for a line.

    >>> stamp(30082080)
    '2027-03-13T08:00Z'
    """
    return datetime.fromtimestamp(minutes * 60, tz=UTC).strftime("%Y-%m-%dT%H:%MZ")


def _texts(value: object) -> tuple[str, ...]:
    if isinstance(value, list):
        return tuple(map(_text, value))
    raise LineError("a list of texts belongs there")


def _data(value: object) -> Mapping[str, Any]:
    if isinstance(value, dict):
        return value
    raise LineError("keys with values belong there")


_READ: Mapping[str, Callable[[object], Any]] = {
    "at": minute_of,
    "to": minute_of,
    "since": minute_of,
    "until": minute_of,
    "day": _day,
    "first": _day,
    "last": _day,
    "value": _number,
    "payload_kg": _number,
    "took_min": _whole,
    "time": _whole,
    "change": _whole,
    "days": _whole,
    "line": _whole,
    "lacking": _texts,
    "but": _texts,
    "schedule": _data,
}
_MOMENTS = {name for name, read in _READ.items() if read is minute_of}


def encoded(record: Record, plan_id: str, source: str = "") -> str:
    """Write a record as one line of JSON, without its line end.

    Parameters
    ----------
    plan_id : str
        The plan it belongs to.
    source : str
        Where it was merged from.

    >>> print(encoded(records.Begun(at=30082080, task="draw-water"), "5d0f"))
    {"format":1,"plan":"5d0f","kind":"begun","at":"2027-03-13T08:00Z","task":"draw-water","sum":"ee4f8b45"}
    """
    row: dict[str, Any] = {"format": FORMAT, "plan": plan_id, "kind": _NAMES[type(record)]}
    for one in fields(record):
        value = getattr(record, one.name)
        if value is not None and value != one.default:
            row[one.name] = _shown(one.name, value)
    if source:
        row["source"] = source
    text = json.dumps(row, ensure_ascii=True, separators=(",", ":"), allow_nan=False)
    return f'{text[:-1]},"sum":"{checksum(text)}"}}'


def checksum(text: str) -> str:
    """Sum up a text, so that a damaged one is noticed: CRC-32 of its bytes in UTF-8.

    >>> checksum("123456789")
    'cbf43926'
    """
    return f"{zlib.crc32(text.encode('utf-8', 'surrogatepass')):08x}"


_SUM = re.compile(r',"sum":"([0-9a-f]{8})"\}\s*$')


def _whole_line(text: str, *, summed: bool) -> None:
    """Refuse a line that is not as it was written; one without a checksum comes from an earlier version."""
    found = _SUM.search(text)
    if found is None and summed:
        raise LineError("it was damaged, its checksum is not where it belongs")
    if found is not None and checksum(text[: found.start()] + "}") != found[1]:
        raise LineError("it was damaged, its checksum does not fit")


def _shown(name: str, value: Any) -> Any:
    if isinstance(value, date):
        return value.isoformat()
    if name in _MOMENTS and isinstance(value, int):
        return stamp(value)
    return list(value) if isinstance(value, tuple) else value


def decoded(text: str, plan_id: str) -> tuple[Record, str]:
    """Read a line.

    Parameters
    ----------
    text : str
        One line.
    plan_id : str
        The plan it must belong to.

    Returns
    -------
    tuple of (Record, str)
        The record, and where it was merged from.

    Raises
    ------
    LineError
        With the reason.
    """
    row = _row(text)
    _whole_line(text, summed="sum" in row)
    if row.get("plan") != plan_id:
        raise OtherPlanError(str(row.get("plan", "")))
    if row.get("format") != FORMAT:
        raise LineError("it was written by a later version of moveplan")
    kind = KINDS.get(str(row.get("kind")))
    if kind is None:
        raise LineError("it is a kind of record that is not known here")
    return _record(kind, row), _text(row.get("source", ""))


class OtherPlanError(LineError):
    """A line that belongs to another plan.

    Parameters
    ----------
    plan_id : str
        The plan it names.
    """

    def __init__(self, plan_id: str) -> None:
        super().__init__("it belongs to another plan")
        self.plan_id = plan_id


def _row(text: str) -> dict[str, Any]:
    try:
        row = json.loads(text)
    except (ValueError, RecursionError):
        raise LineError("it is half a line, or no record") from None
    if not isinstance(row, dict) or "plan" not in row:
        raise LineError("it is no record")
    return row


def _record(kind: type[Record], row: Mapping[str, Any]) -> Record:
    values = {name: _value(name, row[name]) for name in _FIELDS[kind] if name in row}
    try:
        return kind(**values)
    except TypeError:
        missing = next(name for name in _FIELDS[kind] if name not in values)
        raise LineError(f'it has no "{missing}"') from None


def _value(name: str, value: object) -> Any:
    try:
        return _READ.get(name, _text)(value)
    except LineError as error:
        raise LineError(f'"{name}": {error}') from None
