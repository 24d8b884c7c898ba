"""Moves at the far ends of what keepers do: frost, weak circuits, a car park in August.

The plans are invented. That the accounts close is part of every build; what each of them is about is asked here.
"""

from __future__ import annotations

import json
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from tests.cli.command import Run
from tests.ledger.built import built
from tests.ledger.checker import faults

HOURS = {"mon-fri": "16:00-22:00", "sat-sun": "07:00-22:00"}
HANDS = {"lifts": True, "cares": True, "drives": True, "moving-day": "06:00-23:00", "hours": HOURS}
PLAN: dict[str, Any] = {
    "purpose": "house-move",
    "as-of": "2027-01-04 09:00",
    "timezone": "Europe/Madrid",
    "country": "ES",
    "currency": "EUR",
    "dates": {"move-day": "2027-03-13"},
    "places": {"old": {"power": True}, "new": {"distance": "25 km", "power": True}},
    "systems": {
        "reef": {
            "place": "old",
            "moves-to": "new",
            "tank": {"length": "100 cm", "width": "50 cm", "height": "50 cm"},
            "rock": "25 kg",
            "equipment": {
                "heater": {"kind": "heater", "count": 2, "power": "150 W"},
                "pump": {"kind": "return-pump", "power": "40 W"},
                "lamp": {"kind": "light", "power": "120 W"},
            },
        }
    },
    "livestock": {
        "clowns": {"kind": "clownfish", "count": 2, "size": "7 cm"},
        "goby": {"kind": "goby", "count": 1, "size": "6 cm"},
        "shrimp": {"kind": "cleaner-shrimp", "count": 1, "size": "5 cm"},
        "softies": {"kind": "soft-coral", "count": 3, "size": "8 cm"},
    },
    "people": {"ann": HANDS, "bo": HANDS, "cy": HANDS},
    "vehicles": {"van": {"payload": "1200 kg"}},
    "water-making": {"rate": "190 l/day", "storage": "200 l"},
    "gear": [
        {"id": "tubs", "kind": "tub", "count": 12, "volume": "60 l"},
        {"id": "pumps", "kind": "air-pump", "count": 4, "battery": "20 h", "outlets": 2},
    ],
}
FAR: dict[str, dict[str, Any]] = {
    "frost": {
        "outside": {"low": "-15 C", "high": "-6 C"},
        "dates": {"move-day": "2027-02-20"},
        "vehicles": {"van": {"payload": "1200 kg", "load-space-air": "heated"}},
    },
    "mountain": {
        "places": {
            "old": {"power": True, "altitude": "1600 m", "circuit": "1200 W"},
            "new": {"distance": "15 km", "power": True, "circuit": "900 W"},
        }
    },
}

HIGH = {
    "places": {
        "old": {"power": True, "altitude": "3000 m"},
        "new": {"distance": "15 km", "power": True, "altitude": "2900 m"},
    },
    "livestock": {
        "tang": {"kind": "tang", "count": 1, "size": "13 cm"},
        "sticks": {"kind": "small-polyp-coral", "count": 5, "size": "9 cm"},
    },
}
"""Air that holds two thirds of the oxygen of that at the sea, and animals that use much."""
OXYGEN = {"id": "oxygen", "kind": "oxygen", "count": 1, "owned": False}
FAR["high"] = HIGH | {"gear": [*PLAN["gear"], OXYGEN]}
REEF = PLAN["systems"]["reef"]
FAR["larger"] = {
    "purpose": "larger-tank",
    "dates": {"move-day": "2027-05-01"},
    "places": {"old": {"circuit": "1200 W", "room-temperature": "16 C"}},
    "vehicles": {},
    "systems": {
        "reef": {key: REEF[key] for key in ("tank", "rock", "equipment")}
        | {
            "new-tank": {
                "tank": {"length": "120 cm", "width": "50 cm", "height": "55 cm"},
                "spot": "same",
                "equipment": REEF["equipment"],
            }
        }
    },
}
FAR["heat"] = {
    "outside": {"low": "24 C", "high": "38 C"},
    "dates": {"move-day": "2027-08-07"},
    "systems": {
        "pico": {
            "place": "old",
            "moves-to": "new",
            "tank": {"length": "40 cm", "width": "32 cm", "height": "32 cm"},
            "sump": "0 l",
            "rock": "4 kg",
        }
    },
    "livestock": {
        "gobies": {"kind": "pygmy-goby", "count": 2, "size": "2.5 cm"},
        "shrimp": {"kind": "sexy-shrimp", "count": 4, "size": "2 cm"},
        "zoas": {"kind": "zoanthid", "count": 3, "size": "5 cm"},
    },
    "vehicles": {"car": {"payload": "300 kg", "parked": "sun"}},
    "gear": {"pump": {"kind": "air-pump", "count": 1, "battery": "12 h"}},
}


