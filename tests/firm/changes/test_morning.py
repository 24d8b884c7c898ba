"""A morning's answer from what was built: who goes instead, what cannot run, and which visits are left alone."""

from __future__ import annotations

import json
import time
from datetime import date
from typing import Any

import pytest

from moveplan.errors import PlanFileError
from moveplan.firm.changes.morning import Morning, morning_of
from moveplan.firm.values import Out
from tests.firm.firms import built, six_jobs


def data() -> dict[str, Any]:
    folder, _ = built()
    found: dict[str, Any] = json.loads((folder / "result.json").read_text("utf-8"))
    return found


def day(job: str) -> date:
    found = six_jobs().of(job)
    assert found is not None
    return found.sent.day


def answered(*out: Out) -> Morning:
    return morning_of(six_jobs().firm, data(), out)


def test_somebody_ill_on_a_moving_day_is_replaced_by_one_who_is_called_and_nothing_else_changes() -> None:
    firm, when = six_jobs().firm, day("ferry_house")
    for who in next(job["crew"] for job in data()["jobs"] if job["id"] == "ferry_house"):
        begun = time.process_time()
        found = answered(Out(who, when, when))
        assert time.process_time() - begun < 5
        ((before, now),) = found.runs
        assert found.off == ()
        assert (now.day, now.vehicles) == (when, before.vehicles)
        assert set(before.crew) - set(now.crew) == {who}
        assert set(found.calls) == set(now.crew) - set(before.crew)
        assert any(firm.worker(one).helper.lead for one in now.crew)
        assert any(firm.worker(one).helper.drives for one in now.crew)


def test_a_van_off_the_road_leaves_the_crews_and_takes_the_other_van() -> None:
    when = day("school_tank")
    ((before, now),) = answered(Out("van-one", when, when)).runs
    assert before.crew == now.crew
    assert now.vehicles == ("van-two",)


def test_with_no_van_left_the_client_is_called() -> None:
    when = day("school_tank")
    found = answered(Out("van-one", when, when), Out("van-two", when, when))
    assert found.runs == ()
    assert [one.job for one in found.off] == ["school_tank"]


def test_visits_of_somebody_ill_are_listed_with_who_is_free() -> None:
    firm = six_jobs().firm
    person = next(one for one in data()["people"] if one["id"] == "ruth")
    moving = {job["day"] for job in data()["jobs"] if "ruth" in job["crew"]}
    row = next(one for one in person["days"] if one["date"] not in moving and one["stops"])
    when = date.fromisoformat(row["date"])
    found = answered(Out("ruth", when, when))
    assert [one.job for one in found.visits] == [stop["job"] for stop in row["stops"]]
    for one in found.visits:
        assert "ruth" not in one.free
        assert all(firm.worker(who).helper.drives for who in one.free)


def test_nobody_out_changes_nothing_and_another_firms_folder_is_refused() -> None:
    assert answered() == Morning((), (), ())
    with pytest.raises(PlanFileError, match="another firm"):
        morning_of(six_jobs().firm, data() | {"id": "other"}, ())


def test_visits_of_whoever_is_called_to_a_moving_day_are_listed_too() -> None:
    """Tries every absence of one person on every moving day, and looks the called one's stops up in the file."""
    stops = {
        (person["id"], row["date"]): [stop["job"] for stop in row["stops"]]
        for person in data()["people"]
        for row in person["days"]
    }
    seen = 0
    for placed in six_jobs().placed:
        for who in placed.sent.crew:
            found = answered(Out(who, placed.sent.day, placed.sent.day))
            for called in found.calls:
                waiting = [one.job for one in found.visits if one.who == called]
                expected = [job for job in stops.get((called, str(placed.sent.day)), []) if job != placed.job]
                assert waiting == expected
                seen += len(expected)
    assert seen > 0
