"""Steps say the same litres and the same containers as the ledger."""

from __future__ import annotations

import re

import pytest

from moveplan.practice.ledger.pour_words import litres, pour_filters, runs
from moveplan.practice.project import Project
from tests.examples import project

POURED = re.compile(r"([\d.,]+) l into (?:each of )?((?:[A-Z]\d+(?:–[A-Z]\d+)?(?:, | and )?)+)")
ENTRIES = (
    ("system:reef", "container:T1", 15.0),
    ("system:reef", "container:T2", 15.0),
    ("new:reef", "container:T3", 4.0),
)


def spelled(text: str) -> dict[str, float]:
    """Read litres by container out of a step."""
    found: dict[str, float] = {}
    for amount, numbers in POURED.findall(text):
        for one in re.findall(r"[A-Z]\d+(?:–[A-Z]\d+)?", numbers):
            first, _, last = one.partition("–")
            for number in range(int(first[1:]), int((last or first)[1:]) + 1):
                key = f"{first[0]}{number}"
                found[key] = found.get(key, 0.0) + float(amount.replace(",", ""))
    return found


def booked(found: Project, task: str) -> dict[str, float]:
    """Add litres by container up out of the ledger."""
    rows: dict[str, float] = {}
    for pour in found.ledger.pours:
        if pour.task == task and pour.target.startswith("container:"):
            number = pour.target.partition(":")[2]
            rows[number] = rows.get(number, 0.0) + pour.litres
    return rows


def drawn(found: Project, task: str) -> float:
    """Litres that a task takes out of tanks. [l]."""
    return sum(
        pour.litres for pour in found.ledger.pours if pour.task == task and pour.source.startswith("system:")
    )


@pytest.mark.parametrize(
    "name", ["house_move", "small_tank_move", "larger_tank_same_spot", "house_move_with_gap"]
)
def test_the_step_of_drawing_water_says_what_the_ledger_says(name: str) -> None:
    found = project(name)
    seen = 0
    for task in found.network.tasks:
        if task.id.startswith("draw-keep-water"):
            said, kept = spelled(task.steps[1]), booked(found, task.id)
            assert said.keys() == kept.keys()
            for number, amount in kept.items():
                assert said[number] == pytest.approx(amount, rel=0.04, abs=0.06)
            total = re.search(r"Draw ([\d.]+) l of clean water", task.title)
            assert total is not None
            assert float(total[1]) == pytest.approx(drawn(found, task.id), rel=0.01)
            seen += 1
    assert seen


def test_runs_are_of_one_letter_and_without_gaps() -> None:
    assert runs(["T2", "T1", "T3", "C1", "T7", "T101"]) == ["C1", "T1–T3", "T7", "T101"]
    assert runs([]) == []


def test_equal_amounts_are_said_together() -> None:
    filters = pour_filters("metric")
    assert filters["poured"](ENTRIES) == "15 l into each of T1–T2 and 4 l into T3"
    assert litres(ENTRIES) == 34.0
    assert [source for source, _ in filters["by_source"](ENTRIES)] == ["system:reef", "new:reef"]
    assert filters["into_containers"]((*ENTRIES, ("container:T1", "drain", 1.0))) == list(ENTRIES)
    assert (
        filters["sources"]([("container:C2", "system:reef", 1.0), ("container:C1", "system:reef", 1.0)])
        == "C1–C2"
    )


def test_a_container_filled_out_of_two_bins_is_named_once_with_what_is_in_it_then() -> None:
    entries = [("container:M1", "container:C1", 4.0), ("container:T1", "container:C1", 9.5)]
    assert pour_filters("metric")["poured"](entries) == "13.5 l into C1"
