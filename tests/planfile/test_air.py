"""Air outside, in rooms and in load spaces: as given, or assumed from month and climate."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import pytest

from moveplan.estimate import Provenance
from moveplan.plan.move import Plan
from moveplan.plan.places import OutsideAir
from moveplan.planfile import read_plan
from moveplan.planfile.fill.air import outside_of_season

NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001
Reader = Callable[..., Plan]


@pytest.fixture
def read(tmp_path: Path) -> Reader:
    def reading(
        *lines: str, day: str = "move-day: 2027-03-13", country: str = "IE", old: str = "", van: str = ""
    ) -> Plan:
        text = (
            "title: A move\npurpose: house-move\ntimezone: Europe/Dublin\nunits: metric\n"
            f"country: {country}\ndates: {{{day}}}\n"
            f"places: {{old: {{{old}}}, new: {{distance: 20 km}}}}\n"
            "systems: {reef: {tank: {length: 120 cm, width: 60 cm, height: 55 cm}}}\n"
            f"vehicles: {{van: {{{van}}}}}\n"
        )
        file = tmp_path / "plan.yaml"
        file.write_text(text + "\n".join(lines), "utf-8")
        return read_plan(file, NOW)

    return reading


def assumed(plan: Plan) -> dict[str, str]:
    return {one.key: one.value for one in plan.assumptions}


def load_space(plan: Plan) -> tuple[float, float]:
    (van,) = plan.vehicles
    return van.air_temperature_c, van.air_high_c


COLD, MILD, HOT = (
    "outside: {low: 2 C, high: 9 C}",
    "outside: {low: 14 C, high: 25 C}",
    "outside: {low: 26 C, high: 41 C}",
)


def test_outside_as_given(read: Reader) -> None:
    plan = read("outside: {low: 36.5 F, high: 9 C}")
    assert plan.outside == OutsideAir(2.5, 9.0, Provenance.GIVEN)
    assert not {key for key in assumed(plan) if key.startswith("outside")}


def test_outside_by_month_of_the_first_move_day(read: Reader) -> None:
    june = read(day="move-day: 2027-06-05").outside
    assert june is not None
    assert june.known is Provenance.ASSUMED
    assert june == read(day="move-window: 2027-06-30 to 2027-07-04").outside
    january = read(day="move-day: 2027-01-16").outside
    assert january is not None
    assert (january.low_c, january.high_c) < (june.low_c, june.high_c)
    plan = read(day="move-day: 2027-06-05")
    assert assumed(plan)["outside.low"] == f"{june.low_c:.0f} C"
    assert assumed(plan)["outside.high"] == f"{june.high_c:.0f} C"
    assert {one.why for one in plan.assumptions if one.key.startswith("outside")} == {
        "assumed planning value for month and climate, no source; write outside: with your forecast"
    }


def test_one_end_given_bounds_the_other(read: Reader) -> None:
    plan = read("outside: {low: 28 C}")
    assert plan.outside == OutsideAir(28.0, 28.0, Provenance.ASSUMED)
    assert set(assumed(plan)) & {"outside.low", "outside.high"} == {"outside.high"}
    assert read("outside: {high: -5 C}").outside == OutsideAir(-5.0, -5.0, Provenance.ASSUMED)


def test_two_days_of_driving_half_a_year_apart_bring_the_air_of_both(read: Reader) -> None:
    winter, summer = (outside_of_season("IE", date(2027, month, 20)) for month in (2, 7))
    around = read(day="move-day: 2027-02-20, move-in-day: 2027-07-20").outside
    assert around == OutsideAir(winter.low_c, summer.high_c, Provenance.ASSUMED)


@pytest.mark.parametrize("month", range(1, 13))
def test_seasons(month: int) -> None:
    day, half_a_year_on = date(2027, month, 3), date(2027, (month + 5) % 12 + 1, 3)
    north = outside_of_season("IE", day)
    assert outside_of_season("NZ", half_a_year_on) == north
    assert outside_of_season("ZZ", day) == north
    assert -10 <= north.low_c < north.high_c <= 35
    near_the_equator = outside_of_season("SG", day)
    assert 20 <= near_the_equator.low_c < near_the_equator.high_c <= 36


def test_a_june_move_is_planned_with_june_air(read: Reader) -> None:
    low_c, high_c = load_space(read(day="move-day: 2027-06-05"))
    assert low_c > 10
    assert high_c > 25


@pytest.mark.parametrize(
    ("around", "van", "expected"),
    [
        (COLD, "", (5, 12)),
        (HOT, "", (32, 44)),
        (COLD, "load-space-air: heated", (18, 18)),
        (MILD, "load-space-air: heated", (18, 28)),
        (COLD, "load-space-air: cooled", (5, 12)),
        (HOT, "load-space-air: cooled", (24, 24)),
        (COLD, "air-temperature: 8 C", (8, 12)),
        (COLD, "air-temperature: 15 C", (15, 15)),
        (MILD, "air-temperature-high: 12 C", (12, 12)),
        (COLD, "air-temperature: 46 F, air-temperature-high: 16 C", (pytest.approx(7.78, abs=0.01), 16)),
    ],
)
def test_load_space(read: Reader, around: str, van: str, expected: tuple[float, float]) -> None:
    plan = read(around, van=van)
    assert load_space(plan) == expected
    keys = {"air-temperature", "air-temperature-high"}
    given = {part.split(":")[0] for part in van.split(", ")}
    assert {key for key in keys if f"vehicles.van.{key}" in assumed(plan)} == keys - given


@pytest.mark.parametrize(
    ("around", "old", "expected"),
    [
        (COLD, "", (18, 22)),
        (HOT, "", (18, 39)),
        (COLD, "room-temperature: 20 C", (20, 24)),
        (COLD, "room-temperature-high: 21 C", (18, 21)),
        (COLD, "room-temperature-high: 15 C", (15, 15)),
        (HOT, "room-temperature: 20 C, room-temperature-high: 77 F", (20, 25)),
    ],
)
def test_room(read: Reader, around: str, old: str, expected: tuple[float, float]) -> None:
    place = read(around, old=old).place("old")
    assert (place.room_temperature_c, place.room_high_c) == expected


def test_heating_and_parking_of_a_load_space(read: Reader) -> None:
    (van,) = read().vehicles
    assert (van.load_space_air, van.parked) == ("plain", "shade")
    assert {"vehicles.van.load-space-air", "vehicles.van.parked"} <= set(assumed(read()))
    (van,) = read(van="load-space-air: Heated, parked: sun").vehicles
    assert (van.load_space_air, van.parked) == ("heated", "sun")


@pytest.mark.parametrize(
    ("text", "metres"),
    [("1600 m", 1600), ("5200 ft", 1584.96), ("-430 m", -430), ("1.2 km", 1200), ("0 m", 0)],
)
def test_altitude(read: Reader, text: str, metres: float) -> None:
    plan = read(old=f"altitude: {text}")
    assert plan.place("old").altitude_m == pytest.approx(metres)
    assert plan.place("new").altitude_m == 0
    assert assumed(plan)["places.new.altitude"] == "0 m"
    assert "places.old.altitude" not in assumed(plan)


def test_own_tasks_have_no_weather(tmp_path: Path) -> None:
    file = tmp_path / "plan.yaml"
    file.write_text(
        "title: Footbridge\npurpose: own-tasks\ntimezone: Europe/Dublin\nstart: 2027-07-01 08:00\n"
        "vehicles: {van: {}}\ntasks: [{id: a, duration: 1 h}]\n"
    )
    plan = read_plan(file, NOW)
    assert plan.outside is None
    assert not {key for key in assumed(plan) if key.startswith("outside")}
    july = outside_of_season("IE", date(2027, 7, 1))
    assert july.low_c < load_space(plan)[0] < july.high_c, "as it is at ten in the morning"
