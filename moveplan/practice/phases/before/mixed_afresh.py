"""Salt water that is mixed afresh for a later time, when what was mixed for the day would be too old."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from moveplan.estimate import Estimate
from moveplan.network.task import Kind, Timing
from moveplan.plan.systems import System
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, HOUR, hands, usual
from moveplan.practice.ledger.bins import NEW
from moveplan.practice.ledger.entries import DRAIN, LEAST_L, PURIFIED, TAP
from moveplan.practice.ledger.pouring import mixed_spare, some_standing
from moveplan.practice.phases.before.water import eve_keeping_min, fetching, salt_kg, turns_told, water_place
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.handling import together
from moveplan.quantities.leg.mixing import Mixing, rewarming_of
from moveplan.quantities.leg.numbered import CAN_L
from moveplan.quantities.water.amounts import making_of, mixed_of, production_time

LATE = Timing.LATE


def add_spare(move: Draft) -> None:
    """Mix what is for the day afresh, where other water went into a tank long before."""
    if not some_standing(move):
        return
    move.phase("water")
    pours, by_id = mixed_spare(move), {one.system.id: one for one in move.facts.systems}
    salt, topping_l = salt_kg(move, pours), 0.0
    for upkeep in move.upkeep() if move.facts.leg.waits else ():
        facts = by_id[upkeep.system]
        topping_l += upkeep.first_topping_l
        if upkeep.daily_l:
            pours += ((PURIFIED, facts.shift.mixed, upkeep.batch_l),)
            salt += upkeep.batch_salt_kg
        move.bins.keep_room(facts.shift.mixed, 3 * upkeep.daily_l or upkeep.batch_l)
    mixed = sum(litres for _, target, litres in pours if target.startswith(NEW))
    mixing, targets = move.mixing(mixed), {one.shift.mixed: one.rebuilt for one in move.facts.systems}
    late: dict[str, Any] = {
        "place": water_place(move),
        "timing": LATE,
        "words": {
            "mixing": mixing,
            "salt_kg": salt,
            "new": any(not facts.standing for facts in move.facts.systems),
        },
    }
    rows = ((targets[target], litres) for _, target, litres in pours)
    first, warm = add_warming(move, "warm-spare", mixing, rows, topping_l, **late)
    mix = move.add(
        "mix-spare",
        move.handling.work("unit-mix", mixing.batches),
        crew=hands(1),
        margin_min=DAY,
        pours=pours,
        **late,
    )
    move.heat(mixing, water_place(move), warm, mix)
    move.link("trim-water", first, key="trim-water > warm-spare")
    move.link("warm-spare", "mix-spare", at_most=DAY)
    move.link("mix-spare", "go-or-no-go", gap=12 * HOUR, at_most=eve_keeping_min(move))


def mix_afresh(move: Draft, facts: SystemFacts, litres: float, account: str, subject: str) -> tuple[str, str]:
    """Mix salt water by itself for a later time, when what was mixed for the day would be too old.

    Parameters
    ----------
    facts : SystemFacts
        The system that it is for.
    litres : float
        How much. [l]
    account : str
        Where it goes.
    subject : str
        Ending of the ids of its tasks.

    Returns
    -------
    tuple of (str, str)
        Ids of the first of its tasks and of that which mixes it.
    """
    if move.ready_mixed(move.facts):
        return _fetched_ready(move, facts, litres, account, subject)
    mixing = move.mixing(litres, move.facts.new.id)
    salt = mixed_of(facts.rebuilt, litres, making_of(move.plan))[1]
    move.afresh_kg += salt.likely
    words = {"mixing": mixing, "after": facts.rebuilt, "salt_kg": salt.likely}
    here: dict[str, Any] = {"subject": subject, "place": move.facts.new.id, "timing": LATE, "words": words}
    first, warm = add_warming(move, "warm-afresh", mixing, ((facts.rebuilt, litres),), **here)
    away = move.leaves_home and water_place(move) != move.facts.new.id
    if away and making_of(move.plan).rate_l_day > 0 and not move.has("connect-unit"):
        joining = usual(15, 30, 60, "tap, drain and float switch, and the first water thrown away")
        place = move.facts.new.id
        first = move.add("connect-unit", joining, place=place, crew=hands(1), timing=LATE)
        move.link(first, warm)
    work, pours = move.handling.work("unit-mix", mixing.batches), ((PURIFIED, account, litres),)
    mix = move.add("mix-afresh", work, crew=hands(1), pours=pours, **here)
    move.link(warm, mix, at_most=DAY)
    move.heat(mixing, move.facts.new.id, warm, mix)
    return first, mix


def add_warming(
    move: Draft,
    key: str,
    mixing: Mixing,
    mixed: Iterable[tuple[System, float]],
    topping_l: float = 0.0,
    **here: Any,
) -> tuple[str, str]:
    """Add warming purified water that is made for it then, or fetched before, since it would not keep from the first.

    Parameters
    ----------
    key : str
        Key of its words.
    mixing : Mixing
        How it is warmed.
    mixed : iterable of (System, float)
        Salt water that is mixed of it, for which tank. [l]
    topping_l : float
        Purified water that is stored beside it, to top up with. [l]
    **here : object
        Subject or system, place, timing and words of its tasks.

    Returns
    -------
    tuple of (str, str)
        Ids of the first of its tasks and of that which warms it.
    """
    making, margin = making_of(move.plan), move.policy["production_margin"]
    products = [(mixed_of(system, litres, making)[0], litres) for system, litres in mixed if litres > LEAST_L]
    whole_l = topping_l + sum(product.likely for product, _ in products)
    lost_l = sum(max(product.likely - litres, 0.0) for product, litres in products)
    made, makes = ((TAP, PURIFIED, whole_l), (PURIFIED, DRAIN, lost_l)), making.rate_l_day > 0
    here["words"] = here["words"] | {"purified_l": whole_l, "topping_l": topping_l, "makes": makes}
    if makes:
        times = (production_time(product, making, margin) for product, _ in products)
        time = together(whole_time(mixing), *times)
        warm = move.add(key, time, kind=Kind.WAIT, pours=made, **here)
        return warm, warm
    lugging = fetching(math.ceil(whole_l / CAN_L))
    after = {"after": None} | here["words"]
    first = move.add("fetch-afresh", lugging, crew=hands(1, "lifts"), pours=made, **here | {"words": after})
    warm = move.add(key, whole_time(mixing), kind=Kind.WAIT, **here)
    move.link(first, warm, key="fetch-afresh > warm-afresh")
    return first, warm


def _fetched_ready(
    move: Draft, facts: SystemFacts, litres: float, account: str, subject: str
) -> tuple[str, str]:
    """Fetch salt water from a shop, and warm it."""
    words: dict[str, object] = {"after": facts.rebuilt, "cans": math.ceil(litres / CAN_L)}
    here: dict[str, Any] = {"subject": subject, "place": move.facts.new.id, "timing": LATE}
    time, pours = fetching(math.ceil(litres / CAN_L)), ((TAP, account, litres),)
    fetched = move.add("fetch-salt-afresh", time, crew=hands(1, "lifts"), pours=pours, words=words, **here)
    place, bins = move.plan.place(move.facts.new.id), move.bins.stood(fetched)
    mixing = rewarming_of(move.plan, place, bins, facts.rebuilt.temperature_c)
    move.mixings.append(mixing)
    words |= {"mixing": mixing} | turns_told(move, mixing)
    warm = move.add("warm-salt-afresh", mixing.time, kind=Kind.WAIT, words=words, **here)
    move.link(fetched, warm)
    move.heat(mixing, place.id, fetched, warm)
    return fetched, warm


def whole_time(mixing: Mixing) -> Estimate:
    """Time to warm all batches of a small amount of water, one after the other. [min]."""
    return together(*[mixing.time] * mixing.batches)
