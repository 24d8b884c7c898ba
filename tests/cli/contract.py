"""Checks a ``result.json`` of format 2 by hand: every promised key, its type, and what must agree with what.

Written from the promise alone; imports nothing of the program. Further keys are allowed anywhere.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from decimal import Decimal
from itertools import pairwise
from typing import Any

Data = dict[str, Any]
Check = Callable[[Any], bool]
ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*")
NUMBER = re.compile(r"[A-Z]+\d+")
TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)")


def whole(value: Any) -> bool:
    """Whole number, and not a truth value."""
    return isinstance(value, int) and not isinstance(value, bool)


def number(value: Any) -> bool:
    """Any number, and not a truth value."""
    return isinstance(value, int | float) and not isinstance(value, bool)


def share(value: Any) -> bool:
    """Number from 0 to 1."""
    return number(value) and 0 <= value <= 1


def amount(value: Any) -> bool:
    """Number that is not below zero."""
    return number(value) and value >= 0


def text(value: Any) -> bool:
    """Text, perhaps empty."""
    return isinstance(value, str)


def words(value: Any) -> bool:
    """Text that says something."""
    return isinstance(value, str) and bool(value.strip())


def identity(value: Any) -> bool:
    """Identity of a task or a thing."""
    return isinstance(value, str) and ID.fullmatch(value) is not None


def truth(value: Any) -> bool:
    """True or false."""
    return isinstance(value, bool)


def time(value: Any) -> bool:
    """Moment with its offset."""
    return isinstance(value, str) and TIME.fullmatch(value) is not None


def one_of(*allowed: str) -> Check:
    """One of a few words."""
    return lambda value: value in allowed


def list_of(check: Check) -> Check:
    """List whose members all pass."""
    return lambda value: isinstance(value, list) and all(map(check, value))


def map_of(check: Check) -> Check:
    """Mapping from text whose values all pass."""
    return lambda value: (
        isinstance(value, dict) and all(text(key) and check(one) for key, one in value.items())
    )


def or_null(check: Check) -> Check:
    """Null, or what passes."""
    return lambda value: value is None or check(value)


SCHEDULED = ("ok", "tight", "unsafe")
SPAN = {"start": time, "finish": time}
HEAD = {
    "format": lambda value: value == 2,
    "moveplan_version": words,
    "made_with": lambda value: isinstance(value, dict) and {"moveplan", "python"} <= set(value),
    "id": words,
    "title": words,
    "timezone": words,
    "now": time,
    "purpose": one_of("house-move", "larger-tank", "house-move-larger-tank", "shut-down", "own-tasks"),
    "way": text,
    "status": one_of("ok", "tight", "unsafe", "cannot-be-done", "undecided"),
}
LISTS: dict[str, dict[str, Check]] = {
    "problems": {"message": words, "where": text, "remedy": text},
    "cautions": {"id": identity, "text": words, "source": words, "tasks": list_of(identity)},
    "assumptions": {"key": words, "value": text, "why": words},
    "people": {"id": identity, "name": words, "available": list_of(lambda value: _has(value, SPAN) == [])},
    "vehicles": {
        "id": identity,
        "name": words,
        "payload_kg": number,
        "available": list_of(lambda value: _has(value, SPAN) == []),
    },
    "gear": {"id": identity, "name": words, "count": whole, "to_get": whole},
    "links": {
        "from": identity,
        "to": identity,
        "relation": one_of("FINISHTOSTART", "STARTTOSTART", "FINISHTOFINISH", "STARTTOFINISH"),
        "min_gap_minutes": or_null(whole),
        "max_gap_minutes": or_null(whole),
        "why": words,
    },
}
SOLVER: dict[str, Check] = {
    "engine": one_of("serial", "exact"),
    "status": one_of("OPTIMAL", "FEASIBLE", "INFEASIBLE", "UNKNOWN"),
    "aims": list_of(
        lambda value: (
            _has(value, {"aim": words, "value": whole, "bound": or_null(whole), "proven": truth}) == []
        )
    ),
}
BREAK = {
    "what": one_of("hours", "hire", "keys", "date", "day", "safe-time"),
    "id": words,
    "chance": share,
    "roots": list_of(
        lambda row: one_of("day", "risk")(row["what"]) and words(row["id"]) and share(row["share"])
    ),
}

HELP = {"change": words, "kept": share, "cost": number, "tried": truth}
SOLVED = {"makespan_minutes": whole, "bound_minutes": whole}
TASK: dict[str, Check] = {
    "id": identity,
    "title": words,
    "phase": words,
    "place": text,
    "kind": one_of("work", "wait", "travel", "hold-point", "rest"),
    "minutes": whole,
    "gear": map_of(whole),
    "steps": list_of(words),
    "cautions": list_of(identity),
    "state": one_of("NEEDS-ACTION", "IN-PROCESS", "COMPLETED", "CANCELLED"),
}
ESTIMATE: dict[str, Check] = {
    "low": whole,
    "likely": whole,
    "high": whole,
    "basis": words,
    "provenance": one_of("computed", "given", "assumed"),
}
PLACED: dict[str, Check] = {
    **SPAN,
    "segments": list_of(lambda value: _has(value, SPAN) == []),
    "people": list_of(identity),
    "vehicles": list_of(identity),
    "early_start": time,
    "early_finish": time,
    "late_start": time,
    "late_finish": time,
    "total_float_minutes": whole,
    "free_float_minutes": whole,
    "critical": truth,
}
HOLD: dict[str, Check] = {
    "gear": identity,
    "count": whole,
    "from_task": identity,
    "until_task": identity,
    **SPAN,
}
LIMITS = one_of("oxygen", "ammonia", "carbon-dioxide", "temperature", "policy")
STOP: dict[str, Check] = {"where": words, "from": time, "until": time}
STAY: dict[str, Check] = {
    "where": words,
    "container": words,
    "from": time,
    "until": time,
    "safe_low_minutes": or_null(whole),
    "safe_likely_minutes": or_null(whole),
    "safe_high_minutes": or_null(whole),
    "limited_by": LIMITS,
}
ANIMALS: dict[str, Check] = {
    "id": identity,
    "name": words,
    "count": whole,
    "route": list_of(lambda value: _has(value, STOP) == []),
    "stays": list_of(lambda value: _has(value, STAY) == []),
}
IN_TRANSIT: dict[str, Check] = {
    "safe_minutes": or_null(whole),
    "planned_minutes": whole,
    "allowance_minutes": whole,
    "limited_by": LIMITS,
}
WATER: dict[str, Check] = dict.fromkeys(
    ("kept_litres", "new_litres", "spare_litres", "purified_litres", "salt_kg"), number
)
GEAR: dict[str, Check] = {"kind": words, "outlets": or_null(whole)}
SYSTEM: dict[str, Check] = {
    "id": identity,
    "name": words,
    "litres": amount,
    "drawable_litres": amount,
    "place": or_null(identity),
    "role": one_of("old", "new", "holding", "both"),
}
CONTAINER: dict[str, Check] = {
    "number": lambda value: isinstance(value, str) and NUMBER.fullmatch(value) is not None,
    "kind": words,
    "gear": identity,
    "volume_litres": amount,
    "water_litres": amount,
    "kg": amount,
    "holds": lambda value: isinstance(value, list) and all(map(_held, value)),
    "from_task": identity,
    "until_task": identity,
    "from": time,
    "until": time,
    "heater_watts": amount,
    "air": or_null(identity),
}
ACCOUNT = re.compile(r"(system|container|new):.+|purified|tap|drain|bought")
POURED: dict[str, Check] = {
    "task": identity,
    "at": time,
    "from": lambda value: isinstance(value, str) and ACCOUNT.fullmatch(value) is not None,
    "to": lambda value: isinstance(value, str) and ACCOUNT.fullmatch(value) is not None,
    "litres": amount,
}
WARMTH: dict[str, Check] = {"at": time, "celsius": number, "low": number}
LEDGER: dict[str, Check] = {
    "water": list_of(lambda value: _has(value, POURED) == []),
    "heat": list_of(
        lambda value: (
            _has(
                value,
                {
                    "container": words,
                    "path": list_of(lambda row: _has(row, WARMTH) == []),
                    "heater": or_null(identity),
                },
            )
            == []
        )
    ),
    "air": list_of(
        lambda value: _has(value, {"container": words, "outlet_of": words, "from": time, "until": time}) == []
    ),
    "power": list_of(
        lambda value: _has(value, {"place": words, "from": time, "until": time, "watts": amount}) == []
    ),
}
LOAD: dict[str, Check] = {
    "vehicle": identity,
    "trip": whole,
    "items": list_of(lambda value: _has(value, {"name": words, "kg": number}) == []),
    "total_kg": number,
}
COST_LINE: dict[str, Check] = {
    "item": words,
    "quantity": number,
    "unit": text,
    "unit_price": number,
    "amount": number,
    "provenance": words,
}
PERCENTILES: dict[str, Check] = dict.fromkeys(("p10", "p50", "p80", "p95"), time)
REGISTER: dict[str, Check] = {
    "id": identity,
    "event": words,
    "probability": share,
    "cost": number,
    "delay_minutes": whole,
    "response": words,
    "provenance": one_of("computed", "given", "assumed"),
}


def _has(value: Any, keys: Mapping[str, Check]) -> list[str]:
    """Say what is missing or of the wrong type."""
    if not isinstance(value, dict):
        return [f"a mapping is wanted, not {value!r}"]
    missing = [f"{key} is missing" for key in keys if key not in value]
    wrong = [
        f"{key} is {value[key]!r}" for key, check in keys.items() if key in value and not check(value[key])
    ]
    return missing + wrong


def faults(data: Data) -> list[str]:
    """List everything in which a ``result.json`` breaks the promise; empty where it keeps it."""
    found = _named("", data, HEAD)
    for name, keys in LISTS.items():
        found += _rows(data, name, keys)
    found += _named("solver", data.get("solver"), SOLVER)
    found += _tasks(data)
    found += _references(data)
    if data.get("status") in SCHEDULED:
        found += _scheduled(data)
    else:
        found += _refused(data)
    return found


def _held(value: Any) -> bool:
    """A group of animals with its count, or what else it is."""
    if not isinstance(value, dict):
        return False
    if "livestock" in value:
        return identity(value["livestock"]) and whole(value.get("count")) and value["count"] > 0
    return words(value.get("what"))


def _named(where: str, value: Any, keys: Mapping[str, Check]) -> list[str]:
    return [f"{where}: {fault}" for fault in _has(value, keys)]


def _rows(data: Data, name: str, keys: Mapping[str, Check]) -> list[str]:
    rows = data.get(name)
    if not isinstance(rows, list):
        return [f"{name}: a list is wanted, not {rows!r}"]
    return [fault for at, row in enumerate(rows) for fault in _named(f"{name}[{at}]", row, keys)]


def _tasks(data: Data) -> list[str]:
    found = _rows(data, "tasks", TASK)
    for task in data["tasks"]:
        where = f"tasks.{task['id']}"
        estimate = task.get("estimate")
        found += _named(f"{where}.estimate", estimate, ESTIMATE)
        if not estimate["low"] <= estimate["likely"] <= estimate["high"]:
            found.append(f"{where}: low, likely, high are {estimate}")
        if not estimate["likely"] <= task["minutes"] <= max(estimate["high"], estimate["likely"]):
            found.append(f"{where}: {task['minutes']} minutes planned of {estimate}")
        if "repeats" in task:
            found += _named(f"{where}.repeats", task["repeats"], {"every_minutes": whole, "times": whole})
    return found + _twice("tasks", [task["id"] for task in data["tasks"]])


def _twice(name: str, ids: Iterable[str]) -> list[str]:
    seen = list(ids)
    return [f"{name}: {one} stands twice" for one in dict.fromkeys(seen) if seen.count(one) > 1]


def _references(data: Data) -> list[str]:
    """Every identity that is named is the identity of something."""
    tasks = {task["id"] for task in data["tasks"]}
    people = {one["id"] for one in data["people"]}
    vehicles = {one["id"] for one in data["vehicles"]}
    gear = {one["id"] for one in data["gear"]}
    cautions = {one["id"] for one in data["cautions"]}
    named = [
        *(("links", end, tasks) for link in data["links"] for end in (link["from"], link["to"])),
        *(("cautions", task, tasks) for one in data["cautions"] for task in one["tasks"]),
        *(("tasks.people", one, people) for task in data["tasks"] for one in task.get("people", ())),
        *(("tasks.riders", one, people) for task in data["tasks"] for one in task.get("riders", ())),
        *(("tasks.vehicles", one, vehicles) for task in data["tasks"] for one in task.get("vehicles", ())),
        *(("tasks.gear", one, gear) for task in data["tasks"] for one in task["gear"]),
        *(("tasks.cautions", one, cautions) for task in data["tasks"] for one in task["cautions"]),
        *(("holds", hold["gear"], gear) for hold in data["holds"]),
        *(("holds", hold[end], tasks) for hold in data["holds"] for end in ("from_task", "until_task")),
    ]
    return [f"{where}: there is no {one!r}" for where, one, known in named if one not in known]


def _refused(data: Data) -> list[str]:
    """A plan that was refused says why, and gives no date that could be followed."""
    found = [
        f"{key} stands in a plan without a schedule" for key in ("milestones", "cost", "risk") if key in data
    ]
    found += [f"tasks.{task['id']} has a date" for task in data["tasks"] if "start" in task]
    if data["status"] == "cannot-be-done" and not data["problems"]:
        found.append("no reason is given")
    if data["status"] == "undecided" and data["solver"]["status"] != "UNKNOWN":
        found.append("undecided, but the engine is sure")
    return found


def _scheduled(data: Data) -> list[str]:
    found = _named("solver", data["solver"], SOLVED)
    for task in data["tasks"]:
        found += _named(f"tasks.{task['id']}", task, PLACED)
        found += _segments(task)
    for at, hold in enumerate(data["holds"]):
        found += _named(f"holds[{at}]", hold, HOLD)
    found += _moved(data) if data["purpose"] != "own-tasks" else []
    return found


def _segments(task: Data) -> list[str]:
    where, spans = (
        f"tasks.{task['id']}",
        [(_at(one["start"]), _at(one["finish"])) for one in task["segments"]],
    )
    found = []
    if (task["segments"][0]["start"], task["segments"][-1]["finish"]) != (task["start"], task["finish"]):
        found.append(f"{where}: the segments do not reach from start to finish")
    if any(finish < start for start, finish in spans):
        found.append(f"{where}: a segment runs backwards")
    if any(after[0] < before[1] for before, after in pairwise(spans)):
        found.append(f"{where}: segments overlap")
    times = task.get("repeats", {}).get("times", 1)
    worked = sum(int((finish - start).total_seconds()) for start, finish in spans) // 60
    if worked != times * task["minutes"]:
        found.append(f"{where}: the segments hold {worked} min, not {times} × {task['minutes']}")
    return found


def _at(moment: str) -> datetime:
    return datetime.fromisoformat(moment)


def _moved(data: Data) -> list[str]:
    found = _named("milestones", data.get("milestones"), {"ready": time, "settled": time})
    found += _promised(data)
    found += _rows(data, "livestock", ANIMALS)
    for animals in data["livestock"]:
        found += _way(animals)
    found += _rows(data, "gear", GEAR) + _rows(data, "systems", SYSTEM) + _rows(data, "containers", CONTAINER)
    ledger = _named("ledger", data.get("ledger"), LEDGER)
    found += ledger or _accounts(data)
    found += _named("water", data.get("water"), WATER)
    found += _rows(data, "loads", LOAD)
    for load in data["loads"]:
        if sum(Decimal(str(item["kg"])) for item in load["items"]) != Decimal(str(load["total_kg"])):
            found.append(f"loads: {load['vehicle']} trip {load['trip']} does not add up")
    return found + _cost(data.get("cost")) + _risk(data.get("risk"))


def _promised(data: Data) -> list[str]:
    """A promise with what breaks it; the grade follows it, and each start of a moving day has its chance."""
    promise = data.get("promise")
    if promise is None:
        return ["promise is missing"] if data["risk"]["runs"] and data["status"] == "tight" else []
    found = _named("promise", promise, {"confidence": share, "kept": share})
    found += _named("likely", data.get("likely"), {"ready": time, "settled": time})
    found += [fault for row in promise["breaks"] for fault in _named("promise.breaks", row, BREAK)]
    found += [fault for row in promise["helps"] for fault in _named("promise.helps", row, HELP)]
    if data["status"] in ("ok", "tight") and (promise["kept"] < promise["confidence"]) is (
        data["status"] == "ok"
    ):
        found.append(f"status is {data['status']}, kept {promise['kept']}")
    if any(one["chance"] > 1 - promise["kept"] + 1e-6 for one in promise["breaks"]):
        found.append("one thing breaks more often than the whole")
    found += [
        f"tasks.{task['id']}: a start of a moving day without a chance"
        for task in data["tasks"]
        if "start_chance" in task and not share(task["start_chance"])
    ]
    return found


def _accounts(data: Data) -> list[str]:
    """Every container, tank, task and kind of gear that an entry names is there; nothing of it twice at once."""
    numbers = {one["number"] for one in data["containers"]}
    systems = {one["id"] for one in data["systems"]}
    tasks, gear = {task["id"] for task in data["tasks"]}, {one["id"] for one in data["gear"]}
    animals = {one["id"] for one in data["livestock"]}
    ends = [entry[end] for entry in data["ledger"]["water"] for end in ("from", "to")]
    named = [
        *(("ledger.water", end.partition(":")[2], numbers) for end in ends if end.startswith("container:")),
        *(("ledger.water", end.partition(":")[2], systems) for end in ends if end.startswith("system:")),
        *(("ledger.water", entry["task"], tasks) for entry in data["ledger"]["water"]),
        *(("ledger.heat", one["container"], numbers) for one in data["ledger"]["heat"]),
        *(("ledger.air", one["container"], numbers) for one in data["ledger"]["air"]),
        *(
            ("containers", one[end], tasks)
            for one in data["containers"]
            for end in ("from_task", "until_task")
        ),
        *(("containers", one["gear"], gear) for one in data["containers"]),
        *(
            ("containers.holds", held["livestock"], animals)
            for one in data["containers"]
            for held in one["holds"]
            if "livestock" in held
        ),
    ]
    found = [f"{where}: there is no {one!r}" for where, one, known in named if one not in known]
    for one in data["containers"]:
        if one["water_litres"] > one["volume_litres"]:
            found.append(f"containers: {one['number']} holds more than goes into it")
        if _at(one["until"]) < _at(one["from"]):
            found.append(f"containers: {one['number']} ends before it begins")
    return found


def _way(animals: Data) -> list[str]:
    where, route = f"livestock.{animals['id']}", animals["route"]
    found = [
        f"{where}: a hole between {before['until']} and {after['from']}"
        for before, after in pairwise(route)
        if before["until"] != after["from"]
    ]
    if animals["stays"]:
        found += _named(where, animals, IN_TRANSIT)
    for stay in animals["stays"]:
        safe = [stay[f"safe_{end}_minutes"] for end in ("low", "likely", "high")]
        known = [value for value in safe if value is not None]
        if known != sorted(known):
            found.append(f"{where}: safe times are {safe}")
    return found


def _cost(cost: Any) -> list[str]:
    found = _named("cost", cost, {"currency": words, "total": number})
    optional = {"reserve": number, "expected_loss": number}
    found += _named("cost", cost, {key: check for key, check in optional.items() if key in cost})
    for at, line in enumerate(cost["lines"]):
        found += _named(f"cost.lines[{at}]", line, COST_LINE)
    if sum(Decimal(str(line["amount"])) for line in cost["lines"]) != Decimal(str(cost["total"])):
        found.append("cost: the lines do not add up to the total")
    return found


def _risk(risk: Any) -> list[str]:
    found = _named(
        "risk",
        risk,
        {"runs": whole, "seed": whole, "register": list_of(lambda row: _has(row, REGISTER) == [])},
    )
    if not risk["runs"]:
        return found
    for name in ("ready", "settled", "finish"):
        found += _named(f"risk.{name}", risk.get(name), PERCENTILES)
    return found + _named("risk", risk, {"criticality": map_of(share), "livestock_over_limit": map_of(share)})
