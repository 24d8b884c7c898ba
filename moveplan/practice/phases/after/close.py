"""The end: what goes back, is cleaned, is paid, and what was learnt."""

from __future__ import annotations

from moveplan.network.link import Relation
from moveplan.network.task import Timing
from moveplan.practice.drafting.chains import Chains
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, HOUR, hands, usual
from moveplan.practice.phases.day.arrival import goes_back_on_day
from moveplan.practice.phases.day.trips import last_unloading
from moveplan.quantities.facts import SystemFacts
from moveplan.times import local_day

NIGHT_MIN = 8 * HOUR
"""Nobody washes tubs and floors, nor drives back, after such a day; common practice, no source. [min]"""
LOOKS = ("first-look", "look-holding")
"""With which the morning after begins, where animals are home and where they wait."""
WHOLE_DAY_MIN = 6.5 * HOUR
"""What one task after the other makes a whole day: breaks and waits for hands bring it to some nine hours; assumed.
[min]"""
RETURN_AHEAD_MIN = 1 * HOUR
"""A hired vehicle is back so long before its hire ends, where that goes; common practice, no source. [min]"""
COUNTED_MIN = 12 * DAY
"""From the moving day to keys that may wait for the count of the week after it; assumed. [min]"""


def last_watch(move: Draft, facts: SystemFacts) -> str:
    """Id of the task with which a system's last animal is home and safe."""
    return move.last_watches[facts.system.id + move.suffix]


def add_returns(move: Draft) -> None:
    """Add what a leg gives back: its vehicles, and on leaving a home its keys."""
    move.phase("close")
    _add_vehicles(move)
    if move.drives and move.facts.old.id == move.legs[0].old.id:
        _add_old_home(move)


def add_close(move: Draft) -> None:
    """Add everything after the animals are safe."""
    move.phase("close")
    new = move.final.new.id
    move.add(
        "wash-gear", usual(45, 75, 150, "rinsing, drying, stacking"), place=new, crew=hands(1), may_pause=True
    )
    if not move.single_handed:
        move.add("return-borrowed", usual(30, 60, 120, "a round of visits"), crew=move.keeper())
    move.add("settle-accounts", usual(30, 45, 90, "bills against the plan"), crew=move.keeper())
    move.add("look-back", usual(30, 60, 90, "real hours against planned ones"), place=new, crew=hands(1))
    for facts in move.facts.systems:
        move.link(last_watch(move, facts), "wash-gear", gap=NIGHT_MIN, at_most=10 * DAY)
        _look_first(move, facts)
        if move.has(facts.task("settled")):
            move.link(facts.task("settled"), "look-back")
    move.chain(
        "wash-gear", *(() if move.single_handed else ("return-borrowed",)), "settle-accounts", "look-back"
    )
    for before in ("give-keys-back", "clean-old-room"):
        if move.has(before):
            move.link(before, "settle-accounts")
            break
    _link_late_ends(move)


def _look_first(move: Draft, facts: SystemFacts) -> None:
    """Let nobody wash up before the animals have been looked at on the morning after."""
    if move.has(facts.task("first-look")):
        move.link(facts.task("first-look"), "wash-gear", key="first-look > any")


def _link_late_ends(move: Draft) -> None:
    """Let the end wait for what is sold, cleared away, or comes last, so that the plan has one end."""
    for facts in move.legs[0].systems:
        if move.has(facts.task("sell-old")) and not move.has("clean-old-room"):
            move.link(facts.task("sell-old"), "settle-accounts")
    for facts in move.facts.systems:
        if move.has_own(facts.task("clear-holding")):
            move.link(facts.task("clear-holding"), "settle-accounts")
    for task in move.newcomers:
        move.link(task, "look-back")


