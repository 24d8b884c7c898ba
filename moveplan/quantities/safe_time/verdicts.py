"""How long containers last, each for itself: oxygen, carbon dioxide, ammonia, temperature, caution, battery."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Generic, TypeVar

import numpy as np

from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box, Surroundings
from moveplan.quantities.safe_time.ends import Asked, End
from moveplan.quantities.safe_time.gas_hours import gas_hours, policy_h
from moveplan.quantities.safe_time.heat_hours import Heated, heat_hours
from moveplan.quantities.safe_time.metabolism import Breathing
from moveplan.science.numbers import Array

BOUND_BY = ("oxygen", "carbon-dioxide", "ammonia", "temperature", "policy", "battery")
"""What ends a safe time, in the order of the columns."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """How long one container lasts.

    Parameters
    ----------
    hours : tuple of float
        To each limit, in the order of :data:`BOUND_BY`. [h]
    safe_h : float
        The shortest; the safety factor cuts those of gas and ammonia, for the path of temperature is followed
        through the worst air already. [h]
    limited_by : str
        Which it is.
    in_vehicle_h : float
        The same where it stays in the vehicle once it is there. [h]
    reaerated_h : float
        Time until the ammonia of a closed bag would pass its limit once air gets in. [h]
    """

    hours: tuple[float, ...]
    safe_h: float
    limited_by: str
    in_vehicle_h: float
    reaerated_h: float


_Row = TypeVar("_Row")


class _Remembered(Generic[_Row]):
    """Rows of numbers by key; those that are new are found all at once.

    Parameters
    ----------
    columns : int
        Numbers in a row.
    find : callable
        Gives the rows of numbers for some that are asked.
    """

    def __init__(self, columns: int, find: Callable[[list[_Row]], Array]) -> None:
        self._at: dict[object, int] = {}
        self._found = np.empty((0, columns))
        self._find = find

    def of(self, keys: Iterable[object], rows: Sequence[_Row]) -> Array:
        """Give a row of numbers for each row that is asked."""
        places, new, asked = [], dict[object, int](), list[_Row]()
        for key, row in zip(keys, rows, strict=True):
            at = self._at.get(key)
            if at is None:
                at = new.setdefault(key, len(self._at) + len(asked))
                if at == len(self._at) + len(asked):
                    asked.append(row)
            places.append(at)
        if asked:
            self._found = np.concatenate([self._found, self._find(asked)])
            self._at |= new
        return self._found[places]


class Judge:
    """Judges containers under one set of limits, and remembers what it has judged.

    Gases do not depend on wrap and heater, nor temperature on the animals, so that each is followed once for many
    offers.

    Parameters
    ----------
    policy : Policy
        Limits.
    """

    def __init__(self, policy: Policy) -> None:
        self.policy = policy
        self._gases: dict[Surroundings, _Remembered[Asked]] = {}
        self._heats: dict[Surroundings, _Remembered[Heated]] = {}

    def verdicts(self, rows: Sequence[Asked], around: Surroundings) -> tuple[Verdict, ...]:
        """Judge several containers, each at one end, all at once: many cost little more than one.

        Parameters
        ----------
        rows : sequence of (Box, Breathing, End)
            Containers, the animals in one of each, and the end.

        Raises
        ------
        OutOfRangeError
            For animals and waters beyond the formulas.
        """
        hours, there_h, reaerated_h = self._hours(rows, around)
        cut, kept = self._cut(hours), self._cut(there_h)
        return tuple(
            Verdict(tuple(row), safe_h, BOUND_BY[shortest], in_vehicle_h, again_h)
            for row, safe_h, shortest, in_vehicle_h, again_h in zip(
                hours.tolist(),
                cut.min(axis=1).tolist(),
                cut.argmin(axis=1).tolist(),
                kept.min(axis=1).tolist(),
                reaerated_h.tolist(),
                strict=True,
            )
        )

    def safe_h(self, rows: Sequence[Asked], around: Surroundings) -> list[float]:
        """Judge how long several containers last, whatever ends it: the shortest time of each verdict. [h].

        Parameters
        ----------
        rows : sequence of (Box, Breathing, End)
            Containers, the animals in one of each, and the end.

        Raises
        ------
        OutOfRangeError
            For animals and waters beyond the formulas.
        """
        hours, _, _ = self._hours(rows, around)
        shortest: list[float] = self._cut(hours).min(axis=1).tolist()
        return shortest

    def _cut(self, hours: Array) -> Array:
        """Take the safety factor off gases and ammonia; all others have theirs in them, and a battery needs none."""
        return np.column_stack([self.policy["safety_factor"] * hours[:, :3], hours[:, 3:]])

    def _hours(self, rows: Sequence[Asked], around: Surroundings) -> tuple[Array, Array, Array]:
        """Hours by what ends a stay, in the order of ``BOUND_BY``; where it stays in the vehicle; until aired again."""
        policy = self.policy
        if around not in self._gases:
            self._gases[around] = _Remembered(5, lambda some: gas_hours(some, around, policy))
            self._heats[around] = _Remembered(2, lambda some: heat_hours(some, around, policy))
        gases = self._gases[around].of((_gas_key(*row) for row in rows), rows)
        heated = [(box, end) for box, _, end in rows]
        heats = self._heats[around].of((_heat_key(box, end) for box, end in heated), heated)
        caps = np.array([policy_h(box, policy) for box, _, _ in rows])
        hours, there_h = (np.column_stack([gases[:, :3], heats[:, way], caps, gases[:, 4]]) for way in (0, 1))
        return hours, there_h, gases[:, 3]


def judge_of(policy: Policy) -> Judge:
    """Give the judge of these limits, who remembers what was judged for another round, try or plan."""
    return _judge(frozenset(policy.overrides.items()))


@lru_cache(maxsize=4)
def _judge(overrides: frozenset[tuple[str, float]]) -> Judge:
    return Judge(Policy(dict(overrides)))


def _gas_key(box: Box, load: Breathing, end: End) -> tuple[object, ...]:
    """Tell gases apart: those of a closed bag know no way, those of open water none of the room after the road."""
    way = None if box.kind == "bag" else (box.journey.before_h, box.journey.road_h)
    return (*_shape(box), way, box.stones, box.oxygen, box.changed, load, end)


def _heat_key(box: Box, end: End) -> tuple[object, ...]:
    return (*_shape(box), box.journey, box.wrapped, box.heater_w, box.neighbours, box.insulated, end)


def _shape(box: Box) -> tuple[object, ...]:
    return box.kind, box.volume_l, box.water_l
