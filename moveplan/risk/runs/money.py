"""What a run costs more than planned: paid hours, a longer hire, mishaps, late keys, animals."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from math import prod

import numpy as np
import numpy.typing as npt

from moveplan.practice.hires import hires_of
from moveplan.practice.paid import AWAY_MIN, Called, called_of
from moveplan.practice.project import Project
from moveplan.risk.prepared.compile import Prepared
from moveplan.risk.prepared.windows import Flags
from moveplan.risk.register.awaited import granted_min, is_taken, left_by
from moveplan.risk.register.default import CENT, table
from moveplan.risk.runs.draw import Floats
from moveplan.risk.runs.sample import Sample
from moveplan.risk.runs.simulate import EPSILON, Chunk
from moveplan.risk.summary import CostSpread, RegisterEntry
from moveplan.scheduling.schedule import Placement
from moveplan.times import MINUTES_A_DAY


@dataclass(frozen=True, slots=True)
class Hire:
    """One hired vehicle and the days for which it is booked.

    Parameters
    ----------
    vehicle : str
        Its id.
    tasks : tuple of int
        Positions of the tasks that use it.
    price : float
        Of a day, in the plan's currency.
    booked : tuple of (int, int)
        First and last local day, counted from the start of the plan.
    until_min : float
        End of its hire; infinite where it is open. [min]
    """

    vehicle: str
    tasks: tuple[int, ...]
    price: float
    booked: tuple[int, int]
    until_min: float


def all_lost_at() -> tuple[float, float, float]:
    """Give the times the safe time at which all of a group is lost: likely, at the latest, at the soonest. [-]."""
    row = table("policy")["loss"]["all_at"]
    return float(row["likely"]), float(row["high"]), float(row["low"])


def money(amount: float) -> Decimal:
    """Round to the cent.

    >>> money(12.345)
    Decimal('12.35')
    """
    return Decimal(repr(float(amount))).quantize(CENT, ROUND_HALF_UP)


@dataclass(slots=True)
class Purse:
    """Adds up what runs cost.

    Parameters
    ----------
    awaited : Mapping of str to RegisterEntry
        Entries that await the simulation, by id.

    Beside ``cost``, the whole of it, ``beside`` keeps what of it is no pay.
    """

    prepared: Prepared
    awaited: Mapping[str, RegisterEntry]
    hires: tuple[Hire, ...] = field(init=False)
    cost: Sample = field(default_factory=Sample)
    longer: Sample = field(default_factory=Sample)
    extra: Sample = field(default_factory=Sample)
    still_longer: Sample = field(default_factory=Sample)
    still_extra: Sample = field(default_factory=Sample)
    loss: Sample = field(default_factory=Sample)
    beside: Sample = field(default_factory=Sample)
    losses: tuple[Sample, Sample] = field(default_factory=lambda: (Sample(), Sample()))
    _days: Floats = field(init=False)
    _rates: Floats = field(init=False)
    _called: tuple[Called, ...] = field(init=False)
    _prices: Floats = field(init=False)
    _values: Mapping[str, float] = field(init=False)

    def __post_init__(self) -> None:
        project, schedule = self.prepared.project, self.prepared.schedule
        self._days = np.array([self.prepared.since_start(day.start) for day in project.scheduling.days])
        self.hires = tuple(self._hires())
        self._rates = _rates(project, {one.task: one for one in schedule.placements})
        self._called = called_of(project, schedule)
        self._prices = np.array([float(entry.cost) for entry in self.prepared.register])
        worth = {group.id: float(group.value) for group in project.plan.livestock}
        self._values = {
            route.livestock: worth.get(route.livestock, 0.0) * route.count for route in project.routes
        }

    def _hires(self) -> list[Hire]:
        project, schedule = self.prepared.project, self.prepared.schedule
        found = []
        for hire in hires_of(project.plan, schedule):
            vehicle = hire.vehicle
            until = np.inf if vehicle.hire_until is None else self.prepared.since_start(vehicle.hire_until)
            ends = [self.prepared.since_start(one) for one in (hire.booked.start, hire.booked.finish)]
            booked = self._day_of(np.array(ends)).tolist()
            tasks = tuple(self.prepared.at[task] for task in hire.tasks)
            found.append(Hire(vehicle.id, tasks, float(vehicle.cost_per_day), (booked[0], booked[1]), until))
        return found

    def _day_of(self, moments: Floats) -> npt.NDArray[np.intp]:
        return np.searchsorted(self._days, moments, side="right")

    def add(self, chunk: Chunk, shares: Mapping[str, Floats], charges: Floats) -> dict[str, Flags]:
        """Add up a chunk, and tell which vehicles are needed for longer than they are hired.

        Parameters
        ----------
        shares : Mapping of str to array
            Longest stay of each group as a share of its safe time.
        charges : array
            Further costs, one a run.
        """
        still = self._hire(chunk, granted_min("hire-window-missed"))
        more = still if is_taken(self.awaited.get("hire-window-missed")) else self._hire(chunk)
        (still_extra, still_longer), (extra, longer) = self._paid(chunk, still), self._paid(chunk, more)
        loss, *ends = (self._lost(shares, chunk.runs, all_at) for all_at in all_lost_at())
        pay = np.einsum("i,ij->j", self._rates, chunk.durations) + self._waited(chunk)
        mishaps = np.einsum("i,ij->j", self._prices, chunk.happened)
        beside = (
            mishaps
            + self._left("hire-window-missed") * extra
            + self._left("safe-time-passed") * loss
            + charges
        )
        self.cost.add(pay + beside)
        self.beside.add(beside)
        self.extra.add(extra)
        self.longer.add(longer)
        self.still_extra.add(still_extra)
        self.still_longer.add(still_longer)
        self.loss.add(loss)
        for sample, end in zip(self.losses, ends, strict=True):
            sample.add(end)
        needed: dict[str, Flags] = {}
        for hire, days in zip(self.hires, more, strict=True):
            needed[hire.vehicle] = needed.get(hire.vehicle, np.zeros_like(days, dtype=bool)) | (days > 0)
        return needed

    def _waited(self, chunk: Chunk) -> Floats:
        """Pay of those who wait on a moving day between two tasks, one a run."""
        pay = np.zeros(chunk.runs)
        for one in self._called:
            rows = [self.prepared.at[piece.task.id] for piece in one.work]
            latest = np.maximum.accumulate(chunk.finishes[rows], axis=0)[:-1]
            waits = chunk.starts[rows[1:]] - latest
            paid = np.where((waits > 0) & (waits < AWAY_MIN), waits, 0.0).sum(axis=0)
            pay += one.cents_per_hour / 6000 * paid
        return pay

    def _lost(self, shares: Mapping[str, Floats], runs: int, all_at: float) -> Floats:
        """Value of the animals that are lost, one a run, where all of a group are at so many times its safe time."""
        loss = np.zeros(runs)
        for group, share in shares.items():
            loss += self._values[group] * np.clip((share - 1.0) / (all_at - 1.0), 0.0, 1.0)
        return loss

    def _paid(self, chunk: Chunk, more: Sequence[Floats]) -> tuple[Floats, Flags]:
        """Price of days that are not booked, and whether there are any."""
        extra, longer = np.zeros(chunk.runs), np.zeros(chunk.runs, dtype=bool)
        for hire, days in zip(self.hires, more, strict=True):
            extra += hire.price * days
            longer |= days > 0
        return extra, longer

    def _left(self, risk: str) -> float:
        """Tell what the measures taken leave of a loss."""
        return prod(left_by(self.awaited[risk])) if risk in self.awaited else 1.0

    def _hire(self, chunk: Chunk, grace_min: float = 0.0) -> tuple[Floats, ...]:
        """Count the days of each hire that are not booked; a slipped day is booked anew.

        With some grace the hire may be kept for so much longer, and put off free of charge after it was fetched.
        """
        more_days = int(grace_min // MINUTES_A_DAY)
        found: list[Floats] = []
        for hire in self.hires:
            rows = list(hire.tasks)
            used = self._day_of(np.concatenate([chunk.starts[rows], chunk.finishes[rows] - EPSILON]))
            used.sort(axis=0)
            moved, moved_min = self._moved(chunk, hire)
            outside = used > hire.booked[1] + more_days + moved
            if not grace_min:
                outside |= used < hire.booked[0] + moved
            outside[1:] &= used[1:] != used[:-1]
            late = chunk.finishes[rows].max(axis=0) > hire.until_min + grace_min + moved_min
            found.append(np.maximum(outside.sum(axis=0), late).astype(np.float64))
        return tuple(found)

    def _moved(self, chunk: Chunk, hire: Hire) -> tuple[npt.NDArray[np.intp], Floats]:
        """By how many days and minutes a hire is moved with its moving day, one a run."""
        for at in hire.tasks:
            number = self.prepared.net.steps[at].day
            if number >= 0:
                day, slipped = self.prepared.days[number], chunk.slips[number]
                return slipped * day.slip_days, slipped * float(day.slip_min)
        return np.zeros(chunk.runs, dtype=np.intp), np.zeros(chunk.runs)

    @property
    def expected_losses(self) -> tuple[float, float, float] | None:
        """Expected loss of animals in their containers, and its ends; None where none are in any."""
        if not self.loss.mean():
            return None
        return self.loss.mean(), self.losses[0].mean(), self.losses[1].mean()

    def spread(self) -> CostSpread:
        """Give the part of the cost that the runs change."""
        planned = sum(
            (Decimal(repr(rate)) * Decimal(repr(float(minutes))) for rate, minutes in self._planned()),
            Decimal(0),
        )
        waits = ((one.cents_per_hour, sum(minutes for _, minutes in one.waits())) for one in self._called)
        planned += sum((Decimal(cents) * minutes / 6000 for cents, minutes in waits), Decimal(0))
        return CostSpread(
            planned.quantize(CENT, ROUND_HALF_UP),
            money(self.cost.mean()),
            money(self.cost.quantile(0.5)),
            money(self.cost.quantile(0.8)),
            money(self.cost.quantile(self.prepared.project.plan.confidence)),
        )

    def _planned(self) -> list[tuple[float, float]]:
        tasks = self.prepared.project.network.tasks
        placed = {one.task: one for one in self.prepared.schedule.placements}
        lasts = [
            placed[task.id].segments[0].minutes
            if task.repeats
            else sum(piece.minutes for piece in placed[task.id].segments)
            for task in tasks
        ]
        return [(float(rate), float(one)) for rate, one in zip(self._rates, lasts, strict=True)]


def _rates(project: Project, placed: Mapping[str, Placement]) -> Floats:
    """Pay of a minute of each task; of recurring care all its times together."""
    cents = {person.id: person.cents_per_hour for person in project.scheduling.people}
    rates = []
    for task in project.network.tasks:
        stands = placed[task.id]
        times = len(stands.segments) if task.repeats else 1
        crews = stands.segment_people if task.repeats and stands.segment_people else (stands.people,) * times
        rates.append(sum(cents[name] for crew in crews for name in crew) / 6000)
    return np.array(rates)
