"""What is short is said with its line and by how much; each way out that is named works when it is typed in."""

from __future__ import annotations

import json
import re
from copy import deepcopy
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from moveplan.changed.trials import UNKNOWN, Trials, on_trial
from moveplan.changed.ways_out import Ways, none_of, with_own_way
from moveplan.errors import Problem, WayOut
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.pipeline import Settings, compose, outlook_of
from moveplan.planfile.reader import read_plan
from moveplan.quantities.leg.shortages import shorts_of
from moveplan.scheduling.effort import Effort

SETTINGS = Settings(effort=Effort(seconds=0.2, engine="serial"), runs=400)
PLAN: dict[str, Any] = {
    "id": "0b1f5a0e-5f0b-4a53-9f0c-2f6f4a1c8e55",
    "title": "A small reef over the hill",
    "purpose": "house-move",
    "way": "same-day",
    "as-of": "2027-01-04 09:00",
    "timezone": "Europe/Dublin",
    "country": "IE",
    "currency": "EUR",
    "dates": {"move-day": "2027-03-13"},
    "outside": {"low": "2 C", "high": "9 C"},
    "places": {"old": {"power": True}, "new": {"distance": "25 km", "power": True}},
    "systems": {
        "reef": {
            "place": "old",
            "moves-to": "new",
            "tank": {"length": "80 cm", "width": "40 cm", "height": "45 cm"},
            "rock": "12 kg",
            "equipment": {
                "heater": {"kind": "heater", "count": 2, "power": "150 W"},
                "pump": {"kind": "return-pump", "power": "30 W"},
                "lamp": {"kind": "light", "power": "90 W"},
            },
        }
    },
    "livestock": {
        "tang": {"name": "Tang", "kind": "tang", "count": 1, "size": "14 cm"},
        "clowns": {"name": "Clowns", "kind": "clownfish", "count": 2, "size": "7 cm"},
        "sticks": {"name": "Sticks", "kind": "small-polyp-coral", "count": 3, "size": "9 cm"},
    },
    "people": {
        "nora": {"drives": True, "lifts": True, "cares": True, "moving-day": "06:00-23:00"},
        "sean": {"lifts": True, "cares": True, "moving-day": "06:00-23:00"},
        "una": {"lifts": True, "cares": True, "moving-day": "06:00-23:00"},
    },
    "vehicles": {"van": {"payload": "1400 kg"}},
    "water-making": {"rate": "190 l/day", "storage": "200 l"},
    "gear": [
        {"id": "tubs", "kind": "tub", "count": 12, "volume": "60 l"},
        {"id": "boxes", "kind": "box", "count": 6, "volume": "40 l"},
        {"id": "bags", "kind": "bag", "count": 20, "volume": "12 l"},
        {"id": "pumps", "kind": "air-pump", "count": 6, "battery": "20 h", "outlets": 2},
        {"id": "heaters", "kind": "heater", "count": 2, "power": "200 W"},
    ],
}
"""Everything is there but cans and aids for lifting. Invented."""
Path_ = tuple[str, ...]
TOO_LITTLE: dict[str, tuple[dict[str, object], str, str]] = {
    "containers": ({"gear.tubs.count": 1, "gear.boxes.count": 1}, "gear.tubs.count", r"\d+ short"),
    "air outlets": ({"gear.pumps.count": 1, "gear.pumps.outlets": 1}, "gear.pumps.count", r"\d+ short"),
    "heaters": ({"gear.heaters.count": 1}, "gear.heaters.count", "1 short"),
    "old water": ({"systems.reef.water-kept": "100 %"}, "systems.reef.water-kept", r"\d+ l short"),
    "batteries": ({"gear.pumps.battery": "0.5 h"}, "livestock.tang", "short"),
    "mains power": ({"places.old.circuit": "300 W"}, "places.old.circuit", r"\d+ W too much"),
}
"""What there is too little of: the key that is written, the line that is named, and the amount that is said."""


def written(folder: Path, writes: dict[str, object]) -> Path:
    """Write the plan with other values at some keys; ``gear`` adds an entry."""
    plan = deepcopy(PLAN)
    for key, value in writes.items():
        _write(plan, key.split("."), value)
    path = folder / "plan.yaml"
    path.write_text(json.dumps(plan, indent=1), "utf-8")  # JSON is YAML
    return path


def _write(plan: Any, keys: list[str], value: object) -> None:
    *above, last = keys
    for key in above:
        plan = next(one for one in plan if one["id"] == key) if isinstance(plan, list) else plan[key]
    plan[last] = value


