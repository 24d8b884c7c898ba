"""Dates are in order, and the move lies ahead."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from moveplan.planfile.checks.words import absent, at
from moveplan.planfile.draft import Draft
from moveplan.planfile.fill.clock import gap_around, walls_of
from moveplan.planfile.fill.head import now_of, shown_now, zone_of
from moveplan.planfile.problems import Fault
from moveplan.planfile.schema.move import DatesEntry
from moveplan.times import local_day


def move_day_is_named_once(draft: Draft) -> Iterator[Fault]:
    """Want a move day or a window for it."""
    entry = draft.entry.dates
    if entry is None:
        return
    if entry.move_day and entry.move_window:
        yield at(draft, ("dates", "move-window"), "there is a move-day as well", "keep one of the two")
    elif not entry.move_day and not draft.has("dates", "move-window"):
        yield from absent(draft, ("dates",), "move-day", "2027-03-13")


def _last_day(entry: DatesEntry) -> tuple[str, date] | None:
    if entry.move_day:
        return "move-day", entry.move_day
    return ("move-window", entry.move_window[1]) if entry.move_window else None


def _can_wait(draft: Draft) -> bool:
    """Whether the plan names somewhere animals could wait between the homes."""
    holding = any(system.role == "holding" for system in (draft.entry.systems or {}).values())
    return holding or bool(draft.entry.boarding) or len(draft.ids("places")) > 2


def dates_are_in_order(draft: Draft) -> Iterator[Fault]:
    """Want access before the last move day ends, keys and fall-back day after the first begins."""
    entry = draft.entry.dates
    last = _last_day(entry) if entry else None
    if entry is None or last is None:
        return
    key, day = last
    first = entry.move_day or (entry.move_window or (day, day))[0]
    if entry.fall_back_day and entry.fall_back_day <= day:
        yield at(
            draft,
            ("dates", "fall-back-day"),
            f"{entry.fall_back_day} is not after the {key} {day}",
            "write a later day",
        )
    if entry.keys_back and (entry.keys_back.day, entry.keys_back.minute) < (first, 1):
        yield at(
            draft,
            ("dates", "keys-back"),
            f"the old home is left before the {key} {first}",
            "write a later time",
        )
    if entry.access_from and entry.access_from.day > day and not _can_wait(draft):
        yield at(
            draft,
            ("dates", "access-from"),
            f"the new home opens after the {key} {day}",
            "write an earlier time, move later, or name where animals wait: boarding, or a system with role holding",
        )
    yield from _second_days(draft, entry, day)
    if entry.earliest_start and entry.earliest_start.day > day:
        yield at(
            draft,
            ("dates", "earliest-start"),
            f"nothing may start before the {key} {day} is over",
            "write an earlier time",
        )


def _second_days(draft: Draft, entry: DatesEntry, day: date) -> Iterator[Fault]:
    for key, second in (("move-in-day", entry.move_in_day), ("restart-day", entry.restart_day)):
        if second is not None and second <= day:
            yield at(draft, ("dates", key), f"{second} is not after the move day {day}", "write a later day")
    if entry.move_in_day and entry.access_from and entry.access_from.day > entry.move_in_day:
        message = f"the new home opens on {entry.access_from.day}, after it"
        yield at(draft, ("dates", "move-in-day"), message, "write a later day")


def move_is_not_over(draft: Draft) -> Iterator[Fault]:
    """Refuse a move whose last possible day is over."""
    entry = draft.entry.dates
    last = _last_day(entry) if entry else None
    if last is None or (draft.entry.timezone is None and draft.has("timezone")):
        return
    key, day = last
    zone = zone_of(draft.entry)
    today = now_of(draft.entry, draft.now)
    if local_day(day, zone).finish <= today:
        message = f"{day} is before now, {shown_now(today, zone)}"
        yield at(draft, ("dates", key), message, "write a day that lies ahead")


def hires_and_openings_end_after_they_begin(draft: Draft) -> Iterator[Fault]:
    """Refuse hire windows and boarding that are over before they begin."""
    zone = zone_of(draft.entry)
    for vehicle_id, vehicle in (draft.entry.vehicles or {}).items():
        hire = vehicle.hire
        if hire and hire.from_ and hire.until and hire.until.at(zone) <= hire.from_.at(zone):
            yield at(
                draft,
                ("vehicles", vehicle_id, "hire", "until"),
                "the hire ends before it begins",
                "write a later time",
            )
    for boarding_id, boarding in (draft.entry.boarding or {}).items():
        if boarding.from_ and boarding.until and boarding.until < boarding.from_:
            yield at(
                draft,
                ("boarding", boarding_id, "until"),
                "boarding ends before it begins",
                "write a later day",
            )


def clocks_show_the_times(draft: Draft) -> Iterator[Fault]:
    """Refuse wall-clock times that a change of the clocks skips."""
    if draft.entry.timezone is None:
        return
    for path, wall in walls_of(draft.entry):
        gap = gap_around(wall, draft.entry.timezone)
        if gap is not None:
            hour, minute = divmod(wall.minute, 60)
            message = f"{wall.day} {hour:02}:{minute:02} is skipped when the clocks of {draft.entry.timezone} change"
            yield at(draft, path, message, f'write "{gap.last}" or "{gap.first}"')
