"""Every key moves a figure: each limit, and each key of what a plan describes, set to the far ends of its range.

A figure is anything of a project that outputs show: tasks with their times and words, links, ways of animals, loads,
water, gear, findings, the ledger. What only tells where a value comes from counts for nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import fields
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any, get_args

import pytest

from moveplan.errors import CannotBeDoneError
from moveplan.outputs.data.result import result_data
from moveplan.pipeline import judge, schedule
from moveplan.planfile.reader import plan_of
from moveplan.planfile.schema.entry import Entry
from moveplan.planfile.schema.livestock import LivestockEntry
from moveplan.planfile.schema.move import DatesEntry, PlanEntry
from moveplan.planfile.schema.people import (
    BoardingEntry,
    ContactEntry,
    HelperEntry,
    HireEntry,
    LoadSpaceEntry,
    VehicleEntry,
)
from moveplan.planfile.schema.places import DriveEntry, OutsideEntry, PlaceEntry
from moveplan.planfile.schema.risks import MeasureEntry, RiskEntry
from moveplan.planfile.schema.supplies import GearEntry, WaterMakingEntry
from moveplan.planfile.schema.systems import EquipmentEntry, NewTankEntry, SystemEntry, TankEntry
from moveplan.planfile.schema.tasks import LinkEntry, TaskEntry
from moveplan.planfile.schema.words import GEAR_KINDS
from moveplan.practice.compose import project_of
from moveplan.scheduling.effort import Effort
from moveplan.science.limits import Limit, limits
from moveplan.stages.reading import Settings

FOLDER = Path(__file__).parent / "counting"
SHOWN = (
    *("network", "routes", "loads", "water", "water_choices", "quantities", "gear_needed"),
    *("unsafe", "impossible", "findings", "ledger", "meals", "upkeep", "mealtimes"),
)
_ORIGIN = re.compile(r"provenance=<[^>]*>|source='[^']*'")


def digest(text: str) -> bytes:
    """Short stand-in for a text: some hundred plans of many megabytes are compared."""
    return sha256(text.encode()).digest()


@cache
def figures(changes: tuple[str, ...], plan: str, *, steps: bool) -> bytes:
    """Digest of all that outputs show of a plan with some keys set otherwise; of what is wrong where it has none.

    Without the steps of its tasks, which take a third of the time, much is missing, but nothing is there that was not.
    """
    path = FOLDER / plan
    try:
        project = project_of(plan_of(path.read_bytes(), path, changes=changes), steps=steps)
    except CannotBeDoneError as error:
        return digest(f"{error!r}: {error}")
    assert set(SHOWN) <= {field.name for field in fields(project)}
    return digest(_ORIGIN.sub("", "\n".join(repr(getattr(project, name)) for name in SHOWN)))


def figures_move(before: tuple[str, ...], after: tuple[str, ...], plan: str) -> bool:
    """Whether a figure differs; the steps are made only where nothing else does."""
    return any(
        figures(before, plan, steps=steps) != figures(after, plan, steps=steps) for steps in (False, True)
    )


@cache
def result(changes: tuple[str, ...] = (), plan: str = "move.yaml") -> bytes:
    """Digest of all of result.json of a plan with some keys set otherwise, the assumptions left out."""
    path = FOLDER / plan
    settings = Settings(effort=Effort(seconds=0.01, engine="serial"), runs=20)
    project = project_of(plan_of(path.read_bytes(), path, changes=changes))
    data = result_data(judge(*schedule(project, settings), settings))
    return digest(repr({name: value for name, value in data.items() if name != "assumptions"}))


def results_move(before: tuple[str, ...], after: tuple[str, ...], plan: str) -> bool:
    """Whether result.json differs."""
    return result(before, plan) != result(after, plan)


def ends(limit: Limit) -> Iterable[float]:
    """Both ends of a limit, the farther one first, that which is usual left out."""
    found = sorted((limit.low, limit.high), key=lambda end: -abs(end - limit.value))
    return [end for end in found if end != limit.value]


def written(limit: Limit, value: float) -> str:
    unit = "" if limit.unit == "-" else f" {limit.unit}"
    return f"policy.{limit.name.replace('_', '-')}={value:g}{unit}"


_BAG = ("livestock.clowns.container=bag", "livestock.clowns.size=9 cm")
_ONE = ("gear.tubs.volume=60 l", "livestock.clowns.size=11 cm")
_TANG = ("livestock.tang={kind: yellow-tang, count: 1, size: 12 cm}",)
_LARGE = (
    "livestock.clowns.kind=lionfish",
    "livestock.clowns.size=22 cm",
    "livestock.clowns.temperament=predator",
)
_ORDINARY = ("livestock.clowns.kind=dwarf-angelfish", "livestock.clowns.size=10 cm")
_FEW = ("livestock.tangs.count=1", "livestock.tangs.size=8 cm", "systems.reef.rock=25 kg")
_FISH = tuple(f"livestock.{name}=none" for name in ("shrimp", "snails", "birdsnest"))
PLANS: dict[str, tuple[str, tuple[str, ...]]] = {
    "temperature_ceiling": ("move.yaml", ("vehicles.van.air-temperature-high=38 C",)),
    "longest_sealed_air": ("move.yaml", _BAG),
    "longest_sealed_oxygen": ("move.yaml", (*_BAG, "gear.gas={kind: oxygen, count: 1}")),
    "gas_share": ("move.yaml", _BAG),
    "fast_least": ("move.yaml", _ORDINARY),
    "fast_whole": ("move.yaml", _ORDINARY),
    "fast_greatest": ("move.yaml", _ORDINARY),
    "fish_hard": ("move.yaml", _TANG),
    "trap_fish": ("move.yaml", ("livestock.tangs={kind: yellow-tang, count: 6, size: 12 cm}",)),
    "ammonia_short_limit": ("move.yaml", _TANG),
    "fish_moderate": ("move.yaml", ("livestock.clowns.kind=goby",)),
    "fast_large_least": ("move.yaml", _LARGE),
    "fast_large_greatest": ("move.yaml", _LARGE),
    "fast_large_whole": ("move.yaml", _LARGE),
    "oxygen_rate_soft": ("move.yaml", ("livestock.birdsnest.kind=soft-coral",)),
    "loading_aerated": ("move.yaml", _ONE),
    "holding_density": ("holding.yaml", ()),
    "holding_spare_volume": ("holding.yaml", ()),
    "holding_weekly_change": ("holding.yaml", _FEW),
    "evaporation_daily": ("holding.yaml", ()),
    "gate_nitrite_fish": ("move.yaml", _FISH),
    "gate_nitrate_fish": ("move.yaml", _FISH),
    "heater_margin": ("tank.yaml", ()),
    "removal_by_area": ("tank.yaml", ()),
    "load_step": ("tank.yaml", ()),
    "break_length": ("move.yaml", ("places.new.distance=400 km",)),
    "sand_rinse": ("move.yaml", ("systems.reef.old-sand=replace",)),
    "lift_ride": ("move.yaml", ("places.new.lift=yes",)),
}
"""On which plan, with what set besides, a limit matters; else on the plan of a move as it is."""


@pytest.mark.parametrize("limit", limits().values(), ids=limits())
def test_every_limit_moves_a_figure(limit: Limit) -> None:
    plan, besides = PLANS.get(limit.name, ("move.yaml", ()))
    assert any(figures_move(besides, (*besides, written(limit, end)), plan) for end in ends(limit)), (
        limit.name
    )


Change = str | tuple[str, ...]
"""A key set otherwise; a tuple holds first what is set besides, in both plans, and the change last."""
_AHEAD = (
    *("places.new.distance=1 km", "places.old.steps=100", "dates.access-from=2027-02-20 12:00"),
    *("systems.reef.tank.length=200 cm", "systems.reef.water-kept=0 %"),
)
_PUMP = "gear.pump={kind: pump, count: 1}"
_WATER = "water-making={rate: 400 l/day, storage: 500 l}"
_NEW = "systems.reef.new-tank"
_HIRE = "vehicles.van.hire={from: 2027-03-12 09:00, until: 2027-03-14 20:00}"
_BOARDED = (
    "places.shop={distance: 5 km}",
    "boarding.shop={place: shop, volume: 300 l}",
    "livestock.clowns.boarded=shop",
)
KEYS: dict[type[Entry], dict[str, Change]] = {
    SystemEntry: {
        "name": "systems.reef.name=Long reef",
        "role": (
            "systems.spare={tank: {length: 60 cm, width: 40 cm, height: 40 cm}}",
            "systems.spare.role=holding",
        ),
        "place": ("places.third={distance: 10 km}", "systems.reef.place=third"),
        "moves_to": ("places.third={distance: 10 km}", "systems.reef.moves-to=third"),
        "tank": "systems.reef.tank={length: 90 cm, width: 45 cm, height: 45 cm}",
        "sump": "systems.reef.sump=60 l",
        "stand": "systems.reef.stand=90 kg",
        "salinity": "systems.reef.salinity=33",
        "temperature": "systems.reef.temperature=24 C",
        "ph": (*_BAG, "systems.reef.ph=7.6"),
        "alkalinity": "systems.reef.alkalinity=12 dKH",
        "nitrate": "systems.reef.nitrate=60 mg/l",
        "rock": "systems.reef.rock=30 kg",
        "sand": "systems.reef.sand=30 kg",
        "sand_depth": "systems.reef.sand-depth=12 cm",
        "old_sand": "systems.reef.old-sand=replace",
        "water_kept": "systems.reef.water-kept=20 %",
        "feed": "systems.reef.feed=5 g/day",
        "age": "systems.reef.age=11 years",
        "equipment": "systems.reef.equipment.pump=none",
        "new_tank": f"tank {_NEW}={{tank: {{length: 120 cm, width: 60 cm, height: 55 cm}}}}",
    },
    TankEntry: {
        "length": "systems.reef.tank.length=85 cm",
        "width": "systems.reef.tank.width=50 cm",
        "height": "systems.reef.tank.height=50 cm",
        "wall": "systems.reef.tank.wall=15 mm",
        "base": "systems.reef.tank.base=19 mm",
        "material": "systems.reef.tank.material=acrylic",
        "water_height": "systems.reef.tank.water-height=30 cm",
    },
    EquipmentEntry: {
        "name": "systems.reef.equipment.pump.name=Old pump",
        "kind": "systems.reef.equipment.pump.kind=skimmer",
        "count": "systems.reef.equipment.pump.count=2",
        "power": "systems.reef.equipment.heater.power=50 W",
        "flow": "tank systems.reef.new-tank.equipment.p={kind: return-pump, flow: 900 l/h}",
        "mass": "systems.reef.equipment.pump.mass=30 kg",
    },
    NewTankEntry: {
        "tank": f"tank {_NEW}.tank.length=110 cm",
        "sump": f"tank {_NEW}.sump=90 l",
        "stand": f"tank {_NEW}.stand=120 kg",
        "spot": f"tank {_NEW}.spot=same",
        "delivery": f"tank {_NEW}.delivery=8 weeks",
        "price": (_WATER, f"tank {_NEW}.price=900"),
        "rock": f"tank {_NEW}.rock=20 kg",
        "seeding": f"tank {_NEW}.seeding=bare",
        "sand": f"tank {_NEW}.sand=20 kg",
        "equipment": f"tank {_NEW}.equipment.heater=none",
    },
    PlaceEntry: {
        "name": "places.new.name=Mill Lane",
        "floor": "places.new.floor=4",
        "steps": "places.new.steps=40",
        "carry": "places.new.carry=60 m",
        "lift": "places.new.lift=yes",
        "floor_kind": "places.new.floor-kind=slab",
        "water": (*_AHEAD, "places.new.water=no"),
        "power": (*_AHEAD, "places.new.power=no"),
        "room_temperature": "places.new.room-temperature=10 C",
        "room_temperature_high": "places.new.room-temperature-high=36 C",
        "altitude": "places.new.altitude=2200 m",
        "door_width": "places.new.door-width=40 cm",
        "circuit": "tank places.home.circuit=200 W",
        "country": "places.new.country=GB",
        "address": "places.new.address=4 Harbour Lane",
        "distance": "places.new.distance=90 km",
        "drive": "places.new.drive=90 min",
        "from_base": "places.new.from-base=12 km",
        "area": "places.new.area=harbour",
    },
    VehicleEntry: {
        "name": "vehicles.van.name=Blue van",
        "payload": "vehicles.van.payload=150 kg",
        "load_space": "vehicles.van.load-space={length: 1 m, width: 1 m, height: 1 m}",
        "seats": "vehicles.van.seats=1",
        "hired": "vehicles.van.hired=yes",
        "hire": (
            "vehicles.van.hired=yes",
            "vehicles.van.hire={from: 2027-03-13 09:00, until: 2027-03-13 20:00}",
        ),
        "hours": "vehicles.van.hours=10:00-20:00",
        "cost": "vehicles.van.cost=90 per day",
        "late_change": ("vehicles.van.hired=yes", "vehicles.van.late-change=60 within 3 days"),
        "air_temperature": "vehicles.van.air-temperature=-5 C",
        "air_temperature_high": "vehicles.van.air-temperature-high=38 C",
        "load_space_air": "vehicles.van.load-space-air=heated",
        "parked": ("vehicles.van.air-temperature-high=28 C", "vehicles.van.parked=sun"),
    },
    LoadSpaceEntry: {side: f"vehicles.van.load-space.{side}=0.4 m" for side in ("length", "width", "height")},
    LivestockEntry: {
        "name": "livestock.clowns.name=Old clowns",
        "kind": "livestock.clowns.kind=goby",
        "count": "livestock.clowns.count=4",
        "size": "livestock.clowns.size=9 cm",
        "mass": "livestock.clowns.mass=30 g",
        "temperament": "livestock.clowns.temperament=timid",
        "system": (
            "systems.other={tank: {length: 40 cm, width: 40 cm, height: 40 cm}}",
            "livestock.clowns.system=other",
        ),
        "value": "livestock.clowns.value=90",
        "leaves": "livestock.clowns.leaves=1",
        "sick": "livestock.clowns.sick=1",
        "boarded": (
            "places.shop={distance: 5 km}",
            "boarding.shop={place: shop, volume: 300 l}",
            "livestock.clowns.boarded=shop",
        ),
        "wished": "livestock.clowns.wished=yes",
        "container": "livestock.clowns.container=bag",
    },
    GearEntry: {
        "name": "gear.tubs.name=Blue tubs",
        "kind": "gear.tubs.kind=can",
        "count": "gear.tubs.count=1",
        "volume": "gear.tubs.volume=60 l",
        "power": ("gear.heater={kind: heater, count: 2}", "gear.heater.power=25 W"),
        "flow": (_PUMP, "gear.pump.flow=500 l/h"),
        "battery": "gear.pumps.battery=2 h",
        "insulated": ("livestock.clowns.container=tub", "gear.tubs.insulated=yes"),
        "price": ("gear.tubs.count=1", "gear.tubs.price=99"),
        "owned": "gear.tubs.owned=no",
        "outlets": (*_TANG, "gear.pumps.outlets=1"),
        "owner": "gear.tubs.owner=client",
    },
    WaterMakingEntry: {
        "rate": "water-making.rate=50 l/day",
        "rated_pressure": "water-making.rated-pressure=6 bar",
        "feed_pressure": "water-making.feed-pressure=2 bar",
        "water_temperature": "water-making.water-temperature=5 C",
        "waste_ratio": "water-making.waste-ratio=6",
        "storage": "water-making.storage=20 l",
        "salt_moisture": "water-making.salt-moisture=12 %",
        "ready_mixed": "water-making.ready-mixed=yes",
    },
    HelperEntry: {
        "name": "people.ana.name=Anastasia",
        "lifts": "people.ben.lifts=no",
        "drives": "people.ben.drives=yes",
        "cares": "people.ben.cares=yes",
        "lead": "people.ben.lead=yes",
        "hours": "people.ana.hours={sun: 10:00-12:00}",
        "moving_day": "people.ana.moving-day=05:00-23:30",
        "evening_before": "people.ana.evening-before=13:00-24:00",
        "away": "people.ana.away=2027-01-05 to 2027-03-05",
        "holidays_off": (
            "people.ana.hours=10:00-20:00",
            "people.ben.hours=10:00-20:00",
            "dates.access-from=2027-03-17 09:00",
            "dates.move-day=2027-03-18",
            "people.ana.holidays-off=yes",
        ),
        "cost": "people.ben.cost=20 per hour",
        "late_change": (
            "dates.fall-back-day=2027-03-20",
            "people.ben.cost=20 per hour",
            "people.ben.late-change=40 within 3 days",
        ),
        "place": ("places.third={distance: 90 km}", "people.ana.place=third"),
        "email": "people.ana.email=ana@example.net",
        "phone": "people.ana.phone=555 0101",
    },
    HireEntry: {
        "from_": (_HIRE, "vehicles.van.hire.from=2027-03-13 05:00"),
        "until": (_HIRE, "vehicles.van.hire.until=2027-03-15 09:00"),
    },
    DatesEntry: {
        "move_day": "dates.move-day=2027-03-14",
        "move_window": (
            "dates={move-window: 2027-03-13 to 2027-03-14, access-from: 2027-03-08 12:00}",
            "dates.move-window=2027-03-15 to 2027-03-16",
        ),
        "fall_back_day": "dates.fall-back-day=2027-03-20",
        "move_in_day": "holding dates.move-in-day=2027-05-24",
        "restart_day": ("way=shut-down", "dates.restart-day=2027-06-01"),
        "access_from": "dates.access-from=2027-03-11 12:00",
        "keys_back": "dates.keys-back=2027-03-14 12:00",
        "earliest_start": "dates.earliest-start=2027-02-20 09:00",
    },
    OutsideEntry: {
        "low": ("outside={low: 2 C, high: 9 C}", "outside.low=-12 C"),
        "high": ("outside={low: 2 C, high: 9 C}", "outside.high=36 C"),
    },
    DriveEntry: {
        "from_": "holding drives=[{from: old, to: new, distance: 50 km}]",
        "to": "holding drives=[{from: shed, to: old, distance: 50 km}]",
        "distance": "holding drives=[{from: shed, to: new, distance: 150 km}]",
        "drive": "holding drives=[{from: shed, to: new, distance: 50 km, drive: 3 h}]",
    },
    BoardingEntry: {
        "name": (*_BOARDED, "boarding.shop.name=Quay shop"),
        "place": ("places.third={distance: 90 km}", *_BOARDED, "boarding.shop.place=third"),
        "volume": (*_BOARDED, "boarding.shop.volume=6 l"),
        "takes": (*_BOARDED, "boarding.shop.takes=[corals]"),
        "cost": (*_BOARDED, "boarding.shop.cost=9 per day"),
        "from_": (*_BOARDED, "boarding.shop.from=2027-03-20"),
        "until": (*_BOARDED, "boarding.shop.until=2027-03-14"),
    },
    ContactEntry: {
        "name": ("contacts.vet={role: vet}", "contacts.vet.name=Quay vet"),
        "role": ("contacts.vet={role: plumber, name: Quay vet}", "contacts.vet.role=vet"),
        "phone": ("contacts.vet={role: vet, name: Quay vet}", "contacts.vet.phone=555 0100"),
    },
}
"""What moves a figure, for each key of each thing in a plan; on the plan of a larger tank after its name."""


RESULTS = {
    *((NewTankEntry, "price"), (VehicleEntry, "hours"), (VehicleEntry, "cost"), (LivestockEntry, "value")),
    *((GearEntry, "name"), (GearEntry, "price"), (BoardingEntry, "cost")),
    *((HelperEntry, key) for key in HelperEntry.model_fields if key not in ("lifts", "lead")),
    *((HireEntry, "from_"), (HireEntry, "until")),
    *((DatesEntry, key) for key in ("move_day", "move_window", "keys_back", "earliest_start")),
}
"""Keys that move no figure before there is a schedule and a bill."""
ELSEWHERE = {
    (PlaceEntry, "address"): "tests/cli/test_calendar_options.py",
    (GearEntry, "owner"): "tests/firm/test_file.py",
    (PlaceEntry, "from_base"): "tests/firm/test_file.py",
    (PlaceEntry, "area"): "tests/firm/test_file.py",
    (HelperEntry, "email"): "tests/outputs/calendar/test_invited.py",
    (HelperEntry, "phone"): "tests/outputs/documents/test_checklist.py",
    (ContactEntry, "phone"): "tests/outputs/documents/test_checklist.py",
}
"""Keys that move no figure of a result, and the test in which they move another."""
TESTED_ELSEWHERE: dict[type[Entry], str] = {
    PlanEntry: "tests/planfile/test_reader.py",
    TaskEntry: "tests/cli/test_own_tasks.py",
    LinkEntry: "tests/cli/test_own_tasks.py",
    RiskEntry: "tests/risk/register/test_ranked.py",
    MeasureEntry: "tests/risk/register/test_ranked.py",
}
"""Parts of a plan file that describe no thing of the move, and where their keys are turned."""


def parts(thing: type[Entry]) -> Iterator[type[Entry]]:
    """Walk the plan file's schema: every kind of entry below one, itself first."""
    yield thing
    for field in thing.model_fields.values():
        for inner in _entries(field.annotation):
            yield from parts(inner)


