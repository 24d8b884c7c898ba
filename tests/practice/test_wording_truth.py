"""What people read is true, said once, and fits the task it stands in."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache

import pytest

from moveplan.network.task import Task
from moveplan.practice.compose import project_of
from moveplan.practice.project import Project
from tests.examples import project as example
from tests.practice.drafting.test_wording import every_plan, project
from tests.quantities.plans import TEXT, edited, plan_of

BARE = (
    TEXT.replace("    sump: 40 l\n", "    sump: 0 l\n")
    .replace("    sand: 18 kg\n", "    sand: 0 kg\n")
    .replace("  goby: {name: Goby, kind: goby, count: 1, size: 8 cm, temperament: timid}\n", "")
    .replace("  snails: {name: Snails, kind: snail, count: 10, size: 2 cm}\n", "")
    .replace("  corals: {name: Branching corals, kind: small-polyp-coral, count: 4, size: 8 cm}\n", "")
)
"""A tank without sump, sand and corals, with one kind of fish."""


@cache
def bare() -> Project:
    return project_of(edited(("count: 2, size: 7 cm", "count: 1, size: 7 cm"), text=BARE))


def texts(task: Task) -> tuple[str, ...]:
    return (task.title, *task.steps)


# Counts agree

ONE_WITH_MANY = re.compile(
    r"\b(?:1|1 ×) (?:[a-z]+ )?(?:tubs|boxes|pumps|pieces|colonies|ticks|people|stones|tubes|cans|trips|cars)\b"
    r"|^Done when 1 × (?:(?! and |,).)*? have\b|\ball 1\b"
)
MANY_WITH_ONE = re.compile(r"\b(?:[2-9]|\d\d+) (?:tub|box|pump|piece|colony|tick|air stone|tube)\b(?! of)")


@every_plan
def test_numbers_and_words_agree(name: str) -> None:
    for task in project(name).network.tasks:
        for text in texts(task):
            assert not ONE_WITH_MANY.search(text), f"{task.id}: {text}"
            assert not MANY_WITH_ONE.search(text), f"{task.id}: {text}"


def test_one_animal_is_spoken_of_as_one() -> None:
    for task in bare().network.tasks:
        for text in texts(task):
            assert not ONE_WITH_MANY.search(text), f"{task.id}: {text}"
            assert not re.search(r"Clownfish.*\b(?:they are|others|calm ones|chasing|them)\b", text), text
    assert ONE_WITH_MANY.search("Done when 1 × Six-line wrasse have been seen")


# Nothing twice

ROW = re.compile(r"[A-Z]\d[^:]*: ")
"""A row of a list of containers: each has its own."""


@every_plan
def test_no_task_says_a_thing_twice(name: str) -> None:
    for task in project(name).network.tasks:
        said = Counter(
            part.strip(" .").lower()
            for step in task.steps
            if not ROW.match(step)
            for part in re.split(r"(?<=[a-z])[.;:] ", step)
        )
        twice = [part for part, count in said.items() if count > 1 and len(part) > 12]
        assert not twice, f"{task.id}: {twice}"


CONTRADICTS = re.compile(r"most that (\d+) people lift.*\b\1 people .*carry")


@every_plan
def test_how_a_tank_is_lifted_is_told_in_full_before_the_day_and_in_short_on_it(name: str) -> None:
    for task in project(name).network.tasks:
        text = " ".join(task.steps)
        assert not CONTRADICTS.search(text), task.id
        if task.id.startswith(("tank-off", "place-tank", "bench-tank")):
            assert "bare hands" not in text, task.id
            assert re.search(r"carr(?:y|ies) it", text), task.id
    assert CONTRADICTS.search("21.3 kg is the most that 3 people lift by hand; 3 people who can carry it")


# Numbers of containers are the same everywhere


@every_plan
def test_animals_are_in_the_containers_whose_numbers_their_way_names(name: str) -> None:
    found = project(name)
    inside: dict[str, set[str]] = {}
    for use in found.ledger.containers:
        for held in use.vessel.holds:
            if held.what == "livestock":
                inside.setdefault(held.id, set()).add(use.vessel.number)
    for route in found.routes:
        named = {number for stop in route.stops for number in stop.numbers}
        assert named <= inside.get(route.livestock, set()), route.livestock
        for stop in route.stops:
            if stop.numbers:
                assert stop.container.startswith(f"{len(stop.numbers)} × "), stop.container


RUN = re.compile(r"\b([A-Z])(\d+)(?:–[A-Z](\d+))?\b")


def numbers_in(text: str) -> set[str]:
    return {
        f"{letter}{number}"
        for letter, first, last in RUN.findall(text)
        for number in range(int(first), int(last or first) + 1)
    }


@every_plan
def test_a_task_names_only_containers_that_there_are(name: str) -> None:
    found = project(name)
    there = {use.vessel.number for use in found.ledger.containers}
    there |= {item.number for load in found.loads for item in load.items}
    for task in found.network.tasks:
        if task.id.startswith(("print-labels", "seal-fish", "load-", "unload-", "fill-cans", "set-out")):
            assert numbers_in(" ".join(task.steps)) <= there, task.id


def test_those_who_share_a_container_have_one_line() -> None:
    steps = next(one.steps for one in project("house_move").network.tasks if one.id.startswith("seal-fish"))
    lines = [step for step in steps if " box: " in step]
    named = [number for line in lines for number in sorted(numbers_in(line.split(",")[0]))]
    assert lines
    assert len(named) == len(set(named))


# Nothing for animals and things that are not there

NOT_THERE = re.compile(
    r"\b(?:corals?|zoanthids?|colon(?:y|ies)|sump|return pump|skimmer|sand)\b", re.IGNORECASE
)


def test_a_tank_of_one_fish_reads_nothing_of_corals_sump_and_sand() -> None:
    for task in bare().network.tasks:
        for text in texts(task):
            assert not NOT_THERE.search(text), f"{task.id}: {text}"
    with_corals = " ".join(text for task in project("tests").network.tasks for text in texts(task))
    assert NOT_THERE.search(with_corals)


# What a step says is what the plan reckons with


@every_plan
def test_light_comes_back_to_all_of_it_and_not_beyond(name: str) -> None:
    for task in project(name).network.tasks:
        if task.id.startswith("raise-light"):
            shares = [int(one) for one in re.findall(r"(\d+) %", task.steps[0])]
            assert task.repeats is not None
            assert len(shares) == task.repeats.times
            assert (shares[0], shares[-1]) == (50, 100)
            assert shares == sorted(shares)


def minutes(text: str) -> int:
    return sum(
        int(count) * {"day": 1440, "h": 60, "min": 1}[unit]
        for count, unit in re.findall(r"(\d+) (day|h|min)", text)
    )


@every_plan
def test_battery_pumps_are_tried_for_the_hours_in_which_they_run(name: str) -> None:
    found = project(name)
    aired = any(use.vessel.stones for use in found.ledger.containers)
    for task in found.network.tasks:
        if task.id != "test-air":
            continue
        said = re.search(r"run for (.+?) on end.*have cells for (.+?) for each", " ".join(task.steps))
        assert bool(said) == aired
        if said:
            runs, cells = map(minutes, said.groups())
            assert 0 < runs <= cells


SMALL_VEHICLES = """\
  car: {name: Car, payload: 100 kg, load-space: {length: 1.2 m, width: 1 m, height: 0.9 m}}
  van: {name: Van, payload: 300 kg, load-space: {length: 1.8 m, width: 1.2 m, height: 1.2 m}}
"""


def test_a_group_that_rides_in_two_vehicles_names_both() -> None:
    head, _, tail = TEXT.partition("  van: {")
    many = (head + SMALL_VEHICLES + tail.partition("\n")[2]).replace("coral, count: 4", "coral, count: 14")
    found = project_of(plan_of(many))
    vessels = [use.vessel for use in found.ledger.containers]
    box = {held.id: one.number for one in vessels for held in one.holds if held.what == "container"}
    names = {one.id: one.name for one in found.plan.vehicles}
    carried = {item.number: names[load.vehicle] for load in found.loads for item in load.items if item.number}
    split = 0
    for route in found.routes:
        for stop in route.stops:
            used = {carried[box.get(number, number)] for number in stop.numbers}
            if any(name in stop.where for name in names.values()):
                assert all(name in stop.where for name in used), route.livestock
                split += len(used) > 1
    assert split


@pytest.mark.parametrize(("name", "said"), [("house_move", True), ("larger_tank_same_spot", False)])
def test_a_visit_before_the_keys_is_agreed_with_who_has_them(name: str, said: bool) -> None:
    visits = [task for task in example(name).network.tasks if task.id.startswith("check-new-floor")]
    assert any("keys are not yours yet" in step for task in visits for step in task.steps) is said
