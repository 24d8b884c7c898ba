"""What a client is quoted, to the cent, and how sure that is: hours by rate, travel, wear, materials, reserve."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_CEILING, Decimal
from math import ceil

from moveplan.cost.bill import cents
from moveplan.firm.day.diaries import Leg, by_person, days_of, legs_of
from moveplan.firm.day.roads import BASE, Roads
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.placing.one_job import Placed
from moveplan.firm.placing.traces import Stop, Trace
from moveplan.firm.price import Price, QuoteLine
from moveplan.firm.spread import KINDS, Spread
from moveplan.firm.values import Firm
from moveplan.network.task import Kind
from moveplan.times import MINUTES_A_DAY, to_local

OWN_GROUPS = ("people", "vehicles")
"""Groups of a job's bill that a quote says by its own rates. [-]"""
LOW, LIKELY = 0.1, 0.5
"""Shares of the runs that cost no more than the low and the likely price; chosen. [-]"""
ITEMS = ("lead", "hand", "travel", "wear", "materials", "risk")
"""Lines of a quote, in order. [-]"""
CENT = Decimal("0.01")
"""What sums are rounded to. [currency]"""


@dataclass(frozen=True, slots=True)
class Risk:
    """How sure a fixed price is, by the runs of the job.

    Parameters
    ----------
    runs : int
        How many.
    asked : float
        Share of them that the promised price is made for, as the job's plan asks.
    covered : float
        Share of them that cost no more than it, margin left out.
    covered_with_margin : float
        Share of them that cost no more than it with the margin.
    beyond : Decimal
        What they cost beyond it, margin left out, on the mean of all runs. [currency]
    """

    runs: int
    asked: float
    covered: float
    covered_with_margin: float
    beyond: Decimal


@dataclass(frozen=True, slots=True)
class Quote:
    """What a client is quoted.

    Parameters
    ----------
    low, likely : Price
        A tenth and a half of the runs cost no more; as planned where nothing was run.
    promised : Price
        The hours as planned, and as reserve what the runs take beyond them in the share that the plan asks for.
    valid_until : date
        Last day on which it holds.
    risk : Risk or None
        Of the promised price; None: nothing was run.
    """

    low: Price
    likely: Price
    promised: Price
    valid_until: date
    risk: Risk | None = None


Minutes = Mapping[str, float]
"""Work by what it is charged as, ``lead`` or ``hand``. [min]"""


def quotes_of(outlook: FirmOutlook) -> Mapping[str, Quote]:
    """Quote every job that is scheduled; a way shared by two jobs is charged once, to the one it leads to.

    Parameters
    ----------
    outlook : FirmOutlook
        All jobs with their schedules and their runs.
    """
    firm, rows = outlook.firm, outlook.placed
    travelled = _travel(firm, outlook.roads, [one.trace for one in rows])
    today = to_local(firm.now, firm.zone).date()
    until = today + timedelta(days=firm.rates.valid_days)
    found = {}
    for one in rows:
        driven, km = travelled[one.job]
        charge = _Charge(firm, driven, km, _gear_days(one.trace), _materials(one))
        asked = one.outlook.project.plan.confidence
        found[one.job] = _quote(charge, one, outlook.spreads.get(one.job), asked, until)
    return found


@dataclass(frozen=True, slots=True)
class _Charge:
    """What a job is charged beside its work, the same in every run."""

    firm: Firm
    driven: Minutes
    km: Decimal
    gear_days: Decimal
    materials: Decimal

    def price(self, work: Minutes, risk: Decimal = CENT * 0) -> Price:
        rates, wear = self.firm.rates, self.firm.rates.wear
        lines = [
            _line("lead", _hours(work["lead"] + self.driven["lead"]), rates.lead),
            _line("hand", _hours(work["hand"] + self.driven["hand"]), rates.hand),
            _line("travel", self.km, rates.per_km),
        ]
        if wear is not None:
            lines.append(_line("wear", self.gear_days if wear.by_day else self.km, wear.price))
        lines.append(_line("materials", Decimal(1), cents(self.materials)))
        if risk:
            lines.append(_line("risk", Decimal(1), cents(risk)))
        net = sum((line.amount for line in lines), Decimal(0))
        margin = cents(net * rates.margin)
        tax = cents((net + margin) * rates.tax)
        return Price(tuple(lines), net, margin, tax, net + margin + tax)

    def beside_runs(self, work: Minutes) -> float:
        """Add up what is the same in every run, with work that was done before. [currency]."""
        rates = self.firm.rates
        hours = [(work[kind] + self.driven[kind]) / 60 for kind in KINDS]
        rest = self.price(dict.fromkeys(KINDS, 0.0)).lines[len(KINDS) :]
        return (
            hours[0] * float(rates.lead)
            + hours[1] * float(rates.hand)
            + sum(float(one.amount) for one in rest)
        )


