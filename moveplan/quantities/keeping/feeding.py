"""When fish get their last meal before they are caught, how long they go without, and who is fed apart."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from moveplan.plan.livestock import Livestock
from moveplan.quantities.facts import GroupFacts
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.metabolism import mass_g

LARGE_G = 100.0
"""A predator of more has eaten large prey, which stays in it for more than a day; assumed. [g]"""
CONTINUOUS = frozenset(
    (
        *("anthias", "chromis", "cleaner-wrasse", "fairy-wrasse", "leopard-wrasse"),
        *("tang", "yellow-tang", "palette-tang", "foxface", "butterflyfish"),
        *("mandarin", "seahorse", "pipefish", "cleaner-goby", "pygmy-goby", "clingfish"),
    )
)
"""Kinds that feed all day, pick plankton, graze, or are thin; common practice, no source."""
ROOM = 0.1
"""Share of its window by which a fast is planned inside both of its ends; assumed. [-]"""


class Feeder(StrEnum):
    """How long a fish bears, and needs, to go without food; in the order in which the last meals are given."""

    LARGE = "large"
    ORDINARY = "ordinary"
    SMALL = "small"


@dataclass(frozen=True, slots=True)
class Fast:
    """How long fish of one sort go without food.

    Parameters
    ----------
    least_min, greatest_min : int
        From the end of the last meal to the catch. [min]
    whole_min : int
        From the end of the last meal to the first one after the move, at most. [min]
    """

    least_min: int
    greatest_min: int
    whole_min: int

    @property
    def room_min(self) -> int:
        """Distance of a planned fast from both ends of its window. [min].

        >>> Fast(1200, 2160, 3600).room_min
        96
        """
        return round(ROOM * (self.greatest_min - self.least_min))

    @property
    def planned_whole_min(self) -> int:
        """Greatest time from meal to meal that is planned: as far inside as that to the catch is. [min].

        >>> Fast(1200, 2160, 3600).planned_whole_min
        3456
        """
        return self.whole_min - round(ROOM * max(self.whole_min - self.greatest_min, 0))


def feeder_of(group: Livestock, policy: Policy) -> Feeder:
    """Sort a group of fish by how long it may fast.

    Parameters
    ----------
    group : Livestock
        Its kind, temperament, and mass or size count.
    policy : Policy
        Below which mass a fish is small.
    """
    mass = mass_g(group, group.traits).likely
    if group.temperament == "predator" and mass > LARGE_G:
        return Feeder.LARGE
    return Feeder.SMALL if group.kind in CONTINUOUS or mass < policy["fast_small_mass"] else Feeder.ORDINARY


def fast_of(feeder: Feeder, policy: Policy) -> Fast:
    """Give the fast of a sort of fish.

    Parameters
    ----------
    policy : Policy
        Its windows.

    Notes
    -----
    Emptying of the stomach after He and Wurtsbaugh (1993), Trans. Am. Fish. Soc. 122, 717-730: at 26 °C 95 % of a meal
    of 1 g is out in 9.4 h. The windows around it are common practice, no source.

    Examples
    --------
    >>> fast_of(Feeder.SMALL, Policy({}))
    Fast(least_min=720, greatest_min=1440, whole_min=2880)
    """
    middle = "" if feeder is Feeder.ORDINARY else f"_{feeder}"
    least, greatest = (round(60 * policy[f"fast{middle}_{end}"]) for end in ("least", "greatest"))
    whole = round(60 * policy[f"fast{middle}_whole"])
    return Fast(least, max(least, greatest), whole)


def feeders(groups: Iterable[GroupFacts], policy: Policy) -> dict[Feeder, tuple[GroupFacts, ...]]:
    """Sort fish by how long they may fast, those who fast longest first; sorts without fish are left out.

    Parameters
    ----------
    groups : iterable of GroupFacts
        Fish of one system.
    policy : Policy
        Windows.
    """
    sorts = [(feeder_of(group.livestock, policy), group) for group in groups]
    found = {one: tuple(group for sort, group in sorts if sort is one) for one in Feeder}
    return {one: those for one, those in found.items() if those}
