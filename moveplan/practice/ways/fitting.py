"""Which ways of moving the facts of a plan allow, which of them comes first, and why the others are out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date

from moveplan.errors import CannotBeDoneError, Problem
from moveplan.plan.move import Plan
from moveplan.practice.ways.situation import Situation, situation_of
from moveplan.quantities.keeping.cycle import cycle_of
from moveplan.quantities.keeping.gates import nitrogen_gates
from moveplan.times import MINUTES_A_DAY, to_local

SAME_DAY, HOLD_OVER, NEW_TANK_AHEAD = "same-day", "hold-over", "new-tank-ahead"
SAME_SPOT, SHUT_DOWN = "same-spot", "shut-down"
SETTING_UP_DAYS = 7
"""From a delivered tank to a filled one that holds: stand, pipes, leak test, sand, rock; common practice. [day]"""
EARLIEST_DELIVERY = 0.75
"""Earliest over likely delivery; assumed. [-]"""


@dataclass(frozen=True, slots=True)
class WayFit:
    """One way of moving against the facts of a plan.

    Parameters
    ----------
    way : str
        Its name.
    fits : bool
        Whether the facts allow it.
    why : str
        What speaks for it, or what rules it out.
    rank : int
        1 is tried first; those that do not fit come last.
    where, remedy : str
        Line of the plan file and the way out, where it does not fit.
    """

    way: str
    fits: bool
    why: str
    rank: int
    where: str = ""
    remedy: str = ""


_Verdict = tuple[str, str, str]
"""Why it is out, line, and way out; all empty where it fits."""
_FITS: _Verdict = ("", "", "")


def _same_day(facts: Situation) -> _Verdict:
    plan = facts.plan
    if not facts.drives:
        return (
            "the tank stays in its home, so there is nothing to drive",
            plan.where("places"),
            "take new-tank-ahead or same-spot, or name a second place and where the system moves to",
        )
    if facts.gap:
        return (
            f"the new home opens on {facts.access_day}, after the move day {facts.last_day}",
            plan.where("dates.access-from"),
            "get the keys earlier, move later, or take hold-over with a third place or a holding system",
        )
    return _FITS


def _no_new_tank(facts: Situation) -> _Verdict:
    key = f"systems.{facts.moving[0].id}"
    return "no system of the plan gets a new tank", facts.plan.where(key), f"describe it under {key}.new-tank"


def _new_tank_ahead(facts: Situation) -> _Verdict:
    plan = facts.plan
    if not facts.renewed:
        return _no_new_tank(facts)
    if facts.same_spot and not facts.drives:
        one = facts.same_spot[0]
        return (
            f"the new tank of {one.name} takes the spot of the old one, so both cannot run side by side",
            plan.where(f"systems.{one.id}.new-tank.spot"),
            "give it another spot, or take same-spot or hold-over",
        )
    return _ripe_in_time(facts)


def _ripe_in_time(facts: Situation) -> _Verdict:
    plan = facts.plan
    now = to_local(plan.now, plan.zone).date()
    for one in facts.renewed:
        tank = one.new_tank
        if tank is None:
            continue
        delivered = (now.toordinal()) + EARLIEST_DELIVERY * tank.delivery_days
        access = facts.access_day.toordinal() if facts.drives and facts.access_day else 0
        gates = nitrogen_gates(plan, one.id)
        days = SETTING_UP_DAYS + cycle_of(tank.seeding, one.temperature_c, gates).time.low / MINUTES_A_DAY
        ripe = date.fromordinal(round(max(delivered, access) + days))
        if ripe > facts.last_day:
            late = access > delivered
            return (
                f"the new tank of {one.name} could be ripe on {ripe} at the earliest ({days:.0f} days of setting "
                f"up and cycle after {'access' if late else 'delivery'}), after the move day {facts.last_day}",
                plan.where("dates.access-from" if late else f"systems.{one.id}.new-tank.delivery"),
                "move later, get access earlier, order sooner, or seed it with rock and media",
            )
    return _FITS


def _same_spot(facts: Situation) -> _Verdict:
    plan = facts.plan
    if facts.drives:
        return ("the tank goes to another home", plan.where("places"), "take same-day or new-tank-ahead")
    if not facts.renewed:
        return _no_new_tank(facts)
    if not facts.same_spot:
        one = facts.renewed[0]
        return (
            f"the new tank of {one.name} gets a spot of its own, so the old one need not give way in a day",
            plan.where(f"systems.{one.id}.new-tank.spot"),
            'write "spot: same" if it takes the place of the old one',
        )
    return _FITS


def _hold_over(facts: Situation) -> _Verdict:
    plan = facts.plan
    if not facts.drives and not facts.renewed:
        return (
            "neither the home nor the tank changes",
            plan.where("purpose"),
            "name a second place or a new tank",
        )
    if not facts.interim:
        return (
            "the plan names no place where animals could wait between the homes"
            + (", and boarding takes only the groups that name it" if plan.boarding else ""),
            plan.where("places"),
            'add a third place where tank and tubs can stand, or a system with "role: holding" that is open then',
        )
    return _FITS


def _shut_down(_: Situation) -> _Verdict:
    return _FITS


_RULES: tuple[tuple[str, Callable[[Situation], _Verdict], str], ...] = (
    (NEW_TANK_AHEAD, _new_tank_ahead, "the new tank is ripe before the first animal goes over"),
    (SAME_DAY, _same_day, "both homes can be entered on the day, and rock and media carry the filter along"),
    (SAME_SPOT, _same_spot, "the new tank stands where the old one stood, so all wait in tubs for hours"),
    (HOLD_OVER, _hold_over, "animals wait in a filtered holding system until the tank is ready for them"),
    (SHUT_DOWN, _shut_down, "always possible, but every animal has to find a new home"),
)


def ways_of(plan: Plan) -> tuple[WayFit, ...]:
    """Hold every way against the facts of a plan.

    Returns
    -------
    tuple of WayFit
        By rank; those that do not fit come last.
    """
    facts = situation_of(plan)
    verdicts = [(way, rule(facts), why) for way, rule, why in _RULES]
    if plan.purpose == SHUT_DOWN:
        verdicts.sort(key=lambda row: row[0] != SHUT_DOWN)
    verdicts.sort(key=lambda row: bool(row[1][0]))
    return tuple(
        WayFit(way, not reason, reason or why, rank, where, remedy)
        for rank, (way, (reason, where, remedy), why) in enumerate(verdicts, 1)
    )


def chosen(plan: Plan) -> tuple[WayFit, tuple[WayFit, ...]]:
    """Choose the plan's way, or the first that fits, and give the others that fit.

    Raises
    ------
    CannotBeDoneError
        Where the plan's way does not fit its facts, its systems go different ways, or all that is left without being
        asked for is to give every animal away.
    """
    scattered = tuple(_scattered(plan))
    if scattered:
        raise CannotBeDoneError(scattered)
    fits = ways_of(plan)
    if plan.way:
        own = next(one for one in fits if one.way == plan.way)
        if not own.fits:
            raise CannotBeDoneError((_refusal(own, fits),))
        return own, ()
    if fits[0].way == SHUT_DOWN != plan.purpose:
        raise CannotBeDoneError(tuple(_with_animals(plan, fits)))
    return fits[0], tuple(one for one in fits[1:] if one.fits)


def _scattered(plan: Plan) -> Iterator[Problem]:
    """Say which systems do not go the same way as the first."""
    first, *others = situation_of(plan).moving
    for one in others:
        if (one.place, one.moves_to) == (first.place, first.moves_to):
            continue
        goes, other = (
            f"from {plan.place(system.place).name} to {plan.place(system.moves_to).name}"
            for system in (first, one)
        )
        yield Problem(
            f"{one.name} moves {other}, {first.name} {goes}: a plan follows one way",
            plan.where(f"systems.{one.id}"),
            f"write a plan of its own for {one.name}, or correct its place and moves-to",
        )


def _refusal(own: WayFit, fits: tuple[WayFit, ...]) -> Problem:
    others = ", ".join(one.way for one in fits if one.fits)
    return Problem(
        f'the way "{own.way}" does not fit: {own.why}',
        own.where,
        f"{own.remedy}; the facts of the plan allow {others}",
    )


def _with_animals(plan: Plan, fits: tuple[WayFit, ...]) -> Iterator[Problem]:
    """Say why no way fits that keeps the animals."""
    facts = situation_of(plan)
    possible = {SAME_DAY, HOLD_OVER} if facts.drives else {HOLD_OVER}
    if facts.renewed:
        possible |= {NEW_TANK_AHEAD} if facts.drives else {NEW_TANK_AHEAD, SAME_SPOT}
    for one in fits:
        if one.way in possible:
            yield Problem(f'the way "{one.way}" does not fit: {one.why}', one.where, one.remedy)
    yield Problem(
        "the only way left is to shut down, which gives every animal away; nobody asked for that",
        plan.where("purpose"),
        'write "way: shut-down" if you want it',
    )
