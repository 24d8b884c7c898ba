from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal

from moveplan.errors import Problem
from moveplan.network.task import LargerCrew
from moveplan.outputs.data.result import result_data, result_json
from moveplan.outputs.outlook import Drift, Moved, Slipped
from moveplan.practice.project import Load, LoadItem
from moveplan.risk.summary import Measure
from tests.outputs.scene import REASONS, impossible, moving_day, risk

HEAD = [
    "format",
    "moveplan_version",
    "made_with",
    "id",
    "title",
    "timezone",
    "now",
    "purpose",
    "way",
    "other_ways",
    "status",
]


def test_keys_stand_in_their_lasting_order() -> None:
    keys = list(result_data(moving_day()))
    assert keys[: len(HEAD)] == HEAD
    assert keys[len(HEAD) :] == [
        "problems",
        "findings",
        "cautions",
        "assumptions",
        "places",
        "people",
        "vehicles",
        "gear",
        "gear_needed",
        "solver",
        "milestones",
        "tasks",
        "links",
        "holds",
        "livestock",
        "containers",
        "water",
        "loads",
        "cost",
        "risk",
    ]


def test_drift_is_there_once_a_schedule_was_accepted() -> None:
    seen = moving_day()
    task = seen.schedule.placements[0]
    drift = Drift(
        moved=(
            Moved(task.task, "Drain", task.start - 60, task.start, None),
            Moved("new", "New", None, task.start, None),
        ),
        milestones=(Slipped("ready", task.start, task.start + 1440),),
        dangers=(),
        first_accepted=task.start - 10_000,
        cost_more=Decimal("-12.50"),
    )
    data = result_data(replace(seen, drift=drift))

    now = next(one["start"] for one in data["tasks"] if one["id"] == task.task)
    assert list(data)[-1] == "drift"
    assert list(data["drift"]) == ["first_accepted", "milestones", "cost_more", "moved"]
    assert data["drift"]["cost_more"] == -12.5
    assert data["drift"]["milestones"]["ready"]["then"] == now
    assert data["drift"]["milestones"]["ready"]["later_minutes"] == 1440
    first, second = data["drift"]["moved"]
    assert (first["to"], first["later_minutes"]) == (now, 60)
    assert second == {"task": "new", "to": now}


def test_a_cost_that_is_not_known_is_not_compared() -> None:
    data = result_data(replace(moving_day(), drift=Drift((), (), (), 0)))

    assert data["drift"] == {"first_accepted": "1970-01-01T01:00:00+01:00", "milestones": {}, "moved": []}


def test_the_text_is_utf_8_with_one_newline_at_the_end_and_the_same_each_time() -> None:
    text = result_json(moving_day())
    assert text == result_json(moving_day())
    assert text.endswith(b"}\n")
    assert not text.endswith(b"\n\n")
    assert "2 × 12 l bag" in text.decode("utf-8")


def test_a_task_carries_its_place_in_the_schedule() -> None:
    tasks = {task["id"]: task for task in result_data(moving_day())["tasks"]}
    assert tasks["fill-tubs"] == {
        "id": "fill-tubs",
        "title": "Fill eight tubs with tank water",
        "phase": "moving-day",
        "place": "mill",
        "kind": "work",
        "start": "2027-05-22T07:30:00+01:00",
        "finish": "2027-05-22T08:15:00+01:00",
        "segments": [{"start": "2027-05-22T07:30:00+01:00", "finish": "2027-05-22T08:15:00+01:00"}],
        "people": ["una"],
        "vehicles": [],
        "minutes": 45,
        "estimate": {
            "low": 34,
            "likely": 45,
            "high": 79,
            "basis": "45 min, invented",
            "provenance": "computed",
        },
        "gear": {"tubs": 8},
        "early_start": "2027-05-22T07:30:00+01:00",
        "early_finish": "2027-05-22T08:15:00+01:00",
        "late_start": "2027-05-22T07:30:00+01:00",
        "late_finish": "2027-05-22T08:15:00+01:00",
        "total_float_minutes": 0,
        "free_float_minutes": 0,
        "critical": True,
        "driver": {"kind": "person", "resource": "una"},
        "steps": ["Pump 240 l into the tubs."],
        "cautions": ["lifting"],
        "state": "NEEDS-ACTION",
    }
    assert tasks["check-floor"]["state"] == "COMPLETED"
    assert tasks["test-water"]["repeats"] == {"every_minutes": 1440, "times": 14}
    assert len(tasks["test-water"]["segments"]) == 14


def test_a_larger_crew_that_was_chosen_shortens_the_duration_and_its_spread() -> None:
    outlook = moving_day()
    network = outlook.project.network
    tasks = tuple(
        replace(task, larger_crews=(LargerCrew(3, 15),)) if task.id == "carry-tank" else task
        for task in network.tasks
    )
    project = replace(outlook.project, network=replace(network, tasks=tasks))
    found = {task["id"]: task for task in result_data(replace(outlook, project=project))["tasks"]}
    assert found["carry-tank"]["minutes"] == 15
    estimate = found["carry-tank"]["estimate"]
    assert (estimate["low"], estimate["likely"], estimate["high"]) == (11, 15, 26)


