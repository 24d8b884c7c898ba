"""A filter is opened by readings of its own water that rose, fell and stayed down."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from moveplan.journal.file.kept import snapshot_data, snapshot_of
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.records import Reading
from moveplan.journal.waters.gate_table import gates_of
from moveplan.journal.waters.gates import Gate
from moveplan.journal.waters.judged import lacking
from moveplan.journal.waters.unionised import total_ammonia_at
from moveplan.science.filter.ammonia import pka_nbs
from tests.journal.builders import DAY, T0, planned, snapshot

WATERS = ("reef", "reef.new")
DOSED = {"dose-ammonia-reef": T0}


def read(what: str, day: float, value: float, system: str = "reef.new", unit: str = "mg N/l") -> Reading:
    return Reading(
        at=T0 + round(day * DAY), what=what, value=value, unit=unit, said=f"{value:g} {unit}", system=system
    )


def ammonia(*rows: tuple[float, float], system: str = "reef.new") -> list[Reading]:
    return [read("ammonia", day, value, system) for day, value in rows]


def lacks(task: str, readings: list[Reading], day: float, fish: tuple[str, ...] = ()) -> list[str]:
    gates = gates_of(task, WATERS, {}, fish)
    return [f"{one.gate.what} {one.why}" for one in lacking(gates, readings, T0 + round(day * DAY), DOSED)]


RISEN = read("nitrite", 6.0, 4.0)
NITRITE = [read("nitrite", 6.0, 2.4), read("nitrite", 9.0, 0.9)]


@pytest.mark.parametrize(
    ("readings", "day", "lack"),
    [
        (ammonia((0.1, 2.0), (8.0, 0.2), (9.0, 0.1)), 9.1, []),
        (ammonia((8.0, 0.2), (9.0, 0.1)), 9.1, ["ammonia flat"]),
        (ammonia((0.1, 2.0), (9.0, 0.1)), 9.1, ["ammonia alone"]),
        (ammonia((0.1, 2.0), (8.5, 0.2), (9.0, 0.1)), 9.1, ["ammonia alone"]),
        (ammonia((0.1, 2.0), (7.0, 0.2), (8.0, 0.3), (9.0, 0.1)), 9.1, ["ammonia alone"]),
        (ammonia((0.1, 2.0), (8.0, 0.2), (9.0, 0.3)), 9.1, ["ammonia outside"]),
        (ammonia((0.1, 2.0), (5.0, 0.2), (6.0, 0.1)), 9.1, ["ammonia old"]),
        (ammonia((-9.0, 2.0), (-1.0, 0.1), (8.5, 0.1)), 9.1, ["ammonia alone"]),
        (ammonia((0.1, 2.0), (8.0, 0.0), (9.0, 0.0), system="reef"), 9.1, ["ammonia missing"]),
        (ammonia((0.1, 2.0), (8.0, 0.0), (9.0, 0.0), system=""), 9.1, ["ammonia missing"]),
    ],
)
def test_ammonia_opens_a_filter_after_a_rise_and_a_day_below(
    readings: list[Reading], day: float, lack: list[str]
) -> None:
    assert lacks("cycle-done-reef", readings + NITRITE, day) == lack


def test_a_reading_far_from_the_last_signs_nothing_until_a_second_agrees() -> None:
    gate = [Gate("salinity", 34.0, 36.0, "-", 720)]

    def why(*values: float) -> list[str]:
        rows = [
            Reading(at=T0 + at, what="salinity", value=value, unit="-", said="")
            for at, value in enumerate(values)
        ]
        return [one.why for one in lacking(gate, rows, T0 + 60)]

    assert why(35.0) == []
    assert why(30.0, 35.0) == ["far"]
    assert why(30.0, 35.0, 35.1) == []
    assert why(35.0, 3.5, 35.1) == []
    assert why(30.0, 35.0, 39.0) == ["outside"]


def test_nitrite_is_judged_by_who_lives_there() -> None:
    """Urchins grew at 1 to 2 mg N/l; a tenth of the LC50 of marine fish is 3.4 and more (see the limits)."""
    ripe = ammonia((0.1, 2.0), (8.0, 0.2), (9.0, 0.1))
    assert lacks("cycle-done-reef", [*ripe, RISEN, read("nitrite", 9.0, 1.5)], 9.1) == ["nitrite outside"]
    assert lacks("cycle-done-reef", [*ripe, RISEN, read("nitrite", 9.0, 1.5)], 9.1, ("reef",)) == []
    assert lacks("cycle-done-reef", [*ripe, RISEN, read("nitrite", 9.0, 3.5)], 9.1, ("reef",)) == [
        "nitrite outside"
    ]


def test_each_lack_says_what_is_missing() -> None:
    gates = gates_of("cycle-done-reef", WATERS, {})
    once = [*ammonia((0.1, 2.0), (9.0, 0.1)), *NITRITE]
    assert [str(one) for one in lacking(gates, once, T0 + 9 * DAY, DOSED)] == [
        f"ammonia of reef.new must be at most 0.25 mg N/l; the last reading ({once[1].said}) keeps that; read it "
        "until 2 readings in a row keep that, at least 24 h from first to last"
    ]
    flat = [*ammonia((8.0, 0.1), (9.0, 0.1)), *NITRITE]
    assert [str(one) for one in lacking(gates, flat, T0 + 9 * DAY, DOSED)] == [
        "ammonia of reef.new must be at most 0.25 mg N/l; no reading above that was seen before, and without a rise "
        "its fall proves nothing"
    ]


def test_before_a_release_ammonia_is_read_twice_and_judged_by_its_unionised_part() -> None:
    """0.303 mg N/l hold 0.02 un-ionised at pH 8.2 and 26 °C, 0.25 at 8.3: Clegg and Whitfield (1995), by hand."""
    (gate,) = (one for one in gates_of("water-matched-reef", ["reef"], {}) if one.what == "ammonia")
    twice = [read("ammonia", 0.0, 0.28, ""), read("ammonia", 0.01, 0.28, "")]
    filled = {"fill-tank-reef": T0}
    assert list(lacking([gate], twice, T0 + 20, filled)) == []
    assert [one.why for one in lacking([gate], twice[:1], T0 + 20, filled)] == ["alone"]
    alkaline = [read("ph", 0.0, 8.3, "", "-"), *twice]
    (lack,) = lacking([gate], alkaline, T0 + 20, filled)
    assert str(lack) == (
        "ammonia must be at most 0.24 mg N/l (0.02 of it un-ionised); the last reading is 0.28 mg N/l"
    )
    assert total_ammonia_at(0.02, alkaline, ()) == pytest.approx(0.02 * (1 + 10 ** (9.3509 - 8.3)), rel=1e-3)


def test_the_fit_for_the_acid_constant_is_as_near_as_it_says() -> None:
    """Against Clegg and Whitfield (1995) on the NBS scale, over all waters that it is used for."""
    worst = 0.0
    for warmth in range(10, 41):
        for salinity in range(28, 41):
            water = {"ph": 8.0, "temperature": float(warmth), "salinity": float(salinity)}
            rows = [read(what, 0.0, value, "", "-") for what, value in water.items()]
            pka = 8.0 + math.log10(total_ammonia_at(1.0, rows, ()) - 1.0)
            worst = max(worst, abs(pka - float(pka_nbs(warmth, salinity))))
    assert 0.001 < worst < 0.0014


@pytest.mark.parametrize(
    ("task", "water"),
    [
        ("cycle-done-reef", "reef.new"),
        ("match-wave-reef.2", "reef.new"),
        ("settled-reef", "reef"),
        ("carries-stock-reef", "reef"),
        ("holding-ready-reef", "shed"),
        ("water-matched-reef", "shed"),
        ("water-matched-reef-in", "reef.new"),
    ],
)
def test_a_hold_point_asks_for_the_water_that_animals_go_into(task: str, water: str) -> None:
    holding = "shed" if water == "shed" or task.endswith("-in") else ""
    assert {gate.system for gate in gates_of(task, (*WATERS, "shed"), {}, holding=holding)} == {water}


def test_once_the_animals_have_moved_both_names_mean_one_tank() -> None:
    for system in ("reef", "reef.new"):
        readings = [read(what, day, 0.1, system) for what in ("ammonia", "nitrite") for day in (3.0, 9.0)]
        assert lacks("settled-reef", readings, 9.1) == []


def test_a_gate_is_kept_in_the_journal_whole() -> None:
    gates = gates_of("cycle-done-reef", WATERS, {})
    kept: Snapshot = snapshot_of(
        snapshot_data(
            Snapshot(
                **{
                    **{name: getattr(snapshot(), name) for name in Snapshot.__slots__},
                    "tasks": (planned("cycle-done-reef", 0, 15, gates=gates),),
                }
            )
        ),
        "here",
    )
    assert kept.tasks[0].gates == gates
    assert Gate("ammonia", None, 0.25, "mg N/l", 2880).times == 1


def test_the_water_of_the_new_home_is_not_signed_by_readings_of_the_old() -> None:
    gates = gates_of("water-matched-reef", ("reef",), {})
    rows = [read("temperature", day, 25.0, "reef", "°C") for day in (0.0, 0.3)]
    filled = {"fill-tank-reef": T0 + round(0.2 * DAY)}
    for readings, why in ((rows[:1], ["missing"]), (rows, [])):
        found = lacking(gates, readings, T0 + round(0.31 * DAY), filled)
        assert [one.why for one in found if one.gate.what == "temperature"] == why


MATCHED = {"temperature": 25.0, "salinity": 35.0, "ph": 8.1, "alkalinity": 8.0}
APART = {"temperature": 1.1, "salinity": 0.6, "ph": 0.21, "alkalinity": 1.1}
"""Further than the library's limits of a match allow: 1 K, 0.5, 0.2 and 1 dKH."""


