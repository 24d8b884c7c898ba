"""What keeps containers warm and aired as data: paths of temperature, heaters, air outlets, and power by place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from moveplan.outputs.data.numbers import plain
from moveplan.outputs.outlook import Outlook
from moveplan.practice.comfort.outlets import Aired, aired, heaters_of
from moveplan.practice.comfort.power import PlugIn, plugged_in
from moveplan.practice.comfort.warmth import Point, warmth_of
from moveplan.practice.comfort.whereabouts import Inside, Standing, inside_of, standings_of
from moveplan.quantities.circuits import carries_w
from moveplan.times import iso


@dataclass(frozen=True, slots=True)
class Comfort:
    """Who hangs on which heater and outlet.

    Parameters
    ----------
    standings : tuple of Standing
        Dated uses of containers.
    inside : dict
        When animals are in them.
    heaters : dict of int to str
        Id of the heater by the ``id()`` of a use.
    """

    standings: tuple[Standing, ...]
    inside: Inside
    heaters: dict[int, str]
    aired: tuple[Aired, ...]

    def pump(self, use: object) -> str | None:
        """Id of the pump that airs a use of a container, the one with a battery first."""
        names = [row.outlet_of for row in self.aired if row.standing.use is use]
        return min(names, key=lambda name: name == "mains", default=None)


def comfort_of(outlook: Outlook) -> Comfort:
    """Give out heaters and outlets."""
    standings = standings_of(outlook.project, outlook.schedule)
    inside = inside_of(outlook.project, outlook.schedule, standings)
    heaters = heaters_of(outlook.project, standings)
    return Comfort(standings, inside, heaters, aired(outlook.project, standings, inside))


def comfort_data(outlook: Outlook, comfort: Comfort) -> dict[str, list[dict[str, Any]]]:
    """Give the accounts of heat, air and power.

    Parameters
    ----------
    comfort : Comfort
        Who hangs on what.
    """
    project, schedule = outlook.project, outlook.schedule
    paths = warmth_of(project, comfort.standings)
    return {
        "heat": [_heat(one, path, comfort, outlook) for one, path in paths],
        "air": [_air(row, outlook) for row in comfort.aired],
        "power": [
            _power(row, outlook) for row in plugged_in(project, schedule, comfort.standings, comfort.aired)
        ],
    }


def _heat(one: Standing, path: tuple[Point, ...], comfort: Comfort, outlook: Outlook) -> dict[str, Any]:
    zone = outlook.project.plan.zone
    return {
        "container": one.use.vessel.number,
        "path": [
            {
                "at": iso(point.at, zone),
                "celsius": plain(point.likely_c, 2),
                "low": plain(point.low_c, 2),
                "high": plain(point.high_c, 2),
                "air_celsius": plain(point.air_c, 1),
            }
            for point in path
        ],
        "heater": comfort.heaters.get(id(one.use)),
    }


def _air(row: Aired, outlook: Outlook) -> dict[str, Any]:
    zone = outlook.project.plan.zone
    return {
        "container": row.standing.use.vessel.number,
        "outlet_of": row.outlet_of,
        "gear": row.gear,
        "from": iso(row.since, zone),
        "until": iso(row.until, zone),
    }


def _power(row: PlugIn, outlook: Outlook) -> dict[str, Any]:
    zone, limit = outlook.project.plan.zone, carries_w(row.place)
    return {
        "place": row.place.id,
        "from": iso(row.since, zone),
        "until": iso(row.until, zone),
        "watts": plain(row.watts, 1),
        "what": row.what,
        "circuit_watts": None if limit is None else plain(limit, 0),
    }
