"""The ledger of a move: every litre that a task moves, and every container from its filling to its emptying."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from moveplan.quantities.containers.vessels import Vessel

DRAIN, TAP, PURIFIED = "drain", "tap", "purified"
"""Accounts outside the tanks: what leaves the plan (sewer, air, other people's tanks), what comes into it (the mains, a
shop, other people's tanks), and purified water in storage."""
LEAST_L = 0.005
"""Less than that is no pour. [l]"""


@dataclass(frozen=True, slots=True)
class Pour:
    """Water that a task moves from one account to another.

    Parameters
    ----------
    task : str
        Id of the task.
    source, target : str
        Accounts: ``system:ID``, ``container:NUMBER``, ``new:ID``, ``purified``, ``tap`` or ``drain``.
    litres : float
        How much; of recurring care, each time. [l]
    """

    task: str
    source: str
    target: str
    litres: float


@dataclass(frozen=True, slots=True)
class InUse:
    """One use of one container.

    Parameters
    ----------
    vessel : Vessel
        The container and what is in it.
    from_task, until_task : str
        Ids of the tasks with whose start and finish the use begins and ends.
    also : tuple of str
        Further tasks that take from it; the last of all ends the use.
    """

    vessel: Vessel
    from_task: str
    until_task: str
    also: tuple[str, ...] = ()

    @property
    def ends(self) -> tuple[str, ...]:
        """Tasks of which the last ends the use."""
        return (self.until_task, *self.also)


@dataclass(frozen=True, slots=True)
class Body:
    """One body of water with filter and heater.

    Parameters
    ----------
    id, name : str
        Name in the ledger and for people.
    litres, drawable_l : float
        When it runs, and how much of that may be kept. [l]
    place : str
        Id of the place where it stands in the end.
    role : str
        ``old``, ``new``, ``holding``, or ``both``: taken down and filled again.
    full : bool
        Whether it runs in the beginning.
    rim_l : float
        What the bare tank holds up to its rim, for the test with tap water. [l]
    """

    id: str
    name: str
    litres: float
    drawable_l: float
    place: str
    role: str
    full: bool
    rim_l: float = 0.0


@dataclass(frozen=True, slots=True)
class Running:
    """Equipment that draws power from the start of one task to the finish of another.

    Parameters
    ----------
    place : str
        Id of the place.
    from_task, until_task : str
        Ids of tasks; empty: from the beginning, to the end.
    watts : float
        All of it together. [W]
    what : str
        ``heaters``, ``pumps`` (with all that runs beside them) or ``lights`` of a tank, ``spare-heaters`` that help to
        warm it, ``mixing`` for heaters in bins of new water.
    system : str
        Account of the tank; empty for bins.
    held : tuple of str
        Gear that is held as long as it runs, by its id, each piece: spare heaters, and the pump that mixes.
    """

    place: str
    from_task: str
    until_task: str
    watts: float
    what: str = "pumps"
    system: str = ""
    held: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Ledger:
    """Everything that a move pours and holds.

    Parameters
    ----------
    pours : tuple of Pour
        In the order in which the move was composed.
    bodies : tuple of Body
        Tanks.
    running : tuple of Running
        What draws power in them.
    """

    pours: tuple[Pour, ...] = ()
    containers: tuple[InUse, ...] = ()
    bodies: tuple[Body, ...] = ()
    running: tuple[Running, ...] = ()


Entries = tuple[tuple[str, str, float], ...]
"""From, to, litres."""


def filled(vessels: Iterable[Vessel], source: str) -> Entries:
    """Fill containers out of one account."""
    return tuple((source, vessel.account, vessel.water_l) for vessel in vessels)


class Balances:
    """What is in each account while a move is composed.

    Parameters
    ----------
    bodies : iterable of Body
        Those that are full begin with their litres.
    """

    def __init__(self, bodies: Iterable[Body]) -> None:
        self._litres = {f"system:{body.id}": body.litres for body in bodies if body.full}

    def __getitem__(self, account: str) -> float:
        """Give what is in an account now. [l]."""
        return max(self._litres.get(account, 0.0), 0.0)

    def book(self, entries: Entries) -> None:
        """Move water."""
        for source, target, litres in entries:
            self._litres[source] = self._litres.get(source, 0.0) - litres
            self._litres[target] = self._litres.get(target, 0.0) + litres

    def emptied(self, accounts: Iterable[str], target: str = DRAIN) -> Entries:
        """Empty accounts into another."""
        return tuple((one, target, self[one]) for one in accounts if self[one] > LEAST_L)

    def taken(self, accounts: Iterable[str], target: str, litres: float) -> Entries:
        """Take so much out of several accounts, one after the other, as far as there is so much."""
        entries, left = [], litres
        for one in accounts:
            part = min(self[one], left)
            if part > LEAST_L:
                entries.append((one, target, part))
                left -= part
        return tuple(entries)