def typed(folder: Path, before: dict[str, object], remedy: str) -> Path:
    """Type what a remedy says into the plan: keys with their values, and entries of the gear."""
    keys = dict(re.findall(r'write "([a-z0-9.-]+): ([^"]+)"', remedy))
    keys = {key if "." in key else f"systems.reef.{key}": value for key, value in keys.items()}
    path = written(folder, before | {key: _number(value) for key, value in keys.items()})
    plan = json.loads(path.read_text("utf-8"))
    for entry in re.findall(r'add "{([^"]+)}" under gear', remedy):
        pairs = dict(part.split(": ") for part in entry.split(", "))
        plan["gear"].append({key: _number(value) for key, value in pairs.items()})
    assert keys or len(plan["gear"]) > len(PLAN["gear"]), remedy
    path.write_text(json.dumps(plan, indent=1), "utf-8")
    return path


def _number(value: str) -> object:
    return int(value) if value.isdigit() else value


def told_of(outlook: Outlook, line: str) -> tuple[str, str, str]:
    """Find what is said of a line of the plan: where, what, and the way out."""
    rows = [*outlook.problems, *outlook.project.findings]
    found = next(one for one in rows if one.where.endswith(f" {line}"))
    return found.where, found.message, found.remedy


@pytest.mark.parametrize(("writes", "line", "amount"), TOO_LITTLE.values(), ids=TOO_LITTLE.keys())
def test_a_shortage_is_said_and_its_way_out_works(
    tmp_path: Path, writes: dict[str, object], line: str, amount: str
) -> None:
    outlook = outlook_of(written(tmp_path, writes), SETTINGS)
    where, message, remedy = told_of(outlook, line)
    assert re.search(r"plan\.yaml:\d+ ", where)
    assert re.search(amount, message), message
    for way in remedy.split("; or "):
        again = outlook_of(typed(tmp_path, writes, way), SETTINGS)
        assert again.verdict in (Verdict.OK, Verdict.TIGHT), (way, again.problems)
        if line.startswith(("gear", "systems")):
            kinds = {one.kind for one in shorts_of(again.project.plan, again.project.gear_needed) if one.item}
            assert not kinds if line.startswith("gear") else line not in str(again.project.findings), way


def test_nothing_is_assumed_to_be_there(tmp_path: Path) -> None:
    """What the plan has none of is said, and what is ordered stands on the order list and on the bill."""
    outlook = outlook_of(written(tmp_path, {"gear": PLAN["gear"][:1]}), SETTINGS)
    project = outlook.project
    shorts = {one.kind: one.missing for one in shorts_of(project.plan, project.gear_needed)}
    assert {"can", "air-pump", "heater"} <= shorts.keys()
    (said,) = [one for one in project.findings if one.message.startswith("the plan has none")]
    order = next(task for task in project.network.tasks if task.id == "order-missing")
    assert outlook.cost is not None
    billed = {line.item: line.quantity for line in outlook.cost.lines}
    for kind, missing in shorts.items():
        assert f"{missing} × {kind.replace('-', ' ')}" in said.message
        assert any(f"{missing} × " in step for step in order.steps), (kind, order.steps)
        assert billed[kind] == missing


SOON: dict[str, object] = {"as-of": "2027-02-26 09:00"}
"""Two weeks before the move, with cans still to come, mixing takes a day too long; a shop mixes it sooner."""


def test_water_that_cannot_be_mixed_in_time_is_bought_mixed_and_that_is_assumed(tmp_path: Path) -> None:
    outlook = outlook_of(written(tmp_path, SOON), SETTINGS)
    assert outlook.verdict in (Verdict.OK, Verdict.TIGHT), outlook.problems
    (assumed,) = (one for one in outlook.project.assumptions if one.key == "water-making.ready-mixed")
    assert outlook.project.water is not None
    litres = outlook.project.water.mixed_l
    assert assumed.value == f"yes: a shop mixes the salt water, {litres:.0f} l, each litre for 0.45 EUR"
    assert not any(task.id.startswith("mix-water") for task in outlook.project.network.tasks)
    early = outlook_of(written(tmp_path, {}), SETTINGS).project
    assert any(task.id.startswith("mix-water") for task in early.network.tasks)


@pytest.mark.parametrize(("price", "bought"), [("0.02 per l", True), ("2.00 per l", False)])
def test_where_the_keeper_names_its_price_the_cheaper_water_is_taken(
    tmp_path: Path, price: str, bought: bool
) -> None:
    plan = written(tmp_path, {"prices": {"salt-water": price}})
    project = compose(read_plan(plan))
    assert any(task.id == "fetch-salt-water" for task in project.network.tasks) is bought
    assert any(one.key == "water-making.ready-mixed" for one in project.assumptions) is bought
    mixed = compose(read_plan(plan, changes=("water-making.ready-mixed=no",)))
    assert any(task.id.startswith("mix-water") for task in mixed.network.tasks), "what the plan says holds"


