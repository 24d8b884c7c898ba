"""New water is read, unplugged and warmed where its bins stand, and each bin has its heater."""

from __future__ import annotations

import re

import pytest

from moveplan.network.task import Kind
from moveplan.practice.project import Project
from tests.examples import project

NAMES = [
    "house_move",
    "house_move_with_gap",
    "larger_tank_other_spot",
    "larger_tank_same_spot",
    "service_firm_office_tank",
    "small_tank_move",
]


def told(found: Project, task: str) -> str:
    (one,) = (each for each in found.network.tasks if each.id == task)
    return " ".join((one.title, *one.steps))


def test_water_that_stands_at_the_new_home_is_not_touched_from_the_old_one() -> None:
    found = project("service_firm_office_tank")
    morning, filling = told(found, "record-morning-display"), told(found, "fill-tank-display")
    assert "plugs" not in morning
    assert "and the new water on the morning" not in morning
    assert "stands at Harrow and Pike, Rope Wharf" in morning
    assert "unplugged before the rock went in" in filling
    assert "Read its temperature and salinity in each bin" in filling
    assert "First pull the plugs of the heaters that hang in the new water" in told(
        found, "place-tank-display"
    )


def test_water_that_stands_at_the_old_home_is_read_and_unplugged_there() -> None:
    found = project("house_move")
    assert "pull the plugs of heaters that hang in it" in told(found, "record-morning-display")
    assert "Read its temperature" not in told(found, "fill-tank-display")


def test_nobody_is_asked_to_be_where_nobody_is() -> None:
    away, here = (
        told(project(name), "record-morning-display")
        for name in ("house_move_with_gap", "larger_tank_same_spot")
    )
    assert "where nobody has to be yet" in away
    assert "of the new water first" in here


@pytest.mark.parametrize(
    "name", ["house_move", "larger_tank_same_spot", "service_firm_office_tank", "small_tank_move"]
)
def test_every_bin_of_new_water_has_its_heater_named_once(name: str) -> None:
    found = project(name)
    text = told(found, "hang-heaters")
    drawn = {pour.source for pour in found.ledger.pours if pour.task.startswith(("fill-cans", "fill-tank"))}
    bins = {one.removeprefix("container:") for one in drawn} & set(re.findall(r"\b[MT]\d+\b", text))
    assert bins
    assert all(len(re.findall(rf"\b{number}\b", text)) == 1 for number in bins)
    whole, parts = re.search(r"hang ([\d.]+) W", text), re.findall(r"([\d.]+) W in ", text)
    assert whole
    assert sum(map(float, parts)) == float(whole[1])
    assert ("moves on" in text) == ("then in" in text)


def test_a_kit_shows_less_total_ammonia_at_a_higher_ph() -> None:
    found = project("house_move")
    for task in ("water-matched-display", "daily-look-display"):
        totals = re.search(
            r"a total of ([\d.]+) at pH 8, ([\d.]+) at 8.2, ([\d.]+) at 8.4", told(found, task)
        )
        assert totals
        high, middle, low = map(float, totals.groups())
        assert high > middle > low
        assert 0.28 < middle < 0.33, "0.325 at 25 °C and 0.265 at 28 °C, pH 8.2, for 0.02 un-ionised"


def test_a_quarantine_shares_no_net_with_the_reef() -> None:
    found = project("service_firm_office_tank")
    for task in ("catch-fish", "daily-look"):
        assert re.search("[Nn]ets", told(found, f"{task}-quarantine"))
        assert not re.search("[Nn]ets", told(found, f"{task}-display"))
    assert "a net, two tubs, gloves and towels of its own" in told(found, "order-missing")
    assert "washes both arms and changes gloves" in told(found, "lay-hoses-quarantine")
    assert "drawn off into clean cans first" in told(found, "fill-tank-quarantine")
    assert "clean cans" not in told(found, "fill-tank-display")


def test_the_pump_s_flow_says_which_drain_takes_it() -> None:
    """734 l through a sink that takes 15 l a minute are 48.9 min, to the next five."""
    text = told(project("service_firm_office_tank"), "lower-water-display")
    assert "for a floor drain or a toilet; where there is only a sink" in text
    assert "Pump or siphon 734 l" in text
    assert "choked to 15 l, it takes 50 min" in text


def test_what_came_in_cool_stands_in_a_warm_bin_where_the_plan_has_a_spare_heater() -> None:
    without = project("small_tank_move", "gear.spare-heaters=none")
    text = "stands in a bin of warm water, a spare heater and an air stone in it"
    assert text in told(project("small_tank_move"), "unload-animals-car")
    assert text not in told(without, "unload-animals-car")


def test_who_lives_where_the_tank_stands_looks_in_at_night() -> None:
    found = project("service_firm_office_tank")
    assert "Silas Crane (at the office) looks again" in told(found, "watch-evening-display")
    assert "Ines Farrow looks again" in told(project("house_move"), "watch-evening-display")


@pytest.mark.parametrize("name", NAMES)
def test_somebody_plugs_in_every_heater_that_hangs_in_new_water(name: str) -> None:
    """A unit may fill a bin overnight; whoever hangs heaters in sees that water covers them."""
    found = project(name)
    rows = [row for row in found.ledger.running if row.what == "mixing"]
    tasks = {task.id: task for task in found.network.tasks}
    assert rows
    for row in rows:
        assert tasks[row.from_task].kind is Kind.WORK, row.from_task
        assert tasks[row.from_task].crew, row.from_task
    made = [task for task in tasks.values() if task.id.startswith("make-afresh")]
    assert all("no heater" in " ".join(task.steps) for task in made)


def test_what_is_mixed_afresh_gets_warm_before_it_is_used() -> None:
    found = project("house_move")
    (link,) = (
        one
        for one in found.network.links
        if (one.before, one.after) == ("mix-afresh-change-display", "first-change-display")
    )
    warm_min = max(one.time.high for one in found.mixings if 25 < one.litres < 35)
    assert link.min_gap_min is not None
    assert link.min_gap_min >= max(12 * 60, warm_min)
    (row,) = (row for row in found.ledger.running if row.from_task == "mix-afresh-change-display")
    assert row.until_task == "first-change-display"


def test_no_heater_hangs_in_water_that_the_room_keeps_warmer_than_the_tank() -> None:
    hot = project("small_tank_move", "places.attic.room-temperature=30 C")
    assert "hang-heaters" not in {task.id for task in hot.network.tasks}
    assert "plugs" not in told(hot, "record-morning-nano")
    warm = project("small_tank_move", "places.attic.room-temperature-high=31 C")
    assert "18 °C to 31 °C; where it reads more than 25.5 °C nothing is hung in" in told(warm, "hang-heaters")
