"""The life of an invented plan as exports, each built upon the one before, and names that try to break out."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import count
from typing import Any
from zoneinfo import ZoneInfo

from moveplan.network.task import State
from moveplan.outputs.calendar.export import CalendarExport
from tests.outputs.calendar.scene import DAY, NOW, Item, export, item, moving, outlook

HOSTILE = (
    "a,b;c\\d\ne", "BEGIN:VEVENT", "x\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nUID:1", "\\", "\\n", "\\,", '"quoted"^n',
    "🐠" * 200, "漢字" * 60, "שלום\u202eevil", "\x00\x07\x1b[0m", "\ud800", "\x85\u2028\u2029",
    "ATTENDEE:mailto:a@b", " lead", "é" * 10_000, "<script>alert(1)</script> | `x`", "%00{{ 7*7 }}", ":",
    ";X=1:2", "a\u0301" * 80,
)  # fmt: skip

_PRIVATE_ZONES = count()


def with_private_zone(data: bytes) -> bytes:
    """The calendar with its one zone under a name that no reader knows: it must use the rules in the file.

    Each name is new, since vobject remembers zones for the life of the process.
    """
    zone = re.search(rb"\r\nTZID:(.*)\r\n", data)
    return data.replace(zone[1], f"Private/{next(_PRIVATE_ZONES)}".encode()) if zone else data


EVERYTHING: dict[str, Any] = {"links": True, "todos": True, "split": True}


def hostile() -> tuple[Item, ...]:
    """Tasks whose titles, phases and steps are hostile."""

    def spoiled(row: Item, text: str) -> Item:
        return replace(row, task=replace(row.task, title=text, phase=text, steps=(text, text)))

    rows = [item(f"hostile-{n}", "2027-03-01 08:00", 60) for n, _ in enumerate(HOSTILE)]
    return tuple(
        spoiled(row.moved(n * 30), text) for n, (row, text) in enumerate(zip(rows, HOSTILE, strict=True))
    )


def slipped() -> tuple[Item, ...]:
    """Three days later, one task dropped, one added, one renamed."""
    rows = [row.moved(3 * DAY) for row in moving() if row.task.id != "soak-pads"]
    rows[0] = replace(rows[0], task=replace(rows[0].task, title="Mix the new water"))
    return (*rows, item("buy-tape", "2027-03-02 10:00", 30))


def brought_back() -> tuple[Item, ...]:
    """The same with the dropped task again, on its old date."""
    return (*slipped(), next(row for row in moving() if row.task.id == "soak-pads"))


STATES = {"mix-water": State.COMPLETED, "drive": State.IN_PROCESS, "pack-trays": State.CANCELLED}


def life(**options: Any) -> dict[str, CalendarExport]:
    """The exports of a plan's life."""
    first = export(outlook(), **options)
    second = export(outlook(now=NOW + DAY), first, **options)
    third = export(outlook(slipped(), now=NOW + 2 * DAY), second, **options)
    fourth = export(outlook(brought_back(), now=NOW + 3 * DAY), third, **options)
    fifth = export(outlook(brought_back(), states=STATES, now=NOW + 4 * DAY), fourth, **options)
    return {"first": first, "unchanged": second, "slipped": third, "brought back": fourth, "under way": fifth}


LIFE = life(**EVERYTHING)

SCENES: dict[str, CalendarExport] = {
    **LIFE,
    "hostile": export(outlook(hostile(), title=HOSTILE[2]), **EVERYTHING),
    "quiet": export(outlook(), alarms=False, private=True, addresses=False, name=False, **EVERYTHING),
    "one person": export(outlook(), person="tom", **EVERYTHING),
    "nothing": export(outlook(), phase="Eve", person="tom", **EVERYTHING),
    "in UTC": export(outlook(zone=ZoneInfo("UTC")), **EVERYTHING),
    "irregular zone": export(outlook(zone=ZoneInfo("Africa/Casablanca")), **EVERYTHING),
}
