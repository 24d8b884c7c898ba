"""Wrong firm files: a sentence with both lines and a way out; and what every sound one is read as."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from moveplan.errors import PlanFileError
from moveplan.firm.day.roads import roads_of
from moveplan.firm.file.reader import read_firm
from moveplan.firm.file.schema import firm_schema
from moveplan.firm.jobs import read_jobs
from moveplan.plan.move import Plan
from moveplan.planfile.reader import read_plan
from moveplan.planfile.text import composed
from moveplan.planfile.walk import plain
from tests.firm.firms import EXAMPLES, copied

LATE = "  - {plan: jobs/late_call.yaml, day: 2027-05-08}\n"
GARDEN = "{plan: jobs/garden_flat.yaml, day: 2027-05-08, promised: yes, promise-price: 150}"

LEADS = "lead: yes, lifts: yes, cares: yes"
TWICE = LATE + "  - {id: again, plan: jobs/late_call.yaml}\n"
WINDOW = LATE.replace("day:", "window: 2027-05-10 to 2027-05-12, day:")
BAGS = "count: 60, volume: 8 l"

CASES: dict[str, tuple[tuple[tuple[str, str], ...], tuple[str, ...]]] = {
    "the same plan twice": (((LATE, TWICE),), ("planned twice (also at line 47)", "take one of the two out")),
    "two jobs of one name": (
        ((LATE, LATE.replace("{plan", "{id: garden_flat, plan")),),
        ("two jobs are called", "line 46"),
    ),
    "a promise without a day": (
        ((GARDEN, "{plan: jobs/garden_flat.yaml, promised: yes}"),),
        ("no day is promised", 'add "day:"'),
    ),
    "a price of nothing": (
        ((LATE, LATE.replace("day:", "promise-price: 5, day:")),),
        ("nothing is promised",),
    ),
    "a day outside of its window": (((LATE, WINDOW),), ("lies outside the window", "line 47")),
    "a client's gear as the firm's": (
        ((BAGS, f"{BAGS}, owner: client"),),
        ("counted as the firm's", "client's plan"),
    ),
    "nobody leads": (((LEADS, "cares: yes"), (LEADS, "cares: yes")), ("nobody leads", '"lead: yes"')),
    "who leads handles no animals": (((LEADS, "lead: yes, cares: no"),), ("decides about animals", "line")),
    "who leads does not drive": (
        ((f"{LEADS}, drives: yes", f"{LEADS}, drives: no"),),
        ("goes to clients alone", '"drives: yes"'),
    ),
    "a base that is no place": ((("base: yard", "base: yrad"),), ('there is no place "yrad"', '"yard"')),
    "a key that is not there": ((("rates: {lead", "rates: {laed"),), ("no such key", '"lead"')),
    "no jobs": ((("  - " + GARDEN + "\n" + LATE, "  []\n"),), ("there is no job",)),
    "a stock of what is not counted": (
        (("rates: {lead", "stock: {food: {there: 3}}\nrates: {lead"),),
        ("stock.food", "no such key"),
    ),
    "salt without its unit": (
        (("rates: {lead", "stock: {salt: {there: 20}}\nrates: {lead"),),
        ("stock.salt.there", "20 kg"),
    ),
    "half a delivery": (
        (("rates: {lead", "stock: {bags: {there: 20, delivery: -2 days}}\nrates: {lead"),),
        ("stock.bags.delivery",),
    ),
    "a job to learn from": (
        (("jobs:", "learn: [jobs/garden_flat.yaml]\njobs:"),),
        ("stands at line 47 too", "take it out here"),
    ),
    "a job to learn from, named alone": (
        (("jobs:", "learn: jobs/garden_flat.yaml\njobs:"),),
        ("stands at line 47 too",),
    ),
    "the same plan to learn from twice": (
        (("jobs:", "learn: [old/a.yaml, old/a.yaml]\njobs:"),),
        ("would be learnt from twice",),
    ),
    "wear of an hour": (
        (("travel: 0.60 per km", "travel: 0.60 per km, wear: 2 per hour"),),
        ("is per hour", "write it per km, day"),
    ),
    "a vehicle that cannot be read": ((("payload: 1100 kg", "payload: heavy"),), ("payload",)),
}


@pytest.mark.parametrize("case", CASES)
def test_a_wrong_firm_file_is_refused_with_both_lines(case: str, tmp_path: Path) -> None:
    changes, words = CASES[case]
    path = copied(tmp_path, *changes)
    with pytest.raises(PlanFileError) as caught:
        read_firm(path)
    for word in words:
        assert word in str(caught.value), str(caught.value)
    assert str(path) in str(caught.value)


def test_a_firm_file_where_a_plan_is_wanted_is_told_in_one_sentence() -> None:
    with pytest.raises(PlanFileError) as caught:
        read_plan(EXAMPLES / "firm.yaml")
    (problem,) = caught.value.problems
    assert problem.message == "this is a firm file, with many moves"
    assert problem.where.endswith("firm.yaml:5 purpose")


def refused(path: Path) -> str:
    firm = read_firm(path)
    with pytest.raises(PlanFileError) as caught:
        read_jobs(firm)
    return str(caught.value)


def test_a_job_that_cannot_be_read_is_told_with_its_own_problems(tmp_path: Path) -> None:
    path = copied(tmp_path)
    plan = tmp_path / "jobs" / "late_call.yaml"
    plan.write_text(plan.read_text("utf-8").replace("kind: clownfish", "kind: dragon"), "utf-8")
    text = refused(path)
    assert f"{path}:47 jobs.late_call" in text
    assert "dragon" in text


def test_a_job_whose_plan_is_not_there_is_told(tmp_path: Path) -> None:
    path = copied(tmp_path)
    (tmp_path / "jobs" / "late_call.yaml").unlink()
    assert "there is no such file" in refused(path)


def test_days_of_file_and_plan_that_do_not_meet_are_told_with_both_lines(tmp_path: Path) -> None:
    path = copied(tmp_path, (LATE, LATE.replace("day: 2027-05-08", "window: 2027-06-01 to 2027-06-05")))
    text = refused(path)
    assert f"{path}:47" in text
    assert "late_call.yaml:14 dates.move-window" in text


def test_gear_of_a_client_with_the_id_of_the_firms_is_told_with_both_lines(tmp_path: Path) -> None:
    path = copied(tmp_path)
    plan = tmp_path / "jobs" / "late_call.yaml"
    plan.write_text(
        plan.read_text("utf-8").replace("count: 6, volume: 40 l}", "count: 6, volume: 40 l, owner: client}"),
        "utf-8",
    )
    text = refused(path)
    assert "it would be counted as the firm's" in text
    assert "late_call.yaml:" in text
    assert "one_too_many.yaml:" in text


def test_a_copy_of_a_plan_is_told_by_its_id(tmp_path: Path) -> None:
    path = copied(tmp_path, (LATE, LATE.replace("late_call", "copy")))
    (tmp_path / "jobs" / "copy.yaml").write_text(
        (EXAMPLES / "jobs" / "garden_flat.yaml").read_text("utf-8"), "utf-8"
    )
    assert "are the same plan by their id" in refused(path)


def typed(path: Path) -> dict[str, Any]:
    data: dict[str, Any] = plain(composed(path.read_text("utf-8"))[0])
    return data


@pytest.mark.parametrize("name", ["firm.yaml", "one_too_many.yaml"])
def test_the_schema_takes_the_examples_and_is_sound_itself(name: str) -> None:
    schema = json.loads(json.dumps(firm_schema()))
    jsonschema.Draft202012Validator.check_schema(schema)
    errors = list(jsonschema.Draft202012Validator(schema).iter_errors(typed(EXAMPLES / name)))
    assert not errors, errors[:2]


def plans(path: Path) -> dict[str, Plan]:
    return {job: one.plan for job, one in read_jobs(read_firm(path)).items()}


def test_an_unknown_way_goes_by_the_base_and_is_never_free() -> None:
    path = EXAMPLES / "firm.yaml"
    roads = roads_of(read_firm(path), plans(path))
    for (one, two), (minutes, _) in roads.ways.items():
        assert minutes > 0, (one, two)
    by_base = roads.minutes("attic_reef.old", "") + roads.minutes("", "ferry_house.new")
    assert roads.minutes("attic_reef.old", "ferry_house.new") == by_base
    assert any("by way of" in one.value for one in roads.assumptions)


def test_a_place_that_does_not_say_how_far_it_is_is_assumed_and_listed(tmp_path: Path) -> None:
    path = copied(tmp_path)
    plan = tmp_path / "jobs" / "late_call.yaml"
    plan.write_text(plan.read_text("utf-8").replace(", from-base: 7 km", ""), "utf-8")
    roads = roads_of(read_firm(path), plans(path))
    assert [one.key for one in roads.assumptions if "from-base" in one.key] == [
        "jobs.late_call.places.old.from-base"
    ]


@pytest.mark.parametrize(
    ("old", "new"),
    [("from-base: 7 km", "from-base: 30 km"), ("area: mill", "area: harbour")],
    ids=["from-base", "area"],
)
def test_what_a_plan_says_of_the_base_and_its_area_moves_the_ways_of_the_firm(
    old: str, new: str, tmp_path: Path
) -> None:
    path = copied(tmp_path)
    plan = tmp_path / "jobs" / "late_call.yaml"
    before = roads_of(read_firm(path), plans(path)).ways
    text = plan.read_text("utf-8")
    assert old in text
    plan.write_text(text.replace(old, new), "utf-8")
    after = roads_of(read_firm(path), plans(path)).ways
    moved = {site for way in before if before[way] != after[way] for site in way}
    assert "late_call.old" in moved
    assert all("late_call.old" in way for way in before if before[way] != after[way])
