"""Look and ask: what has to be known weeks before anything moves."""

from __future__ import annotations

from moveplan.network.link import Relation
from moveplan.network.task import Kind, Repeat, Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, WEEK, fixed, hands, usual
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.freight.floors import floor_needs_engineer
from moveplan.quantities.trade_groups import CORALS

LATE = Timing.LATE


def add_decision(move: Draft) -> None:
    """Add the talk with which it all begins."""
    move.phase("survey")
    move.add(
        "agree-plan",
        usual(45, 60, 120, "a talk with everybody who helps"),
        crew=move.keeper(),
        words=_agreement(move),
    )


def _agreement(move: Draft) -> dict[str, object]:
    legs = move.legs[:1] if move.final.leg.empty else move.legs
    days = [words for one in legs if (words := move.day_words(one))]
    return move.people_words() | {"move_days": list(dict.fromkeys(days))}


def add_survey(move: Draft) -> None:
    """Add permission, floor, power and water at the new place."""
    move.phase("survey")
    _add_permission(move)
    _add_visit(move)
    _add_engineer(move)


def _add_permission(move: Draft) -> None:
    words = _weights(move)
    move.add("ask-permission", usual(30, 45, 90, "two letters"), crew=move.keeper(), words=words)
    waiting = usual(3 * DAY, 7 * DAY, 21 * DAY, "answers to letters")
    move.add("wait-permission", waiting, kind=Kind.WAIT)
    move.chain("agree-plan", "ask-permission", "wait-permission")


def _add_visit(move: Draft) -> None:
    new, dates = move.facts.new.id, move.plan.dates
    keys_later = dates is not None and (dates.access_from or 0) > move.plan.now
    words = _weights(move) | {"keys_later": keys_later}
    visit = usual(45, 75, 120, "measuring doors, turns, spot and floor")
    move.add(
        "check-new-floor", visit, place=new, crew=hands(1), timing=LATE, margin_min=3 * WEEK, words=words
    )
    power = usual(15, 30, 60, "finding the circuit and pressing the test button")
    move.add("check-new-power", power, place=new, crew=hands(1), words=words)
    move.link("agree-plan", "check-new-floor")
    move.link("check-new-floor", "check-new-power", at_most=DAY)


def _add_engineer(move: Draft) -> None:
    if not any(
        floor_needs_engineer(move.facts.new, facts.masses.full, move.plan.policy)
        for facts in move.facts.systems
    ):
        return
    words = _weights(move)
    move.add("ask-engineer", usual(20, 30, 60, "a call and a letter"), crew=move.keeper(), words=words)
    answer = usual(5 * DAY, 10 * DAY, 28 * DAY, "an engineer's visit and answer")
    move.add("wait-engineer", answer, kind=Kind.WAIT)
    move.add("floor-approved", fixed(0, "a signature"), kind=Kind.HOLD_POINT, words=words)
    move.chain("check-new-floor", "ask-engineer", "wait-engineer", "floor-approved")


def add_inventory(move: Draft, facts: SystemFacts) -> None:
    """Add photographs, list, baseline and health check of one system."""
    move.phase("survey")
    old, words = move.facts.old.id, _animals(move, facts)
    for key, estimate, skills in (
        ("list-livestock", usual(30, 45, 90, "counting at feeding and after lights-off"), ("cares",)),
        ("photograph-display", usual(20, 40, 60, "photographs of tank, colonies and pipes"), ()),
        ("health-check", usual(20, 40, 60, "looking at every animal"), ("cares",)),
    ):
        move.add(
            key,
            estimate,
            system=facts,
            place=old,
            crew=hands(1, *skills),
            words=words,
            timing=LATE,
            margin_min=2 * WEEK,
        )
    move.link("agree-plan", facts.task("list-livestock"))
    move.link("agree-plan", facts.task("photograph-display"))
    move.link(facts.task("list-livestock"), facts.task("health-check"))
    if facts.shift.carries:
        _add_seams(move, facts)
    _add_baseline(move, facts)
    if any(group.sick for group in move.plan.livestock if group.system == facts.system.id):
        _add_sick(move, facts)