def _entries(annotation: Any) -> Iterator[type[Entry]]:
    if isinstance(annotation, type) and issubclass(annotation, Entry):
        yield annotation
    for inner in get_args(annotation):
        yield from _entries(inner)


def test_no_part_of_a_plan_file_is_left_out() -> None:
    found = set(parts(PlanEntry))
    assert {SystemEntry, TankEntry, GearEntry, HireEntry, LinkEntry} < found
    assert found == KEYS.keys() | TESTED_ELSEWHERE.keys()
    assert not KEYS.keys() & TESTED_ELSEWHERE.keys()


_HOT = ("vehicles.van.air-temperature-high=45 C", "places.new.room-temperature=30 C")
BESIDE: dict[str, tuple[str, ...]] = {
    "tub": ("gear.tubs.count=1",),
    "bag": _BAG,
    "oxygen": _LARGE,
    "ice-bottle": _HOT,
    "lifters": ("systems.reef.tank.length=150 cm",),
    "straps": ("systems.reef.tank.length=150 cm",),
    "dolly": ("systems.reef.tank.length=150 cm",),
}
"""What else is set where a kind of gear matters; on the plan of a move as it is, the others do."""


@pytest.mark.parametrize("kind", [kind for kind in GEAR_KINDS if kind != "other"])
def test_every_kind_of_gear_moves_a_figure(kind: str) -> None:
    besides = BESIDE.get(kind, ())
    assert figures_move(besides, (*besides, f"gear.more={{kind: {kind}, count: 1}}"), "move.yaml")


def test_no_key_is_left_out() -> None:
    for thing, changes in KEYS.items():
        assert set(changes) == set(thing.model_fields), thing.__name__


@pytest.mark.parametrize(
    ("thing", "key"),
    [(thing, key) for thing, row in KEYS.items() for key in row if (thing, key) not in ELSEWHERE],
    ids=lambda one: one if isinstance(one, str) else one.__name__,
)
def test_every_key_of_a_thing_moves_a_figure(thing: type[Entry], key: str) -> None:
    change = KEYS[thing][key]
    *besides, last = (change,) if isinstance(change, str) else change
    plan, _, change = last.partition(" ") if last.startswith(("tank ", "holding ")) else ("move", "", last)
    move = results_move if (thing, key) in RESULTS else figures_move
    assert move(tuple(besides), (*besides, change), f"{plan}.yaml")
