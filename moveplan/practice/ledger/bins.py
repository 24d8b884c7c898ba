"""The bins in which salt water is mixed and stands until it is poured: the plan's storage, tubs left over, or ordered.

Tasks say from and to which account of new water they pour; here that becomes containers with numbers.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from moveplan.practice.ledger.entries import LEAST_L, Entries, InUse
from moveplan.quantities.containers.vessels import SOLD_L, Held, Numbers, Use, Vessel, empty_kg, sold_for

STORAGE = "water-storage"
"""Id of the gear: the storage that the plan names."""
STANDING_FILL = 0.9
"""Greatest fill of a tub or vat that nobody carries, so that a pump can stir it; common practice, no source. [-]"""
LEAST_FILL = 0.2
"""Least fill at which pump and heaters in the plan's storage stand under water; less is mixed in a tub; assumed. [-]"""
NEW = "new:"
"""What the accounts of salt water that is mixed begin with; an ending tells a tank's own from another's."""


@dataclass(slots=True)
class _Stand:
    """A bin from the task that fills it to the last one that takes from it."""

    vessel: Vessel
    first: str
    inside: dict[str, float]
    takers: list[str] = field(default_factory=list)
    filled_l: float = 0.0

    @property
    def litres(self) -> float:
        return sum(self.inside.values())


@dataclass(frozen=True, slots=True)
class BinMeans:
    """What water may stand in.

    Parameters
    ----------
    storage_l : float
        Clean storage that the plan names. [l]
    gear : str
        Id of the tubs.
    tub_l : float
        Volume of a tub. [l]
    used, there : int
        Tubs that the moving days take, and those there are.
    numbers : Numbers
        Of the plan's gear, to go on from.
    storage_spot : int
        How many ways to drive lie before the place where the storage stands.
    """

    storage_l: float
    gear: str
    tub_l: float
    used: int
    there: int
    numbers: Numbers
    storage_spot: int = 0