def test_water_that_cannot_be_mixed_in_time_may_be_bought_mixed(tmp_path: Path) -> None:
    soon: dict[str, object] = SOON | {"water-making.ready-mixed": False}
    outlook = outlook_of(written(tmp_path, soon), SETTINGS)
    assert outlook.verdict is Verdict.CANNOT_BE_DONE
    assert "new salt water" in outlook.problems[0].message
    way, *_ = outlook.problems[0].remedy.split("; or ")
    assert way.startswith(
        'write "water-making.ready-mixed: yes" (a shop mixes the salt water, if it has so much; tried'
    )
    assert outlook.problems[0].ways[0].writes == (("water-making.ready-mixed", "yes"),)
    assert "tried: settled by" in way
    again = outlook_of(typed(tmp_path, soon, way), SETTINGS)
    assert again.verdict in (Verdict.OK, Verdict.TIGHT), again.problems
    order = next(task for task in again.project.network.tasks if task.id == "order-missing")
    assert any("of ready-mixed salt water" in step for step in order.steps)
    assert again.cost is not None
    assert next(line.quantity for line in again.cost.lines if line.item == "salt-water") > 100


def test_what_is_tried_ends_with_the_effort_and_what_was_not_tried_is_counted(tmp_path: Path) -> None:
    allowed: list[int] = []
    outlook = outlook_of(written(tmp_path, {"gear.pumps.battery": "0.5 h"}), SETTINGS)
    for seconds in (0.2, 2.0):
        settings = on_trial(replace(SETTINGS, effort=replace(SETTINGS.effort, seconds=seconds)))
        trials = Trials(outlook, settings, lambda *_: outlook)
        while trials.seen(outlook.project.plan) is not None:
            assert len(trials.tried) < 100
        allowed.append(len(trials.tried))
        assert settings.effort.allowance is not None
        assert settings.effort.allowance.refused == 1
    assert 1 < allowed[0] < allowed[1]
    assert outlook.untried == 0


UNSAFE = Problem("Tang: too long", "plan.yaml:30 livestock.tang", "longer with more water")
OTHER = Problem("Clowns: too long", "plan.yaml:34 livestock.clowns", "longer with more water")


def _tried(outlook: Outlook, *rows: tuple[str, frozenset[str]]) -> Trials:
    """Trials of one key each, with the lines at which each left something not safe."""
    trials = Trials(outlook, SETTINGS, lambda *_: outlook)
    trials.tried += [(((key, "1"),), lines) for key, lines in rows]
    return trials


def test_a_further_problem_gets_the_change_that_was_seen_to_end_it(tmp_path: Path) -> None:
    outlook = outlook_of(written(tmp_path, {}), SETTINGS)
    broken = frozenset({UNKNOWN})
    trials = _tried(outlook, ("a", frozenset({OTHER.where})), ("b", broken), ("c", frozenset({UNSAFE.where})))
    (way,) = with_own_way(OTHER, trials, []).ways
    assert way.text == 'write "c: 1"'
    assert "1 other line is not safe then" in way.price
    whole = [WayOut('write "d: 1"', "tried: nothing is unsafe then", writes=(("d", "1"),))]
    assert with_own_way(OTHER, trials, whole).ways[0].text == 'write "d: 1"'
    assert with_own_way(OTHER, _tried(outlook, ("b", broken)), []) is OTHER


def test_oxygen_and_bags_are_tried_as_one_change(tmp_path: Path) -> None:
    """On a drive of nine hours neither bags under air nor oxygen beside tubs do; both together may."""
    outlook = outlook_of(written(tmp_path, {}), SETTINGS)
    trials = Trials(outlook, SETTINGS, lambda *_: outlook)
    groups = list(outlook.project.plan.livestock)
    writes = [change.writes for change in Ways(trials).containers(groups)]
    assert writes[0] == (("gear", "{id: oxygen, kind: oxygen, count: 1}"),)
    assert writes[1] == (*writes[0], *((f"livestock.{one.id}.container", "bag") for one in groups))
    changed = list(Ways(trials).containers(groups))[1].apply(outlook.project.plan)
    assert [one.container for one in changed.livestock] == ["bag"] * len(groups)
    assert [item.kind for item in changed.gear].count("oxygen") == 1


def test_how_many_changes_were_tried_in_vain_is_said(tmp_path: Path) -> None:
    outlook = outlook_of(written(tmp_path, {}), SETTINGS)
    assert none_of(_tried(outlook, ("a", frozenset()))).startswith("1 change of the plan tried")
    assert none_of(_tried(outlook, *[("a", frozenset())] * 7)).startswith("7 changes of the plan tried")
