"""What stands where when a schedule is accepted: waters, containers, power, and whom to ring when something fails."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, fields
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedWater:
    """The water of one tank.

    Parameters
    ----------
    id, name : str
        As in readings, and for people.
    place, place_after : str
        Names of the places where it stands in the beginning and in the end; one empty: it does not stand there.
    full : bool
        Whether it runs in the beginning.
    litres : float
        When it runs. [l]
    pours : tuple of (str, float, float)
        Of each task: litres that it pours in, and litres that it throws away. [-, l, l]
    """

    id: str
    name: str
    place: str
    place_after: str
    full: bool
    litres: float
    pours: tuple[tuple[str, float, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Premises:
    """What stands where.

    Parameters
    ----------
    places : Mapping of str to str
        Names by id.
    waters : tuple of PlannedWater
        Tanks.
    weights : Mapping of str to float
        Of each container with animals as it is carried. [kg]
    powered : tuple of (str, str)
        Name of a place and id of a task that starts what draws power there.
    air_min : int or None
        How long the batteries of the air pumps last; None: there are none. [min]
    ring : tuple of (str, str, str)
        Whom to ring beside the people of the plan: name, role, phone number.
    phones : Mapping of str to str
        Phone numbers of the people of the plan, by id.
    loads : tuple of (str, float)
        Id of each task that loads a vehicle, and what it loads. [-, kg]
    havens : tuple of (str, str)
        Who takes animals in, and where.
    """

    places: Mapping[str, str]
    waters: tuple[PlannedWater, ...] = ()
    weights: Mapping[str, float]
    powered: tuple[tuple[str, str], ...] = ()
    air_min: int | None = None
    ring: tuple[tuple[str, str, str], ...] = ()
    phones: Mapping[str, str] = field(default_factory=dict)
    loads: tuple[tuple[str, float], ...] = ()
    havens: tuple[tuple[str, str], ...] = ()

    def water(self, name: str) -> PlannedWater | None:
        """Find the water of a tank."""
        return next((one for one in self.waters if one.id == name), None)


def premises_data(premises: Premises) -> dict[str, Any]:
    """Write them as data that JSON can hold."""
    return asdict(premises)


def premises_of(data: Mapping[str, Any]) -> Premises:
    """Read them; keys of a later version are passed over."""
    values = {one.name: data[one.name] for one in fields(Premises) if one.name in data}
    values["waters"] = tuple(_water(row) for row in data.get("waters", ()))
    for name in ("powered", "ring", "loads", "havens"):
        values[name] = tuple(map(tuple, data.get(name, ())))
    return Premises(**values)


def _water(row: Mapping[str, Any]) -> PlannedWater:
    values = {one.name: row[one.name] for one in fields(PlannedWater) if one.name in row}
    return PlannedWater(**values | {"pours": tuple(map(tuple, row.get("pours", ())))})
