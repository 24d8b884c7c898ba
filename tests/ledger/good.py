"""A small move by hand whose accounts close: 100 l, of which 30 are kept and 70 are new, and three companies.

The arithmetic: 72 l purified = 70 l mixed + 2 l topped up; old water 100 l = 30 kept + 15 pail + 2 bag + 53 thrown
away; the tank at the end 30 kept + 70 new - 2 dripped into the pail + 2 topped up = 100 l.
"""

from __future__ import annotations

from typing import Any

DAY = "2027-03-13"
CANS = 4


def at(clock: str) -> str:
    """A moment of the day."""
    return f"{DAY}T{clock}:00+00:00"


def _task(name: str, begin: str, end: str) -> dict[str, Any]:
    return {"id": name, "start": at(begin), "finish": at(end)}


def _row(number: str, kind: str, gear: str, litres: tuple[float, float], **more: Any) -> dict[str, Any]:
    volume, water = litres
    row = {"number": number, "kind": kind, "gear": gear, "volume_litres": volume, "water_litres": water}
    row |= {"kg": round(water * 1.025 + 1, 1), "heater_watts": 0, "heater": None, "air": None}
    return row | more


def _entry(task: str, clock: str, from_: str, to: str, litres: float) -> dict[str, Any]:
    return {"task": task, "at": at(clock), "from": from_, "to": to, "litres": litres}


def _used(begin: str, end: str, from_task: str = "drain", until_task: str = "refill") -> dict[str, str]:
    return {"from": at(begin), "until": at(end), "from_task": from_task, "until_task": until_task}


def _path(number: str, begin: str, end: str, heater: str | None = None) -> dict[str, Any]:
    points = [
        {"at": at(begin), "celsius": 25.5, "low": 25.3, "air_celsius": 18},
        {"at": at("12:00"), "celsius": 24.1, "low": 23.6, "air_celsius": 8},
        {"at": at(end), "celsius": 23.0, "low": 22.4, "air_celsius": 18},
    ]
    return {"container": number, "path": points, "heater": heater}


def _group(name: str, count: int, begin: str, end: str, container: str) -> dict[str, Any]:
    route = [
        {"where": "Old home", "container": "Reef", "from": at("00:00"), "until": at(begin)},
        {"where": "Old home", "container": container, "from": at(begin), "until": at("12:00")},
        {"where": "Van", "container": container, "from": at("12:00"), "until": at("13:00")},
        {"where": "New home", "container": container, "from": at("13:00"), "until": at(end)},
    ]
    stay = {"where": "Old home, Van, New home", "container": container, "from": at(begin), "until": at(end)}
    return {"id": name, "name": name, "count": count, "route": route, "stays": [stay]}