def _add_vehicles(move: Draft) -> None:
    for vehicle in move.vehicles():
        if not vehicle.hired:
            continue
        task = move.add(
            "return-vehicle",
            usual(30, 45, 90, "wiping, filling, photographs"),
            subject=vehicle.id,
            crew=hands(1, "drives"),
            vehicles=(vehicle.id,),
            words={"vehicle": vehicle},
            place=move.facts.old.id,
            due=None if vehicle.hire_until is None else vehicle.hire_until - RETURN_AHEAD_MIN,
        )
        for load in move.facts.trips.loads:
            if load.vehicle == vehicle.id and load.trip == move.last_trip(vehicle.id):
                move.link(last_unloading(move, load), task)
        if not goes_back_on_day(move, vehicle):
            _link_rested(move, task, LOOKS[:1])


def _link_rested(move: Draft, task: str, looks: tuple[str, ...] = (), *, soon: bool = False) -> None:
    """Let what closes a day follow the last animal at once, or after a night where the day was a whole one already.

    Looks: what it waits for anyway, as a vehicle in which something may have to be fetched; soon: no night can be
    waited for.
    """
    for facts in move.facts.systems:
        watch, morning = last_watch(move, facts), facts.task("record-morning")
        whole = not soon and _whole_day(move, morning, watch, task)
        move.link(watch, task, gap=NIGHT_MIN if whole else 0)
        for look in filter(move.has_own, map(facts.task, LOOKS if whole else looks)):
            _link_looked(move, look, task)


def _link_looked(move: Draft, look: str, task: str) -> None:
    """Let something wait for the look of the morning after: the first of those that come back every day."""
    found = move.tasks[move.id(look)]
    if found.repeats is None:
        move.link(look, task, key="first-look > any")
    else:
        start = Relation.STARTTOSTART
        move.link(look, task, relation=start, gap=found.minutes, key="first-look > any")


def _whole_day(move: Draft, morning: str, watch: str, task: str) -> bool:
    """Whether a day from its first reading to the last animal has no room for what closes it."""
    if not move.has_own(morning):
        return True
    day_min = Chains(move.tasks, move.links).likely_min(move.id(morning), watch)
    return day_min + move.tasks[task].minutes > WHOLE_DAY_MIN


def link_returns(move: Draft, accounts: str) -> None:
    """Tie the returned vehicles of a leg to the accounts, a task of the last leg."""
    for vehicle in move.vehicles():
        if move.has_own(f"return-vehicle-{vehicle.id}"):
            move.link(f"return-vehicle-{vehicle.id}", accounts)


def _keys_due(move: Draft) -> bool:
    """Whether the keys are due so soon that no night can pass before the old room is cleaned."""
    dates, days = move.plan.dates, move.facts.leg.days
    if dates is None or dates.keys_back is None or not days:
        return False
    return dates.keys_back - local_day(days[-1], move.plan.zone).finish < 2 * DAY


def _add_old_home(move: Draft) -> None:
    old, ridden = move.facts.old.id, dict(move.facts.leg.bins)
    left = [number for number in move.bins.used_before(move.at) if number not in ridden]
    move.add(
        "clean-old-room",
        usual(60, 90, 180, "sand, floor, walls"),
        place=old,
        crew=hands(1),
        may_pause=True,
        words={"sand": any(facts.system.sand_kg for facts in move.facts.systems), "left": left},
    )
    _link_rested(move, "clean-old-room", soon=_keys_due(move))
    for facts in move.facts.systems:
        for before in ("sell-old", "sand-out", "drain-tank"):
            if move.has_own(facts.task(before)):
                move.link(facts.task(before), "clean-old-room")
                break
    dates = move.plan.dates
    if dates is None or dates.keys_back is None:
        return
    move.add(
        "give-keys-back",
        usual(15, 30, 60, "meters and a receipt"),
        place=old,
        crew=move.keeper(),
        finish_by=dates.keys_back,
        timing=Timing.EARLY,
        where=move.plan.where("dates.keys-back"),
    )
    move.link("clean-old-room", "give-keys-back")
    days = move.facts.leg.days
    if not days or dates.keys_back - local_day(days[-1], move.plan.zone).finish < COUNTED_MIN:
        return
    for facts in move.facts.systems:
        if move.has(facts.task("count-all")):
            move.link(facts.task("count-all"), "give-keys-back")
