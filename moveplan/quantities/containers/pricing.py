"""What containers cost the day, in minutes: handling, carrying, kilograms, floor, orders."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.quantities.containers.means import Spec
from moveplan.quantities.containers.tubs import EMPTY_KG_A_LITRE, WATER_KG_L
from moveplan.quantities.freight.freight import LAYERS
from moveplan.quantities.freight.sizes import tub_size_m
from moveplan.quantities.safe_time.boxes import Box
from moveplan.quantities.safe_time.gas_hours import CHANGED

ONE_HAND_KG = 15.0
"""Heaviest pail for one person; HSE L23 filter with a load that is set down low, recalled. [kg]"""
A_STOP_MIN = 20.0
"""A stop at which water is changed; common practice, no source. [min]"""
A_WRAP_MIN, AN_OUTLET_MIN, A_HEATER_MIN, OXYGEN_MIN = 2.0, 1.0, 5.0, 10.0
"""Wrapping a tub, hanging an air stone, hanging a heater at both ends, leading oxygen to it and watching its flow;
common practice, no source. [min]"""
A_KG_MIN = 0.15
"""What a kilogram more is worth, when containers are chosen: drawing and lifting; assumed. [min/kg]"""
LOST_L_MIN = 0.8
"""What a litre is worth that animals travel in, for it is thrown away and new water stands in its place: 0.15 of money
a litre for purified water and salt at 18 an hour is half a minute, a can of it carried and poured the rest; assumed.
[min/l]"""
FLOOR_M2_MIN = 20.0
"""What floor in a vehicle is worth: a second trip of two hours over the 6 m² that it offers; assumed. [min/m²]"""
LAID_MIN, BAGGED_MIN = 1.0, 5.0
"""Letting an animal into a tub, and bagging it and opening the bag; common practice, no source. [min]"""


@dataclass(frozen=True, slots=True)
class Costs:
    """What so many containers of one size cost the day, whatever is in them, but for what has to be ordered.

    Parameters
    ----------
    count : int
        How many.
    empty_kg : float
        One of them, empty. [kg]
    carry_min, floor_min : float
        Carrying one by one person, and the floor under all of them. [min]
    laid_min : float
        Letting all animals in. [min]
    """

    count: int
    empty_kg: float
    carry_min: float
    floor_min: float
    laid_min: float

    def of(self, box: Box) -> float:
        """Price them with what is in them and hangs on them. [min]."""
        count, each_kg = self.count, WATER_KG_L * box.water_l + self.empty_kg
        two = 1.0 if each_kg <= ONE_HAND_KG + 0.1 else 2.0
        stop = A_STOP_MIN + A_KG_MIN * WATER_KG_L * CHANGED * count * box.water_l if box.changed else 0.0
        heated = box.heater_w > 0
        hung = AN_OUTLET_MIN * box.stones + A_HEATER_MIN * heated + OXYGEN_MIN * box.oxygen
        things = count * (A_WRAP_MIN * box.wrapped + hung)
        carried = two * count * self.carry_min + self.floor_min
        water = A_KG_MIN * (count * each_kg) + LOST_L_MIN * count * box.water_l
        return stop + things + self.laid_min + carried + water


def costs_of(animals: int, spec: Spec, count: int, carry_min: float) -> Costs:
    """Work out what containers of one size cost, before anything is in them.

    Parameters
    ----------
    animals : int
        Who travels in all of them.
    spec : Spec
        Their size.
    count : int
        How many.
    carry_min : float
        Carrying one of them; 0: they are carried nowhere. [min]
    """
    return Costs(
        count,
        EMPTY_KG_A_LITRE * spec.volume_l,
        carry_min,
        count * floor_min(spec) * (carry_min > 0),
        LAID_MIN * animals,
    )


def floor_min(spec: Spec) -> float:
    """Value the floor under a container in a vehicle; boxes of foam stand on each other. [min]."""
    length, width, _ = tub_size_m(spec.volume_l)
    return FLOOR_M2_MIN * length * width / (LAYERS if spec.kind == "box" else 1)
