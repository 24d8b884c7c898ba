"""The month on one page: who is where on which day, what is free, and which promise is thin."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from moveplan.compiled import template_folder
from moveplan.firm.day.diaries import by_person, days_of
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.printing import Printing
from moveplan.firm.papers.stock import orders_of
from moveplan.firm.placing.staffed import AHEAD
from moveplan.firm.placing.traces import Stop
from moveplan.firm.quote import Quote
from moveplan.firm.words import reasons_of, status_of
from moveplan.hours import Absence, days_off
from moveplan.outputs.outlook import Verdict
from moveplan.times import Interval, local_day, to_local

AROUND = timedelta(days=2)
"""Shown before the first moving day and after the last; visits outside of it stand on the sheets. [day]"""


@dataclass(frozen=True, slots=True)
class Cell:
    """One day of a person, a vehicle or some gear.

    Parameters
    ----------
    kind : str
        ``moving``, ``visit``, ``away``, ``free`` or ``count``.
    text : str
        Numbers of jobs, or how many are out.
    title : str
        The same in full.
    """

    kind: str
    text: str = ""
    title: str = ""


def month_html(outlook: FirmOutlook, quotes: Mapping[str, Quote]) -> str:
    """Write the page of the month, one file that works offline and printed.

    Parameters
    ----------
    quotes : Mapping of str to Quote
        By job.
    """
    firm = outlook.firm
    days = _days(outlook)
    numbers = {job.id: n for n, job in enumerate(firm.jobs, start=1)}
    return Printing(firm.zone, firm.locale, firm.currency).render(
        "html",
        "firm/month.html.j2",
        {
            "style": (template_folder() / "firm" / "month.css").read_text("utf-8"),
            "firm": firm,
            "answer": outlook.answer,
            "status": status_of(outlook),
            "reasons": reasons_of(outlook),
            "days": days,
            "weekend": [day.weekday() > 4 for day in days],
            "people": list(_people(outlook, days, numbers)),
            "vehicles": list(_vehicles(outlook, days, numbers)),
            "gear": list(_gear(outlook, days)),
            "free": _free(outlook, days),
            "jobs": list(_jobs(outlook, numbers, quotes)),
            "orders": orders_of(outlook),
            "out": outlook.out,
            "calls": outlook.calls,
            "names": {one.id: one.name for one in firm.people} | {one.id: one.name for one in firm.vehicles},
            "assumptions": (*outlook.roads.assumptions, *firm.assumptions),
        },
    )


def _days(outlook: FirmOutlook) -> list[date]:
    moving = [one.sent.day for one in outlook.placed]
    if not moving:
        return []
    first, last = min(moving) - AROUND, max(moving) + AROUND
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]


def _people(
    outlook: FirmOutlook, days: list[date], numbers: Mapping[str, int]
) -> Iterator[tuple[str, list[Cell]]]:
    rows = by_person(outlook.firm, [one.trace for one in outlook.placed])
    for one in outlook.firm.people:
        yield one.name, _row(outlook, rows[one.id], one.helper.absences, days, numbers)


def _vehicles(
    outlook: FirmOutlook, days: list[date], numbers: Mapping[str, int]
) -> Iterator[tuple[str, list[Cell]]]:
    for one in outlook.firm.vehicles:
        stops = sorted(stop for row in outlook.placed for stop in row.trace.vehicles.get(one.id, ()))
        yield one.name, _row(outlook, stops, one.service, days, numbers)


def _row(
    outlook: FirmOutlook,
    stops: Iterable[Stop],
    absences: Iterable[Absence],
    days: list[date],
    numbers: Mapping[str, int],
) -> list[Cell]:
    by_day = days_of(outlook.firm, stops)
    first = to_local(outlook.firm.now, outlook.firm.zone).date()
    off = days_off(absences, first, first + AHEAD)
    return [_cell(outlook, by_day.get(day, ()), day in off, numbers) for day in days]


def _cell(outlook: FirmOutlook, stops: tuple[Stop, ...], away: bool, numbers: Mapping[str, int]) -> Cell:
    if away:
        return Cell("away", "\N{EN DASH}", "not there")
    if not stops:
        return Cell("free")
    moving = [stop.job for stop in stops if stop.moving]
    jobs = list(dict.fromkeys(moving or (stop.job for stop in stops)))
    text = " ".join(str(numbers[job]) for job in jobs)
    title = ", ".join(outlook.plans[job].title for job in jobs)
    return Cell("moving" if moving else "visit", text, title)


def _gear(outlook: FirmOutlook, days: list[date]) -> Iterator[tuple[str, list[Cell]]]:
    """Count for each day how many are left, at the moment of the day at which the fewest are."""
    for one in outlook.firm.gear:
        taken = [row for job in outlook.placed for row in job.trace.gear if row.gear == one.item.id]
        cells = []
        for day in days:
            span = local_day(day, outlook.firm.zone)
            moments = [span.start, *(row.start for row in taken if span.start < row.start < span.finish)]
            out = max(sum(row.count for row in taken if row.start <= at < row.finish) for at in moments)
            left = one.item.count - out
            cells.append(Cell("count", str(left), f"{left} of {one.item.count} left"))
        yield one.item.name, cells


def _free(outlook: FirmOutlook, days: list[date]) -> list[str]:
    """Count who has hours on a day and no stop on it."""
    rows = by_person(outlook.firm, [one.trace for one in outlook.placed])
    first = to_local(outlook.firm.now, outlook.firm.zone).date()
    counts = []
    for day in days:
        span = local_day(day, outlook.firm.zone)
        counts.append(
            sum(
                day not in days_off(one.helper.absences, first, first + AHEAD)
                and not any(Interval(stop.start, stop.finish).overlaps(span) for stop in rows[one.id])
                for one in outlook.firm.people
            )
        )
    return [str(count) for count in counts]


@dataclass(frozen=True, slots=True)
class JobRow:
    """A job on the page of the month."""

    number: int
    id: str
    title: str
    day: date | None
    promised: bool
    crew: str
    vehicles: str
    kept: float | None
    confidence: float | None
    quote: Quote | None
    status: str
    by_others: float = 0.0

    @property
    def thin(self) -> bool:
        """Whether what is promised is kept less often than the plan asks for."""
        return self.kept is not None and self.confidence is not None and self.kept < self.confidence


def _jobs(outlook: FirmOutlook, numbers: Mapping[str, int], quotes: Mapping[str, Quote]) -> Iterator[JobRow]:
    firm = outlook.firm
    vehicles = {one.id: one.name for one in firm.vehicles}
    for job in firm.jobs:
        found = outlook.of(job.id)
        promise = found.outlook.risk.promise if found and found.outlook.risk else None
        yield JobRow(
            numbers[job.id],
            job.id,
            outlook.plans[job.id].title,
            found.sent.day if found else None,
            job.promised,
            ", ".join(firm.worker(one).name for one in found.sent.crew) if found else "",
            ", ".join(vehicles[one] for one in found.sent.vehicles) if found else "",
            outlook.kept(job.id),
            promise.confidence if promise else None,
            quotes.get(job.id),
            (found.outlook.verdict if found else Verdict.CANNOT_BE_DONE).value,
            outlook.slips[job.id].by_others if job.id in outlook.slips else 0.0,
        )