def rows(day: float, system: str, **other: float) -> list[Reading]:
    return [read(what, day, value, system, "") for what, value in {**MATCHED, **other}.items()]


def unlike(task: str, readings: list[Reading], waters: tuple[str, ...] = WATERS, **known: Any) -> list[str]:
    done = {"fill-tank-reef": T0 + 60, "fill-tank-reef-in": T0 + 60}
    found = lacking(gates_of(task, waters, {}, **known), readings, T0 + 120, done)
    return [f"{one.gate.what} {one.why}" for one in found if one.gate.near is not None]


@pytest.mark.parametrize("what", MATCHED)
def test_each_reading_of_a_new_water_is_compared_with_the_old_one(what: str) -> None:
    late, early = 0.07, 0.0  # after the tank was filled, and before
    other = {what: MATCHED[what] - APART[what]}
    for task, waters, new, old in (
        ("match-wave-reef.2", WATERS, rows(late, "reef.new"), "reef"),
        ("water-matched-reef", WATERS, rows(late, "reef.new"), "reef"),
        ("water-matched-reef", ("reef",), rows(late, ""), ""),
        ("water-matched-reef", ("reef", "frags"), rows(late, "reef"), "reef"),
        ("water-matched-reef", ("reef", "shed"), rows(late, "shed"), "reef"),
        ("water-matched-reef-in", ("reef", "shed"), rows(late, "reef"), "shed"),
    ):
        known: dict[str, Any] = {"holding": "shed"} if "shed" in waters else {}
        assert unlike(task, [*rows(early, old), *new], waters, **known) == [], task
        assert unlike(task, [*rows(early, old, **other), *new], waters, **known) == [f"{what} unlike"], task


