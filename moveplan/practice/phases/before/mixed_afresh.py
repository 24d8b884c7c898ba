"""Salt water that is mixed afresh for a later time, when what was mixed for the day would be too old."""

from __future__ import annotations

import math
from typing import Any

from moveplan.estimate import Estimate
from moveplan.network.task import Kind, Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, HOUR, hands, usual
from moveplan.practice.ledger.bins import NEW
from moveplan.practice.ledger.entries import DRAIN, PURIFIED, TAP
from moveplan.practice.ledger.pouring import mixed_batch, mixed_spare, some_standing
from moveplan.practice.phases.before.water import eve_keeping_min, fetching, salt_kg, water_place
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
    salt = salt_kg(move, pours)
    for upkeep in move.upkeep() if move.facts.leg.waits else ():
        facts = by_id[upkeep.system]
        if upkeep.daily_l:
            pours += mixed_batch(facts, upkeep)
            salt += upkeep.batch_salt_kg
        move.bins.keep_room(facts.shift.mixed, 3 * upkeep.daily_l or upkeep.batch_l)
    mixed = sum(litres for _, target, litres in pours if target.startswith(NEW))
    mixing = move.mixing(mixed)
    late: dict[str, Any] = {
        "place": water_place(move),
        "timing": LATE,
        "words": {
            "mixing": mixing,
            "salt_kg": salt,
            "new": any(not facts.standing for facts in move.facts.systems),
        },
    }
    warm = move.add("warm-spare", whole_time(mixing), kind=Kind.WAIT, **late)
    mix = move.add(
        "mix-spare",
        move.handling.work("unit-mix", mixing.batches),
        crew=hands(1),
        margin_min=DAY,
        pours=pours,
        **late,
    )
    move.heat(mixing, water_place(move), warm, mix)
    move.link("trim-water", "warm-spare")
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
    mixing, making = move.mixing(litres, move.facts.new.id), making_of(move.plan)
    here: dict[str, Any] = {"subject": subject, "place": move.facts.new.id, "timing": LATE}
    product, salt = mixed_of(facts.rebuilt, litres, making)
    move.afresh_kg += salt.likely
    purified_l, makes = product.likely, making.rate_l_day > 0
    made = ((TAP, PURIFIED, purified_l), (PURIFIED, DRAIN, max(purified_l - litres, 0.0)))
    here["words"] = {"mixing": mixing, "after": facts.rebuilt, "purified_l": purified_l, "makes": makes}
    here["words"] |= {"salt_kg": salt.likely}
    time, first = whole_time(mixing), ""
    if makes:
        time = together(time, production_time(product, making, move.policy["production_margin"]))
    else:
        lugging = fetching(math.ceil(purified_l / CAN_L))
        first = move.add("fetch-afresh", lugging, crew=hands(1, "lifts"), pours=made, **here)
    if makes and move.leaves_home and water_place(move) != move.facts.new.id:
        first = _connect_unit(move)
    warm = move.add("warm-afresh", time, kind=Kind.WAIT, pours=made if makes else (), **here)
    if first:
        move.link(first, warm)
    work, pours = move.handling.work("unit-mix", mixing.batches), ((PURIFIED, account, litres),)
    mix = move.add("mix-afresh", work, crew=hands(1), pours=pours, **here)
    move.link(warm, mix, at_most=DAY)
    move.heat(mixing, move.facts.new.id, warm, mix)
    return first or warm, mix


def _connect_unit(move: Draft) -> str:
    """Join the water unit to the pipes of the new home, once for all tanks."""
    if move.has("connect-unit"):
        return ""
    joining = usual(15, 30, 60, "tap, drain and float switch, and the first litres thrown away")
    return move.add("connect-unit", joining, place=move.facts.new.id, crew=hands(1), timing=LATE)


def _fetched_ready(
    move: Draft, facts: SystemFacts, litres: float, account: str, subject: str
) -> tuple[str, str]:
    """Fetch salt water from a shop, and warm it."""
    here: dict[str, Any] = {"subject": subject, "place": move.facts.new.id, "timing": LATE}
    place = move.plan.place(move.facts.new.id)
    mixing = rewarming_of(move.plan, place, litres, facts.rebuilt.temperature_c)
    move.mixings.append(mixing)
    here["words"] = {"mixing": mixing, "after": facts.rebuilt, "cans": math.ceil(litres / CAN_L)}
    time, pours = fetching(math.ceil(litres / CAN_L)), ((TAP, account, litres),)
    fetched = move.add("fetch-salt-afresh", time, crew=hands(1, "lifts"), pours=pours, **here)
    warm = move.add("warm-salt-afresh", mixing.time, kind=Kind.WAIT, **here)
    move.link(fetched, warm)
    move.heat(mixing, place.id, fetched, warm)
    return fetched, warm


def whole_time(mixing: Mixing) -> Estimate:
    """Time to warm all batches of a small amount of water, one after the other. [min]."""
    return together(*[mixing.time] * mixing.batches)
