"""A small invented move with a schedule, to be bent by each test; people, places and dates are made up."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from moveplan.estimate import Estimate
from moveplan.network.graph import Network
from moveplan.network.link import Link, Relation
from moveplan.network.task import Kind, Repeat, State, Task
from moveplan.outputs.calendar.export import CalendarExport, calendar_bytes
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.plan.move import Plan
from moveplan.plan.people import Helper, Vehicle
from moveplan.plan.places import Place
from moveplan.plan.supplies import GearItem
from moveplan.practice.project import Caution, Project
from moveplan.risk.summary import RiskSummary, StartBy
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Engine, Placement, Schedule, Status
from moveplan.times import Interval

DUBLIN = ZoneInfo("Europe/Dublin")
NOW = int(datetime(2027, 2, 1, 9, tzinfo=UTC).timestamp() // 60)
DAY = 1440


def at(text: str, zone: ZoneInfo = DUBLIN) -> int:
    """UTC minutes of a wall-clock time."""
    return int(datetime.fromisoformat(text).replace(tzinfo=zone).timestamp() // 60)


@dataclass(frozen=True, slots=True)
class Item:
    """One task with its stretches."""

    task: Task
    stretches: tuple[Interval, ...]
    people: tuple[str, ...] = ()
    vehicles: tuple[str, ...] = ()

    def moved(self, minutes: int) -> Item:
        later = tuple(Interval(one.start + minutes, one.finish + minutes) for one in self.stretches)
        return replace(self, stretches=later)


def item(
    id: str,  # noqa: A002
    start: str | int,
    minutes: int,
    *,
    people: tuple[str, ...] = (),
    vehicles: tuple[str, ...] = (),
    zone: ZoneInfo = DUBLIN,
    **task: object,
) -> Item:
    begin = at(start, zone) if isinstance(start, str) else start
    fields: dict[str, object] = {"title": id.replace("-", " ").capitalize(), **task}
    made = Task(id=id, estimate=Estimate(minutes, minutes, minutes, "min", "scene"), **fields)  # type: ignore[arg-type]
    return Item(made, (Interval(begin, begin + minutes),), people, vehicles)


def moving() -> tuple[Item, ...]:
    """A few weeks around a moving day."""
    steps = ("Fill the 60 l tub; salt, 35 psu", "Heat to 25 °C")
    repeat = Repeat(every_min=DAY, times=3, slack_min=720)
    test = item("test-water", "2027-03-14 18:00", 15, phase="Aftercare", people=("ines",), repeats=repeat)
    trays = item("pack-trays", "2027-03-11 15:00", 120, phase="Packing", people=("tom",), may_pause=True)
    return (
        item("mix-water", "2027-03-06 09:00", 180, phase="Water", place="mill", people=("ines", "tom"), steps=steps),
        item("let-stand", "2027-03-06 12:00", 6 * DAY, phase="Water", kind=Kind.WAIT),
        item("soak-pads", "2027-03-12 18:00", 120, phase="Packing", kind=Kind.WAIT),
        replace(trays, stretches=(*trays.stretches, *trays.moved(DAY).stretches)),
        item("go-or-no-go", "2027-03-12 20:00", 10, phase="Eve", kind=Kind.HOLD_POINT, people=("ines",)),
        item("drive", "2027-03-13 11:00", 50, phase="Moving day", kind=Kind.TRAVEL, place="mill",
             place_after="harbour", people=("tom",), vehicles=("van",), gear=(("tubs", 2),), day="move",
             cautions=("lifting",)),
        item("settled", "2027-03-13 20:00", 0, phase="Moving day", day="move"),
        replace(test, stretches=tuple(test.moved(n * DAY).stretches[0] for n in range(3))),
    )  # fmt: skip


LINKS = (
    Link("mix-water", "let-stand"),
    Link("let-stand", "go-or-no-go", min_gap_min=-120),
    Link("pack-trays", "drive", min_gap_min=720, max_gap_min=3 * DAY),
    Link("drive", "settled", Relation.STARTTOSTART, 60),
    Link("drive", "test-water", Relation.FINISHTOFINISH, 0),
    Link("go-or-no-go", "drive", min_gap_min=None, max_gap_min=DAY),
)


def plan(**changes: object) -> Plan:
    made = Plan(
        id="5d0f3a52-6b0e-4a53-9f0c-2f6f4a1c8e11", title="Reef to Harbour Lane", purpose="house-move", way="",
        now=NOW, start=None, zone=DUBLIN, locale="en_IE", units="metric", country="IE", currency="EUR", dates=None,
        places=(_place("mill", "Mill Terrace", "3 Mill Terrace, Ballycove"), _place("harbour", "Harbour Lane", "")),
        drives=(), systems=(), livestock=(), people=(_helper("ines", "Ines Farrow"), _helper("tom", "Tom Reilly")),
        vehicles=(_vehicle("van", "Hired long van"),), water_making=None,
        gear=(GearItem("tubs", "Lidded tub", "tub", 6, 60.0, 0.0, 0.0, 0.0, False, None, True),),
        prices=(), tasks=(), contacts=(), boarding=(), policy={}, low_high=(0.0, 1.0), safe_time_risk=0.05,
        confidence=0.9, assumptions=(), file_name="plan.yaml", lines={},
    )  # fmt: skip
    return replace(made, **changes)  # type: ignore[arg-type]


def _place(id: str, name: str, address: str) -> Place:  # noqa: A002
    return Place(id, name, 0, 0, 10.0, False, "slab", True, True, 18.0, None, None, "IE", address, 22.0)


def _helper(id: str, name: str) -> Helper:  # noqa: A002
    return Helper(id, name, True, True, True, (), (), (), False, Decimal(0), "")


def _vehicle(id: str, name: str) -> Vehicle:  # noqa: A002
    return Vehicle(
        id, name, 900.0, 3.0, 1.7, 1.8, 3, True, None, None, (), Decimal(0), Decimal(0), 12.0, 16.0
    )


def outlook(
    items: Iterable[Item] | None = None,
    *,
    links: tuple[Link, ...] = LINKS,
    states: Mapping[str, State] | None = None,
    start_by: tuple[StartBy, ...] = (StartBy("mix-water", NOW + 20 * DAY, 0.9),),
    now: int = NOW,
    **plan_changes: object,
) -> Outlook:
    rows = tuple(items if items is not None else moving())
    ids = {row.task.id for row in rows}
    kept = tuple(link for link in links if {link.before, link.after} <= ids)
    network = Network(tuple(row.task for row in rows), kept)
    placements = tuple(
        Placement(
            row.task.id,
            row.stretches[0].start,
            row.stretches[-1].finish,
            row.stretches,
            row.people,
            row.vehicles,
        )
        for row in rows
    )
    caution = Caution("lifting", "Two people lift a tub; bend the knees.", "common practice, no source")
    return Outlook(
        project=Project(
            plan(**plan_changes),
            "",
            network,
            SchedulingProblem(network, now, now + 400 * DAY),
            cautions=(caution,),
        ),
        now=now,
        verdict=Verdict.OK,
        problems=(),
        schedule=Schedule(Status.FEASIBLE, Engine.SERIAL, placements),
        risk=RiskSummary(0, 1, (), start_by=tuple(one for one in start_by if one.task in ids)),
        states=dict(states or {}),
    )


def export(seen: Outlook, previous: CalendarExport | None = None, **options: Any) -> CalendarExport:
    return calendar_bytes(
        seen,
        previous.data if previous else None,
        CalendarOptions(**options),
        previous.todos if previous else None,
    )
