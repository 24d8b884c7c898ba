"""People, vehicles, contacts and boarding, complete."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from zoneinfo import ZoneInfo

from moveplan.hours import HoursRule
from moveplan.plan.people import Boarding, Contact, Helper, LateChange, Vehicle
from moveplan.plan.places import OutsideAir
from moveplan.planfile.fill.air import load_space
from moveplan.planfile.fill.notes import Notes, named
from moveplan.planfile.fill.usual import USUAL, Usual
from moveplan.planfile.schema.hours import HoursLeaf, StretchesLeaf
from moveplan.planfile.schema.money import Late, LateLeaf, Money, PriceLeaf
from moveplan.planfile.schema.people import (
    BoardingEntry,
    ContactEntry,
    HelperEntry,
    LoadSpaceEntry,
    VehicleEntry,
)

_Rules = tuple[HoursRule, ...]
_PAID_H = 8
"""Paid hours of a day that somebody hears too late has moved; assumed. [h]"""
_WEEK = {"mon-fri": "18:00-21:00", "sat-sun": "09:00-18:00"}


def people(entries: Mapping[str, HelperEntry], own_tasks: bool, notes: Notes) -> tuple[Helper, ...]:
    """Complete everybody; the first is taken for the keeper.

    Parameters
    ----------
    entries : Mapping of str to HelperEntry
        People by id.
    own_tasks : bool
        Whether the plan schedules own tasks only; then nobody is said to sleep.
    """
    somebody_drives = any(entry.drives for entry in entries.values())
    return tuple(
        _helper(helper_id, entry, _First(position == 0, somebody_drives, own_tasks), notes)
        for position, (helper_id, entry) in enumerate(entries.items())
    )


class _First:
    def __init__(self, first: bool, somebody_drives: bool, own_tasks: bool) -> None:
        self.drives = USUAL["drives-first" if first and not somebody_drives else "drives"]
        self.cares = USUAL["cares-first" if first else "cares"]
        self.hours = USUAL["hours-own-tasks" if own_tasks else "hours"]
        self.moving_day = USUAL["hours-own-tasks" if own_tasks else "moving-day"]


def _helper(helper_id: str, entry: HelperEntry, usually: _First, notes: Notes) -> Helper:
    key = f"people.{helper_id}"
    pay = notes.fill(entry.cost, f"{key}.cost", USUAL["cost-person"], _price).amount
    return Helper(
        id=helper_id,
        name=named(entry.name, helper_id),
        lifts=notes.flag(entry.lifts, f"{key}.lifts", USUAL["lifts"]),
        drives=notes.flag(entry.drives, f"{key}.drives", usually.drives),
        cares=notes.flag(entry.cares, f"{key}.cares", usually.cares),
        hours=notes.fill(entry.hours, f"{key}.hours", usually.hours, _hours),
        moving_day_hours=notes.fill(entry.moving_day, f"{key}.moving-day", usually.moving_day, _stretches),
        absences=entry.away or (),
        holidays_off=notes.flag(entry.holidays_off, f"{key}.holidays-off", USUAL["holidays-off"]),
        cost_per_hour=pay,
        place=entry.place or "",
        lead=bool(entry.lead),
        eve_hours=entry.evening_before or (),
        email=entry.email or "",
        phone=entry.phone or "",
        late_change=_late(entry.late_change, key, _PAID_H * pay, USUAL["late-person"], notes),
    )


def _late(given: Late | None, key: str, usual: Decimal, usually: Usual, notes: Notes) -> LateChange | None:
    """Complete what a late change costs: of what costs nothing, nothing."""
    if given is None and not usual:
        return None
    text = f"{usual:.2f}".removesuffix(".00") + f" {usually.text}"
    late = notes.fill(given, f"{key}.late-change", Usual(text, usually.why), LateLeaf().read)
    return LateChange(late.fee.amount, late.days)


def _hours(text: str) -> _Rules:
    return HoursLeaf().take(_WEEK if text.startswith("{") else text)


def _stretches(text: str) -> _Rules:
    return StretchesLeaf().take(text)


def _price(text: str) -> Money:
    return PriceLeaf().read(text)


def vehicles(
    entries: Mapping[str, VehicleEntry], zone: ZoneInfo, around: OutsideAir, notes: Notes
) -> tuple[Vehicle, ...]:
    """Complete every vehicle."""
    return tuple(_vehicle(vehicle_id, entry, zone, around, notes) for vehicle_id, entry in entries.items())


def _vehicle(
    vehicle_id: str, entry: VehicleEntry, zone: ZoneInfo, around: OutsideAir, notes: Notes
) -> Vehicle:
    key = f"vehicles.{vehicle_id}"
    hired = notes.flag(entry.hired, f"{key}.hired", _hired(entry))
    space = notes.fill(entry.load_space, f"{key}.load-space", USUAL["load-space"], _usual_space)
    rates = _rates(entry, key, hired, notes)
    kind = notes.fill(entry.load_space_air, f"{key}.load-space-air", USUAL["load-space-air"], str)
    air = load_space(entry, kind, key, around, notes)
    return Vehicle(
        id=vehicle_id,
        name=named(entry.name, vehicle_id),
        payload_kg=notes.quantity(entry.payload, f"{key}.payload", USUAL["payload"], "kg"),
        load_length_m=space.length,
        load_width_m=space.width,
        load_height_m=space.height,
        seats=notes.fill(entry.seats, f"{key}.seats", USUAL["seats"], int),
        hired=hired,
        hire_from=entry.hire.from_.at(zone) if entry.hire and entry.hire.from_ else None,
        hire_until=entry.hire.until.at(zone) if entry.hire and entry.hire.until else None,
        hours=notes.fill(entry.hours, f"{key}.hours", USUAL["vehicle-hours"], _stretches),
        cost_per_day=rates("day"),
        cost_per_km=rates("km"),
        air_temperature_c=air.low_c,
        air_high_c=air.high_c,
        load_space_air=kind,
        parked=notes.fill(entry.parked, f"{key}.parked", USUAL["parked"], str),
        late_change=_late(
            entry.late_change, key, rates("day") if hired else Decimal(0), USUAL["late-hire"], notes
        ),
    )


def _hired(entry: VehicleEntry) -> Usual:
    if entry.hire is not None:
        return Usual("yes", "it has a hire window")
    return Usual("no", "it has no hire window, so it is taken for somebody's own")


def _usual_space(text: str) -> LoadSpaceEntry:
    rows = dict(part.split(": ") for part in text.strip("{}").split(", "))
    return LoadSpaceEntry.model_validate(rows)


def _rates(entry: VehicleEntry, key: str, hired: bool, notes: Notes) -> Callable[[str], Decimal]:
    usually = USUAL["cost-hire" if hired else "cost-vehicle"]
    given = notes.fill(entry.cost, f"{key}.cost", usually, lambda text: (_price(text),))
    amounts = {price.unit: price.amount for price in given}
    return lambda unit: amounts.get(unit, Decimal(0))


def contacts(entries: Mapping[str, ContactEntry]) -> tuple[Contact, ...]:
    """Take over everybody to ring."""
    return tuple(
        Contact(contact_id, named(entry.name, contact_id), entry.role, entry.phone or "")
        for contact_id, entry in entries.items()
    )


def boarding(entries: Mapping[str, BoardingEntry], notes: Notes) -> tuple[Boarding, ...]:
    """Complete every boarding place."""
    return tuple(
        Boarding(
            id=boarding_id,
            name=named(entry.name, boarding_id),
            place=entry.place,
            volume_l=entry.volume,
            takes=notes.fill(entry.takes, f"boarding.{boarding_id}.takes", USUAL["takes"], _groups),
            cost_per_day=notes.fill(
                entry.cost, f"boarding.{boarding_id}.cost", USUAL["cost-boarding"], _price
            ).amount,
            first=entry.from_,
            last=entry.until,
        )
        for boarding_id, entry in entries.items()
    )


def _groups(text: str) -> tuple[str, ...]:
    return tuple(text.strip("[]").split(", "))
