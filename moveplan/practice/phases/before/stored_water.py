"""Salt water that was mixed days ahead: warmed again where the room may be colder than the tank."""

from __future__ import annotations

from typing import Any

from moveplan.network.task import Kind, Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import HOUR, hands, usual
from moveplan.practice.ledger.pouring import some_standing
from moveplan.practice.phases.before.water import turns_told, water_place
from moveplan.quantities.leg.mixing import rewarming_of

HUNG_BEFORE = 24 * HOUR
"""Longest from there to the decision of the eve: the same evening; assumed. [min]"""


def add_rewarming(move: Draft) -> None:
    """Warm what is poured on the day again.

    Parameters
    ----------
    move : Draft
        With the tasks of the day, the first of which take from the bins.
    """
    draws = _first_draws(move)
    bins = move.bins.waiting_for(draws)
    if not draws or not bins or not move.water_cools():
        return
    move.phase("water")
    place, target = water_place(move), move.warmest_c()
    mixing = rewarming_of(move.plan, move.plan.place(place), bins, target, move.facts.leg)
    move.mixings.append(mixing)
    late: dict[str, Any] = {
        "place": place,
        "timing": Timing.LATE,
        "words": {"mixing": mixing} | turns_told(move, mixing),
    }
    hung = move.add("hang-heaters", usual(5, 10, 20, "heaters, a pump, lids"), crew=hands(1), **late)
    warm = move.add("warm-stored", mixing.time, kind=Kind.WAIT, **late)
    move.link("mix-spare" if some_standing(move) else "trim-water", hung, key="trim-water > hang-heaters")
    move.link(hung, warm, at_most=0)
    move.link(hung, "go-or-no-go", at_most=HUNG_BEFORE, any_length=True)
    for draw in draws:
        move.link(warm, draw, key="warm-stored > any")
    move.heat(mixing, place, hung, _last_warm(move, draws))


def _first_draws(move: Draft) -> list[str]:
    """List the tasks that fill cans or tanks out of the bins on the day; cans come first."""
    keys = ("fill-cans", "fill-tank")
    named = [f"{one.task(key)}{move.suffix}" for key in keys for one in move.facts.systems]
    bins = {vessel.account for vessel in move.bins.vessels}
    drawing = {pour.task for pour in move.pours if pour.source in bins}
    return [task for task in named if task in drawing]


def _last_warm(move: Draft, draws: list[str]) -> str:
    """Name the task up to whose end heaters hang in the bins: they lie in the first tank once it is filled."""
    cans = [task for task in draws if task.startswith("fill-cans")]
    return cans[-1] if cans else move.id(draws[0].replace("fill-tank", "rock-in", 1))