def test_where_the_old_water_was_not_read_what_the_plan_says_of_it_counts() -> None:
    known: dict[str, Any] = {"stated": {"reef": MATCHED}}
    assert unlike("water-matched-reef", rows(0.07, ""), ("reef",), **known) == []
    salty = rows(0.07, "", salinity=35.6)
    assert unlike("water-matched-reef", salty, ("reef",), **known) == ["salinity unlike"]
    assert unlike("water-matched-reef", rows(0.07, ""), ("reef",)) == [f"{what} unread" for what in MATCHED]
    both = rows(0.07, "reef.new")
    assert unlike("match-wave-reef.1", both, **known) == [f"{what} unread" for what in MATCHED]
    assert unlike("match-wave-reef.1", [*rows(-0.5, "reef"), *both]) == [f"{what} stale" for what in MATCHED]


def test_a_lack_names_both_waters_with_what_they_read_and_what_to_write() -> None:
    gate = Gate("salinity", 34.0, 36.0, "-", 720, "reef.new", near=0.5, like="reef", stated=34.0)
    old, new = read("salinity", -0.01, 34.4, "reef", "psu"), read("salinity", 0.0, 35.0, "reef.new", "psu")
    (lack,) = lacking([gate], [old, new], T0)
    asked = "salinity of reef.new must be 34 to 36, within 0.5 of reef; "
    assert str(lack) == f"{asked}it reads 35 psu, and reef 34.4 psu: 0.6 apart"
    assert lack.record == "read salinity VALUE --system reef.new"
    (lack,) = lacking([gate], [new], T0)
    assert str(lack) == (
        f"{asked}it reads 35 psu, and the plan says 34 of reef, which was not read in time: 1 apart"
    )
    (lack,) = lacking([replace(gate, stated=None)], [new], T0)
    assert str(lack) == f"{asked}reef was not read, so nothing says whether 35 psu is like it"
    assert lack.record == "read salinity VALUE --system reef"
    one_water = Gate("temperature", 24.0, 27.0, "°C", 720, since="fill-tank", near=1.0, stated=25.0)
    warm = [read("temperature", 0.0, 26.5, "", "°C")]
    (lack,) = lacking([one_water], warm, T0)
    assert str(lack) == (
        "temperature must be 24 to 27 °C, within 1 K of the old water; fill-tank was not recorded as done, and "
        "readings count only after it"
    )
    assert lack.record == "done fill-tank"
    (lack,) = lacking([one_water], warm, T0, {"fill-tank": T0})
    assert str(lack).endswith(
        "it reads 26.5 °C, and the plan says 25 °C of the old water, which was not read in time: 1.5 K apart"
    )


