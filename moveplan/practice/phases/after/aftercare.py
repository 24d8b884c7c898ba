"""The four weeks after: tests, light, food, dosing, disease, and the hold point that says settled."""

from __future__ import annotations

import math
from typing import Any

from moveplan.network.link import Relation
from moveplan.network.task import Kind, Repeat
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, HOUR, WEEK, hands, usual
from moveplan.practice.ledger.pouring import changed, left_over
from moveplan.practice.phases.after.close import last_watch
from moveplan.practice.phases.after.recovery import add_recovery, crest_words, dip_of
from moveplan.practice.phases.before.fasting import note_first_feed
from moveplan.practice.phases.before.mixed_afresh import Fresh, mix_afresh
from moveplan.practice.phases.before.water import keeping_min
from moveplan.quantities.containers.vessels import Use
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.keeping.cycle import Dip
from moveplan.quantities.leg.refill import first_change_l

LIGHT_STEPS = 7
"""From half of the light to all of it, every second day: two weeks; common practice, no source. [-]"""


def add_aftercare(move: Draft, facts: SystemFacts) -> None:
    """Add the care of one system after the move."""
    move.phase("aftercare")
    dip = dip_of(move, facts)
    _add_recurring(move, facts, dip)
    _link(move, facts, _add_single(move, facts))
    add_recovery(move, facts, dip)


def _times(usually: int, most: int, dip: Dip | None) -> int:
    """How often a daily task is done: as usual, and until the filter has surely come back."""
    return min(max(usually, math.ceil(dip.days.high) if dip else 0), most)


def _add_recurring(move: Draft, facts: SystemFacts, dip: Dip | None) -> None:
    looks, feeds = _times(14, 28, dip), _times(7, 21, dip)
    words: dict[str, object] = crest_words(dip) | {
        "until_fed": feeds * DAY,
        "half_feed": round(facts.system.feed_g_per_day / 2, 1),
        "light_steps": [f"{50 + 50 * step / (LIGHT_STEPS - 1):.0f} %" for step in range(LIGHT_STEPS)],
        "vet": move.vet(),
    }
    for key, estimate, repeat in (
        ("daily-look", usual(10, 15, 25, "a count and four readings"), Repeat(DAY, looks, 8 * HOUR)),
        ("feed-little", usual(5, 5, 10, "a small meal"), Repeat(DAY, feeds, 8 * HOUR)),
        ("raise-light", usual(5, 5, 10, "one setting"), Repeat(2 * DAY, LIGHT_STEPS, 12 * HOUR)),
        ("disease-watch", usual(5, 10, 20, "a torch after lights-on"), Repeat(3 * DAY, 9, DAY)),
        ("weekly-tests", usual(20, 30, 45, "nine readings"), Repeat(WEEK, 3, 2 * DAY)),
    ):
        move.add(
            key,
            estimate,
            system=facts,
            place=move.facts.new.id,
            crew=hands(1, "cares"),
            repeats=repeat,
            words=words,
        )


def _add_single(move: Draft, facts: SystemFacts) -> Fresh:
    """Add what is done once, and the water of the first change."""
    here: dict[str, Any] = {"system": facts, "place": move.facts.new.id, "crew": hands(1, "cares")}
    litres, account = first_change_l(facts), f"{facts.shift.mixed}:change"
    tenth: dict[str, object] = {"tenth": litres}
    if move.has_own(facts.task("place-corals")):
        move.add("fix-corals", facts.times["corals-fixed"], **here)
    move.add("first-look", usual(5, 10, 15, "a torch and two readings"), **here)
    move.add("restart-dosing", usual(15, 20, 40, "two readings and a setting"), **here)
    fresh = mix_afresh(move, facts, litres, account, f"change-{facts.system.id}")
    swap = changed(move, facts, litres, account)
    swap = (*swap, *left_over(move, facts, swap))
    move.add("first-change", usual(30, 45, 75, "a tenth of the water"), words=tenth, pours=swap, **here)
    if facts.of_use(Use.SPARE_WATER):
        move.use(facts.of_use(Use.SPARE_WATER), "fill-cans-" + facts.system.id, facts.task("first-change"))
    move.add(
        "count-all",
        usual(20, 30, 45, "a count by day and by night"),
        **here,
    )
    move.add("settled", usual(10, 15, 20, "a last row of readings"), kind=Kind.HOLD_POINT, **here)
    return fresh


def _link(move: Draft, facts: SystemFacts, fresh: Fresh) -> None:
    task = facts.task
    watch, daily, week = last_watch(move, facts), task("daily-look"), 7 * DAY
    start = Relation.STARTTOSTART
    move.link(watch, task("first-look"), gap=9 * HOUR, at_most=30 * HOUR)
    move.link(watch, daily, gap=9 * HOUR, at_most=30 * HOUR)
    move.link(watch, task("feed-little"), gap=10 * HOUR, at_most=36 * HOUR)
    note_first_feed(move, facts, task("feed-little"))
    move.link(watch, task("raise-light"), gap=8 * HOUR, at_most=36 * HOUR)
    for later in ("daily-look", "feed-little", "raise-light", "fix-corals", "clear-holding"):
        if move.has_own(task(later)):
            move.link(task("first-look"), task(later), key="first-look > any")
    if move.has_own(task("fix-corals")):
        move.link(watch, task("fix-corals"), gap=12 * HOUR)
        move.link(task("fix-corals"), task("first-change"))
    move.link(watch, task("disease-watch"), gap=2 * DAY, at_most=5 * DAY)
    move.link(daily, task("restart-dosing"), relation=start, gap=2 * DAY, at_most=6 * DAY)
    move.link(daily, task("first-change"), relation=start, gap=6 * DAY, at_most=10 * DAY)
    move.link(daily, fresh.first, relation=start, gap=DAY, key="daily-look > afresh")
    move.link(fresh.ready, task("first-change"), gap=fresh.stands_min, at_most=keeping_min(move))
    move.heat(fresh.mixing, move.facts.new.id, fresh.ready, move.id(task("first-change")))
    move.link(daily, task("count-all"), relation=start, gap=6 * DAY, at_most=10 * DAY)
    move.link(daily, task("weekly-tests"), relation=start, gap=week, at_most=week + 4 * DAY)
    move.link(task("restart-dosing"), task("weekly-tests"))
    for before in (
        "daily-look",
        "weekly-tests",
        "disease-watch",
        "raise-light",
        "feed-little",
        "first-change",
        "count-all",
    ):
        move.link(task(before), task("settled"))