def good() -> dict[str, Any]:
    """A result, made anew each time, in which everything is in order."""
    cans = [f"K{i}" for i in range(1, CANS + 1)]
    return {
        "format": 2,
        "status": "ok",
        "purpose": "house-move",
        "tasks": [
            _task("mix", "07:00", "08:00"),
            _task("drain", "09:00", "11:00"),
            _task("catch", "10:00", "11:00"),
            _task("refill", "14:00", "15:00"),
            _task("release", "15:00", "17:00"),
        ],
        "vehicles": [{"id": "van", "name": "Van", "payload_kg": 900}],
        "gear": [
            {"id": "tubs", "name": "Tubs", "kind": "tub", "count": 1, "to_get": 0, "outlets": None},
            {"id": "pails", "name": "Pails", "kind": "bucket", "count": 1, "to_get": 0, "outlets": None},
            {"id": "boxes", "name": "Boxes", "kind": "box", "count": 1, "to_get": 0, "outlets": None},
            {"id": "bags", "name": "Bags", "kind": "bag", "count": 1, "to_get": 0, "outlets": None},
            {"id": "to-get:can", "name": "Cans", "kind": "can", "count": 0, "to_get": CANS, "outlets": None},
            {"id": "pumps", "name": "Air pumps", "kind": "air-pump", "count": 1, "to_get": 0, "outlets": 1}
            | {"battery_minutes": 600},
            {
                "id": "heaters",
                "name": "Small heaters",
                "kind": "heater",
                "count": 1,
                "to_get": 0,
                "outlets": None,
            },
        ],
        "systems": [
            {
                "id": "reef",
                "name": "Reef",
                "litres": 100,
                "drawable_litres": 90,
                "place": "old",
                "role": "both",
            }
        ],
        "livestock": [_group("clowns", 2, "10:10", "16:00", "P1"), _group("goby", 1, "10:30", "16:30", "B1")],
        "containers": [
            _row("T1", "tub", "tubs", (60, 30), holds=[{"what": "old-water"}], **_used("09:10", "14:20")),
            *(
                _row(can, "can", "to-get:can", (20, 17.5), holds=[{"what": "new-water"}])
                | _used("07:50", "14:40", "mix")
                for can in cans
            ),
            _row("P1", "pail", "pails", (18, 17), air="pumps", holds=[{"livestock": "clowns", "count": 2}])
            | {"heater": "heaters", "heater_watts": 25}
            | _used("10:10", "16:00", "catch", "release"),
            _row("B1", "bag", "bags", (8, 2), holds=[{"livestock": "goby", "count": 1}])
            | _used("10:30", "16:30", "catch", "release"),
            _row("X1", "box", "boxes", (40, 0), holds=[{"what": "container", "number": "B1"}])
            | _used("10:30", "16:30", "catch", "release"),
        ],
        "ledger": {
            "water": [
                _entry("mix", "07:00", "tap", "purified", 72),
                _entry("mix", "07:00", "purified", "new:reef", 70),
                *(_entry("mix", "07:50", "new:reef", f"container:{can}", 17.5) for can in cans),
                _entry("drain", "09:10", "system:reef", "container:T1", 30),
                _entry("catch", "10:10", "system:reef", "container:P1", 15),
                _entry("catch", "10:30", "system:reef", "container:B1", 2),
                _entry("drain", "11:00", "system:reef", "drain", 53),
                _entry("refill", "14:20", "container:T1", "system:reef", 30),
                *(_entry("refill", "14:40", f"container:{can}", "system:reef", 17.5) for can in cans),
                _entry("release", "15:10", "system:reef", "container:P1", 2),
                _entry("release", "15:10", "purified", "system:reef", 2),
                _entry("release", "16:00", "container:P1", "drain", 17),
                _entry("release", "16:30", "container:B1", "drain", 2),
            ],
            "heat": [_path("P1", "10:10", "16:00", "heaters"), _path("B1", "10:30", "16:30")],
            "air": [{"container": "P1", "outlet_of": "pumps", "from": at("10:10"), "until": at("16:00")}],
            "power": [
                {
                    "place": "old",
                    "from": at("10:00"),
                    "until": at("12:00"),
                    "watts": 400,
                    "circuit_watts": 500,
                },
                {
                    "place": "old",
                    "from": at("12:00"),
                    "until": at("13:00"),
                    "watts": 300,
                    "circuit_watts": 500,
                },
            ],
            "food": [
                {"livestock": "clowns", "last_meal": "2027-03-12T10:10:00+00:00", "catch": at("10:10")}
                | {"next_meal": "2027-03-14T09:00:00+00:00"}
            ],
        },
        "water": {"purified_litres": 72, "salt_kg": 2.6},
        "loads": [
            {
                "vehicle": "van",
                "trip": 1,
                "items": [
                    {"name": "tub T1", "kg": 31.8},
                    *({"name": f"new-water can {can} (20 l)", "kg": 18.9} for can in cans),
                    {"name": "Clownfish", "kg": 18.4, "container": "P1"},
                    {"name": "box X1", "kg": 1},
                ],
                "total_kg": 126.8,
            }
        ],
        "cost": {"lines": [{"item": "water-can", "name": "Cans of 20 l", "quantity": CANS}]},
    }
