"""Small invented plans and journals for the tests."""

from __future__ import annotations

from pathlib import Path
from zoneinfo import ZoneInfo

from typer.testing import CliRunner

from moveplan.cli.app import app
from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.file.snapshot import PlannedStay, PlannedTask, Snapshot
from moveplan.journal.records import Accepted, Entry, Record
from moveplan.journal.taking.known import Known, known_of
from moveplan.journal.waters.gates import Gate
from moveplan.network.task import Kind
from moveplan.times import Interval

ZONE = ZoneInfo("Europe/Dublin")
DAY = 1440
T0 = 30_082_080
"""2027-03-13 08:00 in Dublin, UTC. [min]"""
PLAN_ID = "reef-1"
OWN = """\
id: two-of-us
title: Two of us
purpose: own-tasks
timezone: Europe/Dublin
start: 2027-03-01 08:00
people: {ines: {name: Ines Farrow, hours: {mon-sun: 08:00-20:00}}}
tasks:
  - {id: dig, title: Dig, duration: 2 h, people: [ines]}
  - {id: fill, title: Fill it, duration: 1 h, people: [ines], after: [dig]}
"""
OWN_ID, OWN_START = "two-of-us", "2027-03-01T08:00+00:00"


def planned(name: str, start: int, minutes: int, **fields: object) -> PlannedTask:
    """One task from T0 on."""
    values: dict[str, object] = {
        "id": name,
        "title": name.replace("-", " ").capitalize(),
        "kind": Kind.WORK,
        "segments": (Interval(T0 + start, T0 + start + minutes),),
        "minutes": minutes,
        "low": minutes,
        "high": minutes,
        "phase": "Test",
    }
    return PlannedTask(**values | fields)  # type: ignore[arg-type]


def snapshot() -> Snapshot:
    """Give a day with two people, a hold point with a limit, recurring care, and one group in a bag."""
    daily = tuple(Interval(T0 + at * DAY + 600, T0 + at * DAY + 615) for at in range(3))
    gate = Gate("temperature", 24.0, 27.0, "°C", 720)
    return Snapshot(
        title="Small invented reef",
        zone="Europe/Dublin",
        now=T0 - DAY,
        locale="en_IE",
        currency="EUR",
        tasks=(
            planned("draw-water", 0, 30, people=("ines",), number=1),
            planned("catch-fish", 30, 60, people=("ines", "tom"), number=2),
            planned("drive-van", 90, 45, kind=Kind.TRAVEL, people=("tom",), vehicles=("van",), number=3),
            planned(
                "water-matched-reef", 300, 15, kind=Kind.HOLD_POINT, people=("ines",), gates=(gate,), number=4
            ),
            planned("release-fish", 320, 30, people=("ines",), number=5),
            planned("daily-look", 600, 15, segments=daily, people=("ines",), times=3, number=6),
        ),
        stays=(
            PlannedStay(
                group="clowns",
                name="Clownfish",
                container="12 l bag",
                count=2,
                shut_task="catch-fish",
                shut_edge="start",
                open_task="release-fish",
                open_edge="finish",
                shut=T0 + 30,
                opened=T0 + 350,
                safe_low_min=400,
                safe_likely_min=500,
                safe_high_min=700,
                limited_by="oxygen",
                containers=(("B1", 1), ("B2", 1)),
            ),
        ),
        waits={"water-matched-reef": ("drive-van",), "release-fish": ("water-matched-reef",)},
        people={"ines": "Ines Farrow", "tom": "Tomas Reddy"},
        vehicles={"van": "Hired van"},
        groups={"clowns": "Clownfish"},
        systems={"reef": "Reef"},
        milestones={"settled": "release-fish"},
        cost={"water": "40.00", "vehicles": "95.00"},
        terms={"van": {"fee": "90", "within_days": 7, "assumed": True}},
    )


def accepted(at: int = T0 - DAY) -> Accepted:
    """Give the record of that day."""
    return Accepted(at=at, schedule=snapshot_data(snapshot()))


def known() -> Known:
    """Give what a record may name."""
    return known_of(snapshot())


def entries(*records: Record) -> tuple[Entry, ...]:
    """Number records as lines."""
    return tuple(Entry(number, record) for number, record in enumerate(records, start=1))


def plan_file(folder: Path) -> Path:
    """Write a plan file of which only the id is ever read."""
    path = folder / "reef.yaml"
    path.write_text(f"id: {PLAN_ID}\ntitle: Small invented reef\n", encoding="utf-8")
    return path


def own_plan(folder: Path) -> Path:
    """Write a plan of two tasks, of which the schedule is accepted."""
    path = folder / "two.yaml"
    path.write_text(OWN)
    accept(path)
    return path


def accept(path: Path) -> None:
    """Accept a plan of own tasks as it stands when it begins."""
    words = ["record", str(path), "accept", "--now", OWN_START, "--solver-seconds", "0.1"]
    assert CliRunner().invoke(app, words).exit_code == 0
