"""Last meal, catch and first meal of the animals that fast for a move, as data."""

from __future__ import annotations

from typing import Any

from moveplan.outputs.outlook import Outlook
from moveplan.times import iso


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
