"""Groups that wait at somebody else's tank: brought there before the move, fetched when the tank can carry them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from moveplan.errors import Problem
from moveplan.network.task import Kind, Timing
from moveplan.network.words import listed
from moveplan.plan.people import Boarding
from moveplan.practice.drafting.chains import Chains
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, WEEK, hands, usual
from moveplan.practice.drafting.touch import hard_to_catch
from moveplan.practice.ledger.entries import TAP, Entries
from moveplan.practice.ledger.pouring import taken_along
from moveplan.practice.phases.after.close import last_watch
from moveplan.practice.phases.before.fasting import add_boarded_feeds
from moveplan.practice.phases.before.mixed_afresh import Fresh, mix_afresh
from moveplan.practice.phases.before.water import keeping_min
from moveplan.practice.phases.day.teardown import names
from moveplan.practice.project import Moment, Passage
from moveplan.practice.stays import add_gaps, limit_stay, stop_in
from moveplan.quantities.containers.vessels import Vessel
from moveplan.quantities.facts import GroupFacts, SystemFacts
from moveplan.quantities.freight.lifting import bearers
from moveplan.quantities.freight.road import drive_of
from moveplan.quantities.handling import together
from moveplan.quantities.keeping.boarders import boarding_vessels, not_taken, too_much_for
from moveplan.quantities.keeping.feeding import fast_of, feeders
from moveplan.quantities.leg.cargo import ANIMALS_LAST, carried
from moveplan.quantities.policy import Policy
from moveplan.quantities.trade_groups import CORALS, FISH
from moveplan.times import local_day

BACK_AFTER = 10 * DAY
"""From the move until boarded animals may come back; common practice, no source. [min]"""
OUT_WITHIN = WEEK
"""Most before the decision that they are brought away: each day at a strange tank is one too many; assumed. [min]"""


@dataclass(frozen=True, slots=True)
class _MadeUp:
    """Salt water that makes up for what animals take out of their tank, and the account in which it stands."""

    facts: SystemFacts
    account: str
    fresh: Fresh


def add_out(move: Draft) -> list[Problem]:
    """Add bringing animals to their boarding places, in the first leg.

    Parameters
    ----------
    move : Draft
        Before the moving day is composed.

    Returns
    -------
    list of Problem
        Groups whose safe time is too short for the way.
    """
    move.phase("boarding")
    unsafe: list[Problem] = []
    for place, groups in move.boarders:
        words = _words(move, place, groups)
        move.add(
            "agree-boarding",
            usual(20, 30, 60, "a visit or a call"),
            subject=place.id,
            crew=move.keeper(),
            words=words,
        )
        move.link("agree-plan", f"agree-boarding-{place.id}")
        unsafe += _trip(move, place, groups, back=False)
        add_boarded_feeds(move, place, groups, f"board-out-{place.id}")
        move.link(f"agree-boarding-{place.id}", f"board-out-{place.id}", gap=DAY)
        move.link(f"board-out-{place.id}", "go-or-no-go", at_most=OUT_WITHIN)
        move.unsafe += [*_too_small(move, place, groups), *_not_taken(move, place, groups)]
    return unsafe


def _words(move: Draft, place: Boarding, groups: tuple[GroupFacts, ...]) -> dict[str, object]:
    fish = tuple(group for group in groups if group.kind.group in FISH)
    return {
        "place": place,
        "where": move.plan.place(place.place),
        "animals": names(groups),
        "packing": move.packing_words(groups, boarding_vessels(move.plan, groups)),
        "fish": names(fish),
        "trapped": hard_to_catch(fish),
        "fasts": [
            (names(those), fast_of(sort, move.policy)) for sort, those in feeders(fish, move.policy).items()
        ],
        "others": names(tuple(group for group in groups if group.kind.group not in FISH)),
        "fighters": move.residents_of(groups),
    }


def _trip(move: Draft, place: Boarding, groups: tuple[GroupFacts, ...], *, back: bool) -> list[Problem]:
    """Add one way as one task, so that nothing comes between bagging and letting out."""
    home = move.final.new if back else move.legs[0].old
    drive = drive_of(move.plan, home.id, place.place, Policy(move.plan.policy))
    vessels = boarding_vessels(move.plan, groups)
    by = max((bearers(one) for one in carried(vessels, ANIMALS_LAST)), default=1)
    driven = ("drives",) if drive.likely else ()
    vehicle = next((one for one in move.plan.vehicles if driven and not one.hired), None)
    count = sum(group.count for group in groups)
    work = [move.handling.work("bag", count), usual(20, 40, 60, "floating, measuring, letting out")]
    lifting = "coral-in" if back else "coral-out"
    corals = sum(group.count for group in groups if group.kind.group in CORALS)
    work += [move.handling.work(lifting, corals)] if corals else []
    work += [
        move.handling.work(f"fish-{group.kind.catching}", group.count)
        for group in groups
        if group.kind.group == "fish"
    ]
    if driven:
        work += [drive, drive]
    fields: dict[str, Any] = (
        {"timing": Timing.EARLY} if back else {"timing": Timing.LATE, "margin_min": 2 * DAY}
    )
    fields |= _open(move, place, back=back)
    mixed = () if back else _mixed(move, place, vessels)
    task = move.add(
        "board-back" if back else "board-out",
        together(*work),
        subject=place.id,
        place=home.id,
        crew=move.able("cares", *driven, *(("lifts",) if by > 1 else ()), least=by),
        vehicles=(vehicle.id,) if vehicle else (),
        words=_words(move, place, groups)
        | {"taken": sum(one.water_l for one in vessels), "driven": driven, "vehicle": vehicle, "by": by},
        pours=_taken(vessels, mixed) if mixed else taken_along(vessels, TAP),
        **fields,
    )
    move.use(vessels, task, task)
    for one in mixed:
        _link_mixed(move, place, one.fresh, task)
    unsafe: list[Problem] = []
    chains = Chains(move.tasks, move.links)
    gaps: dict[tuple[str, str], tuple[int, GroupFacts]] = {}
    for group in groups:
        move.passages.append(_passage(move, place, (group, vessels), task, back=back))
        unsafe += limit_stay(move, chains, group, task, task, gaps)
    add_gaps(move, gaps)
    return unsafe


def _open(move: Draft, place: Boarding, *, back: bool) -> dict[str, Any]:
    """Bring nobody before the place opens, and have everybody fetched before it closes."""
    own, zone = f"boarding.{place.id}", move.plan.zone
    if back and place.last is not None:
        return {"finish_by": local_day(place.last, zone).finish, "where": move.plan.where(f"{own}.until")}
    if not back and place.first is not None:
        return {"not_before": local_day(place.first, zone).start, "where": move.plan.where(f"{own}.from")}
    return {}


def _mixed(move: Draft, place: Boarding, vessels: tuple[Vessel, ...]) -> tuple[_MadeUp, ...]:
    """Mix what makes up for the water that animals take along, beside each of their tanks."""
    systems = {facts.system.id: facts for leg in move.legs[::-1] for facts in leg.systems}
    found: list[_MadeUp] = []
    for system in dict.fromkeys(vessel.system for vessel in vessels if vessel.water_l):
        facts = systems[system]
        account, litres = f"{facts.shift.mixed}:{place.id}", _water_l(vessels, system)
        fresh = mix_afresh(move, facts, litres, account, f"{place.id}-{system}", move.legs[0].old.id)
        found.append(_MadeUp(facts, account, fresh))
    return tuple(found)


def _link_mixed(move: Draft, place: Boarding, fresh: Fresh, out: str) -> None:
    """Mix it once the place has said yes and the salt is there, so that it is warm and clear when it is poured."""
    for before in (f"agree-boarding-{place.id}", "wait-gear", "check-water-unit"):
        if move.has(before):
            move.link(before, fresh.first, key="any > mixed-for-boarders")
    move.link(fresh.ready, out, gap=fresh.stands_min, at_most=keeping_min(move), key="mix-afresh > any")
    move.heat(fresh.mixing, move.legs[0].old.id, fresh.ready, out)


def _taken(vessels: tuple[Vessel, ...], mixed: tuple[_MadeUp, ...]) -> Entries:
    """Take water of the tanks along and make up for it; on the way back, water of the boarding place."""
    entries: Entries = ()
    for one in mixed:
        system = one.facts.system.id
        own = tuple(vessel for vessel in vessels if vessel.system == system)
        entries += taken_along(own, f"system:{system}")
        entries += ((one.account, f"system:{system}", _water_l(vessels, system)),)
    return entries


def _water_l(vessels: tuple[Vessel, ...], system: str) -> float:
    return sum(vessel.water_l for vessel in vessels if vessel.system == system)


def _passage(
    move: Draft, place: Boarding, packed: tuple[GroupFacts, tuple[Vessel, ...]], task: str, *, back: bool
) -> Passage:
    group, vessels = packed
    system = move.plan.system(group.livestock.system)
    home = move.final.new if back else move.legs[0].old
    there, here = (move.plan.place(place.place).name, place.name), (home.name, system.name)
    out, reached = Moment(task, "start"), Moment(task, "finish")
    stop = stop_in(vessels, group, there[0] if back else here[0], (out, reached))
    return Passage(
        group.livestock.id,
        group.livestock.name,
        group.count,
        there if back else here,
        here if back else there,
        out,
        reached,
        (stop,),
        Chains(move.tasks, ()).allowance_min(task, task),
    )


def _too_small(move: Draft, place: Boarding, groups: tuple[GroupFacts, ...]) -> list[Problem]:
    missing = too_much_for(move.plan, place, groups)
    if not missing:
        return []
    message = (
        f"{place.name} offers {place.volume_l:.0f} l, the fish boarded there need "
        f"{place.volume_l + missing:.0f} l: it would be overcrowded; the heaviest would have to go elsewhere"
    )
    return [Problem(message, move.plan.where(f"boarding.{place.id}"), "board some of them elsewhere")]


def _not_taken(move: Draft, place: Boarding, groups: tuple[GroupFacts, ...]) -> list[Problem]:
    refused = not_taken(place, groups)
    if not refused:
        return []
    who = [group.livestock.name for group in groups if group.livestock.id in refused]
    sorts = [*place.takes, *dict.fromkeys(refused.values())]
    return [
        Problem(
            f"{place.name} takes {listed(place.takes)}, and {listed(who)} would be boarded there",
            move.plan.where(f"boarding.{place.id}.takes"),
            f'board them elsewhere, or, where {place.name} agrees, write "takes: [{", ".join(sorts)}]"',
        )
    ]


def _told_before(move: Draft, groups: tuple[GroupFacts, ...]) -> int:
    """How long before it hands animals over a place hears of it, so that their last meal is their last. [min]."""
    sorts = feeders((one for one in groups if one.kind.group in FISH), move.policy)
    fasts = [fast_of(sort, move.policy) for sort in sorts]
    return max((fast.least_min + fast.room_min for fast in fasts), default=0)


def _carries(move: Draft, facts: SystemFacts) -> str:
    """Id of the hold point that says that a system carries those who are there; empty where there is none."""
    own = facts.task("carries-stock")
    return own if move.has_own(own) else move.last_settled.get(facts.system.id, "")


def add_back(move: Draft) -> list[Problem]:
    """Add fetching boarded animals when the tank can carry them, in the last leg.

    Parameters
    ----------
    move : Draft
        With the animals that travel released.
    """
    move.phase("boarding")
    unsafe: list[Problem] = []
    for place, groups in move.boarders:
        words = _words(move, place, groups)
        move.add(
            "ready-for-boarders",
            usual(15, 20, 30, "a row of readings"),
            subject=place.id,
            kind=Kind.HOLD_POINT,
            place=move.final.new.id,
            crew=hands(1, "cares"),
            words=words,
        )
        systems = dict.fromkeys(group.livestock.system for group in groups)
        for facts in move.facts.systems:
            if facts.system.id in systems:
                move.link(
                    last_watch(move, facts),
                    f"ready-for-boarders-{place.id}",
                    gap=BACK_AFTER,
                    at_most=BACK_AFTER + 3 * WEEK,
                )
                carries = _carries(move, facts)
                if carries:
                    move.link(carries, f"ready-for-boarders-{place.id}")
        unsafe += _trip(move, place, groups, back=True)
        move.link(
            f"ready-for-boarders-{place.id}",
            f"board-back-{place.id}",
            gap=_told_before(move, groups),
            at_most=4 * DAY,
        )
        for facts in move.facts.systems:
            if facts.system.id in systems:
                move.link(f"board-back-{place.id}", facts.task("settled"))
    return unsafe
