"""People, vehicle and new keepers."""

from __future__ import annotations

from moveplan.network.task import Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import WEEK, hands, usual
from moveplan.practice.drafting.touch import hard_to_catch
from moveplan.quantities.facts import SystemFacts

TELLING = "tell-new-day"
"""Begins the ids of the tasks of telling everybody that the day has moved, one a time."""


def add_bookings(move: Draft) -> None:
    """Add the booking of vehicles and of the second date."""
    move.phase("bookings")
    if move.plan.slips and not move.suffix:
        _add_telling(move)
    for vehicle in move.vehicles():
        if not vehicle.hired:
            continue
        move.add(
            "book-vehicle",
            usual(15, 30, 60, "calls to two hirers"),
            subject=vehicle.id,
            crew=move.keeper(),
            timing=Timing.LATE,
            margin_min=4 * WEEK,
            words={
                "vehicle": vehicle,
                "freight": move.heaviest_load(vehicle.id),
                "since": move.moment_words(vehicle.hire_from),
                "until": move.moment_words(vehicle.hire_until),
            }
            | move.date_words(),
        )
        move.link("agree-plan", f"book-vehicle-{vehicle.id}")
    asked = not move.single_handed or any(vehicle.hired for vehicle in move.vehicles())
    if asked and not move.suffix and move.plan.dates and move.plan.dates.fall_back_day:
        move.add(
            "book-fall-back",
            usual(10, 20, 40, "a round of calls"),
            crew=move.keeper(),
            timing=Timing.LATE,
            margin_min=4 * WEEK,
            words=move.date_words() | move.people_words(),
        )
        move.link("agree-plan", "book-fall-back")


def _add_telling(move: Draft) -> None:
    """Add telling everybody that the day has moved: what was promised for the old one is asked for again."""
    plan = move.plan
    move.add(
        TELLING,
        usual(20, 45, 90, "a round of calls"),
        subject=str(plan.slips),
        crew=move.keeper(),
        words={
            "hires": [(one.name, one.cost_per_day) for one in move.vehicles() if one.hired],
            "paid": [(one.name, one.cost_per_hour) for one in plan.people if one.cost_per_hour],
            "others": [one.name for one in plan.people if one.id not in move.keeper().named],
            "boards": [one.name for one in plan.boarding],
            "late": plan.late_changes,
            "notice": plan.notice_days,
        }
        | move.date_words(),
    )
    move.link("agree-plan", f"{TELLING}-{plan.slips}")


def add_new_keepers(move: Draft, facts: SystemFacts) -> None:
    """Add finding new keepers, and a trap for the animals that are hard to catch."""
    move.phase("bookings")
    leaving = [
        f"{group.leaves} of {group.name}"
        for group in move.plan.livestock
        if group.system == facts.system.id and group.leaves
    ]
    if leaving:
        _add_hand_over(move, facts, leaving)
    waiting = [
        one for _, groups in move.boarders for one in groups if one.livestock.system == facts.system.id
    ]
    hard = hard_to_catch((*waiting, *facts.groups))
    if hard:
        move.add(
            "set-trap",
            usual(20, 30, 60, "hanging a trap and feeding in it"),
            system=facts,
            place=move.facts.old.id,
            crew=hands(1, "cares"),
            timing=Timing.LATE,
            margin_min=2 * WEEK,
            words={"hard_to_catch": hard, "boarded": bool(hard_to_catch(waiting))},
        )
        move.link(facts.task("list-livestock"), facts.task("set-trap"))


def _add_hand_over(move: Draft, facts: SystemFacts, leaving: list[str]) -> None:
    words: dict[str, object] = {"leaving": leaving}
    move.add(
        "find-new-keepers",
        usual(60, 120, 240, "offers, calls, a visit"),
        system=facts,
        crew=move.keeper(),
        timing=Timing.LATE,
        margin_min=3 * WEEK,
        words=words,
    )
    move.add(
        "hand-over-animals",
        usual(45, 90, 180, "catching, bagging, handing over"),
        system=facts,
        place=move.facts.old.id,
        crew=hands(1, "cares"),
        timing=Timing.LATE,
        margin_min=WEEK,
        words=words,
    )
    move.chain(facts.task("list-livestock"), facts.task("find-new-keepers"), facts.task("hand-over-animals"))


def link_bookings(move: Draft) -> None:
    """Tie the bookings of a leg to what waits for them."""
    if move.has_own(f"{TELLING}-{move.plan.slips}"):
        move.link(f"{TELLING}-{move.plan.slips}", "go-or-no-go")
    if move.has_own("book-fall-back"):
        move.link("book-fall-back", "go-or-no-go")
    for vehicle in move.vehicles():
        booking, fetching = f"book-vehicle-{vehicle.id}", f"fetch-vehicle-{vehicle.id}"
        if move.has_own(booking) and move.has_own(fetching):
            move.link(booking, fetching)
    for facts in move.facts.systems:
        for key in ("hand-over-animals", "set-trap"):
            if move.has_own(facts.task(key)):
                last = facts.task("final-health-check")
                move.link(facts.task(key), last if move.has_own(last) else "go-or-no-go")