def _quote(charge: _Charge, one: Placed, spread: Spread | None, asked: float, until: date) -> Quote:
    work = _minutes(charge.firm, one)
    planned = charge.price(work)
    if spread is None or not spread.ran:
        return Quote(planned, planned, planned, until)
    done = _minutes(charge.firm, one, besides=spread.tasks)
    low, likely = (_in_run(charge, done, spread, share) for share in (LOW, LIKELY))
    fixed = charge.beside_runs(done)
    sure = Decimal(fixed + spread.reached(asked).cost).quantize(CENT, ROUND_CEILING)
    promised = charge.price(work, max(sure, likely.net, planned.net) - planned.net)
    return Quote(low, likely, promised, until, _risk(spread, fixed, promised, asked))


def _in_run(charge: _Charge, done: Minutes, spread: Spread, share: float) -> Price:
    ran = spread.reached(share)
    work = {"lead": done["lead"] + ran.lead_min, "hand": done["hand"] + ran.hand_min}
    return charge.price(work, Decimal(ran.mishaps))


def _risk(spread: Spread, fixed: float, promised: Price, asked: float) -> Risk:
    costs = [fixed + one.cost for one in spread.ran]
    net, whole = float(promised.net), float(promised.net + promised.margin)
    return Risk(
        len(costs),
        asked,
        sum(one <= net for one in costs) / len(costs),
        sum(one <= whole for one in costs) / len(costs),
        cents(Decimal(sum(max(one - net, 0.0) for one in costs) / len(costs))),
    )


def _minutes(firm: Firm, one: Placed, besides: Collection[str] = ()) -> Minutes:
    """Add up what the firm's people work as planned, some tasks left out."""
    found = {"lead": 0.0, "hand": 0.0}
    for task, people in work_of(firm, one).items():
        for who, minutes in people.items() if task not in besides else ():
            found["lead" if firm.worker(who).helper.lead else "hand"] += minutes
    return found


def work_of(firm: Firm, one: Placed) -> Mapping[str, Mapping[str, float]]:
    """Give the minutes that each of the firm's people works as planned, by task. [min].

    Parameters
    ----------
    one : Placed
        A job with its schedule.
    """
    firms = {worker.id for worker in firm.people}
    tasks = {task.id: task for task in one.outlook.project.network.tasks}
    found: dict[str, dict[str, float]] = {}
    for placed in one.outlook.schedule.placements:
        if tasks[placed.task].kind in (Kind.REST, Kind.WAIT):
            continue
        for n, segment in enumerate(placed.segments):
            crew = placed.segment_people[n] if placed.segment_people else placed.people
            for who in sorted(firms.intersection(crew)):
                own = found.setdefault(placed.task, {})
                own[who] = own.get(who, 0.0) + segment.minutes
    return found


def _travel(firm: Firm, roads: Roads, traces: list[Trace]) -> Mapping[str, tuple[Mapping[str, int], Decimal]]:
    """Share drives out: minutes of each person and kilometres of each vehicle, by the job they lead to.

    With a crew people ride in the vehicles; to a visit each goes by a car of their own.
    """
    minutes: dict[str, dict[str, int]] = {trace.job: {"lead": 0, "hand": 0} for trace in traces}
    km: dict[str, Decimal] = {trace.job: Decimal(0) for trace in traces}
    for who, stops in by_person(firm, traces).items():
        kind = "lead" if firm.worker(who).helper.lead else "hand"
        for rows in days_of(firm, stops).values():
            for job, way, leg in _legs(roads, rows):
                minutes[job][kind] += leg.minutes
                km[job] += 0 if leg.crew else way
    for vehicle in firm.vehicles:
        driven = sorted(stop for trace in traces for stop in trace.vehicles.get(vehicle.id, ()))
        for rows in days_of(firm, driven).values():
            for job, way, _ in _legs(roads, rows):
                km[job] += way
            for stop in rows:
                km[stop.job] += _km(roads, stop.first, stop.last)
    return {job: (minutes[job], km[job]) for job in minutes}


def _legs(roads: Roads, rows: tuple[Stop, ...]) -> Iterator[tuple[str, Decimal, Leg]]:
    """Give the drives of a day with their kilometres, each by the job it leads to; the way back by the last."""
    by_site = {stop.first: stop.job for stop in rows}
    here = rows[-1].job
    for leg in legs_of(roads, rows):
        by_destination = leg.destination != BASE
        here = by_site.get(leg.destination if by_destination else leg.origin, here)
        yield here, _km(roads, leg.origin, leg.destination), leg


def _km(roads: Roads, origin: str, destination: str) -> Decimal:
    return Decimal(str(round(roads.km(origin, destination), 1)))


def _materials(one: Placed) -> Decimal:
    cost = one.outlook.cost
    lines = cost.lines if cost else ()
    return sum((line.amount for line in lines if line.group not in OWN_GROUPS), Decimal(0))


def _gear_days(trace: Trace) -> Decimal:
    """Count days of gear that is out, each begun day of each piece."""
    return Decimal(sum(row.count * ceil((row.finish - row.start) / MINUTES_A_DAY) for row in trace.gear))


def _hours(minutes: float) -> Decimal:
    return cents(Decimal(round(minutes)) / 60)


def _line(item: str, quantity: Decimal, unit_price: Decimal) -> QuoteLine:
    return QuoteLine(item, quantity, unit_price, cents(quantity * unit_price))
