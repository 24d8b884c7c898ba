"""A vehicle hired for one day, and keys handed over on the moving day: common practice, no source."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from moveplan.network.graph import Network
from moveplan.network.task import Task
from moveplan.planfile import read_plan
from moveplan.practice.compose import project_of
from tests.examples import project

HEAD = """\
title: A day's hire
purpose: house-move
as-of: 2027-01-04 09:00
timezone: Europe/Dublin
currency: EUR
country: IE
dates: {dates}
places:
  old: {{}}
  new: {{distance: 20 km}}
systems:
  reef: {{tank: {{length: 90 cm, width: 50 cm, height: 50 cm}}, rock: 20 kg}}
livestock:
  tangs: {{kind: tang, count: 2, size: 10 cm}}
people: {{nora: {{drives: yes}}, sean: {{drives: yes}}, una: {{cares: yes}}}}
vehicles:
  van: {{payload: 1000 kg, hire: {{from: {begin}, until: {end}}}}}
"""
ON_THE_DAY = "{move-day: 2027-02-20}"
EVE, MORNING, EVENING, LATER = "2027-02-19 16:00", "2027-02-20 08:00", "2027-02-20 22:00", "2027-02-21 12:00"


def network_of(folder: Path, dates: str = ON_THE_DAY, begin: str = EVE, end: str = LATER) -> Network:
    path = folder / "plan.yaml"
    path.write_text(HEAD.format(dates=dates, begin=begin, end=end), "utf-8")
    return project_of(read_plan(path)).network


def follows(network: Network, before: str, after: str) -> bool:
    return any((link.before, link.after) == (before, after) for link in network.links)


def task(network: Network, task_id: str) -> Task:
    return next(one for one in network.tasks if one.id == task_id)


def test_a_vehicle_hired_from_the_eve_stands_there_before_the_decision(tmp_path: Path) -> None:
    network = network_of(tmp_path)
    assert follows(network, "vehicle-here-van", "go-or-no-go")
    assert not task(network, "fetch-vehicle-van").day
    assert "Vehicle at the door, and signed." in task(network, "go-or-no-go").steps


def test_a_vehicle_hired_for_the_day_stands_there_before_the_point_of_no_return(tmp_path: Path) -> None:
    network = network_of(tmp_path, begin=MORNING, end=EVENING)
    assert not follows(network, "vehicle-here-van", "go-or-no-go")
    assert follows(network, "go-or-no-go", "fetch-vehicle-van")
    assert follows(network, "vehicle-here-van", "no-way-back-reef")
    assert task(network, "fetch-vehicle-van").day == task(network, "no-way-back-reef").day
    steps = task(network, "go-or-no-go").steps
    assert "Vehicle at the door, and signed." not in steps
    assert [step for step in steps if step.startswith("These can only be checked on the day: Van.")]


@pytest.mark.parametrize(("end", "waits"), [(EVENING, False), (LATER, True)])
def test_a_vehicle_goes_back_before_the_evening_only_where_its_hire_ends(
    end: str, waits: bool, tmp_path: Path
) -> None:
    assert follows(network_of(tmp_path, end=end), "watch-evening-reef", "return-vehicle-van") is waits


def test_a_window_of_days_leaves_an_eve_for_the_vehicle(tmp_path: Path) -> None:
    days = "{move-window: 2027-02-20 to 2027-02-22}"
    assert follows(network_of(tmp_path, days, MORNING, LATER), "vehicle-here-van", "go-or-no-go")
    assert follows(network_of(tmp_path, days, MORNING, EVENING), "vehicle-here-van", "no-way-back-reef")


@pytest.mark.parametrize(
    ("access", "after"), [("2027-02-15 10:00", "go-or-no-go"), ("2027-02-20 08:00", "no-way-back-reef")]
)
def test_keys_are_awaited_on_the_eve_or_on_the_day(access: str, after: str, tmp_path: Path) -> None:
    network = network_of(tmp_path, f"{{move-day: 2027-02-20, access-from: {access}}}")
    assert {link.after for link in network.links if link.before == "keys-in-hand"} == {after}


def test_a_vehicle_is_wished_back_before_its_hire_ends(tmp_path: Path) -> None:
    """An hour ahead: common practice, no source. A wish for more came before how long animals are closed in."""
    back = task(network_of(tmp_path), "return-vehicle-van")
    assert back.due == int(datetime(2027, 2, 21, 11, 0, tzinfo=UTC).timestamp()) // 60


def test_forecasts_vehicle_and_batteries_are_of_the_days_before_the_move(tmp_path: Path) -> None:
    """A hold point signed months ahead would hold nothing."""
    most = {(link.before, link.after): link.max_gap_min for link in network_of(tmp_path).links}
    for before in ("weather-fits", "vehicle-here-van"):
        assert 0 < (most[before, "go-or-no-go"] or 0) <= 30 * 60
    assert 0 < (most["charge-batteries", "record-morning-reef"] or 0) <= 30 * 60
    assert most["start-charging", "charge-batteries"] == 0


def test_a_van_hired_without_hours_is_fetched_on_the_eve_and_one_with_hours_when_they_begin() -> None:
    """It would be paid for on every day that it stands there; its own hours say from when on it is there anyway."""
    by_day, booked = project("small_tank_move", "vehicles.car.hired=yes"), project("house_move")
    (eve,) = (
        link for link in by_day.network.links if link.before == "fetch-vehicle-car" and "record" in link.after
    )
    assert eve.max_gap_min is not None
    assert eve.max_gap_min <= 30 * 60
    assert not [
        one for one in booked.network.links if one.before.startswith("fetch-") and "record" in one.after
    ]