def _add_seams(move: Draft, facts: SystemFacts) -> None:
    """Look a tank over that is carried and filled again, while there is time to mend it or to order another."""
    move.add(
        "check-seams",
        usual(10, 20, 40, "a torch along every seam, inside and outside"),
        system=facts,
        place=move.facts.old.id,
        crew=hands(1),
        timing=LATE,
        margin_min=3 * WEEK,
    )
    move.link("agree-plan", facts.task("check-seams"))


def _add_baseline(move: Draft, facts: SystemFacts) -> None:
    weeks = 4 if move.weeks_ahead() >= 6 else 1
    move.add(
        "record-baseline",
        usual(15, 20, 30, "seven readings"),
        system=facts,
        place=move.facts.old.id,
        crew=hands(1, "cares"),
        repeats=Repeat(WEEK, weeks, 2 * DAY) if weeks > 1 else None,
        timing=LATE,
        margin_min=3 * DAY,
    )
    move.link(facts.task("list-livestock"), facts.task("record-baseline"))


def _add_sick(move: Draft, facts: SystemFacts) -> None:
    sick = [
        f"{group.sick} of {group.name}"
        for group in move.plan.livestock
        if group.system == facts.system.id and group.sick
    ]
    move.add(
        "treat-sick",
        usual(60, 120, 240, "calls, treatment, a place to stay"),
        system=facts,
        place=move.facts.old.id,
        crew=hands(1, "cares"),
        words={"sick": sick, "vet": move.vet()},
    )
    move.link(facts.task("health-check"), facts.task("treat-sick"))


def _animals(move: Draft, facts: SystemFacts) -> dict[str, object]:
    return {
        "animals": [
            f"{group.count} × {group.name}"
            for group in move.plan.livestock
            if group.system == facts.system.id and not group.wished
        ],
        "coral_count": sum(group.count for group in facts.of_group(*CORALS)),
    }


def _weights(move: Draft) -> dict[str, object]:
    facts = move.facts
    heaviest = max(facts.systems, key=lambda item: item.masses.full.likely)
    power = sum(item.count * item.power_w for one in facts.systems for item in one.rebuilt.equipment)
    return {
        "tank_list": [one.rebuilt.name for one in facts.systems],
        "heaviest": heaviest.masses.full,
        "pressure": round(heaviest.masses.floor.likely, 1),
        "total_water": sum(one.volumes.total.likely for one in facts.systems),
        "longest": max(one.rebuilt.tank.length_m for one in facts.systems),
        "floor_words": move.floor_words(),
        "power": power,
        "spare_w": sum(one.handled.spare_w for one in facts.systems if one.times["warm"].likely > 0),
    }


def link_survey(move: Draft) -> None:
    """Tie the survey to what waits for it."""
    for before in ("wait-permission", "check-new-floor", "check-new-power"):
        move.link(before, "order-missing")
    if move.has("floor-approved"):
        move.link("floor-approved", "order-missing")
    link_inventory(move)


def link_inventory(move: Draft) -> None:
    """Tie the inventory to what waits for it."""
    for facts in move.facts.systems:
        move.link(facts.task("list-livestock"), "order-missing")
        if move.has(facts.task("check-seams")):
            move.link(facts.task("check-seams"), "order-missing")
        marks = facts.task("mark-positions")
        move.link(facts.task("photograph-display"), marks if move.has(marks) else "brief-crew")
        last = facts.task("final-health-check")
        move.link(facts.task("health-check"), last if move.has(last) else "go-or-no-go", gap=DAY)
        move.link(facts.task("record-baseline"), "go-or-no-go", relation=Relation.FINISHTOSTART)
        if move.has(facts.task("treat-sick")):
            move.link(facts.task("treat-sick"), "go-or-no-go")
