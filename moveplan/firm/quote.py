"""What a client is quoted: hours by rate, travel, materials, margin and tax, to the cent; low, likely and promised."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from moveplan.cost.bill import cents
from moveplan.firm.day.diaries import by_person, days_of, legs_of
from moveplan.firm.day.roads import BASE, Roads
from moveplan.firm.placing.one_job import Placed
from moveplan.firm.placing.traces import Stop, Trace
from moveplan.firm.values import Firm
from moveplan.network.task import Kind, Task
from moveplan.times import to_local

OWN_GROUPS = ("people", "vehicles")
"""Groups of a job's bill that a quote says by its own rates. [-]"""


@dataclass(frozen=True, slots=True)
class QuoteLine:
    """One line of a quote.

    Parameters
    ----------
    item : str
        ``lead``, ``hand``, ``travel`` or ``materials``.
    quantity : Decimal
        Hours, kilometres, or one. [h], [km]
    unit_price : Decimal
        Price of one. [currency]
    amount : Decimal
        Their product, rounded to the cent. [currency]
    """

    item: str
    quantity: Decimal
    unit_price: Decimal
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Price:
    """One price with its parts.

    Parameters
    ----------
    lines : tuple of QuoteLine
        What is charged.
    net, margin, tax, total : Decimal
        Sum of the lines, what comes on top, and all together; each rounded to the cent. [currency]
    """

    lines: tuple[QuoteLine, ...]
    net: Decimal
    margin: Decimal
    tax: Decimal
    total: Decimal


@dataclass(frozen=True, slots=True)
class Quote:
    """What a client is quoted.

    Parameters
    ----------
    low, likely, promised : Price
        With the shortest, the likely and the promised durations of all tasks.
    valid_until : date
        Last day on which it holds.
    """

    low: Price
    likely: Price
    promised: Price
    valid_until: date


Part = tuple[str, str]
"""What a minute is charged as (``lead`` or ``hand``), and which duration it comes from. [-]"""


def quotes_of(firm: Firm, roads: Roads, placed: Iterable[Placed]) -> Mapping[str, Quote]:
    """Quote every job that is scheduled; a way shared by two jobs is charged once, to the one it leads to.

    Parameters
    ----------
    firm : Firm
        Its rates.
    """
    rows = list(placed)
    travelled = _travel(firm, roads, [one.trace for one in rows])
    today = to_local(firm.now, firm.zone).date()
    until = today + timedelta(days=firm.rates.valid_days)
    found = {}
    for one in rows:
        minutes = _minutes(firm, one)
        driven, km = travelled.get(one.job, ({}, Decimal(0)))
        materials = _materials(one)
        low, likely, promised = (
            _price(firm, _added(minutes[which], driven), km, materials)
            for which in ("low", "likely", "promised")
        )
        found[one.job] = Quote(low, likely, promised, until)
    return found


def _added(work: Mapping[str, float], driven: Mapping[str, int]) -> Mapping[str, float]:
    return {kind: minutes + driven.get(kind, 0) for kind, minutes in work.items()}


def _minutes(firm: Firm, one: Placed) -> Mapping[str, Mapping[str, float]]:
    """Add up what the firm's people work, at the shortest, the likely and the planned duration of each task."""
    leads = {worker.id: worker.helper.lead for worker in firm.people}
    tasks = {task.id: task for task in one.outlook.project.network.tasks}
    found = {which: {"lead": 0.0, "hand": 0.0} for which in ("low", "likely", "promised")}
    for placed in one.outlook.schedule.placements:
        task = tasks[placed.task]
        if task.kind in (Kind.REST, Kind.WAIT):
            continue
        for n, segment in enumerate(placed.segments):
            for who in placed.segment_people[n] if placed.segment_people else placed.people:
                if who in leads:
                    kind = "lead" if leads[who] else "hand"
                    for which, share in _shares(task, placed.finish - placed.start).items():
                        found[which][kind] += segment.minutes * share
    return found


def _shares(task: Task, planned: int) -> Mapping[str, float]:
    """Tell how long a task is at its shortest and as is likely, as shares of what is planned; never above it."""
    whole = task.planned_min or task.estimate.likely or planned
    if whole <= 0:
        return {"low": 1.0, "likely": 1.0, "promised": 1.0}
    low, likely = task.estimate.low / whole, task.estimate.likely / whole
    return {"low": min(low, likely, 1.0), "likely": min(likely, 1.0), "promised": 1.0}


def _travel(firm: Firm, roads: Roads, traces: list[Trace]) -> Mapping[str, tuple[Mapping[str, int], Decimal]]:
    """Share drives out: minutes of each person and kilometres of each vehicle, by the job they lead to.

    On a moving day people ride with the vehicles; to a visit each goes by a car of their own.
    """
    minutes: dict[str, dict[str, int]] = {trace.job: {"lead": 0, "hand": 0} for trace in traces}
    km: dict[str, Decimal] = {trace.job: Decimal(0) for trace in traces}
    for who, stops in by_person(firm, traces).items():
        kind = "lead" if firm.worker(who).helper.lead else "hand"
        for rows in days_of(firm, stops).values():
            visits = not any(stop.moving for stop in rows)
            for job, way, drive in _legs(roads, rows):
                minutes[job][kind] += drive
                km[job] += way if visits else 0
    for vehicle in firm.vehicles:
        driven = sorted(stop for trace in traces for stop in trace.vehicles.get(vehicle.id, ()))
        for rows in days_of(firm, driven).values():
            for job, way, _ in _legs(roads, rows):
                km[job] += way
            for stop in rows:
                km[stop.job] += _km(roads, stop.first, stop.last)
    return {job: (minutes[job], km[job]) for job in minutes}


def _legs(roads: Roads, rows: tuple[Stop, ...]) -> Iterator[tuple[str, Decimal, int]]:
    """Give the drives of a day with their kilometres, each by the job it leads to; the way back by the last."""
    by_site = {stop.first: stop.job for stop in rows}
    here = rows[-1].job
    for origin, destination, drive, _ in legs_of(roads, rows):
        here = by_site.get(destination, here) if destination != BASE else by_site.get(origin, here)
        yield here, _km(roads, origin, destination), drive


def _km(roads: Roads, origin: str, destination: str) -> Decimal:
    return Decimal(str(round(roads.km(origin, destination), 1)))


def _materials(one: Placed) -> Decimal:
    cost = one.outlook.cost
    lines = cost.lines if cost else ()
    return sum((line.amount for line in lines if line.group not in OWN_GROUPS), Decimal(0))


def _price(firm: Firm, minutes: Mapping[str, float], km: Decimal, materials: Decimal) -> Price:
    rates = firm.rates
    lines = (
        _line("lead", _hours(minutes["lead"]), rates.lead),
        _line("hand", _hours(minutes["hand"]), rates.hand),
        _line("travel", km, rates.per_km),
        _line("materials", Decimal(1), cents(materials)),
    )
    net = sum((line.amount for line in lines), Decimal(0))
    margin = cents(net * rates.margin)
    tax = cents((net + margin) * rates.tax)
    return Price(lines, net, margin, tax, net + margin + tax)


def _hours(minutes: float) -> Decimal:
    return cents(Decimal(round(minutes)) / 60)


def _line(item: str, quantity: Decimal, unit_price: Decimal) -> QuoteLine:
    return QuoteLine(item, quantity, unit_price, cents(quantity * unit_price))