def test_a_limit_of_the_part_that_harms_is_never_told_as_nought() -> None:
    gate = Gate("ammonia", None, None, "mg N/l", 720, since="fill-tank", unionised=0.02)
    assert gate.range == "at most 0.02 mg N/l un-ionised"
    (before,) = lacking([gate], [], T0)
    (after,) = lacking([gate], ammonia((-0.1, 0.0)), T0, {}, {"fill-tank": "Fill Reef"})
    told = str(before).partition(";")[0]
    assert "at most 0 " not in told
    assert str(after) == f"{told}; “Fill Reef” was not recorded as done, and readings count only after it"


def test_nitrite_has_to_be_lower_than_at_its_highest_and_the_dose_recorded() -> None:
    ripe = ammonia((0.1, 2.0), (8.0, 0.2), (9.0, 0.1))
    for values, lack in (
        ((0.9,), ["nitrite high"]),
        ((0.5, 0.9), ["nitrite high"]),
        ((0.9, 0.9), ["nitrite high"]),
        ((0.9, 0.6), []),
        ((0.0,), ["nitrite high"]),
        ((0.0, 0.0), []),
    ):
        read_so = [read("nitrite", 8.0 + day / 2, value) for day, value in enumerate(values)]
        assert lacks("cycle-done-reef", [*ripe, *read_so], 9.1) == lack, values
    gates = gates_of("cycle-done-reef", WATERS, {})
    found = lacking(gates, [*ripe, *NITRITE], T0 + 9 * DAY, {})
    assert [f"{one.gate.what} {one.why}" for one in found] == ["ammonia undone", "nitrite undone"]


def test_readings_count_after_a_task_only_where_the_move_has_it() -> None:
    for tasks, since in (({"fill-tank-reef"}, "fill-tank-reef"), (set(), "")):
        assert {gate.since for gate in gates_of("water-matched-reef", WATERS, {}, tasks=tasks)} == {since}
