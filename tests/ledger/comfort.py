"""Checks what keeps containers warm and aired: paths of temperature, heaters, outlets, batteries and mains."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise

from tests.ledger.animals import held_span
from tests.ledger.common import Fault, Result, Span, merged, minute, most_at_once, pieces, span, within

LIQUID_C = (0.0, 45.0)
"""Outside of it a path is an error of computing, whatever the air. [°C]"""
ALIVE_C = (22.0, 29.0)
"""Low and high end outside of which no plan may call tropical animals safe: 22 to 30 °C, Froese (1998), Aquaculture
159, 283-292, less a kelvin at the high end. [°C]"""
FASTEST_K_H, ROUNDED_K = 20.0, 0.3
"""A bare bag of two litres 25 K colder than its air changes by 8 K/h, a heater of 300 W in 30 l by 9. [K/h, K]"""
DAY = 24 * 60
SLACK = 5
"""A path may begin and end that much inside a stay. [min]"""


def of_comfort(result: Result) -> Iterator[Fault]:
    """Heat, air and power."""
    uses = defaultdict(list)
    for row in result["containers"]:
        uses[row["number"]].append(row)
    for row in result["ledger"]["heat"]:
        yield from _of_path(row, uses.get(row["container"], []), result)
    yield from _of_warmed(result)
    yield from _of_heaters(result)
    yield from _of_air(result, uses)
    yield from _of_power(result["ledger"]["power"], followed=result["status"] in ("ok", "tight"))


def _path_span(row: Result) -> Span:
    return minute(row["path"][0]["at"]), minute(row["path"][-1]["at"])


def _of_path(row: Result, uses: list[Result], result: Result) -> Iterator[Fault]:
    name = row["container"]
    if not row["path"]:
        yield Fault("heat.path", f"{name}: its path is empty")
        return
    use = next((use for use in uses if within(_path_span(row), [span(use)])), None)
    if use is None:
        yield Fault("heat.times", f"{name}: a path from {row['path'][0]['at']} while it is not in use")
    elif row["heater"] != use["heater"]:
        yield Fault("heat.heater", f"{name}: {row['heater']} on the path, {use['heater']} in the container")
    yield from _of_points(row, use, result["status"])


def _bounds(use: Result | None, status: str, at: float) -> Span:
    """Give what the water may be at a moment: what its animals bear while they are in it and called safe."""
    inside = use is not None and any(
        "livestock" in held and within((at, at), [held_span(use, held)]) for held in use["holds"]
    )
    return ALIVE_C if inside and status in ("ok", "tight") else LIQUID_C


def _of_points(row: Result, use: Result | None, status: str) -> Iterator[Fault]:
    for point in row["path"]:
        least, most = _bounds(use, status, minute(point["at"]))
        low, likely, high = point["low"], point["celsius"], point.get("high", point["celsius"])
        ordered = low - ROUNDED_K <= likely <= high + ROUNDED_K
        if not ordered or low < least - ROUNDED_K or high > most + ROUNDED_K:
            yield Fault("heat.celsius", f"{row['container']}: {point}")
            break
    for one, two in pairwise(row["path"]):
        fault = _of_step(one, two, heated=row["heater"] is not None)
        if fault:
            yield Fault(fault, f"{row['container']}: {one} to {two}")
            break


def _of_step(one: Result, two: Result, *, heated: bool) -> str | None:
    hours = (minute(two["at"]) - minute(one["at"])) / 60
    rise = two["celsius"] - one["celsius"]
    if hours <= 0:
        return "heat.order"
    if any(abs(two[key] - one[key]) > FASTEST_K_H * hours + ROUNDED_K for key in ("celsius", "low")):
        return "heat.jump"
    air = one.get("air_celsius")
    away = air is not None and (
        (rise > ROUNDED_K and two["celsius"] > air + ROUNDED_K and not heated)
        or (rise < -ROUNDED_K and two["celsius"] < air - ROUNDED_K)
    )
    return "heat.air" if away else None


def _of_warmed(result: Result) -> Iterator[Fault]:
    """Each container with animals has a path, for as long as they are in it."""
    paths = defaultdict(list)
    for row in result["ledger"]["heat"]:
        if row["path"]:
            paths[row["container"]].append(_path_span(row))
    for row in result["containers"]:
        for held in row["holds"]:
            when = held_span(row, held)
            if "livestock" in held and not within(when, merged(paths[row["number"]]), SLACK):
                yield Fault(
                    "heat.missing", f"{row['number']} with {held['livestock']}: no path from {row['from']}"
                )
                break


def _of_heaters(result: Result) -> Iterator[Fault]:
    """Heaters in containers and those that warm water, counted together."""
    gear = {item["id"]: item for item in result["gear"]}
    uses = defaultdict(list)
    for row in result["containers"]:
        if bool(row["heater_watts"]) != (row["heater"] is not None):
            yield Fault("heater.watts", f"{row['number']}: {row['heater_watts']} W by {row['heater']}")
        if row["heater"] is not None:
            uses[row["heater"]].append((*span(row), 1.0))
    for name, held in _held_heaters(result, gear):
        uses[name].append(held)
    for name, spans in uses.items():
        item = gear.get(name)
        if item is None or item["kind"] != "heater":
            yield Fault("heater.unknown", name)
        elif most_at_once(spans) > item["count"] + item["to_get"]:
            yield Fault(
                "heater.count", f"{name}: {most_at_once(spans):g} of {item['count'] + item['to_get']:g}"
            )


def _held_heaters(
    result: Result, gear: dict[str, Result]
) -> Iterator[tuple[str, tuple[float, float, float]]]:
    for hold in result.get("holds", []):
        if gear.get(hold["gear"], {}).get("kind") == "heater":
            yield hold["gear"], (minute(hold["start"]), minute(hold["finish"]), float(hold["count"]))


def _of_air(result: Result, uses: dict[str, list[Result]]) -> Iterator[Fault]:
    rows = result["ledger"]["air"]
    by_item = defaultdict(list)
    for row in rows:
        begin, end = span(row)
        if begin >= end or not within((begin, end), map(span, uses.get(row["container"], []))):
            yield Fault("air.times", f"{row['container']} from {row['from']} until {row['until']}")
        by_item[row["outlet_of"]].append((begin, end, row["container"]))
    for use in result["containers"]:
        aired = [row for row in rows if row["container"] == use["number"] and within(span(row), [span(use)])]
        if use["air"] is not None and not any(row["outlet_of"] == use["air"] for row in aired):
            yield Fault("air.missing", f"{use['number']} is aired by {use['air']} at no time")
    gear = {item["id"]: item for item in result["gear"]}
    for name, spans in by_item.items():
        if name in gear:
            yield from _of_pump(gear[name], spans)
        elif name != "mains":
            yield Fault("air.unknown", name)


def _of_pump(pump: Result, spans: list[tuple[float, float, str]]) -> Iterator[Fault]:
    """No more outlets than there are, and none runs longer than its battery."""
    outlets = (pump["count"] + pump["to_get"]) * (pump["outlets"] or 1)
    most = most_at_once((begin, end, 1.0) for begin, end, _ in spans)
    if most > outlets:
        yield Fault(
            "air.count", f"{pump['id']}: {most:g} outlets in use at once, {outlets:g} there or ordered"
        )
    battery = pump.get("battery_minutes")
    if battery is None:
        return
    for container in sorted({name for _, _, name in spans}):
        longest = max(
            end - begin for begin, end in merged((a, b) for a, b, name in spans if name == container)
        )
        if longest > battery:
            yield Fault("air.battery", f"{pump['id']} at {container}: {longest:g} min, lasts {battery:g}")
    for start in sorted({begin for begin, _, _ in spans}):
        used = sum(max(0.0, min(end, start + DAY) - max(begin, start)) for begin, end, _ in spans)
        if used > outlets * battery:
            yield Fault(
                "air.battery", f"{pump['id']}: {used:g} min of air in a day, lasts {outlets * battery:g}"
            )
            return


def _of_power(rows: list[Result], *, followed: bool) -> Iterator[Fault]:
    """What draws at one place at one time is within its circuit, in a plan that is said to be one to follow."""
    for place in dict.fromkeys(row["place"] for row in rows):
        here = [row for row in rows if row["place"] == place]
        if any(span(row)[0] >= span(row)[1] for row in here):
            yield Fault("power.times", place)
            continue
        circuit = min((row["circuit_watts"] for row in here if row.get("circuit_watts")), default=None)
        if circuit is None or not followed:
            continue
        ends = [moment for row in here for moment in span(row)]
        for begin, end in pieces((min(ends), max(ends)), ends):
            watts = sum(row["watts"] for row in here if span(row)[0] <= begin and end <= span(row)[1])
            if watts > circuit:
                yield Fault("power.circuit", f"{place}: {watts:g} W on {circuit:g} W")
                break
