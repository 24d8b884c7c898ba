"""Salt water that is mixed afresh for a later time, when what was mixed for the day would be too old."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

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


@dataclass(frozen=True, slots=True)
class Fresh:
    """Salt water that is mixed for one later use.

    Parameters
    ----------
    first, ready : str
        Ids of the first of its tasks, and of that from which on it stands mixed.
    stands_min : int
        Least from then to its use, while it gets warm and clear. [min]
    mixing : Mixing
        Its heaters, which hang in it until then.
    """

    first: str
    ready: str
    stands_min: int
    mixing: Mixing


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
    made = add_making(move, "make-spare", rows, topping_l, **late)
    mix = move.add(
        "mix-spare",
        move.handling.work("unit-mix", mixing.batches),
        crew=hands(1),
        margin_min=DAY,
        pours=pours,
        **late,
    )
    move.heat(mixing, water_place(move), mix, mix)
    move.link("trim-water", made, key="trim-water > make-spare")
    move.link(made, mix, at_most=DAY, key="make-afresh > mix-afresh")
    move.link(mix, "go-or-no-go", gap=overnight_min(mixing), at_most=eve_keeping_min(move))


def mix_afresh(
    move: Draft, facts: SystemFacts, litres: float, account: str, subject: str, place: str = ""
) -> Fresh:
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
    place : str
        Id of the place where it is mixed; where the animals go, without.
    """
    here: dict[str, Any] = {"subject": subject, "place": place or move.facts.new.id, "timing": LATE}
    if move.ready_mixed(move.facts):
        return _fetched_ready(move, facts, litres, account, here)
    mixing = move.mixing(litres, here["place"])
    salt = mixed_of(facts.rebuilt, litres, making_of(move.plan))[1]
    move.afresh_kg += salt.likely
    away = move.leaves_home and water_place(move) != here["place"]
    later = here["place"] == move.facts.new.id  # the unit has moved by then; before that it stays where it is
    key = "make-afresh" if later or not away else "fetch-afresh"
    unit = move.plan.place(water_place(move)).name if key == "fetch-afresh" else ""
    here["words"] = {
        "mixing": mixing,
        "after": facts.rebuilt,
        "salt_kg": salt.likely,
        "older": later,
        "unit": unit,
    }
    first = made = add_making(move, key, ((facts.rebuilt, litres),), **here)
    if away and later and making_of(move.plan).rate_l_day > 0 and not move.has("connect-unit"):
        joining = usual(15, 30, 60, "tap, drain and float switch, and the first water thrown away")
        place = move.facts.new.id
        first = move.add("connect-unit", joining, place=place, crew=hands(1), timing=LATE)
        move.link(first, made)
    work, pours = move.handling.work("unit-mix", mixing.batches), ((PURIFIED, account, litres),)
    mix = move.add("mix-afresh", work, crew=hands(1), pours=pours, **here)
    move.link(made, mix, at_most=DAY, key="make-afresh > mix-afresh")
    return Fresh(first, mix, overnight_min(mixing), mixing)


def add_making(
    move: Draft, key: str, mixed: Iterable[tuple[System, float]], topping_l: float = 0.0, **here: Any
) -> str:
    """Add making or fetching purified water, since what was made at first would not keep; no heater hangs in it yet.

    Parameters
    ----------
    key : str
        Key of its words; that of fetching where no unit stands.
    mixed : iterable of (System, float)
        Salt water that is mixed of it, for which tank. [l]
    topping_l : float
        Purified water that is stored beside it, to top up with. [l]
    **here : object
        Subject or system, place, timing and words of its task.
    """
    making, margin = making_of(move.plan), move.policy["production_margin"]
    products = [(mixed_of(system, litres, making)[0], litres) for system, litres in mixed if litres > LEAST_L]
    whole_l = topping_l + sum(product.likely for product, _ in products)
    lost_l = sum(max(product.likely - litres, 0.0) for product, litres in products)
    made, makes = (
        ((TAP, PURIFIED, whole_l), (PURIFIED, DRAIN, lost_l)),
        making.rate_l_day > 0 and key != "fetch-afresh",
    )
    here["words"] = (
        {"after": None, "unit": ""} | here["words"] | {"purified_l": whole_l, "topping_l": topping_l}
    )
    if makes:
        time = together(*(production_time(product, making, margin) for product, _ in products))
        return move.add(key, time, kind=Kind.WAIT, pours=made, **here)
    lugging = fetching(math.ceil(whole_l / CAN_L))
    return move.add("fetch-afresh", lugging, crew=hands(1, "lifts"), pours=made, **here)


def _fetched_ready(
    move: Draft, facts: SystemFacts, litres: float, account: str, here: dict[str, Any]
) -> Fresh:
    """Fetch salt water from a shop, and warm it."""
    words: dict[str, object] = {"after": facts.rebuilt, "cans": math.ceil(litres / CAN_L)}
    time, pours = fetching(math.ceil(litres / CAN_L)), ((TAP, account, litres),)
    fetched = move.add("fetch-salt-afresh", time, crew=hands(1, "lifts"), pours=pours, words=words, **here)
    place, bins = move.plan.place(here["place"]), move.bins.stood(fetched)
    mixing = rewarming_of(move.plan, place, bins, facts.rebuilt.temperature_c)
    move.mixings.append(mixing)
    words |= {"mixing": mixing} | turns_told(move, mixing)
    warm = move.add("warm-salt-afresh", mixing.time, kind=Kind.WAIT, words=words, **here)
    move.link(fetched, warm)
    return Fresh(fetched, warm, 12 * HOUR, mixing)


def overnight_min(mixing: Mixing) -> int:
    """Give the least from mixing to use: a night, or as long as all of it takes to get warm. [min]."""
    return max(12 * HOUR, mixing.batches * round(mixing.time.high))
