"""What can be had only on the moving day: a vehicle hired for the day, keys handed over that morning."""

from __future__ import annotations

from datetime import date

from moveplan.network.task import Timing
from moveplan.plan.people import Vehicle
from moveplan.practice.drafting.draft import Draft
from moveplan.times import to_local


def keys_on_day(move: Draft) -> bool:
    """Whether the keys of the leg are handed over on its last possible day, so that no eve can wait for them."""
    dates, ends_here = move.plan.dates, move.facts.new.id == move.final.new.id
    return ends_here and dates is not None and _only_then(move, dates.access_from, None)


def vehicle_on_day(move: Draft, vehicle: Vehicle) -> bool:
    """Whether the hire of a vehicle begins on the last possible day of the leg."""
    return vehicle.hired and _only_then(move, vehicle.hire_from, vehicle.hire_until)


def goes_back_on_day(move: Draft, vehicle: Vehicle) -> bool:
    """Whether the hire of a vehicle ends on the last possible day of the leg: it cannot wait for the evening."""
    days = move.facts.leg.days
    return bool(days) and vehicle.hire_until is not None and _day(move, vehicle.hire_until) <= days[-1]


def _only_then(move: Draft, begin: int | None, end: int | None) -> bool:
    days = move.facts.leg.days
    if begin is None or not days or move.facts.leg.in_waves:
        return False
    last = days[-1] if end is None else min(days[-1], _day(move, end))
    return _day(move, begin) >= last


def _day(move: Draft, minute: int) -> date:
    return to_local(minute, move.plan.zone).date()


def when(move: Draft, *, on_day: bool) -> dict[str, object]:
    """Give the fields of a task that belongs to the moving day, or to the days before.

    Parameters
    ----------
    on_day : bool
        Whether it can only be on the day.
    """
    return {"day": move.day} if on_day else {"timing": Timing.LATE}


def link_arrival(move: Draft, first: str, here: str, *, on_day: bool, at_most: int | None = None) -> None:
    """Let the eve wait for what is there by then, and the point of no return for what comes on the day.

    Parameters
    ----------
    first, here : str
        The tasks that begin and end its coming; they may be one.
    on_day : bool
        Whether it comes on the day.
    at_most : int or None
        How long before the eve it may be looked at. [min]
    """
    if not on_day:
        move.link(here, "go-or-no-go", at_most=at_most, any_length=True)
        return
    move.link("go-or-no-go", first)
    for facts in move.facts.systems:
        if move.has_own(facts.task("no-way-back")):
            move.link(here, facts.task("no-way-back"))
