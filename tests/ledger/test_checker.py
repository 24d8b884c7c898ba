"""A result in order has no fault, and each fault made on purpose is found, by its code."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.ledger.checker import faults, ledger_faults, main
from tests.ledger.good import at, good

Result = dict[str, Any]
Spoil = Callable[[Result], Any]


def _row(result: Result, number: str) -> Result:
    return next(row for row in result["containers"] if row["number"] == number)


def _gear(result: Result, name: str) -> Result:
    return next(item for item in result["gear"] if item["id"] == name)


def _poured(result: Result, from_: str, to: str) -> Result:
    return next(row for row in result["ledger"]["water"] if (row["from"], row["to"]) == (from_, to))


def _pour(task: str, clock: str, from_: str, to: str, litres: float) -> Spoil:
    entry = {"task": task, "at": at(clock), "from": from_, "to": to, "litres": litres}
    return lambda result: result["ledger"]["water"].append(entry)


def _set(container: str, **values: Any) -> Spoil:
    return lambda result: _row(result, container).update(values)


def _both(*spoils: Spoil) -> Spoil:
    return lambda result: [spoil(result) for spoil in spoils]


def _path(result: Result, place: int = 0) -> list[Result]:
    path: list[Result] = result["ledger"]["heat"][place]["path"]
    return path


def _again(of: str, **values: Any) -> Spoil:
    return lambda result: result["containers"].append({**_row(result, of), **values})


def _mixed_on(result: Result, day: str) -> None:
    """Let the water stand in its cans since another day."""
    for row in (*result["tasks"], *result["containers"], *result["ledger"]["water"]):
        if row.get("id") == "mix" or row.get("task") == "mix" or row.get("from_task") == "mix":
            for key in ("start", "at", "from"):
                if key in row and row[key][:4] == "2027":
                    row[key] = day + row[key][10:]


def _warming(begin: str) -> dict[str, Any]:
    """The only heater, held to warm new water."""
    held = {"gear": "heaters", "count": 1, "from_task": "fill", "until_task": "mix"}
    return held | {"start": at(begin), "finish": at("19:00")}


SPOILT: list[tuple[str, Spoil]] = [
    ("form", lambda result: result.pop("ledger")),
    ("form", lambda result: result["ledger"]["water"][0].pop("litres")),
    ("form", lambda result: result["ledger"]["air"][0].update({"from": "2027-03-13T10:00"})),
    ("form", _set("T1", water_litres=float("nan"))),
    ("form", _set("T1", kind="crate")),
    ("form", _set("T1", holds=[{"of": "rock"}])),
    ("water.entry", _pour("release", "16:40", "system:reef", "drain", -1)),
    ("water.entry", _pour("release", "16:40", "system:reef", "system:reef", 1)),
    ("water.backwards", _pour("release", "16:40", "drain", "system:reef", 0.2)),
    ("water.account", _pour("release", "16:40", "system:reef", "container:T9", 0.2)),
    ("water.account", _pour("release", "16:40", "well", "system:reef", 0.2)),
    ("water.task", _pour("drain", "16:40", "system:reef", "drain", 0.2)),
    ("water.task", _pour("nothing", "16:40", "system:reef", "drain", 0.2)),
    ("water.nothing", lambda result: _poured(result, "tap", "purified").update(litres=60)),
    ("water.nothing", lambda result: _poured(result, "system:reef", "drain").update(litres=60)),
    ("water.drawable", lambda result: result["systems"][0].update(drawable_litres=101)),
    ("water.drawn", lambda result: result["systems"][0].update(drawable_litres=46)),
    ("water.overflow", lambda result: _poured(result, "system:reef", "drain").update(litres=50)),
    ("water.end", lambda result: _poured(result, "purified", "system:reef").update(litres=1)),
    ("water.end", lambda result: result["systems"][0].update(role="old")),
    ("water.unheld", _pour("drain", "09:05", "system:reef", "container:T1", 0.1)),
    ("water.overfull", _set("T1", volume_litres=29.9, water_litres=29.9)),
    ("water.stated", _set("T1", water_litres=24)),
    ("water.left", lambda result: _poured(result, "container:T1", "system:reef").update(litres=29.7)),
    ("water.purified", lambda result: result["water"].update(purified_litres=60)),
    ("water.salt", lambda result: result["water"].update(salt_kg=1.2)),
    ("water.idle", lambda result: _poured(result, "tap", "purified").update(litres=73)),
    ("water.idle", lambda result: _poured(result, "purified", "new:reef").update(litres=71)),
    ("water.stale", lambda result: _mixed_on(result, "2027-02-20")),
    ("container.times", _set("X1", until=at("10:30"))),
    ("container.task", _set("X1", from_task="mix")),
    ("container.task", _set("X1", until_task="nothing")),
    ("container.volume", _set("T1", volume_litres=20)),
    ("container.kg", _set("T1", kg=29)),
    ("container.empty", _set("X1", holds=[])),
    ("container.holds", _set("X1", holds=[{"livestock": "whale", "count": 1}])),
    ("container.number", _again("X1", volume_litres=30)),
    ("container.twice", _again("X1")),
    ("gear.unknown", _set("T1", gear="troughs")),
    ("gear.count", lambda result: _gear(result, "tubs").update(count=0)),
    ("gear.count", _again("T1", number="T2")),
    ("gear.count", lambda result: _gear(result, "to-get:can").update(to_get=3)),
    ("gear.count", _set("T1", gear="to-get:tub")),
    ("load.twice", lambda result: result["loads"][0]["items"].append({"name": "box X1", "kg": 1})),
    ("load.unknown", lambda result: result["loads"][0]["items"][-1].update(container="X7")),
    ("load.kg", lambda result: result["loads"][0]["items"][0].update(kg=25)),
    ("load.total", lambda result: result["loads"][0].update(total_kg=110)),
    ("load.payload", lambda result: result["vehicles"][0].update(payload_kg=100)),
    ("load.missing", lambda result: result["loads"][0]["items"].pop()),
    ("cost.line", lambda result: result["cost"].update(lines=[])),
    ("cost.line", lambda result: _gear(result, "heaters").update(to_get=1)),
    ("cost.count", lambda result: result["cost"]["lines"].append({"item": "can", "quantity": 3})),
    ("livestock.count", lambda result: result["livestock"][0].update(count=3)),
    ("livestock.count", _set("B1", holds=[{"livestock": "goby", "count": 2}])),
    ("livestock.count", _set("P1", **{"from": at("10:20")})),
    ("livestock.unstayed", lambda result: result["livestock"][1]["stays"][0].update(until=at("16:00"))),
    ("livestock.dry", lambda result: _poured(result, "container:B1", "drain").update(at=at("15:30"))),
    ("livestock.dry", lambda result: _poured(result, "system:reef", "container:B1").update(at=at("10:40"))),
    ("food.livestock", lambda result: result["ledger"]["food"][0].update(livestock="whale")),
    ("food.fast", lambda result: result["ledger"]["food"][0].update(last_meal="2027-03-11T10:00:00+00:00")),
    ("food.fast", lambda result: result["ledger"]["food"][0].update(next_meal="2027-03-15T10:00:00+00:00")),
    ("food.fast", lambda result: result["ledger"]["food"][0].update(last_meal=at("09:00"))),
    ("heat.path", lambda result: result["ledger"]["heat"][1].update(path=[])),
    ("heat.times", lambda result: _path(result)[0].update(at=at("09:00"))),
    ("heat.times", lambda result: result["ledger"]["heat"][1].update(container="B9")),
    ("heat.heater", lambda result: result["ledger"]["heat"][0].update(heater=None)),
    ("heat.celsius", lambda result: _path(result)[1].update(low=21.0)),
    ("heat.celsius", lambda result: _path(result)[1].update(high=30.1)),
    ("heat.celsius", lambda result: _path(result)[1].update(low=25.0)),
    ("heat.order", lambda result: _path(result)[1].update(at=at("10:10"))),
    ("heat.jump", lambda result: _path(result)[2].update(at=at("12:02"))),
    ("heat.air", lambda result: _path(result, 1)[2].update(celsius=24.9)),
    ("heat.air", lambda result: _path(result, 1)[0].update(air_celsius=24.9)),
    ("heat.missing", lambda result: result["ledger"]["heat"].pop()),
    ("heat.missing", lambda result: _path(result, 1).pop()),
    ("heater.watts", _set("P1", heater_watts=0)),
    ("heater.unknown", _set("P1", heater="pumps")),
    ("heater.count", _both(_set("B1", heater="heaters", heater_watts=25))),
    ("heater.count", lambda result: result.update(holds=[_warming("11:00")])),
    ("air.times", lambda result: result["ledger"]["air"][0].update({"from": at("09:00")})),
    ("air.times", lambda result: result["ledger"]["air"][0].update(container="P9")),
    ("air.missing", lambda result: result["ledger"]["air"].clear()),
    ("air.unknown", lambda result: result["ledger"]["air"][0].update(outlet_of="lungs")),
    ("air.count", lambda result: result["ledger"]["air"].append({**result["ledger"]["air"][0], "container": "B1"})
                  or result["ledger"]["air"][1].update({"from": at("10:30")})),
    ("air.battery", lambda result: _gear(result, "pumps").update(battery_minutes=300)),
    ("power.times", lambda result: result["ledger"]["power"][0].update(until=at("10:00"))),
    ("power.circuit", lambda result: result["ledger"]["power"][1].update({"from": at("11:00")})),
]  # fmt: skip


def test_a_move_in_order_has_no_fault() -> None:
    assert faults(good()) == []


def test_a_heater_may_warm_water_once_it_is_out_of_its_container() -> None:
    result = good()
    result["holds"] = [_warming("16:30")]
    assert faults(result) == []


@pytest.mark.parametrize(("code", "spoil"), SPOILT, ids=[f"{i}-{code}" for i, (code, _) in enumerate(SPOILT)])
def test_each_fault_is_found(code: str, spoil: Spoil) -> None:
    result = good()
    spoil(result)
    assert code in {fault.code for fault in faults(result)}


def test_every_code_is_made_on_purpose_once_at_least() -> None:
    parts = [path for path in Path(__file__).parent.glob("*.py") if not path.name.startswith("test_")]
    codes = {code for path in parts for code in re.findall(r'Fault\(\s*"([^"]+)"', path.read_text("utf-8"))}
    codes |= {"heat.order", "heat.jump", "heat.air"}
    assert codes - {code for code, _ in SPOILT} == set()


def test_a_fast_that_is_too_long_is_no_fault_where_the_plan_says_so_and_is_called_unsafe() -> None:
    result = good()
    result["ledger"]["food"][0]["next_meal"] = "2027-03-16T10:00:00+00:00"
    result["problems"] = [
        {"message": "clowns: 96 h from the last meal before the move to the first one after it"}
    ]
    assert {fault.code for fault in faults(result)} == {"food.fast"}
    assert faults(result | {"status": "unsafe"}) == []
    result["problems"] = [
        {"message": "goby: 96 h from the last meal before the move to the first one after it"}
    ]
    assert {fault.code for fault in faults(result | {"status": "unsafe"})} == {"food.fast"}


def test_a_container_may_serve_again_once_it_is_empty() -> None:
    result = good()
    later = {**_row(result, "T1"), "from": at("14:20"), "until": at("15:00"), "from_task": "refill"}
    result["containers"].append({**later, "water_litres": 5})
    for entry in (
        ("refill", "14:30", "system:reef", "container:T1", 5),
        ("refill", "15:00", "container:T1", "system:reef", 5),
    ):
        _pour(*entry)(result)
    assert faults(result) == []


def test_what_cannot_be_done_or_moves_no_water_has_no_ledger() -> None:
    for spoilt in ({"status": "cannot-be-done"}, {"status": "undecided"}, {"purpose": "own-tasks"}):
        assert faults({"status": "ok", "purpose": "house-move"} | spoilt) == []


def test_only_what_the_first_format_wrote_may_lack_it() -> None:
    bare = {"status": "ok", "purpose": "house-move"}
    assert ledger_faults({**bare, "format": 1}) == []
    assert {fault.code for fault in ledger_faults({**bare, "format": 2})} == {"form"}


def test_a_file_is_checked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "result.json"
    path.write_text(json.dumps(good()), "utf-8")
    assert main(str(path)) == 0
    result = good()
    _set("T1", kg=29)(result)
    path.write_text(json.dumps(result), "utf-8")
    assert main(str(path)) == 1
    assert "container.kg: T1" in capsys.readouterr().out
