"""How much old water to keep: every share that is shown, with what it costs."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from moveplan.cost.materials import cost_of_share
from moveplan.outputs.data.numbers import plain, whole
from moveplan.practice.project import Project, WaterChoice
from moveplan.quantities.leg.shares import SOURCE, Share


@dataclass(frozen=True, slots=True)
class PricedShare:
    """One share and its price.

    Parameters
    ----------
    share : Share
        What follows from it.
    cost : Decimal
        Water, salt, power, and containers that are not there.
    """

    share: Share
    cost: Decimal


@dataclass(frozen=True, slots=True)
class PricedChoice:
    """The choice of one leg.

    Parameters
    ----------
    choice : WaterChoice
        Its systems, and why the planned share.
    source : str
        Where the numbers come from.
    """

    choice: WaterChoice
    rows: tuple[PricedShare, ...]
    source: str = SOURCE


def priced(project: Project) -> tuple[PricedChoice, ...]:
    """Give every share of old water that is shown, with what it costs.

    Parameters
    ----------
    project : Project
        Its choices, one a leg on which a tank is filled.
    """
    return tuple(
        PricedChoice(choice, tuple(PricedShare(one, cost_of_share(project, one)) for one in choice.shares))
        for choice in project.water_choices
    )


def choices_data(project: Project) -> list[dict[str, Any]]:
    """Give the same as data."""
    return [
        {
            "systems": list(found.choice.systems),
            "tasks": list(found.choice.tasks),
            "why": list(found.choice.why),
            "shares": [_share_data(row) for row in found.rows],
            "source": found.source,
        }
        for found in priced(project)
    ]


def _share_data(row: PricedShare) -> dict[str, Any]:
    one = row.share
    data: dict[str, Any] = {
        "share": plain(one.share, 4),
        "planned": one.planned,
        "kept_litres": plain(one.water.kept.likely, 1),
        "own_share": plain(one.own, 4),
        "nitrate_mg_l": {name: plain(value, 2) for name, value in one.nitrate},
        "new_litres": plain(one.water.new.likely, 1),
        "purified_litres": plain(one.water.purified.likely, 1),
        "salt_kg": plain(one.water.salt.likely, 2),
        "tubs": one.tubs,
        "cans": one.cans,
        "vehicle_kg": plain(one.load_kg, 1),
        "trips": one.trips,
        "hands_minutes": whole(one.hands.likely),
        "cost": plain(row.cost, 2),
    }
    return data if one.making is None else data | {"making_minutes": whole(one.making.likely)}