def test_links_and_holds_use_the_words_of_the_standard() -> None:
    data = result_data(moving_day())
    assert data["links"][3] == {
        "from": "catch-fish",
        "to": "release-fish",
        "relation": "STARTTOFINISH",
        "min_gap_minutes": None,
        "max_gap_minutes": 415,
        "why": "Safe time of the tang in its bag, less the allowance.",
    }
    assert data["holds"] == [
        {
            "gear": "tubs",
            "count": 8,
            "from_task": "fill-tubs",
            "until_task": "release-corals",
            "start": "2027-05-22T07:30:00+01:00",
            "finish": "2027-05-22T15:40:00+01:00",
        }
    ]


def test_money_has_no_float_noise_and_income_is_a_negative_quantity() -> None:
    cost = result_data(moving_day())["cost"]
    assert [line["amount"] for line in cost["lines"]] == [38.08, 190, 38.5, -15]
    assert cost["lines"][3]["quantity"] == -10
    assert cost["total"] == 251.58
    assert cost["expected_loss"] == 61
    assert "reserve" not in cost


def test_total_mass_of_a_load_is_the_sum_of_the_printed_masses() -> None:
    items = tuple(LoadItem(f"box {number}", 0.14) for number in range(10))
    outlook = moving_day()
    project = replace(outlook.project, loads=(Load("van", 1, items),))
    load = result_data(replace(outlook, project=project))["loads"][0]
    assert load["total_kg"] == 1
    assert sum(Decimal(str(item["kg"])) for item in load["items"]) == 1


def test_without_runs_risk_is_the_register_only() -> None:
    found = result_data(moving_day())["risk"]
    assert list(found) == ["runs", "seed", "register"]
    assert found["register"][0]["probability"] == 0.03
    assert found["register"][0]["delay_minutes"] == 180


def test_with_runs_risk_gives_dates_and_shares() -> None:
    found = result_data(replace(moving_day(), risk=risk(10000)))["risk"]
    assert found["settled"] == {
        "p10": "2027-05-22T15:45:00+01:00",
        "p50": "2027-05-22T16:45:00+01:00",
        "p80": "2027-05-22T18:15:00+01:00",
        "p95": "2027-05-22T20:45:00+01:00",
    }
    assert found["criticality"] == {"drive-over": 0.93, "refill-display": 0.71}
    assert found["livestock_over_limit"]["tang"] == 0.031
    assert found["start_by"] == [
        {"task": "make-water", "date": "2027-05-10T18:00:00+01:00", "confidence": 0.9}
    ]


def test_what_cannot_be_done_has_reasons_and_no_dates() -> None:
    data = result_data(impossible())
    assert data["status"] == "cannot-be-done"
    assert data["problems"][0] == {
        "message": REASONS[0].message,
        "where": "scene.yaml:33",
        "key": "vehicles.van.hire",
        "remedy": "hire the van until 18:00; tried, it works",
    }
    assert data["solver"] == {"engine": "exact", "status": "INFEASIBLE", "aims": []}
    assert data["livestock"] == []
    assert not {"milestones", "cost", "risk"} & set(data)
    assert not {"start", "finish", "segments", "people", "early_start"} & set(data["tasks"][0])


def test_a_problem_without_a_line_keeps_its_place_as_it_is() -> None:
    outlook = replace(moving_day(), problems=(Problem("no van", "my plan.yaml vehicles"), Problem("no crew")))
    places = [problem["where"] for problem in result_data(outlook)["problems"]]
    assert places == ["my plan.yaml vehicles", ""]


def test_hostile_text_stays_text() -> None:
    title = 'a "quote", </script> , \u202e right to left, \x07 bell, half a pair \ud83d'
    outlook = moving_day()
    plan = replace(outlook.project.plan, title=title)
    text = result_json(replace(outlook, project=replace(outlook.project, plan=plan)))
    assert json.loads(text)["title"] == title.replace("\ud83d", "?")


def test_a_risk_has_its_expected_loss_and_what_could_be_done_beforehand() -> None:
    outlook = moving_day()
    assert outlook.risk is not None
    pump = Measure("pump", "A second battery air pump", Decimal(18), probability_left=0.4)
    entry = replace(
        outlook.risk.register[0],
        probability=0.2,
        cost=Decimal(800),
        measures=(pump, replace(pump, id="cells", taken=True)),
    )
    found = result_data(replace(outlook, risk=replace(outlook.risk, register=(entry,))))["risk"]["register"][
        0
    ]
    assert found["expected_loss"] == 160
    shared = {"text": "A second battery air pump", "cost": 18, "provenance": "assumed"}
    shared["effect_provenance"] = "assumed"
    assert found["measures"] == [
        {"id": "pump", **shared, "taken": False, "lowers_expected_loss_by": 96},
        {"id": "cells", **shared, "taken": True},
    ]


def test_what_the_runs_tell_beside_dates_is_there_with_its_errors() -> None:
    found = replace(
        risk(10000), day_missed=0.1, spread=(("drive", 3.5),), errors=(("day-missed", 0.003),), notes=("how",)
    )
    data = result_data(replace(moving_day(), risk=found))["risk"]
    assert data["chances"] == {"day_missed": 0.1}
    assert data["moves_the_end"] == [{"task": "drive", "minutes": 3.5}]
    assert data["standard_errors"] == {"day-missed": 0.003}
    assert data["notes"] == ["how"]
