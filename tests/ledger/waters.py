"""Closes the accounts of water: nothing comes from nothing, and nothing is left somewhere."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from tests.ledger.common import Fault, Result, minute, span

DROP_L = 0.05
"""What rounding of one entry may make. [l]"""
PUDDLE_L = 0.15
"""What rounding of the entries of one container may make. [l]"""
LOOSE_L, LOOSE = 0.5, 0.005
"""How exactly a system is full at the end. [l, share]"""
SALT_KG_L = (0.02, 0.06)
"""Dry mix for a litre of salt water: salinity 20 to 40, with its moisture; wide on purpose. [kg/l]"""
DAY = 24 * 60
KEEPS_D, SLIPS_D = 14.0, 3.0
"""How long mixed salt water keeps, moved and aired, where the result does not say; and how long it warms before salt
goes in, and a weekly change may slip; common practice, no source. [day]"""
BARE = {"purified", "tap", "drain"}
NAMED = {"system", "container", "new", "spare"}


class Level(NamedTuple):
    """What an account holds after an entry."""

    at: float
    litres: float
    entry: Result


Levels = dict[str, list[Level]]


def of_water(result: Result) -> Iterator[Fault]:
    """Every account, from the first entry to the last."""
    entries = sorted(result["ledger"]["water"], key=lambda entry: minute(entry["at"]))
    levels = _levels(entries, result["systems"])
    yield from _of_entries(entries, result)
    yield from _below_zero(levels)
    for system in result["systems"]:
        yield from _of_system(system, levels[f"system:{system['id']}"])
    for number in dict.fromkeys(row["number"] for row in result["containers"]):
        uses = sorted((row for row in result["containers"] if row["number"] == number), key=span)
        yield from _of_container(uses, levels[f"container:{number}"])
    yield from _of_rests(levels)
    yield from _of_ages(entries, result)
    yield from _of_sums(entries, result.get("water") or {})


def changes(result: Result, number: str) -> list[tuple[float, float]]:
    """When something is poured into a container, and out of it below zero. [UTC min, l]"""
    account = f"container:{number}"
    return [
        (minute(entry["at"]), entry["litres"] * ((entry["to"] == account) - (entry["from"] == account)))
        for entry in result["ledger"]["water"]
        if account in (entry["from"], entry["to"])
    ]


def _starts_with(system: Result) -> float:
    full = system.get("starts_full", system["role"] in ("old", "both"))
    return float(system["litres"]) if full else 0.0


def _ends_with(system: Result) -> float:
    full = system.get("ends_full", system["role"] in ("new", "both") and not system.get("given_up"))
    return float(system["litres"]) if full else 0.0


def _levels(entries: list[Result], systems: list[Result]) -> Levels:
    held = defaultdict(float, {f"system:{system['id']}": _starts_with(system) for system in systems})
    levels: Levels = defaultdict(list)
    for entry in entries:
        for account, sign in ((entry["from"], -1), (entry["to"], 1)):
            held[account] += sign * entry["litres"]
            levels[account].append(Level(minute(entry["at"]), held[account], entry))
    return levels


def _told(entry: Result) -> str:
    return f"{entry['task']} at {entry['at']}: {entry['from']} to {entry['to']} {entry['litres']} l"


def _of_entries(entries: list[Result], result: Result) -> Iterator[Fault]:
    tasks = {task["id"]: task for task in result["tasks"]}
    known = {
        "system": {system["id"] for system in result["systems"]},
        "container": {row["number"] for row in result["containers"]},
    }
    known["new"] = known["spare"] = known["system"]
    for entry in entries:
        if entry["litres"] < 0 or entry["from"] == entry["to"]:
            yield Fault("water.entry", _told(entry))
        if entry["from"] == "drain" or entry["to"] == "tap":
            yield Fault("water.backwards", _told(entry))
        for account in (entry["from"], entry["to"]):
            kind, _, name = account.partition(":")
            if account not in BARE and name not in known.get(kind, ()):
                yield Fault("water.account", f"{account} in {_told(entry)}")
        task = tasks.get(entry["task"])
        if task is None or not minute(task["start"]) <= minute(entry["at"]) <= minute(task["finish"]):
            yield Fault("water.task", _told(entry))


def _below_zero(levels: Levels) -> Iterator[Fault]:
    for account, history in levels.items():
        if account in ("tap", "drain"):
            continue
        for level in history:
            if level.litres < -DROP_L:
                yield Fault(
                    "water.nothing", f"{account} holds {level.litres:.2f} l after {_told(level.entry)}"
                )
                break


def _of_system(system: Result, history: list[Level]) -> Iterator[Fault]:
    """What is drawn can be reached, what is poured has room, and at the end it is as full as it should be."""
    name, litres = f"system:{system['id']}", system["litres"]
    slack = max(LOOSE_L, LOOSE * litres)
    if system["drawable_litres"] > litres + DROP_L:
        yield Fault("water.drawable", f"{name}: {system['drawable_litres']} l of {litres} l")
    out_of_reach = litres - system["drawable_litres"]
    for level in history:
        tested = (
            level.entry["from"] == "tap"
        )  # a bare tank, up to its rim: more than it holds with rock and sand
        if level.litres > litres + slack and not tested:
            yield Fault(
                "water.overflow", f"{name} takes {litres} l, not {level.litres:.2f}: {_told(level.entry)}"
            )
            break
    for level in history:
        drawn = level.entry["from"] == name and level.entry["to"] != "drain"
        if drawn and level.litres < out_of_reach - DROP_L:
            yield Fault(
                "water.drawn",
                f"{name}: {level.litres:.2f} l left of {out_of_reach:.2f}: {_told(level.entry)}",
            )
            break
    last = history[-1].litres if history else _starts_with(system)
    if abs(last - _ends_with(system)) > slack:
        yield Fault("water.end", f"{name} ends with {last:.2f} l, not {_ends_with(system):.2f}")


def _of_container(uses: list[Result], history: list[Level]) -> Iterator[Fault]:
    """Each use of one container: begins and ends empty, never more in it than there is room."""
    name = f"container:{uses[0]['number']}"
    spans = [span(row) for row in uses]
    for level in history:
        if not any(begin <= level.at <= end for begin, end in spans):
            yield Fault("water.unheld", f"{name} is not in use: {_told(level.entry)}")
    for row, after in pairwise([*uses, None]):
        assert row is not None
        goes_on = after is not None and after["from"] == row["until"]
        begin, end = span(row)
        within = [
            level for level in history if begin <= level.at <= end and not (goes_on and level.at == end)
        ]
        most = max((level.litres for level in within), default=0.0)
        if most > row["volume_litres"] + DROP_L:
            yield Fault(
                "water.overfull", f"{name}: {most:.2f} l in {row['volume_litres']} l from {row['from']}"
            )
        if abs(most - row["water_litres"]) > max(PUDDLE_L, LOOSE * most):
            yield Fault("water.stated", f"{name}: says {row['water_litres']} l, holds {most:.2f} l at most")
        left = next((level.litres for level in reversed(history) if level.at <= end), 0.0)
        if abs(left) > PUDDLE_L and not goes_on:
            yield Fault("water.left", f"{name}: {left:.2f} l are still in it at {row['until']}")


def _of_rests(levels: Levels) -> Iterator[Fault]:
    """What was purified and mixed is used, or is poured away."""
    for account, history in levels.items():
        kind = account.partition(":")[0]
        if kind in ("purified", "new", "spare") and history[-1].litres > LOOSE_L:
            yield Fault("water.idle", f"{history[-1].litres:.2f} l are left in {account}")


def _of_ages(entries: list[Result], result: Result) -> Iterator[Fault]:
    """Mixed water that stood for too long goes into no tank; what was filled in first is taken first."""
    keeps = (result.get("water") or {}).get("keeps_days", KEEPS_D) + SLIPS_D
    holding = {
        f"container:{row['number']}"
        for row in result["containers"]
        if any(held.get("what") == "new-water" for held in row["holds"])
    }
    inside: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for entry in entries:
        source, target, at = entry["from"], entry["to"], minute(entry["at"])
        taken = list(_first_in(inside[source], entry["litres"])) if source in holding else []
        if target in holding:
            inside[target] += taken or [(at, entry["litres"])]
        elif target.startswith("system:"):
            oldest = min((since for since, litres in taken if litres > LOOSE_L), default=at)
            if at - oldest > keeps * DAY:
                yield Fault("water.stale", f"{(at - oldest) / DAY:.1f} days old: {_told(entry)}")
                return


def _first_in(inside: list[tuple[float, float]], litres: float) -> Iterator[tuple[float, float]]:
    """Take so much out, what has been in for longest first."""
    while inside and litres > 0:
        since, there = inside.pop(0)
        part = min(there, litres)
        litres -= part
        if there > part:
            inside.insert(0, (since, there - part))
        yield since, part


def _of_sums(entries: list[Result], stated: Result) -> Iterator[Fault]:
    """What is bought and billed is what the entries pour."""
    purified = sum(entry["litres"] for entry in entries if entry["to"] == "purified")
    if "purified_litres" in stated and abs(stated["purified_litres"] - purified) > max(1.0, 0.01 * purified):
        yield Fault("water.purified", f"{stated['purified_litres']} l stated, {purified:.1f} l made")
    mixed = sum(
        entry["litres"]
        for entry in entries
        if entry["from"] == "purified" and entry["to"].partition(":")[0] in ("new", "spare", "container")
    )
    low, high = (per_litre * mixed for per_litre in SALT_KG_L)
    if "salt_kg" in stated and not low - 0.1 <= stated["salt_kg"] <= high + 0.1:
        yield Fault("water.salt", f"{stated['salt_kg']} kg for {mixed:.1f} l")
