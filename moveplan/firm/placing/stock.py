"""The firm's purified water from day to day: made, kept as far as there is room, fetched."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date, timedelta

from moveplan.firm.placing.traces import Trace
from moveplan.firm.values import WaterPlant

ROUNDING_L = 0.5
"""Litres of a day are rounded; so much below nothing is nothing. [l]"""


def stock_by_day(plant: WaterPlant, traces: Iterable[Trace]) -> tuple[tuple[date, float, float], ...]:
    """Follow the stock over all days on which water is fetched.

    Parameters
    ----------
    plant : WaterPlant
        What is made and kept; the store is full at first.

    Returns
    -------
    tuple of (date, float, float)
        Day, litres fetched, and litres left after it; below zero: too much is fetched. [l]
    """
    fetched: dict[date, float] = defaultdict(float)
    for trace in traces:
        for day, litres in trace.water:
            fetched[day] += litres
    rows, stock, before = [], plant.storage_l, min(fetched, default=date.min)
    for day in sorted(fetched):
        made = plant.litres_a_day * ((day - before) // timedelta(days=1))
        stock = min(plant.storage_l, stock + made) - fetched[day]
        rows.append((day, fetched[day], stock))
        before = day
    return tuple(rows)


def lasts(plant: WaterPlant | None, traces: Iterable[Trace]) -> bool:
    """Whether the water made at the base is enough for all jobs; without a plant every job buys its own."""
    return plant is None or all(left >= -ROUNDING_L for _, _, left in stock_by_day(plant, traces))
