"""Breaks on a long day: everybody eats and sits down, never all at once while animals wait.

Common practice, no source: half an hour about the middle of the work at the old home, and a shorter break while the
tank fills and warms. Employees have breaks by law as well, which differ from country to country.
"""

from __future__ import annotations

from moveplan.estimate import Estimate
from moveplan.network.task import Crew, Kind
from moveplan.plan.people import Helper
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import usual
from moveplan.practice.presence import longest_stretch_min

LONG_DAY_MIN = 6 * 60
"""Day from which breaks are part of it; employers' breaks begin there in many countries; recalled. [min]"""
A_PAIR = 2
"""More who catch than these eat in two shifts: some of them stay with the animals; assumed. [-]"""


def add_rests(move: Draft) -> None:
    """Add two breaks for everybody who is there for a long day.

    Parameters
    ----------
    move : Draft
        With the tasks from the tank to the tank.
    """
    first, second = _halves([one for one in move.plan.people if _long(move, one)])
    if not first:
        return
    move.phase("rests")
    meal = usual(25, 30, 45, "a warm meal, hands washed, sitting down")
    pause = usual(15, 20, 30, "a second meal, brought along, sitting down")
    meals, pauses = (
        [[_rest(move, key, lasts, one) for one in half] for half in (first, second)]
        for key, lasts in (("meal", meal), ("pause", pause))
    )
    for one in (*first, *second):
        for before in _before_meals(move, one):
            move.link(before, f"meal-{one.id}", key="any > meal")
        for after in _before_leaving(move):
            move.link(f"meal-{one.id}", after, key="meal > any")
        for before in _standing(move):
            move.link(before, f"pause-{one.id}", key="any > pause")
        move.link(f"meal-{one.id}", f"pause-{one.id}", key="meal > pause")
    _in_turn(move, meals)
    _in_turn(move, [[f"meal-{one.id}" for one in second], [f"pause-{one.id}" for one in first]])
    several = bool(second[A_PAIR:])
    _in_turn(move, pauses if first[0].cares or several else pauses[::-1])
    if several:
        _in_turn(move, [meals[1], meals[1][::-1]])
    _before_animals(move, pauses)


def _long(move: Draft, one: Helper) -> bool:
    days, zone = move.facts.leg.days, move.plan.zone
    return bool(days) and min(longest_stretch_min(one, day, zone) for day in days) > LONG_DAY_MIN


def _rest(move: Draft, key: str, lasts: Estimate, one: Helper) -> str:
    return move.add(
        key,
        lasts,
        subject=one.id,
        kind=Kind.REST,
        crew=Crew(1, named=(one.id,)),
        day=move.day,
        words={"name": one.name, "others": not move.single_handed},
    )


def _halves(there: list[Helper]) -> tuple[list[Helper], list[Helper]]:
    """Part those who eat first from those who eat after them.

    Who does not catch eats while the others do, who eat when the fish are in their containers. Where all catch, one
    half eats after the other.
    """
    others = [one for one in there if not one.cares]
    if others and len(others) < len(there):
        return others, [one for one in there if one.cares]
    half = len(there) - len(there) // 2
    return there[:half], there[half:]


def _in_turn(move: Draft, rests: list[list[str]]) -> None:
    """Let one of the later rest after one of the earlier, so that never all rest at once."""
    for earlier, later in zip(rests[0][:1], rests[1][:1], strict=False):
        key = earlier.split("-")[0]
        move.link(earlier, later, key=f"{key} > {key}")


def _own(move: Draft, *keys: str) -> list[str]:
    """List tasks of the day: a tank that runs long before it is placed by none of them."""
    found = [facts.task(key) for facts in move.facts.systems for key in keys]
    return [one for one in found if move.has_own(one) and move.tasks[move.id(one)].day == move.day]


def _before_meals(move: Draft, one: Helper) -> list[str]:
    """List what the meal of somebody waits for: the catch, for who catches, since it follows the rock at once."""
    caught = _own(move, "catch-fish") if one.cares else []
    return caught or _own(move, "rock-out")


def _before_leaving(move: Draft) -> list[str]:
    """List what waits for the meal: glass and animals going on board, the first drives, or else lifting the tank."""
    trips = [move.trip_subject(load) for load in move.facts.trips.loads if load.trip == 1]
    found = [f"{key}-{trip}" for trip in trips for key in ("load-tank", "load-animals", "drive")]
    return (
        [one for one in found if move.has_own(one)]
        or _own(move, "place-tank", "water-matched")
        or _own(move, "tank-off")
    )


def _standing(move: Draft) -> list[str]:
    return _own(move, "place-tank") or _own(move, "rock-in")


def _before_animals(move: Draft, pauses: list[list[str]]) -> None:
    """Let those who handle animals rest before they do, and everybody before the last hour of the day.

    Where no animal comes home, that hour is the one in which the tank is lifted.
    """
    cares = {f"pause-{one.id}{move.suffix}" for one in move.plan.people if one.cares}
    for pause in (*pauses[0], *pauses[1]):
        home = _own(move, "water-matched" if pause in cares else "watch-evening")
        key = "pause > any" if home and pause in cares else "pause > watch"
        for after in home or _own(move, "tank-off"):
            move.link(pause, after, key=key)
