"""Water making, gear and prices."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class WaterMaking:
    """How purified water comes about.

    Parameters
    ----------
    rate_l_day : float
        Rated output of the unit at 25 °C and its rated pressure; 0: water is bought. [l/day]
    rated_pressure_bar, feed_pressure_bar : float
        Pressure the rating holds at, and pressure of the supply. [bar]
    water_temperature_c : float
        Supply water. [°C]
    waste_ratio : float
        Litres of waste for one litre of product.
    storage_l : float
        Clean storage for purified and mixed water, beside the tubs. [l]
    salt_moisture : float
        Mass fraction of the dry mix that is water.
    ready_mixed : bool or None
        Whether a shop mixes the salt water for the move; None: where that is the only way, or cheaper.
    """

    rate_l_day: float
    rated_pressure_bar: float
    feed_pressure_bar: float
    water_temperature_c: float
    waste_ratio: float
    storage_l: float
    salt_moisture: float
    ready_mixed: bool | None = None


@dataclass(frozen=True, slots=True)
class GearItem:
    """Things of one kind that there are so many of.

    Parameters
    ----------
    id, name : str
        Identity and what to print.
    kind : str
        ``tub``, ``pail`` (lidded), ``can`` (lidded, for water), ``box`` (insulated), ``bag``, ``heater``,
        ``air-pump`` (battery), ``mains-air-pump``, ``pump``, ``oxygen``, ``wrap``, ``lifters`` (suction), ``straps``
        (a pair), ``dolly`` or ``other``.
    count : int
        How many there are.
    volume_l : float
        Full volume of one; 0 where it has none. [l]
    power_w : float
        Electrical power of one. [W]
    flow_l_h : float
        Flow of one. [l/h]
    battery_h : float
        How long one runs on a full battery. [h]
    insulated : bool
        Whether its walls are insulated.
    price : Decimal or None
        Price of one where it has to be bought; None: the price book.
    owned : bool
        Whether it is there already.
    outlets : int
        Air outlets of one air pump.
    clients : bool
        Whether it is the client's, where a firm plans the move among others.
    """

    id: str
    name: str
    kind: str
    count: int
    volume_l: float = 0.0
    power_w: float = 0.0
    flow_l_h: float = 0.0
    battery_h: float = 0.0
    insulated: bool = False
    price: Decimal | None = None
    owned: bool = True
    outlets: int = 1
    clients: bool = False


def ordered_id(gear: Iterable[GearItem], kind: str) -> str:
    """Id of things of a kind that the plan has none of: the kind, unless the keeper calls others so.

    >>> ordered_id([GearItem("pump", "Bubblers", "air-pump", 2)], "pump"), ordered_id([], "pump")
    ('pump-to-get', 'pump')
    """
    taken = any(item.id == kind and item.kind != kind for item in gear)
    return f"{kind}-to-get" if taken else kind


@dataclass(frozen=True, slots=True)
class Price:
    """A price in the plan's currency.

    Parameters
    ----------
    item : str
        Id of the item in the price book.
    amount : Decimal
        Price of one unit.
    unit : str
        The unit, such as ``kg``.
    where : str
        ``FILE:LINE ITEM`` in the keeper's price file; empty where the plan itself says it.
    """

    item: str
    amount: Decimal
    unit: str
    where: str = ""
