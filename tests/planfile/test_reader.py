"""What a plan file means: values in the program's units, both forms of sections, assumptions."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import yaml

from moveplan.errors import PlanFileError
from moveplan.estimate import Provenance
from moveplan.hours import Absence, HoursRule
from moveplan.plan.move import Plan
from moveplan.plan.places import ThreePoint
from moveplan.planfile import read_plan
from moveplan.planfile.text import composed
from moveplan.planfile.walk import plain
from moveplan.times import at_local, to_minutes
from tests.cli.command import FOOTBRIDGE

FULL = Path(__file__).parent / "full_plan.yaml"
EXAMPLES = Path(__file__).parents[2] / "examples"
NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001
DUBLIN = ZoneInfo("Europe/Dublin")

Reader = Callable[[str], Plan]

HEAD = """
title: A move
purpose: house-move
as-of: 2027-01-04 09:00
timezone: Europe/Dublin
country: IE
dates: {move-day: 2027-03-13}
"""
PLACES = "places: {old: {}, new: {distance: 20 km}}\n"
SYSTEMS = "systems: {reef: {tank: {length: 120 cm, width: 60 cm, height: 55 cm}}}\n"
OWN = "title: Footbridge\npurpose: own-tasks\ntimezone: Europe/Dublin\nstart: 2027-03-01 08:00\n"


@pytest.fixture
def read(tmp_path: Path) -> Reader:
    def reading(text: str) -> Plan:
        file = tmp_path / "plan.yaml"
        file.write_text(text, "utf-8")
        put_tables_beside(file)
        return read_plan(file, NOW)

    return reading


def put_tables_beside(plan: Path) -> None:
    """Copy the tables that an example may name."""
    for table in EXAMPLES.glob("*.csv"):
        shutil.copy(table, plan.parent)


def minute(text: str) -> int:
    day, clock = text.split()
    hours, minutes = clock.split(":")
    return at_local(date.fromisoformat(day), int(hours) * 60 + int(minutes), DUBLIN)


# --- own tasks -----------------------------------------------------------------------------------------


def test_own_tasks(read: Reader) -> None:
    plan = read(FOOTBRIDGE)
    footing, deck, rail = plan.tasks
    assert plan.start == minute("2027-03-01 08:00")
    assert (plan.dates, plan.water_making, plan.systems) == (None, None, ())
    assert [(item.id, item.count, item.kind) for item in plan.gear] == [("pumps", 2, "other")]
    assert (footing.title, footing.minutes, footing.gear) == (
        "Pour the footing",
        ThreePoint(180, 180, 180),
        (("pumps", 1),),
    )
    assert (deck.title, deck.minutes.likely, deck.line) == ("deck", 1440, 12)
    link = deck.after[0]
    assert (link.task, link.relation, link.gap_min, link.at_most_min) == ("footing", "FINISHTOSTART", 0, None)
    link = rail.after[0]
    assert (link.task, link.relation, link.gap_min, link.at_most_min) == ("deck", "STARTTOSTART", 30, 240)
    assert (link.line, rail.line) == (18, 15)
    assert (rail.not_before, rail.finish_by) == (minute("2027-03-02 09:00"), minute("2027-03-05 17:00"))
    assert rail.may_pause
    assert not deck.may_pause
    assert plan.low_high == (0.0, 1.0)


def test_ways_to_write_a_task(read: Reader) -> None:
    plan = read(
        OWN
        + """low-high: P10-P90
people:
  ines: {hours: {mon-fri: 09:00-17:00}}
  tom: {}
vehicles: {van: {}}
places: {yard: {}}
gear: {pumps: {count: 3}, saws: {}}
tasks:
  a: {duration: "0 h", people: 2}
  b:
    duration: {low: 1 h, likely: 90 min, high: 1 day}
    after: a
    people: [ines, tom]
    vehicles: van
    gear: [pumps, saws]
    place: yard
    steps: [Cut, Carry]
  c:
    duration: 1 week 1 day
    after:
      - a
      - {task: b, relation: finishtofinish, gap: none, at-most: 2 days}
      - {task: a, gap: -30 min}
    people: tom
    not-before: 2027-03-02
    finish-by: 2027-03-05
