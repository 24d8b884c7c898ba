"""What the words of a hold point ask to be read is what it is opened by, each within the same limits."""

from __future__ import annotations

import re

import pytest

from moveplan.network.task import Kind
from moveplan.outputs.accepted import known_of_project
from moveplan.science.limits import limits
from moveplan.units import show_number
from tests import examples

SAID = {
    "temperature": "thermometer in the tank|temperature",
    "salinity": "salinity",
    "ph": r"\bpH\b",
    "ammonia": "[Aa]mmonia",
    "nitrite": "[Nn]itrite",
    "nitrate": "nitrate",
    "alkalinity": "[Aa]lkalinity",
    "oxygen": "oxygen",
}

NEAR = {
    "temperature": r"(?:less than|within) {} ?(?:K|°F)",
    "salinity": r"(?:{} salinity|salinity within {}\b)",
    "ph": r"{} pH\b",
    "alkalinity": r"{} dKH\b",
}
"""How a step says by how much two waters may differ."""
BENDS = {
    "risen": r"seen high since",
    "falls": r"lower than at its highest",
    "apart_min": r"at least 24 h apart|the last week|for ten days",
}
"""How a step says what readings have to show one after the other."""
SINCE = {
    "fill-tank": "the last row of the old water",
    "dose-ammonia": "since the dose",
    "move-wave": "readings of this wave",
    "add-newcomers": "readings after the newcomers",
    "water-matched": "readings since the move",
}
"""How a step says from when on readings count."""


@pytest.mark.parametrize("name", examples.NAMES)
def test_a_hold_point_asks_for_what_its_own_steps_ask_for(name: str) -> None:
    project = examples.project(name)
    known = known_of_project(project)
    asking = set()
    for task in project.network.tasks:
        if task.kind is not Kind.HOLD_POINT:
            continue
        words = "\n".join(task.steps).replace("ammonium", "")
        gates = {gate.what: gate for gate in known.tasks[task.id].gates}
        said = {what for what, pattern in SAID.items() if re.search(pattern, words)}
        assert set(gates) == said, (task.id, words)
        asking |= {task.id} if gates else set()
        for gate in gates.values():
            warm = gate.what == "temperature" and project.plan.units == "us"
            for limit in (gate.low, gate.high, gate.unionised):
                told = show_number((limit or 0.0) * 1.8 + 32.0 if warm else limit or 0.0)
                assert limit is None or told in words, (task.id, gate)
            times = {1: "", 2: "twice|both times|two readings|every row|ten days"}[gate.times]
            assert re.search(times, words), (task.id, gate)
            assert gate.may == (gate.what == "oxygen")
    assert asking


@pytest.mark.parametrize("name", examples.NAMES)
def test_a_hold_point_compares_what_its_own_steps_compare(name: str) -> None:
    project = examples.project(name)
    known = known_of_project(project)
    tasks = {task.id for task in project.network.tasks}
    for task in project.network.tasks:
        words = "\n".join(task.steps)
        gates = {gate.what: gate for gate in known.tasks[task.id].gates}
        if task.kind is not Kind.HOLD_POINT or not gates:
            continue
        warm = 1.8 if project.plan.units == "us" else 1.0
        for what, pattern in NEAR.items():
            limit = limits()[f"{what}_match"].value
            limit = project.plan.policy.get(f"{what}_match", limit) * (warm if what == "temperature" else 1.0)
            said = re.search(pattern.replace("{}", re.escape(show_number(limit))), words)
            assert bool(said) == (what in gates and gates[what].near is not None), (task.id, what, words)
        for gate in gates.values():
            if gate.near is not None:
                assert gate.past or gate.like in words or known.systems[gate.like] in words or "both" in words
                assert gate.past or gate.like != gate.system
        for field, pattern in BENDS.items():
            asked = any(getattr(gate, field) for gate in gates.values())
            assert asked == bool(re.search(pattern, words)), (task.id, field, words)
        since = {gate.since for gate in gates.values()} - {""}
        assert since <= tasks
        for begin, pattern in SINCE.items():
            asked = any(one.startswith(f"{begin}-") for one in since)
            assert not asked or re.search(pattern, words), (task.id, begin, words)


@pytest.mark.parametrize("name", examples.NAMES)
def test_what_is_said_to_match_is_compared_here_or_in_what_has_to_be_recorded_before(name: str) -> None:
    """A hold point is not signed before what it waits for is recorded, or a reason is given."""
    project = examples.project(name)
    known, steps = known_of_project(project), {task.id: task.steps for task in project.network.tasks}
    compared = re.compile(r"salinity within \d|within \d\S* (?:of the tank|salinity)|\d salinity")
    for task in project.network.tasks:
        if task.kind is not Kind.HOLD_POINT or not re.search(r"\bmatch(?:es|ed)\b", "\n".join(task.steps)):
            continue
        before = [link.before for link in project.network.links if link.after == task.id]
        assert any(gate.near is not None for gate in known.tasks[task.id].gates) or any(
            compared.search("\n".join(steps[one])) for one in before
        ), (task.id, before)
