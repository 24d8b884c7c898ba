"""Checks that animals on the way are somewhere, in water, all of them, and do not starve."""

from __future__ import annotations

from collections.abc import Iterator

from tests.ledger.common import Fault, Result, Span, merged, minute, pieces, span, within
from tests.ledger.waters import changes

HOUR = 60
FAST_H = (12, 60)
"""From the last meal to the next; the longest is what healthy grown fish bear, common practice, no source. [h]"""
EMPTY_H = (12, 36)
"""From the last meal to the catch; common practice, no source. [h]"""
LARGE_EMPTY_H, LARGE_FAST_H = (20, 48), (20, 96)
"""The same of large hunters, with a last meal of theirs: fish over 4 in are starved for 48 h, of 8 in for 72 h before
they are shipped, Piper et al. 1982, Fish Hatchery Management, p. 357; they eat every second or third day. [h]"""


def held_span(row: Result, held: Result) -> Span:
    """From when until when something is in a container: all the time, unless it says otherwise."""
    return span({"from": held.get("from", row["from"]), "until": held.get("until", row["until"])})


def companies(result: Result, group: str) -> list[tuple[Result, Result, Span]]:
    """Container, what it holds of a group, and when."""
    return [
        (row, held, held_span(row, held))
        for row in result["containers"]
        for held in row["holds"]
        if held.get("livestock") == group
    ]


def of_animals(result: Result) -> Iterator[Fault]:
    """Every group of animals."""
    for group in result["livestock"]:
        yield from _of_group(group, result)
    known = {group["id"] for group in result["livestock"]}
    for row in result["ledger"].get("food") or []:
        if row["livestock"] not in known:
            yield Fault("food.livestock", row["livestock"])
        if not _fast_is_said(row, result):
            yield from _of_fast(row)


def _of_group(group: Result, result: Result) -> Iterator[Fault]:
    name = group["id"]
    stays = [span(stay) for stay in group["stays"]]
    held = companies(result, name)
    for stay in merged(stays, apart=0):
        yield from _of_stay(group, stay, held)
    for row, _, when in held:
        if not within(when, merged(stays)):
            yield Fault("livestock.unstayed", f"{name} is in {row['number']} without a stay then")
        poured = changes(result, row["number"])
        for begin, _ in pieces(when, (at for at, _ in poured)):
            if sum(litres for at, litres in poured if at <= begin) <= 0:
                yield Fault("livestock.dry", f"{name} is in {row['number']} without water")
                break


def _of_stay(group: Result, stay: Span, held: list[tuple[Result, Result, Span]]) -> Iterator[Fault]:
    """All of a group are in containers at each moment of a stay."""
    cuts = [moment for _, _, when in held for moment in when]
    for begin, end in pieces(stay, cuts):
        if end - begin <= 1:
            continue
        middle = (begin + end) / 2
        there = sum(one["count"] for _, one, when in held if when[0] <= middle <= when[1])
        if there != group["count"]:
            yield Fault(
                "livestock.count", f"{group['id']}: {there:g} of {group['count']:g} are in containers"
            )
            return


def _fast_is_said(row: Result, result: Result) -> bool:
    """Whether a plan that is called unsafe says of these animals that they fast for too long."""
    names = {group["id"]: group["name"] for group in result["livestock"]}
    told = (problem["message"] for problem in result.get("problems", ()))
    return result["status"] == "unsafe" and any(
        message.startswith(f"{names.get(row['livestock'])}: ") and "last meal" in message for message in told
    )


def _of_fast(row: Result) -> Iterator[Fault]:
    last, caught, fed = (row[key] and minute(row[key]) for key in ("last_meal", "catch", "next_meal"))
    if last is None:
        return
    large = any(task.startswith("last-feed-large") for task in row.get("tasks", ()))
    empty_h, fast_h = (LARGE_EMPTY_H, LARGE_FAST_H) if large else (EMPTY_H, FAST_H)
    for moment, (low, high), what in ((caught, empty_h, "catch"), (fed, fast_h, "next meal")):
        if moment is not None and not low * HOUR <= moment - last <= high * HOUR:
            hours = (moment - last) / HOUR
            yield Fault("food.fast", f"{row['livestock']}: {hours:.1f} h from the last meal to the {what}")