@pytest.fixture(params=FAR)
def far(request: pytest.FixtureRequest, run: Run, tmp_path: Path) -> tuple[str, dict[str, Any]]:
    plan = deepcopy(PLAN) | FAR[request.param] | {"title": request.param}
    path = tmp_path / "plan.yaml"
    path.write_text(json.dumps(plan), "utf-8")  # JSON is YAML
    return request.param, built(run, path, tmp_path / "out", "--runs", "1000")


def test_it_is_planned_and_its_accounts_close(far: tuple[str, dict[str, Any]]) -> None:
    name, result = far
    assert result["status"] in ("ok", "tight"), result["problems"]
    assert faults(result) == []
    ASKED[name](result)


def _keeps_warm(result: dict[str, Any]) -> None:
    """No animal gets colder than 20 °C in the coldest air with the most heat lost. [°C]"""
    assert min(point["low"] for row in result["ledger"]["heat"] for point in row["path"]) > 20.0
    assert "frost below -15 °C" in _steps(result, "weather-fits"), (
        "what the plan reckons with is no reason to stay"
    )


def _within_circuits(result: dict[str, Any]) -> None:
    """Spare heaters leave room: 80 % of 900 W less 460 W of the tank are 260 W: one heater of 200 W, not both."""
    spare = [row["watts"] for row in result["ledger"]["power"] if row["what"] == "spare-heaters"]
    assert spare == [200]
    mixing = [row["watts"] for row in result["ledger"]["power"] if row["what"] == "mixing"]
    assert max(mixing) <= 0.8 * 1200 - 460


def _warm_by_the_morning(result: dict[str, Any]) -> None:
    """80 % of 1200 W less 460 W of one tank in that spot, not of two, leave heaters enough for a night or two."""
    (minutes,) = (task["minutes"] for task in result["tasks"] if task["id"] == "warm-stored")
    assert minutes < 36 * 60


def _steps(result: dict[str, Any], task_id: str) -> str:
    return " ".join(step for task in result["tasks"] if task["id"] == task_id for step in task["steps"])


def _named_apart(result: dict[str, Any]) -> None:
    """The keeper calls an air pump what a transfer pump would be called that is ordered: no bubbler mixes water."""
    assert {
        item["id"]: (item["kind"], item["to_get"]) for item in result["gear"] if "pump" in item["id"]
    } == {
        "pump": ("air-pump", 0),
        "pump-to-get": ("pump", 1),
    }
    assert not any(hold["gear"] == "pump" for hold in result["holds"])


def _shaded_and_never_heated(result: dict[str, Any]) -> None:
    """The forecast is measured by the air that the plan reckons with, and what is new water is called so."""
    _named_apart(result)
    weather = _steps(result, "weather-fits")
    assert "heat above 38 °C" in weather
    assert "up to 41 °C in the load space; if shade and cooling" in weather
    assert "Shade, and the load space aired or cooled" in _steps(result, "load-animals-car")
    assert "Warm the load space" not in json.dumps(result["tasks"])
    new = [one for one in result["ledger"]["water"] if one["from"] == "container:M1"]
    drawn = {one["task"] for one in new if one["task"].startswith("draw-")}
    assert drawn
    assert all("ew salt water out of M1" in _steps(result, task) for task in drawn)


def _oxygen_runs(result: dict[str, Any]) -> None:
    """It is ordered, carried, and said where it is turned on."""
    (cylinder,) = [one for one in result["gear"] if one["id"] == "oxygen"]
    assert cylinder["to_get"] == 1
    (load,) = result["loads"]
    assert [one["name"] for one in load["items"]].count("oxygen cylinder") == 1
    assert "oxygen bubbles beside the air" in _steps(result, "corals-out-reef")
    assert "pump and oxygen on" in _steps(result, "seal-fish-reef")


ASKED = {
    "high": _oxygen_runs,
    "frost": _keeps_warm,
    "mountain": _within_circuits,
    "larger": _warm_by_the_morning,
    "heat": _shaded_and_never_heated,
}


def test_where_air_is_too_thin_oxygen_is_the_way_out(run: Run, tmp_path: Path) -> None:
    """What is named is typed in among the far ends above."""
    path = tmp_path / "plan.yaml"
    path.write_text(json.dumps(PLAN | HIGH | {"title": "bare"}), "utf-8")
    result = built(run, path, tmp_path / "out")
    named = [one["remedy"] for one in result["problems"] if one["key"] == "livestock.tang"]
    assert named
    assert all('add "{id: oxygen, kind: oxygen, count: 1}" under gear (tried' in one for one in named)