class Bins:
    """Gives every batch its bins, and every pour out of them its number.

    Parameters
    ----------
    means : BinMeans
        What there is.
    """

    def __init__(self, means: BinMeans) -> None:
        self._means = means
        self.vessels = [self._bin("vat", STORAGE, means.storage_l)] if means.storage_l > LEAST_L else []
        self._stands: list[_Stand] = []
        self._over: list[_Stand] = []
        self._rooms: dict[str, float] = {}
        self._even: set[str] = set()
        self._spots: dict[Vessel, list[int]] = {}
        self._driven: set[int] = set()
        self._left_behind: set[Vessel] = set()

    def keep_room(self, account: str, litres: float) -> None:
        """Let the bins of an account hold so much more than is filled in at first, and stand equally full. [l]."""
        self._rooms[account] = litres
        self._even.add(account)

    def drive(self, way: int) -> None:
        """Let bins that still hold water stay behind when a way is driven."""
        self._driven.add(way)

    def numbered(self, entries: Entries, task: str, times: int, spot: int = 0) -> Entries:
        """Say which bins a task fills and empties, in place of accounts of new water.

        Parameters
        ----------
        entries : tuple of (str, str, float)
            From, to, litres. [l]
        task : str
            Its id.
        times : int
            How often it is done.
        spot : int
            How many ways to drive lie before the place where it is done.
        """
        filled = sum(litres for _, target, litres in entries if target.startswith(NEW))
        room = sum(self._rooms.pop(target, 0.0) for _, target, _ in entries if target.startswith(NEW))
        fresh = self._free(filled + room, task, spot) if filled > LEAST_L and times == 1 else []
        found: list[tuple[str, str, float]] = []
        for source, target, litres in entries:
            if litres <= LEAST_L:
                continue
            if target.startswith(NEW):
                found += self._fill(source, target, litres, fresh or self._of(target), times)
            elif source.startswith(NEW):
                found += self._draw(source, target, litres, task, times)
                if spot in self._driven:
                    self._left_behind |= {one.vessel for one in self._all() if one.takers[-1:] == [task]}
            else:
                found.append((source, target, litres))
        return tuple(found)

    def emptied_by(self, task: str) -> tuple[str, ...]:
        """List the tasks that have to be through before a task can fill the bins that it is given."""
        numbers = {one.vessel.number for one in self._all() if one.first == task}
        before = (one for one in self._over if one.vessel.number in numbers and one.first != task)
        return tuple(dict.fromkeys(taker for one in before for taker in one.takers))

    def uses(self) -> Iterator[InUse]:
        """List every use of every bin."""
        for one in self._all():
            takers = one.takers or [one.first]
            yield InUse(one.vessel, one.first, takers[-1], tuple(dict.fromkeys(takers[:-1])))

    def stood(self, task: str) -> tuple[tuple[str, float], ...]:
        """List number and water of the bins that a task fills. [l]."""
        return self._water(one for one in self._all() if one.first == task)

    def waiting_for(self, tasks: Iterable[str]) -> tuple[tuple[str, float], ...]:
        """List number and water of the bins that some tasks draw from, and of those that still stand full. [l]."""
        drawing = set(tasks)
        return self._water(one for one in self._all() if one in self._stands or drawing & set(one.takers))

    def _water(self, stands: Iterable[_Stand]) -> tuple[tuple[str, float], ...]:
        return tuple((one.vessel.number, one.filled_l) for one in stands)

    def _all(self) -> Iterable[_Stand]:
        return (*self._over, *self._stands)

    def _of(self, account: str) -> list[_Stand]:
        return [one for one in self._stands if account in one.inside]

    def carried(self, way: int) -> tuple[tuple[str, float], ...]:
        """List number and volume of the bins that travel along empty, used before a way to drive and after it. [l]."""
        ridden = (one for one, spots in self._spots.items() if min(spots) <= way < max(spots))
        return tuple((vessel.number, vessel.volume_l) for vessel in ridden)

    def used_before(self, way: int) -> tuple[str, ...]:
        """List the numbers of the bins that are used before a way to drive."""
        return tuple(vessel.number for vessel, spots in self._spots.items() if min(spots) <= way)

    def _free(self, litres: float, task: str, spot: int) -> list[_Stand]:
        """Take free bins for so much, and more of them where they are too few."""
        busy = {one.vessel.number for one in self._stands}
        free = [one for one in self.vessels if one.number not in busy and self._is_at(one, spot)]
        free = [one for one in free if one.gear != STORAGE or litres >= LEAST_FILL * one.volume_l]
        one_for_all = sorted((one for one in free if holds_l(one) >= litres - LEAST_L), key=holds_l)
        taken: list[Vessel] = []
        left = litres
        for vessel in one_for_all or free:
            if left > LEAST_L:
                taken.append(vessel)
                left -= holds_l(vessel)
        fresh = self._more(left) if left > LEAST_L else []
        taken += fresh
        self.vessels += fresh
        for vessel in taken:
            self._spots.setdefault(vessel, []).append(spot)
        stands = [_Stand(vessel, task, {}) for vessel in taken]
        self._stands += stands
        return stands

    def _is_at(self, vessel: Vessel, spot: int) -> bool:
        if vessel.gear == STORAGE and spot < self._means.storage_spot:
            return False
        return vessel not in self._left_behind or self._spots[vessel][-1] == spot

    def _more(self, litres: float) -> list[Vessel]:
        """Find more bins for so much: tubs left over, else as few as can be ordered, each as small as it may be."""
        means = self._means
        tubs = math.ceil(litres / (STANDING_FILL * means.tub_l) - 1e-9)
        if tubs <= means.there - means.used - sum(one.kind == "tub" for one in self.vessels):
            return [self._bin("tub", means.gear, means.tub_l) for _ in range(tubs)]
        gear, count = sold_for(litres / STANDING_FILL)
        return [self._bin("vat", gear, SOLD_L[gear]) for _ in range(count)]

    def _bin(self, kind: str, gear: str, volume_l: float) -> Vessel:
        held = (Held(Use.NEW_WATER.value),)
        bin_ = Vessel("", kind, gear, Use.MIXED, "", volume_l, 0.0, empty_kg(volume_l), held)
        number = self._means.numbers.take(kind, gear if kind == "tub" else kind, bin_.what)
        return replace(bin_, number=number)

    def _fill(
        self, source: str, account: str, litres: float, stands: list[_Stand], times: int
    ) -> Iterator[tuple[str, str, float]]:
        whole = sum(holds_l(one.vessel) for one in stands)
        for one in stands:
            part = litres * holds_l(one.vessel) / whole
            one.inside[account] = one.inside.get(account, 0.0) + part * times
            one.filled_l += part * times
            yield source, one.vessel.account, part
        if not stands:
            yield source, account, litres

    def _draw(
        self, account: str, target: str, litres: float, task: str, times: int
    ) -> Iterator[tuple[str, str, float]]:
        """Take from the bins that were filled first, or from all alike; what is done again and again frees none."""
        stands, left = self._of(account), litres
        whole = sum(holds_l(one.vessel) for one in stands)
        for one in stands:
            share = litres * holds_l(one.vessel) / whole if account in self._even else left
            part = min(one.inside[account] / times, share)
            if part > LEAST_L:
                left -= part
                one.inside[account] -= part * times
                one.takers.append(task)
                yield one.vessel.account, target, part
        if left > LEAST_L:
            yield account, target, left
        if times == 1:
            self._over += [one for one in self._stands if one.takers and one.litres <= LEAST_L]
            self._stands = [one for one in self._stands if one not in self._over]


def holds_l(vessel: Vessel) -> float:
    """Water that may stand in a bin; the storage is stated as what it holds. [l]."""
    return vessel.volume_l if vessel.gear == STORAGE else STANDING_FILL * vessel.volume_l
