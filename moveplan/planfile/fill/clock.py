"""Wall-clock times that a change of the clocks skips or repeats."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from pydantic import BaseModel

from moveplan.planfile.schema.when import Wall
from moveplan.times import MINUTES_A_DAY, to_local, to_minutes

Path = tuple[str, ...]


def walls_of(entry: BaseModel, path: Path = ()) -> Iterator[tuple[Path, Wall]]:
    """Find every wall-clock time of an entry that was written with its time of day.

    Parameters
    ----------
    entry : BaseModel
        The plan file, or a part of it.
    path : tuple of str
        Key path of the entry.
    """
    for name, field in type(entry).model_fields.items():
        value = getattr(entry, name)
        below = (*path, field.alias or name)
        if isinstance(value, Wall) and value.timed and value.offset is None:
            yield below, value
        elif isinstance(value, BaseModel):
            yield from walls_of(value, below)
        elif isinstance(value, dict):
            for key, inner in value.items():
                if isinstance(inner, BaseModel):
                    yield from walls_of(inner, (*below, key))


@dataclass(frozen=True, slots=True)
class Gap:
    """Times that the clock never shows.

    Parameters
    ----------
    last : str
        The last minute before, as it could be written in a plan file.
    first : str
        The first minute after.
    """

    last: str
    first: str


def _local(wall: Wall, zone: ZoneInfo, fold: int) -> datetime:
    days, rest = divmod(wall.minute, MINUTES_A_DAY)
    day = wall.day + timedelta(days=days)
    return datetime.combine(day, time(rest // 60, rest % 60, fold=fold), tzinfo=zone)


def _readings(wall: Wall, zone: ZoneInfo) -> tuple[int, int]:
    """UTC minutes by the offset that holds before a change of the clocks, and by the one after it."""
    early, late = (_local(wall, zone, fold) for fold in (0, 1))
    return to_minutes(early), to_minutes(late)


def gap_around(wall: Wall, zone: ZoneInfo) -> Gap | None:
    """Find the gap a wall-clock time falls into; None where the clock shows it."""
    by_old, by_new = _readings(wall, zone)
    if by_new >= by_old:
        return None
    before, after = by_new, by_old
    offset = to_local(before, zone).utcoffset()
    while after - before > 1:
        middle = (before + after) // 2
        before, after = (middle, after) if to_local(middle, zone).utcoffset() == offset else (before, middle)
    return Gap(_written(before, zone), _written(after, zone))


def is_repeated(wall: Wall, zone: ZoneInfo) -> bool:
    """Tell whether the clock shows a time twice."""
    by_old, by_new = _readings(wall, zone)
    return by_new > by_old


def first_of_two(wall: Wall, zone: ZoneInfo) -> str:
    """Write the first of two equal wall-clock times with its offset, so that it can only mean that one."""
    moment = to_local(wall.at(zone), zone)
    return f"{moment:%Y-%m-%d %H:%M}{moment.isoformat()[-6:]}"


def _written(minutes: int, zone: ZoneInfo) -> str:
    return f"{to_local(minutes, zone):%Y-%m-%d %H:%M}"
