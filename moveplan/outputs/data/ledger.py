"""The ledger as data: containers by number, water from account to account, gear there and to get, tanks, meals."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import accumulate
from typing import Any

from moveplan.outputs.data.comfort import Comfort, comfort_data, comfort_of
from moveplan.outputs.data.numbers import plain
from moveplan.outputs.livestock import in_use
from moveplan.outputs.outlook import Outlook
from moveplan.practice.ledger.entries import InUse, Pour
from moveplan.quantities.containers.vessels import Held, Use
from moveplan.scheduling.schedule import Placement
from moveplan.times import iso


def container_data(outlook: Outlook) -> list[dict[str, Any]] | None:
    """List every use of every container, dated where there is a schedule; None for own tasks."""
    if outlook.project.water is None and not outlook.project.ledger.containers:
        return None
    placed, comfort = _placed(outlook), comfort_of(outlook)
    return [_container(use, placed, outlook, comfort) for use in outlook.project.ledger.containers]


def _placed(outlook: Outlook) -> Mapping[str, Placement]:
    return {placement.task: placement for placement in outlook.schedule.placements}


def _container(
    use: InUse, placed: Mapping[str, Placement], outlook: Outlook, comfort: Comfort
) -> dict[str, Any]:
    vessel, zone = use.vessel, outlook.project.plan.zone
    span, tasks = in_use(use, placed), outlook.project.network.tasks
    if vessel.use is Use.MIXED:
        vessel = replace(vessel, water_l=_most_l(use, placed, outlook))
    until = max((one for one in use.ends if one in placed), key=lambda one: placed[one].finish, default="")
    dated = {"from": iso(span.start, zone), "until": iso(span.finish, zone)} if span else {}
    return {
        "number": vessel.number,
        "kind": vessel.kind,
        "gear": vessel.gear,
        "use": vessel.use.value,
        "system": vessel.system,
        "volume_litres": plain(vessel.volume_l, 1),
        "water_litres": plain(vessel.water_l, 2),
        "kg": plain(vessel.kg + _inside_kg(use, placed, outlook), 1),
        "holds": [_held(one, comfort.inside.get((id(use), one.id)), outlook) for one in vessel.holds],
        "from_task": use.from_task,
        "until_task": until or use.until_task,
        "place": next((one.place for one in tasks if one.id == use.from_task), "") or None,
        **dated,
        "heater_watts": plain(vessel.heater_w, 0),
        "heater": comfort.heaters.get(id(use)),
        "air": comfort.pump(use),
        "wrapped": vessel.wrapped,
    }


def _most_l(use: InUse, placed: Mapping[str, Placement], outlook: Outlook) -> float:
    """Greatest amount of water that stands in a bin while it is in use. [l]."""
    account, recurring, span = use.vessel.account, _recurring(outlook), in_use(use, placed)
    rows = sorted(
        (at, number, (pour.litres if pour.target == account else -pour.litres))
        for number, pour in enumerate(outlook.project.ledger.pours)
        if account in (pour.source, pour.target)
        for at in _moments(pour, placed, recurring, frozenset())
        if span and at <= span.finish and (at > span.start or (at == span.start and pour.target == account))
    )
    return max(accumulate(litres for _, _, litres in rows), default=0.0)


def _recurring(outlook: Outlook) -> frozenset[str]:
    return frozenset(task.id for task in outlook.project.network.tasks if task.repeats)


def _inside_kg(box: InUse, placed: Mapping[str, Placement], outlook: Outlook) -> float:
    """Mass of the containers inside another while it is in use; another journey may use their numbers again. [kg]."""
    inside = {held.id for held in box.vessel.holds if held.what == "container"}
    if not inside:
        return 0.0
    own = in_use(box, placed)
    kg = {
        use.vessel.number: use.vessel.kg
        for use in outlook.project.ledger.containers
        if use.vessel.number in inside
        and (own is None or (span := in_use(use, placed)) is None or span.overlaps(own))
    }
    return sum(kg.values())


def _held(held: Held, inside: tuple[int, int] | None, outlook: Outlook) -> dict[str, Any]:
    zone = outlook.project.plan.zone
    if held.what == "livestock":
        when = {"from": iso(inside[0], zone), "until": iso(inside[1], zone)} if inside else {}
        return {"livestock": held.id, "count": held.count, **when}
    return {"what": held.what, **({"number": held.id} if held.id else {})}


def system_data(outlook: Outlook) -> list[dict[str, Any]] | None:
    """List the bodies of water; None where there is none."""
    bodies = outlook.project.ledger.bodies
    return [
        {
            "id": body.id,
            "name": body.name,
            "litres": plain(body.litres, 2),
            "drawable_litres": plain(body.drawable_l, 2),
            "place": body.place,
            "role": body.role,
            "starts_full": body.full,
        }
        for body in bodies
    ] or None


def ledger_data(outlook: Outlook) -> dict[str, Any] | None:
    """Give the accounts in order of time; None where there is nothing to pour or no schedule."""
    placed = _placed(outlook)
    if not outlook.project.ledger.pours or not placed:
        return None
    recurring = _recurring(outlook)
    passing = frozenset(
        (use.from_task, use.vessel.account)
        for use in outlook.project.ledger.containers
        if use.from_task == use.until_task
    )
    rows = sorted(
        (
            (at, number, pour)
            for number, pour in enumerate(outlook.project.ledger.pours)
            for at in _moments(pour, placed, recurring, passing)
        ),
        key=lambda row: row[:2],
    )
    zone = outlook.project.plan.zone
    return {
        "water": [
            {
                "task": pour.task,
                "at": iso(at, zone),
                "from": pour.source,
                "to": pour.target,
                "litres": plain(pour.litres, 3),
            }
            for at, _, pour in rows
        ],
        **comfort_data(outlook, comfort_of(outlook)),
        **({"food": food_data(outlook)} if outlook.project.meals else {}),
    }


def _moments(
    pour: Pour,
    placed: Mapping[str, Placement],
    recurring: frozenset[str],
    passing: frozenset[tuple[str, str]],
) -> list[int]:
    """When it is poured: at the end of a task, each time of recurring care; into what one task uses when it begins."""
    placement = placed.get(pour.task)
    if placement is None:
        return []
    if pour.task in recurring:
        return [segment.finish for segment in placement.segments]
    return [placement.start if (pour.task, pour.target) in passing else placement.finish]


def food_data(outlook: Outlook) -> list[dict[str, Any]]:
    """Give one row for each group of fish and each of its fasts.

    Returns
    -------
    list of dict
        ``last_meal`` is when it ends; ``next_meal`` is None where a new keeper gives it, or the place in ``fed_by``.
    """
    stands = {one.task: one for one in outlook.schedule.placements}
    zone = outlook.project.plan.zone
    rows: list[dict[str, Any]] = []
    for meals in outlook.project.meals:
        if meals.last not in stands or meals.catch not in stands:
            continue
        last, catch = stands[meals.last].finish, stands[meals.catch].start
        first = stands[meals.first].start if meals.first in stands else None
        for animal in meals.livestock:
            row = {
                "livestock": animal,
                "last_meal": iso(last, zone),
                "catch": iso(catch, zone),
                "next_meal": None if first is None else iso(first, zone),
                "fast_minutes": catch - last,
                "whole_fast_minutes": None if first is None else first - last,
                **({"fed_by": meals.fed_by} if meals.fed_by else {}),
                "tasks": [one for one in (meals.last, meals.catch, meals.first) if one],
            }
            rows.append(row)
    return rows
