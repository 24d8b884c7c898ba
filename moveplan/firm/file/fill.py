"""The whole firm, complete: whatever it did not say is assumed, with its reason."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from decimal import Decimal
from math import ceil
from pathlib import Path
from zoneinfo import ZoneInfo

from moveplan.firm.file.checks import job_name
from moveplan.firm.file.schema import (
    FirmEntry,
    FirmVehicleEntry,
    JobEntry,
    RatesEntry,
    StockEntry,
    SuppliedEntry,
    WorkerEntry,
)
from moveplan.firm.values import Firm, FirmGear, FirmStock, FirmVehicle, Job, Rates, WaterPlant, Wear, Worker
from moveplan.plan.places import Drive, OutsideAir
from moveplan.planfile.fill import supplies
from moveplan.planfile.fill.air import outside
from moveplan.planfile.fill.head import head
from moveplan.planfile.fill.notes import Notes
from moveplan.planfile.fill.people import people, vehicles
from moveplan.planfile.fill.places import places
from moveplan.planfile.fill.usual import Usual
from moveplan.planfile.schema import PlanEntry
from moveplan.planfile.schema.hours import HoursLeaf, StretchesLeaf
from moveplan.planfile.text import Node
from moveplan.planfile.walk import key_lines, spot
from moveplan.times import to_local

_USUAL_HOURS = Usual("08:00-17:00", "a firm works by day, Monday to Friday; assumed")
_USUAL_MOVING_DAY = Usual("06:00-22:00", "a moving day is long, with the night left for sleep; assumed")
_LONGEST_DAY = Usual("11 h", "assumed; look at the law on working hours and at contracts")
_REST = Usual("11 h", "daily rest of the European working-time directive 2003/88/EC, article 3, recalled")
_TRAVEL = Usual("0.60 per km", "assumed")
_SHARES = {"margin": Usual("0 %", "no margin is given"), "tax": Usual("0 %", "no tax is given")}
_VALID = Usual("30 days", "assumed")
_DELIVERY = Usual("7 days", "assumed; ask your shop")
_PROMISE_PRICE = Usual("0", "no price of moving a promised day is given")


def filled(entry: FirmEntry, root: Node, path: Path, now: datetime | None) -> Firm:
    """Complete a firm file in which nothing is wrong.

    Parameters
    ----------
    entry : FirmEntry
        The file, checked.
    root : Node
        The same with its lines.
    path : Path
        The file.
    now : datetime or None
        Time asked for on the command line.
    """
    notes = Notes(entry.units or "metric")
    top = head(_head_of(entry), now, notes)
    today = to_local(top.now, top.zone).date()
    around = outside(None, top.country, [today], Notes(top.units))
    sites = places(entry.places, top.country, around, Notes(top.units))
    return Firm(
        id=top.id,
        title=top.title,
        locale=top.locale,
        units=top.units,
        country=top.country,
        currency=top.currency,
        now=top.now,
        zone=top.zone,
        base=next(one for one in sites if one.id == entry.base),
        drives=tuple(Drive(one.from_, one.to, one.distance, one.drive) for one in entry.drives or ()),
        people=_workers(entry.people, notes),
        vehicles=_vehicles(entry.vehicles, top.zone, around, notes),
        gear=_gear(entry, notes),
        water=_water(entry),
        rates=_rates(entry.rates, notes),
        jobs=tuple(_job(job, n, root, path, notes) for n, job in enumerate(entry.jobs)),
        assumptions=notes.listed(),
        path=path,
        lines=_lines(root, entry),
        phone=entry.phone or "",
        learn=tuple(path.parent / one for one in entry.learn or ()),
        stock=tuple(_stock(entry.stock, notes)) if entry.stock else (),
    )


def _head_of(entry: FirmEntry) -> PlanEntry:
    """Say what a firm and a plan have in common as a plan does."""
    same = ("id", "title", "as_of", "timezone", "locale", "units", "country", "currency")
    return PlanEntry.model_construct(**{key: getattr(entry, key) for key in same}, purpose="own-tasks")


def _lines(root: Node, entry: FirmEntry) -> dict[str, int]:
    rows = {f"jobs.{job_name(job)}": spot(root, ("jobs", n))[0].line for n, job in enumerate(entry.jobs)}
    return key_lines(root) | rows


def _workers(entries: Mapping[str, WorkerEntry], notes: Notes) -> tuple[Worker, ...]:
    worked = {name: _with_hours(name, one, notes) for name, one in entries.items()}
    return tuple(
        Worker(
            helper=helper,
            longest_day_min=round(
                60
                * notes.quantity(
                    entries[helper.id].longest_day, _key(helper.id, "longest-day"), _LONGEST_DAY, "h"
                )
            ),
            rest_min=round(60 * notes.quantity(entries[helper.id].rest, _key(helper.id, "rest"), _REST, "h")),
        )
        for helper in people(worked, False, notes)
    )


def _key(worker: str, key: str) -> str:
    return f"people.{worker}.{key}"


def _with_hours(name: str, entry: WorkerEntry, notes: Notes) -> WorkerEntry:
    """Give who works for a firm the hours of a firm, where none are written."""
    hours = notes.fill(
        entry.hours, _key(name, "hours"), _USUAL_HOURS, lambda text: HoursLeaf().take({"mon-fri": text})
    )
    moving = notes.fill(entry.moving_day, _key(name, "moving-day"), _USUAL_MOVING_DAY, StretchesLeaf().take)
    return entry.model_copy(update={"hours": hours, "moving_day": moving})


def _vehicles(
    entries: Mapping[str, FirmVehicleEntry], zone: ZoneInfo, around: OutsideAir, notes: Notes
) -> tuple[FirmVehicle, ...]:
    made = vehicles(entries, zone, around, notes)
    return tuple(FirmVehicle(one, entries[one.id].plate or "", entries[one.id].service or ()) for one in made)


def _gear(entry: FirmEntry, notes: Notes) -> tuple[FirmGear, ...]:
    entries = entry.gear or {}
    return tuple(
        FirmGear(item, round(entries[item.id].ready_after or 0))
        for item in supplies.gear(entries, False, notes)
    )


def _water(entry: FirmEntry) -> WaterPlant | None:
    made = entry.water_making
    return None if made is None else WaterPlant(made.rate, made.storage)


def _stock(entry: StockEntry, notes: Notes) -> Iterator[FirmStock]:
    for key, item in (("salt", "salt"), ("bags", "bag"), ("tests", "test-kits")):
        own: SuppliedEntry | None = getattr(entry, key)
        if own is not None:
            days = notes.quantity(own.delivery, f"stock.{key}.delivery", _DELIVERY, "day")
            yield FirmStock(item, Decimal(str(own.there)), ceil(days))


def _rates(entry: RatesEntry, notes: Notes) -> Rates:
    def share(key: str) -> Decimal:
        given = getattr(entry, key)
        return Decimal(str(notes.quantity(given, f"rates.{key}", _SHARES[key], "%")))

    valid = notes.quantity(entry.valid, "rates.valid", _VALID, "day")
    travel = entry.travel
    if travel is None:
        notes.add("rates.travel", _TRAVEL.text, _TRAVEL.why)
    return Rates(
        lead=entry.lead.amount,
        hand=entry.hand.amount,
        per_km=Decimal("0.60") if travel is None else travel.amount,
        margin=share("margin"),
        tax=share("tax"),
        valid_days=round(valid),
        wear=None if entry.wear is None else Wear(entry.wear.amount, entry.wear.unit == "day"),
    )


def _job(entry: JobEntry, position: int, root: Node, path: Path, notes: Notes) -> Job:
    name = job_name(entry)
    if entry.promised and entry.promise_price is None:
        notes.add(f"jobs.{name}.promise-price", _PROMISE_PRICE.text, _PROMISE_PRICE.why)
    return Job(
        id=name,
        plan=path.parent / entry.plan,
        window=entry.window,
        day=entry.day,
        promised=bool(entry.promised),
        priority=1.0 if entry.priority is None else float(entry.priority),
        promise_price=entry.promise_price.amount if entry.promise_price else Decimal(0),
        care=entry.care or "client",
        where=f"{path}:{spot(root, ('jobs', position))[0].line} jobs.{name}",
    )


def moment_of(firm: Firm) -> datetime:
    """Give the moment as of which a firm is planned."""
    return to_local(firm.now, firm.zone).astimezone(UTC)
