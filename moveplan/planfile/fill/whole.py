"""The whole plan, complete."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import TypeVar
from zoneinfo import ZoneInfo

from moveplan.plan.move import Dates, Plan
from moveplan.planfile.draft import Draft
from moveplan.planfile.fill import usual
from moveplan.planfile.fill.air import outside
from moveplan.planfile.fill.clock import first_of_two, is_repeated, walls_of
from moveplan.planfile.fill.head import Head, head, units_of
from moveplan.planfile.fill.livestock import livestock
from moveplan.planfile.fill.notes import Notes
from moveplan.planfile.fill.people import boarding, contacts, people, vehicles
from moveplan.planfile.fill.places import drives, places
from moveplan.planfile.fill.policy import policy
from moveplan.planfile.fill.risks import risks
from moveplan.planfile.fill.supplies import gear, prices, water_making
from moveplan.planfile.fill.systems import Homes, systems
from moveplan.planfile.fill.tasks import own_tasks
from moveplan.planfile.fill.usual import USUAL
from moveplan.planfile.schema import PlanEntry
from moveplan.planfile.schema.move import DatesEntry
from moveplan.planfile.schema.people import HelperEntry, VehicleEntry
from moveplan.planfile.schema.supplies import WaterMakingEntry
from moveplan.planfile.schema.words import LIKELY
from moveplan.planfile.walk import key_lines
from moveplan.times import iso, to_local
from moveplan.units import Measure

T = TypeVar("T")


def filled(draft: Draft, file_name: str) -> Plan:
    """Complete a plan file in which nothing is wrong.

    Parameters
    ----------
    draft : Draft
        The plan file, checked.
    file_name : str
        The plan file, for messages.

    Returns
    -------
    Plan
        Everything, with the assumptions listed.
    """
    notes = Notes(units_of(draft.entry))
    top = head(draft.entry, draft.now, notes)
    _note_repeated_times(draft.entry, top.zone, notes)
    plan = _plan(draft, top, notes)
    return replace(plan, assumptions=notes.listed(), file_name=file_name, lines=key_lines(draft.root))


def _plan(draft: Draft, top: Head, notes: Notes) -> Plan:
    entry, own = draft.entry, top.purpose == "own-tasks"
    homes = _homes(entry, top.purpose)
    start = _start(entry, top, notes) if own else None
    dates = None if own or entry.dates is None else _dates(entry.dates, top.zone, notes)
    today = to_local(start or top.now, top.zone).date()
    days = [day for day in (*dates.move_days[:1], dates.move_in_day) if day] if dates else []
    around = outside(entry.outside, top.country, days or [today], Notes(top.units) if own else notes)
    return Plan(
        id=top.id,
        title=top.title,
        purpose=top.purpose,
        way=entry.way or "",
        now=top.now,
        start=start,
        zone=top.zone,
        locale=top.locale,
        units=top.units,
        country=top.country,
        currency=top.currency,
        dates=dates,
        places=places(_rows(entry.places), top.country, around, notes),
        drives=drives(_rows(entry.places), entry.drives or (), top.units, notes),
        systems=systems(_rows(entry.systems), homes, notes),
        livestock=livestock(_rows(entry.livestock), next(iter(_rows(entry.systems)), ""), notes, draft.kinds),
        people=people(_people(entry, own, notes), own, notes),
        vehicles=vehicles(_vehicles(entry, top.purpose, notes), top.zone, around, notes),
        water_making=None
        if own
        else water_making(entry.water_making or WaterMakingEntry.model_validate({}), notes),
        gear=gear(_rows(entry.gear), own, notes),
        prices=prices(_rows(entry.prices)),
        tasks=own_tasks(_rows(entry.tasks), draft.node("tasks"), top.zone),
        contacts=contacts(_rows(entry.contacts)),
        boarding=boarding(_rows(entry.boarding), notes),
        policy=policy(_rows(entry.policy)),
        low_high=entry.low_high or (0.0, 1.0),
        safe_time_risk=_share(entry.safe_time_risk, "safe-time-risk", own, notes),
        confidence=_share(entry.confidence, "confidence", own, notes),
        assumptions=(),
        file_name="",
        lines={},
        risks=risks(_rows(entry.risks)),
        outside=None if own else around,
    )


def _note_repeated_times(entry: PlanEntry, zone: ZoneInfo, notes: Notes) -> None:
    for path, wall in walls_of(entry):
        if is_repeated(wall, zone):
            notes.add(".".join(path), first_of_two(wall, zone), usual.FIRST_OF_TWO_WHY)


def _rows(section: Mapping[str, T] | None) -> Mapping[str, T]:
    return section or {}


def _homes(entry: PlanEntry, purpose: str) -> Homes:
    old, *others = [*_rows(entry.places)] or [""]
    boards = {one.place for one in _rows(entry.boarding).values()}
    free = [place for place in others if place not in boards] or others or [old]
    return Homes(old, free[0] if purpose.startswith("house-move") else old)


def _start(entry: PlanEntry, top: Head, notes: Notes) -> int:
    if entry.start is not None:
        return entry.start.at(top.zone)
    notes.add("start", iso(top.now, top.zone)[:16].replace("T", " "), "no start is given, so now")
    return top.now


def _share(given: float | None, key: str, own: bool, notes: Notes) -> float:
    read = Measure("%", 0, 100, "5 %").read
    if own:
        if key == "confidence" and given not in (None, 0.5):
            notes.add(key, LIKELY, "own tasks promise nothing: they are planned by likely durations")
        return read(USUAL[key].text)
    return notes.fill(given, key, USUAL[key], read)


def _dates(entry: DatesEntry, zone: ZoneInfo, notes: Notes) -> Dates:
    first, last = (entry.move_day, entry.move_day) if entry.move_day else entry.move_window or (None, None)
    days = _days(first, last) if first and last else ()
    keys_back = entry.keys_back.at(zone) if entry.keys_back else None
    return Dates(
        move_days=days,
        fall_back_day=entry.fall_back_day or _fall_back(entry, notes),
        access_from=entry.access_from.at(zone) if entry.access_from else None,
        keys_back=keys_back,
        earliest_start=entry.earliest_start.at(zone) if entry.earliest_start else None,
        move_in_day=entry.move_in_day,
        restart_day=entry.restart_day,
    )


def _days(first: date, last: date) -> tuple[date, ...]:
    return tuple(first + timedelta(days=step) for step in range((last - first).days + 1))


def _fall_back(entry: DatesEntry, notes: Notes) -> date | None:
    if entry.move_day is None:
        return None
    day = entry.move_day + timedelta(days=7)
    if entry.keys_back is not None and day >= entry.keys_back.day:
        return None
    notes.add("dates.fall-back-day", day.isoformat(), usual.FALL_BACK_WHY)
    return day


def _people(entry: PlanEntry, own: bool, notes: Notes) -> Mapping[str, HelperEntry]:
    if own or entry.people:
        return _rows(entry.people)
    notes.add("people", USUAL["people"].text, USUAL["people"].why)
    return {name: HelperEntry.model_validate({}) for name in ("keeper", "helper")}


def _vehicles(entry: PlanEntry, purpose: str, notes: Notes) -> Mapping[str, VehicleEntry]:
    if entry.vehicles or not purpose.startswith("house-move"):
        return _rows(entry.vehicles)
    notes.add("vehicles", USUAL["vehicles"].text, USUAL["vehicles"].why)
    return {"van": VehicleEntry.model_validate({"hired": "yes"})}
