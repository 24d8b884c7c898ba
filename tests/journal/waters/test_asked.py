"""What the words of a hold point ask to be read is what it is opened by, each within the same limits."""

from __future__ import annotations

import re

import pytest

from moveplan.network.task import Kind
from moveplan.outputs.accepted import known_of_project
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
