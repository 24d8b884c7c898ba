"""What is next, and a look back, as data for other programs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.next_up import NextUp
from moveplan.journal.now.travelling import Travelling
from moveplan.journal.now.turns import Item, Turn
from moveplan.journal.now.ways_on import WaysOn
from moveplan.journal.records import MovedDates, Reading
from moveplan.journal.rest.promised import Kept
from moveplan.journal.waters.contained import outside
from moveplan.times import iso

if TYPE_CHECKING:
    from moveplan.journal.back import LookBack, Looked


def next_data(found: NextUp, snapshot: Snapshot, zone: ZoneInfo) -> dict[str, Any]:
    """Give what is next as data."""
    return {
        "format": 1,
        "title": snapshot.title,
        "now": iso(found.now, zone),
        "accepted": iso(snapshot.now, zone),
        "done": found.done,
        "total": found.total,
        "dates_moved": [
            {"at": iso(one.at, zone), "days": one.days}
            if isinstance(one, MovedDates)
            else {"at": iso(one.at, zone), "to": one.day.isoformat()}
            for one in found.moved
        ],
        "behind_minutes": found.behind_min,
        "pace": round(found.pace, 2),
        "milestones": {
            name: {"planned": iso(planned, zone), "expected": iso(expected, zone)}
            for name, planned, expected in found.milestones
        },
        "running": [_item(item, zone) for item in found.running],
        "next": [_turn(turn, zone) for turn in found.turns],
        "unlogged_until": found.unlogged.id if found.unlogged else None,
        "unsaid": [{"task": task.id, "begun_after_it": after.id} for task, after in found.unsaid],
        "hold_points": [
            {
                "task": hold.task.id,
                "title": hold.task.title,
                "planned": iso(hold.task.start, zone),
                "expected": iso(hold.at, zone),
                "lacks": list(hold.lacks),
                "waits_for": [wait.before.id for wait in hold.waits],
            }
            for hold in found.hold_points
        ],
        "containers": [_travelling(one, zone) for one in found.travelling],
        "failures": [_way_on(way, zone) for way in found.ways_on],
        "taken_over": [
            {
                "task": row.task.id,
                "out": list(row.out),
                "people": list(row.task.people),
                "joins": list(row.joins),
                "hands": row.planned,
                "lacks": dict(row.lacks),
            }
            for row in found.taken_over
        ],
    }


def readings_data(
    read: Mapping[str, list[Reading]], snapshot: Snapshot, zone: ZoneInfo
) -> list[dict[str, Any]]:
    """Give what was read last in each container as data, with whether its animals do not stand it.

    Parameters
    ----------
    read : Mapping of str to list of Reading
        By number of the container.
    """
    return [
        {
            "container": number,
            "what": one.what,
            "value": one.value,
            "unit": one.unit,
            "said": one.said,
            "at": iso(one.at, zone),
            "too": None if (out := outside(one, snapshot)) is None else "warm" if out.above else "cold",
        }
        for number, rows in read.items()
        for one in rows
    ]


def promise_data(promise: Kept) -> dict[str, Any]:
    """Give what is kept of the promise as data."""
    return {
        "confidence": promise.confidence,
        "kept": round(promise.kept, 4),
        "standard_error": round(promise.error, 4),
        "breaks": [
            {"what": what, "id": name, "chance": round(chance, 4)} for what, name, chance in promise.breaks
        ],
    }


def _way_on(way: WaysOn, zone: ZoneInfo) -> dict[str, Any]:
    tightest = way.tightest
    row: dict[str, Any] = {
        "what": way.failure.what,
        "id": way.failure.name,
        "name": way.name,
        "since": iso(way.failure.at, zone),
        "expected_back": None if way.failure.until is None else iso(way.failure.until, zone),
        "planned_on_from": iso(way.failure.planned_on, zone),
        "held": list(way.held),
        "over_by": None if way.over_by is None else iso(way.over_by, zone),
        "settled_then": None if way.home_then is None else iso(way.home_then, zone),
        "tightest": None if tightest is None else _travelling(tightest, zone),
        "too_short": [one.number or one.stay.group for one in way.short],
        "back_into": [
            {
                "name": back.name,
                "place": back.place,
                "minutes": back.takes_min,
                "runs": back.runs,
                "spare_minutes": back.spare_min,
                "decide_by": None if back.decide_by is None else iso(back.decide_by, zone),
            }
            for back in way.backs
        ],
    }
    if way.another is not None:
        row["ring"] = [dict(zip(("name", "role", "phone"), one, strict=True)) for one in way.another.ring]
        if way.another.drivers is not None:
            row["drivers"] = [dict(zip(("name", "phone"), one, strict=True)) for one in way.another.drivers]
        row["carries_kg"] = round(way.another.kg)
        row["leaves"] = None if way.another.leaves is None else iso(way.another.leaves, zone)
    return {name: value for name, value in row.items() if value is not None}


def _turn(turn: Turn, zone: ZoneInfo) -> dict[str, Any]:
    return {
        "person": turn.person,
        "name": turn.name,
        **_item(turn.item, zone),
        "ready": turn.ready,
        **({"held": True} if turn.held else {}),
        **({"stops": True} if turn.held and turn.held.stops else {}),
        "runs": turn.runs,
        "waits_for": [wait.before.id for wait in turn.waits],
        "without": [{"name": name, "task": task.id} for name, task in turn.without],
    }


def back_data(back: LookBack, zone: ZoneInfo) -> dict[str, Any]:
    """Give a look back as data."""
    return {
        "format": 1,
        "open": back.open,
        "milestones": {
            name: {"planned": iso(planned, zone), "real": iso(real, zone)}
            for name, planned, real in back.milestones
        },
        "tasks": [_looked(one) for one in back.tasks],
        "phases": [
            {
                "name": phase.name,
                "done": phase.done,
                "total": phase.total,
                "planned_minutes": phase.planned_min,
                "real_minutes": phase.real_min,
            }
            for phase in back.phases
        ],
        "lost": [{"group": one.group, "count": one.count, "reasons": list(one.reasons)} for one in back.lost],
        "cost": {"planned": str(back.planned_cost), "spent": str(back.spent)},
        "policy": {pace.name.replace("_", "-"): pace.factor for pace in back.paces},
    }


def _looked(one: Looked) -> dict[str, Any]:
    row = {
        "task": one.task.id,
        "state": one.state.state.value,
        "planned_minutes": one.task.minutes,
        "usual_minutes": one.usual_min if one.task.pace != 1.0 else None,
        "real_minutes": one.real_min,
        "later_start_minutes": one.later_start_min,
        "later_finish_minutes": one.later_finish_min,
        "waited_for": one.waited_for.id if one.waited_for else None,
        "reason": one.state.reason or None,
    }
    return {name: value for name, value in row.items() if value is not None}


def _item(item: Item, zone: ZoneInfo) -> dict[str, Any]:
    return {
        "task": item.task.id,
        "number": item.task.number,
        "title": item.task.title,
        "start": iso(item.span.start, zone),
        "finish": iso(item.span.finish, zone),
        "people": list(item.task.people),
        "place": item.task.place,
        **({"time": item.time, "times": item.task.times} if item.time else {}),
    }


def _travelling(one: Travelling, zone: ZoneInfo) -> dict[str, Any]:
    return {
        **({"number": one.number} if one.number else {}),
        "group": one.stay.group,
        "name": one.stay.name,
        "count": one.count,
        "container": one.stay.container,
        "where": one.where,
        "shut": iso(one.since, zone),
        "logged": one.logged,
        "left_minutes": one.left_min,
        "spare_minutes": one.spare_min,
        "limited_by": one.stay.limited_by,
        **({} if one.airless is None else {"airless_since": iso(one.airless, zone)}),
    }
