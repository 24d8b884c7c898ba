"""The example firm by its files alone, and each kind of fault made on purpose."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from datetime import datetime, timedelta
from typing import Any

import pytest

from tests.firm.firms import EXAMPLES, built
from tests.verifier.firm_checker import faults, read

Files = tuple[dict[str, Any], dict[str, Any], dict[str, Any]]


def files() -> Files:
    folder, _ = built()
    return deepcopy(read(folder, EXAMPLES / "firm.yaml"))


def later(text: str, minutes: int) -> str:
    return (datetime.fromisoformat(text) + timedelta(minutes=minutes)).isoformat()


def test_the_example_has_no_fault_by_its_files_alone() -> None:
    assert faults(*files()) == []


def _twice(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    """Give somebody on one moving day a task of another job at the same time."""
    one, two = list(jobs)[:2]
    who, busy = next(
        (who, task) for task in jobs[one]["tasks"] for who in task["people"] if who in firm["people"]
    )
    other = next(task for task in jobs[two]["tasks"] if task["kind"] == "work" and len(task["segments"]) == 1)
    other["people"], other["segments"] = [who], deepcopy(busy["segments"])
    other.pop("segment_people", None)


def _stretch(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    firm["people"]["ruth"]["longest-day"] = "1 h"


def _rest(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    for one in firm["people"].values():
        one["rest"] = "23 h"


def _lost_drive(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    next(day for day in built["people"][0]["days"] if day["drives"])["drives"].pop()


def _slow(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    next(day for day in built["people"][0]["days"] if day["drives"])["drives"][0]["minutes"] += 7


def _moved(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    stop = next(row for day in built["people"][0]["days"] for row in day["stops"] if row["from"] != "base")
    stop["start"], stop["finish"] = later(stop["finish"], 1), later(stop["finish"], 2)


def _late_van(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    stop = next(row for one in built["vehicles"] for day in one["days"] for row in day["stops"])
    stop["start"] = later(stop["start"], 45)


def _less_gear(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    next(one for one in built["gear"] if one["taken"])["count"] = 0


def _no_licence(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    """Let the one who does not drive go alone."""
    assert firm["people"]["sol"]["drives"] is False
    drive = next(row for row in built["drives"] if "vehicle" not in row)
    drive["driver"] = "sol"


def _two_ways(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    """Send somebody who came with the others on in their vehicle, which goes home in the same minutes."""
    person = next(one for one in built["people"] if one["id"] == "petra")
    day = next(day for day in person["days"] if any("vehicle" in row for row in day["drives"]))
    day["drives"][1] |= {"to": day["stops"][0]["from"], "along": []}


def _left_there(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    built["drives"] = [
        row for row in built["drives"] if row.get("vehicle") != "van-one" or row["to"] != "base"
    ]


def _bins(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    """Leave out of what is told the tubs in which new water stands before its moving day."""
    tubs = next(one for one in built["gear"] if one["id"] == "tubs")
    days = {job["id"]: job["day"] for job in built["jobs"]}
    tubs["taken"] = [
        row
        for row in tubs["taken"]
        if datetime.fromisoformat(days[row["job"]] + "T00:00+01:00") - datetime.fromisoformat(row["start"])
        < timedelta(days=3)
    ]


def _broken(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    next(job for job in built["jobs"] if job["promised"]).pop("day")


def _idle(built: dict[str, Any], jobs: dict[str, Any], firm: dict[str, Any]) -> None:
    built["people"][0]["days"][0]["worked_minutes"] -= 30


BROKEN: dict[str, Callable[[dict[str, Any], dict[str, Any], dict[str, Any]], None]] = {
    "twice": _twice,
    "long day": _stretch,
    "short night": _rest,
    "chain": _lost_drive,
    "way": _slow,
    "stop": _moved,
    "together": _late_van,
    "gear": _less_gear,
    "containers": _bins,
    "driver": _no_licence,
    "drives": _two_ways,
    "promise": _broken,
    "worked": _idle,
}


def test_a_van_that_never_comes_home_is_found() -> None:
    broken = files()
    _left_there(*broken)
    assert any("van-one never comes home" in line or "van-one is at" in line for line in faults(*broken))


@pytest.mark.parametrize("kind", BROKEN)
def test_each_kind_of_fault_is_found(kind: str) -> None:
    broken = files()
    BROKEN[kind](*broken)
    assert any(line.startswith(f"{kind}:") for line in faults(*broken)), faults(*broken)
