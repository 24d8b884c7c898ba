"""What is asked when days are chosen, and what is answered; no plan, no tank, only moving days and what they share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from moveplan.firm.placing.hearts import Heart

A_CALL = 100
"""What it costs to send somebody else than was told, in hundredths: as much as a day later. [-]"""
LEFT_OUT, A_DAY_AWAY, A_DAY_LATER = 10_000, 20, 1
"""What it costs to leave a job out, a day between its day and the wished one, and a day that an unwished one is later
than it could be; each times the job's priority. Weights: a job counts more than any distance within two years. [-]"""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A job whose day is to be chosen.

    Parameters
    ----------
    heart : Heart
        Its moving day.
    days : tuple of date
        On which it may be, in order.
    wish : date or None
        The day that is wished.
    promised : bool
        Whether it has to be on its one day.
    priority : float
        Weight.
    crew, vehicles : tuple of str or None
        Who and what goes where that is fixed already; None: to be chosen.
    before : tuple of str
        Who was to go before something changed; everybody else who goes has to be called.
    stands : bool
        Whether it is scheduled with that crew and those vehicles already.
    """

    heart: Heart
    days: tuple[date, ...]
    wish: date | None = None
    promised: bool = False
    priority: float = 1.0
    crew: tuple[str, ...] | None = None
    vehicles: tuple[str, ...] | None = None
    before: tuple[str, ...] = ()
    stands: bool = False

    @property
    def job(self) -> str:
        """Id of the job."""
        return self.heart.job

    def cost(self, day: date | None) -> int:
        """Cost of a day, or of being left out, in hundredths."""
        weight = round(100 * self.priority)
        if day is None:
            return weight * LEFT_OUT
        if self.wish is not None:
            return weight * A_DAY_AWAY * abs((day - self.wish) // timedelta(days=1))
        return weight * A_DAY_LATER * ((day - self.days[0]) // timedelta(days=1))


@dataclass(frozen=True, slots=True)
class Hand:
    """Somebody who can be sent.

    Parameters
    ----------
    leads, drives : bool
        Whether they lead, and drive.
    rest_min : int
        Between two moving days. [min]
    away : frozenset of date
        Days on which they are not there.
    """

    id: str
    leads: bool
    drives: bool
    rest_min: int
    away: frozenset[date] = frozenset()


@dataclass(frozen=True, slots=True)
class Wheels:
    """A vehicle that can be sent: its id, and the days on which it is not there."""

    id: str
    away: frozenset[date] = frozenset()


@dataclass(frozen=True, slots=True)
class Question:
    """All jobs, and all that they share.

    Parameters
    ----------
    wanted : tuple of Wanted
        The jobs.
    hands : tuple of Hand
        The people.
    wheels : tuple of Wheels
        The vehicles.
    gear : Mapping of str to int
        How many there are of each.
    water : tuple of (float, float) or None
        Made on a day and kept at most; None: no water is made at the base. [l/day], [l]
    never : frozenset of (str, date)
        Days on which a job was tried in full and did not fit.
    """

    wanted: tuple[Wanted, ...]
    hands: tuple[Hand, ...]
    wheels: tuple[Wheels, ...]
    gear: Mapping[str, int]
    water: tuple[float, float] | None = None
    never: frozenset[tuple[str, date]] = frozenset()

    def days(self, one: Wanted) -> tuple[date, ...]:
        """Days of a job that are not ruled out."""
        return tuple(day for day in one.days if (one.job, day) not in self.never)


class DayStatus(StrEnum):
    """How far the choice is proven."""

    OPTIMAL = "OPTIMAL"
    FEASIBLE = "FEASIBLE"
    INFEASIBLE = "INFEASIBLE"
    UNKNOWN = "UNKNOWN"


@dataclass(frozen=True, slots=True)
class Sent:
    """A job with its day, and who and what goes."""

    job: str
    day: date
    crew: tuple[str, ...]
    vehicles: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """Days for jobs.

    Parameters
    ----------
    status : DayStatus
        How far it is proven.
    sent : tuple of Sent
        Jobs with a day, in the order of the question.
    left : tuple of str
        Jobs without one.
    cost : int
        Of all, in hundredths.
    bound : int or None
        Proven to be the least possible; None: no bound is known.
    """

    status: DayStatus
    sent: tuple[Sent, ...] = ()
    left: tuple[str, ...] = ()
    cost: int = 0
    bound: int | None = None

    @property
    def gap(self) -> float | None:
        """How far the cost may be from the least, as a share of it; None without a bound."""
        if self.bound is None:
            return None
        return 0.0 if self.cost == 0 else (self.cost - self.bound) / self.cost

    def of(self, job: str) -> Sent | None:
        """Find what was chosen for a job."""
        return next((one for one in self.sent if one.job == job), None)