"""
    )
    a, b, c = plan.tasks
    assert plan.low_high == (0.1, 0.9)
    assert (a.minutes.likely, a.people_count, a.people) == (0, 2, ())
    assert b.minutes == ThreePoint(60, 90, 1440)
    assert (b.people_count, b.people, b.vehicles, b.place) == (0, ("ines", "tom"), ("van",), "yard")
    assert (b.gear, b.steps) == ((("pumps", 1), ("saws", 1)), ("Cut", "Carry"))
    assert c.minutes.likely == 8 * 1440
    assert [(link.task, link.relation, link.gap_min, link.at_most_min) for link in c.after] == [
        ("a", "FINISHTOSTART", 0, None),
        ("b", "FINISHTOFINISH", None, 2880),
        ("a", "FINISHTOSTART", -30, None),
    ]
    assert (c.not_before, c.finish_by) == (minute("2027-03-02 00:00"), minute("2027-03-06 00:00"))
    assert plan.people[0].hours == (HoursRule("FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR", 540, 1020),)
    assert plan.people[1].hours == (HoursRule("FREQ=DAILY", 0, 1440),)


def test_circles_of_other_kinds_are_left_to_the_network(read: Reader) -> None:
    plan = read(
        OWN
        + """tasks:
  a: {duration: 1 h, after: [{task: b, gap: -3 h}]}
  b: {duration: 1 h, after: [a]}
  c: {duration: 1 h, after: [{task: d, relation: STARTTOSTART, gap: none, at-most: 2 h}]}
  d: {duration: 1 h, after: [{task: c, relation: STARTTOSTART}]}
"""
    )
    assert len(plan.tasks) == 4


def test_start_is_now_where_none_is_given(read: Reader) -> None:
    plan = read("title: T\npurpose: own-tasks\ntasks: {a: {duration: 1 h}}\n")
    assert plan.start == plan.now == to_minutes(NOW.replace(tzinfo=UTC))
    assert {"start", "timezone", "id"} <= {assumption.key for assumption in plan.assumptions}


def test_purpose_is_seen_from_the_sections(read: Reader) -> None:
    assert read("title: T\ntasks: {a: {duration: 1 h}}\n").purpose == "own-tasks"
    assert read(HEAD.replace("purpose: house-move\n", "") + PLACES + SYSTEMS).purpose == "house-move"


# --- time ----------------------------------------------------------------------------------------------


def test_now_is_asked_for_else_as_of_else_the_clock(tmp_path: Path) -> None:
    file = tmp_path / "plan.yaml"
    file.write_text(HEAD + PLACES + SYSTEMS, "utf-8")
    assert read_plan(file).now == minute("2027-01-04 09:00")
    assert read_plan(file, datetime(2027, 2, 1, 8, tzinfo=UTC)).now == minute("2027-02-01 08:00")
    assert read_plan(file, datetime(2027, 2, 2, 8)).now == minute("2027-02-02 08:00")  # noqa: DTZ001
    file.write_text("title: T\ntasks: {a: {duration: 1 h}}\n", "utf-8")
    before = to_minutes(datetime.now(UTC))
    assert before <= read_plan(file).now <= to_minutes(datetime.now(UTC))


def test_times_with_an_offset(read: Reader) -> None:
    plan = read(
        OWN.replace("2027-03-01 08:00", "2027-03-01T08:00:00-06:00") + "tasks: {a: {duration: 1 h}}\n"
    )
    assert plan.start == to_minutes(datetime(2027, 3, 1, 14, tzinfo=UTC))


def test_dates(read: Reader) -> None:
    text = HEAD.replace(
        "{move-day: 2027-03-13}",
        "{move-window: 2027-03-06 to 2027-03-08, access-from: 2027-03-01, keys-back: 2027-03-20, "
        "earliest-start: 2027-01-09 08:00}",
    )
    dates = read(text + PLACES + SYSTEMS).dates
    assert dates is not None
    assert dates.move_days == (date(2027, 3, 6), date(2027, 3, 7), date(2027, 3, 8))
    assert dates.fall_back_day is None
    assert dates.access_from == minute("2027-03-01 00:00")
    assert dates.keys_back == minute("2027-03-21 00:00")
    assert dates.earliest_start == minute("2027-01-09 08:00")


def test_fall_back_day_is_assumed_while_the_keys_allow_it(read: Reader) -> None:
    dates = read(HEAD + PLACES + SYSTEMS).dates
    assert dates is not None
    assert dates.fall_back_day == date(2027, 3, 20)
    late = HEAD.replace("{move-day: 2027-03-13}", "{move-day: 2027-03-13, keys-back: 2027-03-16}")
    dates = read(late + PLACES + SYSTEMS).dates
    assert dates is not None
    assert dates.fall_back_day is None


def test_hours_and_absences(read: Reader) -> None:
    plan = read(
        HEAD
        + PLACES
        + SYSTEMS
        + """people:
  ines:
    hours: {mon-wed: [09:00-12:00, 13:00-17:00], sat: 22:00-02:00}
    away:
      - 2027-02-13 to 2027-02-14
      - 2027-03-01
      - {rule: "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU", from: 2027-01-05, until: 2027-02-28}
  tom:
    hours:
      - {rule: FREQ=MONTHLY;BYDAY=1SA, from: 09:00, to: 18:00}
      - 20:00-21:00
    moving-day: [07:00-12:00, 13:00-20:00]
    holidays-off: yes
  bea: {hours: 08:00-20:00, away: 2027-03-02}
