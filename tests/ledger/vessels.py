"""Checks containers as things: one number for one of them, never more in use than there are, loaded and paid for."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from itertools import pairwise

from tests.ledger.common import Fault, Result, minute, most_at_once, span

TO_GET = "to-get:"
BILLED_AS = {"tub-heater": "heater"} | {f"bin-{litres}": "vat" for litres in (20, 60, 120, 220)}
"""Lines of the bill that are of another kind of gear."""
LEAST_KG_L = 0.99
"""A litre of any water weighs at least that, rounding included. [kg/l]"""


def of_vessels(result: Result) -> Iterator[Fault]:
    """Numbers, gear, loads and money of all containers."""
    for row in result["containers"]:
        yield from _of_times(row, result["tasks"])
        yield from _of_contents(row, result["livestock"])
    yield from _of_numbers(result["containers"])
    yield from _of_counts(result)
    yield from _of_loads(result)
    yield from _of_orders(result)


def _of_times(row: Result, of_plan: list[Result]) -> Iterator[Fault]:
    name = row["number"]
    begin, end = span(row)
    if begin >= end:
        yield Fault("container.times", f"{name} is in use until {row['until']}, from {row['from']}")
    tasks = {task["id"]: task for task in of_plan}
    for key, moment in (("from_task", begin), ("until_task", end)):
        task = tasks.get(row[key])
        if task is None or not minute(task["start"]) <= moment <= minute(task["finish"]):
            yield Fault("container.task", f"{name}: {key} {row[key]} is not at that time")


def _of_contents(row: Result, livestock: list[Result]) -> Iterator[Fault]:
    name = row["number"]
    if row["water_litres"] > row["volume_litres"]:
        yield Fault("container.volume", f"{name}: {row['water_litres']} l in {row['volume_litres']} l")
    if row["kg"] < LEAST_KG_L * row["water_litres"]:
        yield Fault("container.kg", f"{name}: {row['kg']} kg with {row['water_litres']} l of water in it")
    if not row["holds"]:
        yield Fault("container.empty", f"{name} holds nothing")
    known = {group["id"] for group in livestock}
    for held in row["holds"]:
        if "livestock" in held and (held["livestock"] not in known or held["count"] < 1):
            yield Fault("container.holds", f"{name}: {held}")


def _of_numbers(containers: list[Result]) -> Iterator[Fault]:
    """A number is one thing, in one use at a time."""
    by_number = defaultdict(list)
    for row in containers:
        by_number[row["number"]].append(row)
    for number, uses in by_number.items():
        if len({(row["kind"], row["gear"], row["volume_litres"]) for row in uses}) > 1:
            yield Fault("container.number", f"{number} is two different things")
        for one, two in pairwise(sorted(map(span, uses))):
            if two[0] < one[1]:
                yield Fault("container.twice", f"{number} is in two uses at once")


def _of_counts(result: Result) -> Iterator[Fault]:
    """Never more of an item in use than there are or are ordered."""
    gear = {item["id"]: item for item in result["gear"]}
    by_item, by_kind, ordered = defaultdict(list), defaultdict(list), defaultdict(list)
    for row in result["containers"]:
        use = (*span(row), 1.0)
        if row["gear"] in gear:
            by_item[row["gear"]].append(use)
            by_kind[gear[row["gear"]]["kind"]].append(use)
        elif row["gear"].startswith(TO_GET):
            ordered[row["gear"].removeprefix(TO_GET)].append(use)
            by_kind[row["gear"].removeprefix(TO_GET)].append(use)
        else:
            yield Fault("gear.unknown", f"{row['number']} is of {row['gear']}")
    for name, uses in by_item.items():
        there = gear[name]["count"] + gear[name]["to_get"]
        yield from _too_many(name, uses, there)
    for kind, uses in ordered.items():
        yield from _too_many(TO_GET + kind, uses, sum(_all(result, kind, "to_get")))
    for kind, uses in by_kind.items():
        yield from _too_many(f"all of kind {kind}", uses, sum(_all(result, kind, "count", "to_get")))


def _all(result: Result, kind: str, *keys: str) -> Iterator[float]:
    return (item[key] for item in result["gear"] if item["kind"] == kind for key in keys)


def _too_many(name: str, uses: list[tuple[float, float, float]], there: float) -> Iterator[Fault]:
    most = most_at_once(uses)
    if most > there:
        yield Fault("gear.count", f"{name}: {most:g} in use at once, {there:g} there or ordered")


def _of_loads(result: Result) -> Iterator[Fault]:
    """Each container that rides stands once on a trip, with its own mass."""
    weights = defaultdict(list)
    for row in result["containers"]:
        weights[row["number"]].append(row["kg"])
    payloads = {vehicle["id"]: vehicle["payload_kg"] for vehicle in result["vehicles"]}
    aboard: dict[str, set[str]] = defaultdict(set)
    for load in result["loads"]:
        name = f"{load['vehicle']} trip {load['trip']}"
        numbers = [_number(item, weights) for item in load["items"]]
        aboard[load["vehicle"]] |= {number for number in numbers if number}
        for twice, times in Counter(filter(None, numbers)).items():
            if times > 1:
                yield Fault("load.twice", f"{twice} rides {times} times on {name}")
        for item, number in zip(load["items"], numbers, strict=True):
            yield from _of_item(name, item, weights.get(number or "", []))
        yield from _of_total(name, load, payloads.get(load["vehicle"]))
    yield from _left_behind(result, aboard)


def _of_item(load: str, item: Result, weights: list[float]) -> Iterator[Fault]:
    if item.get("container") and not weights:
        yield Fault("load.unknown", f"{item['container']} on {load}")
    if weights and all(abs(item["kg"] - kg) > max(0.5, 0.02 * kg) for kg in weights):
        yield Fault("load.kg", f"{item['name']} on {load}: {item['kg']} kg, not {weights}")


def _of_total(load: str, row: Result, payload: float | None) -> Iterator[Fault]:
    total = sum(item["kg"] for item in row["items"])
    if abs(total - row["total_kg"]) > max(1.0, 0.01 * total):
        yield Fault("load.total", f"{load}: {row['total_kg']} kg, its items {total:.1f}")
    if payload is not None and total > payload + 0.5:
        yield Fault("load.payload", f"{load}: {total:.1f} kg on {payload}")


def _number(item: Result, known: dict[str, list[float]]) -> str | None:
    """Number of the container that an item of a load is: of its field, or a word of its name."""
    if "container" in item:
        return item["container"] if item["container"] in known else None
    named = [word for word in re.split(r"[\s,;:()]+", item["name"]) if word in known]
    return named[0] if named else None


def _left_behind(result: Result, aboard: dict[str, set[str]]) -> Iterator[Fault]:
    """Animals that ride are in containers that stand in the load, themselves or inside another."""
    vehicles = {vehicle[key]: vehicle["id"] for vehicle in result["vehicles"] for key in ("id", "name")}
    inside = {
        str(held.get("number", held.get("container"))): row["number"]
        for row in result["containers"]
        for held in row["holds"]
        if held.get("what") == "container"
    }
    for group in result["livestock"]:
        for leg in group["route"]:
            if leg["where"] not in vehicles:
                continue
            vehicle = vehicles[leg["where"]]
            for row in result["containers"]:
                if not _carries(row, group["id"], leg):
                    continue
                if not {row["number"], inside.get(row["number"])} & aboard[vehicle]:
                    yield Fault(
                        "load.missing", f"{row['number']} with {group['id']} rides in {vehicle}, not loaded"
                    )


def _carries(row: Result, group: str, leg: Result) -> bool:
    begin, end = span(row)
    first, last = span(leg)
    return begin < last and first < end and any(held.get("livestock") == group for held in row["holds"])


def _of_orders(result: Result) -> Iterator[Fault]:
    """What is to be got stands on the bill, where the bill names things."""
    wanted = [item for item in result["gear"] if item["to_get"] > 0]
    lines = result["cost"]["lines"]
    if wanted and not lines:
        yield Fault("cost.line", "nothing is on the bill")
    keys = {str(line[key]) for line in lines for key in ("key", "id", "gear", "kind") if line.get(key)}
    texts = " ".join(f"{line['item']} {line.get('name', '')}" for line in lines).lower()
    for item in wanted:
        named = {item["kind"], item["id"]} & keys or item["kind"] in texts or item["name"].lower() in texts
        if lines and not named:
            yield Fault("cost.line", f"{item['to_get']:g} of {item['id']} ({item['kind']}) are on no line")
    billed: Counter[str] = Counter()
    for line in lines:
        billed[BILLED_AS.get(line["item"], line["item"])] += line["quantity"]
    for kind in dict.fromkeys(item["kind"] for item in result["gear"]):
        ordered = sum(item["to_get"] for item in wanted if item["kind"] == kind)
        if kind in billed and ordered != billed[kind]:
            yield Fault("cost.count", f"{ordered:g} {kind} to get, {billed[kind]:g} on the bill")
