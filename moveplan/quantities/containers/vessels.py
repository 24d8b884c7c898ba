"""The containers of a moving day, each with a number of its own: what it is, what is in it, and what it weighs."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from moveplan.plan.supplies import GearItem
from moveplan.quantities.containers.tubs import EMPTY_KG_A_LITRE, WATER_KG_L

LETTERS = {"tub": "T", "pail": "P", "can": "C", "bag": "B", "box": "X", "bucket": "S", "vat": "M"}
"""First letter of a container's number, by what it is."""
_A_KIND = 100
"""Numbers of one item of gear; a second item of the same kind goes on from the next hundred. [-]"""


SOLD_L = {"bin-20": 20.0, "bin-60": 60.0, "bin-120": 120.0, "bin-220": 220.0}
"""Lidded bins for food as shops have them, the smallest first, which are ordered; common practice, no source. [l]"""


class Use(StrEnum):
    """What a container is for."""

    ANIMALS = "animals"
    WAITING = "waiting"
    CORALS = "corals"
    ROCK = "rock"
    MEDIA = "media"
    OLD_WATER = "old-water"
    NEW_WATER = "new-water"
    SPARE_WATER = "spare-water"
    BAGS = "bags"
    MIXED = "mixed-water"


@dataclass(frozen=True, slots=True)
class Held:
    """Something in a container.

    Parameters
    ----------
    what : str
        ``livestock``, ``container``, or a word of :class:`Use`.
    id : str
        Id of the group of animals or number of the container; empty otherwise.
    count : int
        Animals of the group; 0 otherwise.
    """

    what: str
    id: str = ""
    count: int = 0


@dataclass(frozen=True, slots=True)
class Vessel:
    """One container of a moving day.

    Parameters
    ----------
    number : str
        On its label, such as ``T7``.
    kind : str
        ``tub``, ``pail``, ``can``, ``bag`` or ``box``.
    gear : str
        Id of the gear in the plan, or the kind where the plan has none.
    use : Use
        What it is for.
    system : str
        Id of the system whose things are in it.
    volume_l, water_l : float
        Full volume, and the water that is poured in. [l]
    dry_kg : float
        Mass of the empty container and of what is in it beside water. [kg]
    holds : tuple of Held
        What is in it.
    stones : int
        Air stones in it, each at an outlet of a pump.
    wrapped : bool
        Whether it is wrapped in foam.
    heater_w : float
        Power of the heater in it; 0: none. [W]
    changed_l : float
        Water that is changed in it at a stop on the way. [l]
    oxygen_l : float
        Oxygen out of a cylinder that bubbles in it from closing to opening. [l]
    """

    number: str
    kind: str
    gear: str
    use: Use
    system: str
    volume_l: float
    water_l: float
    dry_kg: float
    holds: tuple[Held, ...]
    stones: int = 0
    wrapped: bool = False
    heater_w: float = 0.0
    changed_l: float = 0.0
    oxygen_l: float = 0.0

    @property
    def aerated(self) -> bool:
        """Whether air bubbles through it."""
        return self.stones > 0

    @property
    def kg(self) -> float:
        """What it weighs as it is carried. [kg]."""
        return self.dry_kg + WATER_KG_L * self.water_l

    @property
    def account(self) -> str:
        """Its account in the ledger of water."""
        return f"container:{self.number}"

    @property
    def what(self) -> tuple[str, ...]:
        """What its number stands for on its label: gear, use, system, and which animals."""
        return self.gear, self.use.value, self.system, *sorted(self.livestock)

    @property
    def livestock(self) -> tuple[str, ...]:
        """Ids of the groups in it."""
        return tuple(one.id for one in self.holds if one.what == "livestock")


def empty_kg(volume_l: float) -> float:
    """Mass of an empty tub, pail or can of a volume. [kg]."""
    return EMPTY_KG_A_LITRE * volume_l


class Numbers:
    """Gives each container of a day its number; the same container has the same number on every day.

    A number that was told stays with what it was told for; nothing else gets it.

    Parameters
    ----------
    gear : sequence of GearItem
        What the plan has, in its order.
    told : collection of (str, tuple of str)
        Numbers that were told, each with what it stands for.
    taken : iterable of str
        Numbers of containers that stand beside these.
    """

    def __init__(
        self,
        gear: Sequence[GearItem],
        told: Collection[tuple[str, tuple[str, ...]]] = (),
        taken: Iterable[str] = (),
    ) -> None:
        self._told, self._taken = told, set(taken)
        self._gone = self._taken | {number for number, _ in told}
        self._first: dict[str, int] = {}
        self._used: dict[str, int] = {}
        places: dict[str, int] = {}
        for item in gear:
            if item.kind in LETTERS:
                place = places.setdefault(item.kind, 0)
                places[item.kind] += 1
                self._first[item.id] = place * _A_KIND

    def take(self, kind: str, gear: str, what: tuple[str, ...] = ()) -> str:
        """Give a piece of gear the number that it was told by, else the next that none was.

        Parameters
        ----------
        kind, gear : str
            What it is, and its id.
        what : tuple of str
            What its number stands for: gear, use, system, and which animals.
        """
        self._used[gear] = self._used.get(gear, 0) + 1
        at = self._first.get(gear, 0) + self._used[gear]
        number = self._as_told(f"{LETTERS[kind]}{at}", what)
        while not number:
            number = fresh if (fresh := f"{LETTERS[kind]}{at}") not in self._gone else ""
            at += 1
        self._taken.add(number)
        self._gone.add(number)
        return number

    def _as_told(self, number: str, what: tuple[str, ...]) -> str:
        """Find the number that was told for this, or for some of its animals, the given one first; empty: none."""
        free = [(one, meant) for one, meant in self._told if one not in self._taken]
        same = [one for one, meant in free if meant == what]
        near = [one for one, meant in free if meant[:3] == what[:3] and set(meant[3:]) & set(what[3:])]
        return number if number in same else (*same, *near, "")[0]


def spread(groups: Iterable[tuple[str, int]], containers: int) -> Iterator[tuple[Held, ...]]:
    """Share groups of animals out over containers, as evenly as it goes.

    Parameters
    ----------
    groups : iterable of (str, int)
        Ids and how many of each.
    containers : int
        How many containers.

    Yields
    ------
    tuple of Held
        What is in each.

    Examples
    --------
    >>> [[(one.id, one.count) for one in held] for held in spread([("a", 3), ("b", 1)], 2)]
    [[('a', 2)], [('a', 1), ('b', 1)]]
    """
    rows: list[dict[str, int]] = [{} for _ in range(containers)]
    at = 0
    for name, count in groups:
        for _ in range(count):
            rows[at][name] = rows[at].get(name, 0) + 1
            at = (at + 1) % containers
    for row in rows:
        yield tuple(Held("livestock", name, count) for name, count in row.items())


def by_use(vessels: Iterable[Vessel]) -> Mapping[Use, tuple[Vessel, ...]]:
    """Sort containers by what they are for."""
    found: dict[Use, list[Vessel]] = {}
    for vessel in vessels:
        found.setdefault(vessel.use, []).append(vessel)
    return {use: tuple(several) for use, several in found.items()}


def sold_for(brim_l: float) -> tuple[str, int]:
    """Find as few bins as shops have for so much up to the brim, each as small as it may be: which, and how many.

    >>> sold_for(100.0), sold_for(500.0)
    (('bin-120', 1), ('bin-220', 3))
    """
    count = math.ceil(brim_l / max(SOLD_L.values()) - 1e-9)
    return next(name for name, volume_l in SOLD_L.items() if count * volume_l >= brim_l - 1e-9), count