"""
    )
    ines, tom, bea = plan.people
    weekdays = "FREQ=WEEKLY;BYDAY=MO,TU,WE"
    assert ines.hours == (
        HoursRule(weekdays, 540, 720),
        HoursRule(weekdays, 780, 1020),
        HoursRule("FREQ=WEEKLY;BYDAY=SA", 1320, 1560),
    )
    assert ines.absences == (
        Absence(date(2027, 2, 13), date(2027, 2, 14)),
        Absence(date(2027, 3, 1), date(2027, 3, 1)),
        Absence(date(2027, 1, 5), date(2027, 2, 28), "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU"),
    )
    assert tom.hours == (HoursRule("FREQ=MONTHLY;BYDAY=1SA", 540, 1080), HoursRule("FREQ=DAILY", 1200, 1260))
    assert tom.moving_day_hours == (HoursRule("FREQ=DAILY", 420, 720), HoursRule("FREQ=DAILY", 780, 1200))
    assert tom.holidays_off
    assert bea.hours == (HoursRule("FREQ=DAILY", 480, 1200),)


def test_first_person_drives_where_nobody_is_said_to(read: Reader) -> None:
    people = read(HEAD + PLACES + SYSTEMS + "people: {ines: {}, tom: {}}\n").people
    assert [(person.drives, person.cares, person.lifts) for person in people] == [
        (True, True, True),
        (False, False, True),
    ]
    people = read(HEAD + PLACES + SYSTEMS + "people: {ines: {}, tom: {drives: yes}}\n").people
    assert [person.drives for person in people] == [False, True]


# --- units and money -----------------------------------------------------------------------------------


def test_a_full_plan_in_program_units() -> None:
    plan = read_plan(FULL)
    display = plan.system("display")
    assert (display.tank.length_m, display.tank.wall_m, display.tank.water_height_m) == (1.2, 0.012, 0.5)
    assert (display.sump_l, display.temperature_c, display.alkalinity_dkh, display.age_months) == (
        80,
        25.5,
        8,
        48,
    )
    assert (display.place, display.moves_to, display.water_kept) == ("mill", "harbour", None)
    assert [(item.id, item.count, item.power_w) for item in display.equipment][:2] == [
        ("heater", 2, 200),
        ("return", 1, 45),
    ]
    drive = plan.drive("harbour", "mill")
    assert drive is not None
    assert (drive.distance_km, drive.minutes) == (38, ThreePoint(40, 50, 95))
    van = plan.vehicles[0]
    assert (van.payload_kg, van.load_length_m, van.air_temperature_c) == (1100, 3.7, 8)
    assert (van.cost_per_day, van.cost_per_km) == (Decimal(95), Decimal(0))
    assert (van.hired, van.hire_from) == (True, minute("2027-03-12 16:00"))
    assert plan.people[2].cost_per_hour == Decimal(18)
    assert plan.prices[0].amount == Decimal("3.20")
    assert plan.water_making is not None
    assert (plan.water_making.rate_l_day, plan.water_making.storage_l) == (190, 250)
    assert {animals.id: animals.kind for animals in plan.livestock}["hermits"] == "hermit-crab"
    lines = FULL.read_text("utf-8").splitlines()
    line = next(number for number, text in enumerate(lines, start=1) if text.startswith("    tank: {length"))
    assert plan.where("systems.display.tank.length") == f"full_plan.yaml:{line} systems.display.tank.length"
    assert plan.provenance("systems.display.rock") is Provenance.GIVEN


@pytest.mark.parametrize(
    ("text", "amount", "unit"),
    [
        ("3.20 per kg", "3.20", "kg"),
        ("3.20/kg", "3.20", "kg"),
        ("3.20 EUR per kg", "3.20", "kg"),
        ("58 per 25 kg", "2.32", "kg"),
        ("2 per g", "2000", "kg"),
        ("2 per lb", "4.409245243697551", "kg"),
        ("0.5 per US gal", "0.1320860261790618", "l"),
        ("0.30 per km", "0.30", "km"),
        ("1 per mile", "0.621371192237334", "km"),
        ("18 per hour", "18", "hour"),
        ("95 per day", "95", "day"),
        ("0.28 per kWh", "0.28", "kWh"),
        ("4 per item", "4", "item"),
        ("4 each", "4", "item"),
    ],
)
def test_prices(read: Reader, text: str, amount: str, unit: str) -> None:
    price = read(HEAD + "currency: EUR\n" + PLACES + SYSTEMS + f"prices: {{salt: {text}}}\n").prices[0]
    assert (round(price.amount, 12), price.unit) == (round(Decimal(amount), 12), unit)


def test_rates_of_a_vehicle(read: Reader) -> None:
    van = read(HEAD + PLACES + SYSTEMS + "vehicles: {van: {cost: [95 per day, 0.3 per km]}}\n").vehicles[0]
    assert (van.cost_per_day, van.cost_per_km) == (Decimal(95), Decimal("0.3"))


@pytest.mark.parametrize(
    ("text", "salinity"),
    [
        ("35", 35),
        ("35 ppt", 35),
        ("34.5 psu", 34.5),
        ("{specific-gravity: 1.0264, sample: 25 C, reference: 25 C}", 35),
    ],
)
def test_salinity(read: Reader, text: str, salinity: float) -> None:
    system = f"systems: {{reef: {{tank: {{length: 1 m, width: 1 m, height: 1 m}}, salinity: {text}}}}}\n"
    # 1.0264 at 25/25 °C is practical salinity 35 to the last digit of a refractometer (TEOS-10).
    assert read(HEAD + PLACES + system).systems[0].salinity_psu == pytest.approx(salinity, abs=0.1)


def test_limits(read: Reader) -> None:
    text = "policy: {alarm-oxygen: 4.5 mg/l, longest_aerated: 600 min, safety-factor: 0.5}\n"
    assert read(HEAD + PLACES + SYSTEMS + text).policy == {
        "alarm_oxygen": 4.5,
        "longest_aerated": 10.0,
        "safety_factor": 0.5,
    }


def test_shares(read: Reader) -> None:
    plan = read(HEAD + PLACES + SYSTEMS + "confidence: 80 %\nsafe-time-risk: 2.5 %\n")
    assert (plan.confidence, plan.safe_time_risk) == (0.8, 0.025)


def test_what_is_likely_is_kept_in_half_and_own_tasks_promise_nothing(read: Reader) -> None:
    assert read(HEAD + PLACES + SYSTEMS + "confidence: likely\n").confidence == 0.5
    own = "title: T\npurpose: own-tasks\nas-of: 2027-01-04 09:00\ntasks: {a: {duration: 1 h}}\n"
    for written, said in (("99 %", True), ("likely", False)):
        assumed = {one.key: one.value for one in read(own + f"confidence: {written}\n").assumptions}
        assert ("confidence" in assumed) is said


# --- both forms, head, drives --------------------------------------------------------------------------


def test_lists_with_ids_and_mappings_mean_the_same() -> None:
    content = plain(composed(FULL.read_text("utf-8"))[0])

    def listed(rows: dict[str, Any]) -> list[dict[str, Any]]:
        return [{"id": entry_id, **entry} for entry_id, entry in rows.items()]

    plan = read_content(content)
    for section in ("places", "systems", "livestock", "people", "vehicles", "contacts"):
        content[section] = listed(content[section])
    content["systems"][0]["equipment"] = listed(content["systems"][0]["equipment"])
    content["gear"] = {row.pop("id"): row for row in content["gear"]}
    assert without_lines(read_content(content)) == without_lines(plan)


def read_content(content: dict[str, Any]) -> Plan:
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as folder:
        file = Path(folder) / "plan.yaml"
        file.write_text(yaml.safe_dump(content, sort_keys=False, default_style='"', width=1000), "utf-8")
        put_tables_beside(file)
        return read_plan(file, NOW)


def without_lines(plan: Plan) -> Plan:
    """Leave out where things stand in the file, and whether the air outside was written there."""
    outside = plan.outside and replace(plan.outside, known=Provenance.GIVEN)
    tasks = tuple(replace(task, line=0) for task in plan.tasks)
    return replace(plan, lines={}, tasks=tasks, outside=outside)


def test_country_locale_and_currency_follow(read: Reader) -> None:
    plan = read(HEAD.replace("country: IE\n", "") + PLACES + SYSTEMS)
    assert (plan.country, plan.locale, plan.currency, plan.units) == ("IE", "en_IE", "EUR", "metric")
    plan = read(
        HEAD.replace("country: IE\n", "").replace("Europe/Dublin", "America/Chicago") + PLACES + SYSTEMS
    )
    assert (plan.country, plan.locale, plan.currency, plan.units) == ("US", "en_US", "USD", "us")
    plan = read(HEAD.replace("country: IE\n", "locale: fr_CH\n") + PLACES + SYSTEMS)
    assert (plan.country, plan.currency) == ("CH", "CHF")


def test_id_is_derived_from_the_title_and_said(read: Reader) -> None:
    first, again = read(HEAD + PLACES + SYSTEMS), read("# a comment\n" + HEAD + PLACES + SYSTEMS)
    other = read(HEAD.replace("A move", "Another") + PLACES + SYSTEMS)
    assert first.id == again.id != other.id
    said = {assumption.key: assumption for assumption in first.assumptions}["id"]
    assert said.value == first.id
    assert f'paste "id: {first.id}"' in said.why
    assert read(HEAD + "id: urn:our-reef:1\n" + PLACES + SYSTEMS).id == "urn:our-reef:1"


def test_way_between_two_other_places_is_by_way_of_the_first(read: Reader) -> None:
    places = (
        "places: {old: {}, new: {distance: 20 km, drive: 30 min}, shop: {distance: 5 km, drive: 10 min}}\n"
    )
    drive = read(HEAD + places + SYSTEMS).drive("new", "shop")
    assert drive is not None
    assert (drive.distance_km, drive.minutes) == (25, ThreePoint(40, 40, 40))
    given = "drives: [{from: shop, to: new, distance: 9 km, drive: 12 min}]\n"
    drive = read(HEAD + places + SYSTEMS + given).drive("new", "shop")
    assert drive is not None
    assert (drive.distance_km, drive.minutes) == (9, ThreePoint(12, 12, 12))


def test_larger_tank_at_home(read: Reader) -> None:
    plan = read(
        HEAD.replace("house-move", "larger-tank")
        + """places: {home: {}}
systems:
  reef:
    tank: {length: 80 cm, width: 40 cm, height: 45 cm}
    water-kept: 40 %
    new-tank:
      tank: {length: 150 cm, width: 60 cm, height: 60 cm}
      spot: same
      price: 1400
      equipment: {light: {count: 2}}
boarding:
  club: {place: home, volume: 200 l, takes: fish, cost: 2 per day, from: 2027-03-01, until: 2027-04-01}
"""
    )
    reef = plan.system("reef")
    assert (reef.place, reef.moves_to, reef.water_kept) == ("home", "home", 0.4)
    assert reef.new_tank is not None
    assert (reef.new_tank.spot, reef.new_tank.price, reef.new_tank.tank.wall_m) == ("same", "1400", 0.012)
    assert [(item.kind, item.count) for item in reef.new_tank.equipment] == [("light", 2)]
    assert (plan.boarding[0].takes, plan.boarding[0].cost_per_day) == (("fish",), Decimal(2))
    assert plan.vehicles == ()


def test_missing_people_and_vehicles_are_assumed(read: Reader) -> None:
    plan = read(HEAD + PLACES + SYSTEMS)
    assert [person.id for person in plan.people] == ["keeper", "helper"]
    assert [(van.id, van.hired) for van in plan.vehicles] == [("van", True)]


def test_quarantine_tank_is_bare(read: Reader) -> None:
    system = "systems: {q: {role: quarantine, tank: {length: 60 cm, width: 30 cm, height: 30 cm}}}\n"
    q = read(HEAD + PLACES + system).systems[0]
    assert (q.rock_kg, q.sand_kg, q.sand_depth_m, q.sump_l) == (0, 0, 0, 0)


# --- assumptions ---------------------------------------------------------------------------------------


def keyed(row: Any) -> tuple[str, dict[str, Any]]:
    return (row, {}) if isinstance(row, str) else (row.pop("id"), row)


def put(content: dict[str, Any], key: str, value: str) -> None:
    steps, holder = key.split("."), content
    for step in steps[:-1]:
        inner = holder.get(step)
        if isinstance(inner, list):
            inner = dict(map(keyed, inner))
        holder[step] = inner = inner or {}
        holder = inner
    holder[steps[-1]] = plain(composed(f"x: {value}")[0])["x"]


PASTED = [
    *((path.stem, path.read_text("utf-8")) for path in sorted(EXAMPLES.glob("*.yaml"))),
    ("bare", HEAD + PLACES + SYSTEMS),
    ("own-tasks", OWN + "gear: [pumps]\npeople: [ines]\ntasks: {a: {duration: 1 h}}\n"),
    (
        "three places",
        HEAD
        + "places: {a: {}, b: {distance: 5 km}, c: {distance: 7 km}, d: {distance: 9 km}}\n"
        + SYSTEMS
        + "boarding: {x: {place: c, volume: 100 l}}\ngear: [tubs, boxes, heaters]\n",
    ),
]


@pytest.mark.parametrize(("name", "text"), PASTED, ids=[name for name, _text in PASTED])
def test_assumptions_can_be_pasted(read: Reader, name: str, text: str) -> None:
    plan = read(text)
    content = plain(composed(text)[0])
    for assumption in plan.assumptions:
        put(content, assumption.key, assumption.value)
    again = read_content(content)
    assert again.assumptions == ()
    if plan.units == "metric":
        assert without_lines(replace(again, assumptions=plan.assumptions)) == without_lines(plan)


def test_units_change_what_is_printed_and_nothing_else(read: Reader) -> None:
    metric = read(HEAD + PLACES + SYSTEMS + "units: metric\n")
    us = read(HEAD + PLACES + SYSTEMS + "units: us\n")
    assert without_lines(replace(us, units="metric", assumptions=metric.assumptions)) == without_lines(metric)
    said = {assumption.key: assumption.value for assumption in us.assumptions}
    assert (said["places.old.carry"], said["water-making.rate"]) == ("65.6 ft", "50.2 US gal/day")


def test_every_assumption_has_its_reason_and_provenance(read: Reader) -> None:
    plan = read(HEAD + PLACES + SYSTEMS)
    assert all(assumption.why and assumption.value for assumption in plan.assumptions)
    assert plan.provenance("systems.reef.rock") is Provenance.ASSUMED
    assert plan.provenance("systems.reef.equipment.heater.power") is Provenance.ASSUMED
    assert plan.provenance("systems.reef.tank.length") is Provenance.GIVEN
    keys = [assumption.key for assumption in plan.assumptions]
    assert len(keys) == len(set(keys))


# --- files ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("make", "expected"),
    [
        (Path.exists, "there is no such file; look at the name and the folder"),
        (lambda path: path.mkdir(), "this is not a plain file; name a plan file"),
        (lambda path: path.write_bytes(b""), 'the plan is empty; begin with a line such as "title: My reef"'),
        (
            lambda path: path.write_bytes(b"a: b\n" * 1_000_000),
            "the file is larger than 4 MB; a plan is far smaller; split it into several plans",
        ),
        (lambda path: path.symlink_to("/dev/zero"), "this is not a plain file; name a plan file"),
    ],
    ids=["missing", "folder", "empty", "too large", "device"],
)
def test_files_that_are_no_plan(tmp_path: Path, make: Callable[[Path], Any], expected: str) -> None:
    path = tmp_path / "plan.yaml"
    make(path)
    with pytest.raises(PlanFileError) as caught:
        read_plan(path, NOW)
    assert [str(problem) for problem in caught.value.problems] == [f"{path}: {expected}"]
    assert caught.value.exit_status == 2


def test_bytes_that_are_no_text(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_bytes(b"title: A\nname: \xff\n")
    with pytest.raises(PlanFileError) as caught:
        read_plan(path, NOW)
    assert str(caught.value) == f"{path}:2: byte 0xFF is not UTF-8 text; save the file as UTF-8"


def test_byte_order_mark_and_line_ends(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + (HEAD + PLACES + SYSTEMS).replace("\n", "\r\n").encode())
    plan = read_plan(path, NOW)
    assert plan.title == "A move"
    assert plan.lines["places"] == 8


def test_reading_twice_gives_the_same(read: Reader) -> None:
    assert read(HEAD + PLACES + SYSTEMS) == read(HEAD + PLACES + SYSTEMS)


def test_names_keep_their_letters(read: Reader) -> None:
    name = "Žofie <b>|,; \u200f\u05e9\u05d5"
    assert read(HEAD + PLACES + SYSTEMS + f'people: {{z: {{name: "{name}"}}}}\n').people[0].name == name


# --- clocks that change --------------------------------------------------------------------------------


def test_the_first_of_two_equal_times_is_taken_and_listed(read: Reader) -> None:
    # In Ireland the clocks go back at 02:00 summer time on the last Sunday of October, so 01:30 comes twice.
    text = HEAD.replace("{move-day: 2027-03-13}", "{move-day: 2027-11-13, earliest-start: 2027-10-31 01:30}")
    plan = read(text + PLACES + SYSTEMS)
    assert plan.dates is not None
    assert plan.dates.earliest_start == to_minutes(datetime(2027, 10, 31, 0, 30, tzinfo=UTC))
    (assumption,) = (one for one in plan.assumptions if one.key == "dates.earliest-start")
    assert assumption.value == "2027-10-31 01:30+01:00"
    assert assumption.why == "the clocks go back over this time, so they show it twice; the first is taken"
    again = read(text.replace("2027-10-31 01:30", assumption.value) + PLACES + SYSTEMS)
    assert again.dates == plan.dates
    assert "dates.earliest-start" not in {one.key for one in again.assumptions}


def test_a_day_alone_begins_with_its_first_minute_even_if_midnight_is_skipped(read: Reader) -> None:
    # In Lebanon the clocks go from 00:00 to 01:00 on the last Sunday of March.
    text = HEAD.replace("Europe/Dublin", "Asia/Beirut").replace(
        "{move-day: 2027-03-13}", "{move-day: 2027-04-03, earliest-start: 2027-03-28}"
    )
    dates = read(text + PLACES + SYSTEMS).dates
    assert dates is not None
    assert dates.earliest_start == to_minutes(datetime(2027, 3, 27, 22, tzinfo=UTC))


def test_a_plan_offers_the_ways_that_are_carried_out() -> None:
    from moveplan.planfile.schema.words import WAYS
    from moveplan.practice.ways import fitting as ways

    assert set(WAYS) == {
        ways.SAME_DAY,
        ways.HOLD_OVER,
        ways.NEW_TANK_AHEAD,
        ways.SAME_SPOT,
        ways.SHUT_DOWN,
    }


# --- gear and containers -------------------------------------------------------------------------------


def test_air_pumps_have_outlets(read: Reader) -> None:
    gear = "gear: {a: {kind: air-pump}, b: {kind: mains-air-pump, outlets: 12}, c: {kind: pump}, tubs: {}}\n"
    plan = read(HEAD + PLACES + SYSTEMS + gear)
    assert [(one.kind, one.outlets) for one in plan.gear] == [
        ("air-pump", 1),
        ("mains-air-pump", 12),
        ("pump", 1),
        ("tub", 1),
    ]
    said = [one.key for one in plan.assumptions if one.key.endswith(".outlets")]
    assert said == ["gear.a.outlets"]


def test_pails_are_called_buckets_too(read: Reader) -> None:
    gear = "gear: {pails: {}, buckets: {}, a: {kind: pail}, b: {kind: Bucket, volume: 12 l}, cans: {}}\n"
    plan = read(HEAD + PLACES + SYSTEMS + gear)
    assert [one.kind for one in plan.gear] == ["pail", "pail", "pail", "pail", "can"]
    assert [one.volume_l for one in plan.gear] == [15, 15, 15, 12, 20]


def test_the_keeper_may_choose_the_container(read: Reader) -> None:
    animals = (
        "livestock: {a: {kind: snail, container: pail}, b: {kind: goby, container: bag}, c: {kind: tang}}\n"
    )
    plan = read(HEAD + PLACES + SYSTEMS + animals)
    assert [one.container for one in plan.livestock] == ["pail", "bag", ""]
