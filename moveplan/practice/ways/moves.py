"""A whole move out of phases: what the facts of each leg ask for, in the order in which people read it."""

from __future__ import annotations

from moveplan.errors import Problem
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.phases.after import aftercare, boarding, close, holding, stocking, waves
from moveplan.practice.phases.before import (
    bookings,
    gear,
    mixed_afresh,
    new_tank,
    permits,
    ready,
    ripening,
    spares,
    stored_water,
    survey,
    water,
)
from moveplan.practice.phases.day import (
    equipment,
    old_tank,
    rebuild,
    release,
    rests,
    road,
    shut_down,
    teardown,
)
from moveplan.practice.stays import add_stays
from moveplan.quantities.facts import SystemFacts

Milestones = tuple[tuple[str, str], ...]


def compose(move: Draft) -> tuple[Milestones, tuple[Problem, ...]]:
    """Add every phase that the legs of a move ask for.

    Parameters
    ----------
    move : Draft
        With its legs; tasks and links are added to it.

    Returns
    -------
    tuple of (str, str)
        Milestones: name and task.
    tuple of Problem
        Animals whose safe time is too short for the work.
    """
    if move.legs[0].leg.gives_away:
        return _shut_down(move)
    _look_and_ask(move)
    unsafe: list[Problem] = []
    for number in range(len(move.legs)):
        move.enter(number)
        unsafe += _leg(move)
    unsafe += _end(move)
    _tie(move)
    move.enter(-1)
    settled = close.last_watch(move, move.final.systems[-1])
    return (("ready", "go-or-no-go"), ("settled", settled)), tuple(unsafe)


def _look_and_ask(move: Draft) -> None:
    move.enter(-1, plain=True)
    survey.add_decision(move)
    survey.add_survey(move)
    if move.leaves_home and _works_ahead(move):
        ready.add_keys_early(move)
    permits.add_permits(move)
    for facts in move.facts.systems:
        equipment.add_equipment(move, facts)
        new_tank.add_new_tank(move, facts)
    move.enter(0)
    for facts in move.facts.systems:
        survey.add_inventory(move, facts)
    for facts in move.facts.systems:
        bookings.add_new_keepers(move, facts)
    gear.add_gear(move)


def _works_ahead(move: Draft) -> bool:
    """Whether work at the new home begins before the moving day."""
    final = move.final
    return final.leg.water_there or any(facts.standing or facts.shift.placed for facts in final.systems)


def _leg(move: Draft) -> tuple[Problem, ...]:
    bookings.add_bookings(move)
    water.add_water(move)
    for facts in move.facts.systems:
        if facts.standing and not _waits(move):
            _make_ready(move, facts)
    if move.facts.leg.in_waves:
        return _in_waves(move)
    gear.add_again(move)
    ready.add_rehearsal(move)
    for facts in move.facts.systems:
        ready.add_care(move, facts)
    ready.add_eve(move)
    if _waits(move):
        for facts in move.facts.systems:
            holding.add_set_up(move, facts)
    mixed_afresh.add_spare(move)
    unsafe = [] if move.suffix else boarding.add_out(move)
    _from_tank_to_tank(move)
    stored_water.add_rewarming(move)
    _hold(move)
    spares.add_spares(move)
    _tie_leg(move)
    unsafe += add_stays(move)
    return tuple(unsafe)


def _from_tank_to_tank(move: Draft) -> None:
    for facts in move.facts.systems:
        teardown.add_teardown(move, facts)
        if _makes_room(move):
            old_tank.add_out_of_the_way(move, facts)
    teardown.link_catches(move)
    road.add_road(move)
    for facts in move.facts.systems:
        rebuild.add_rebuild(move, facts)
        release.add_release(move, facts)
    rests.add_rests(move)


def _waits(move: Draft) -> bool:
    """Whether the animals of the leg go into a holding system, from which another leg takes them on."""
    return len(move.legs) > 1 and not move.suffix


def _hold(move: Draft) -> None:
    """Add the holding system to a leg that brings animals into it, or takes them out of it."""
    for facts in move.facts.systems:
        if _waits(move):
            holding.add_care(move, facts)
        elif move.suffix:
            holding.link_care(move, facts)
            holding.add_take_down(move, facts)


def _makes_room(move: Draft) -> bool:
    """Whether the old tank is carried out of the way within its home."""
    return not move.drives and not move.suffix and move.final.systems[0].shift.benched


def _make_ready(move: Draft, facts: SystemFacts) -> None:
    if move.suffix and facts.shift.benched:
        old_tank.add_spot(move, facts)
    ripening.add_filling(move, facts)
    if move.suffix:
        ripening.add_settling(move, facts)
    else:
        ripening.add_cycle(move, facts)


def _in_waves(move: Draft) -> tuple[Problem, ...]:
    ready.add_rehearsal(move)
    for facts in move.facts.systems:
        ready.add_marks(move, facts)
    ready.add_eve(move)
    mixed_afresh.add_spare(move)
    unsafe = boarding.add_out(move)
    for facts in move.facts.systems:
        move.last_watches[facts.system.id + move.suffix] = waves.add_waves(move, facts)
    _tie_leg(move)
    return (*unsafe, *add_stays(move))


def _tie_leg(move: Draft) -> None:
    bookings.link_bookings(move)
    water.link_water(move)
    ready.link_ready(move)


def _end(move: Draft) -> list[Problem]:
    move.enter(-1)
    for facts in move.facts.systems:
        aftercare.add_aftercare(move, facts)
        if move.facts.leg.in_waves:
            old_tank.add_fallback(move, facts)
        stocking.add_wished(move, facts)
        equipment.link_equipment(move, facts)
    unsafe = boarding.add_back(move)
    move.enter(0)
    for facts in move.facts.systems:
        if move.plan.system(facts.system.id).new_tank is not None:
            old_tank.add_disposal(move, facts)
    for number in range(len(move.legs)):
        move.enter(number)
        close.add_returns(move)
    move.enter(-1)
    close.add_close(move)
    return unsafe


def _tie(move: Draft) -> None:
    accounts = move.id("settle-accounts")
    for number in range(len(move.legs)):
        move.enter(number)
        close.link_returns(move, accounts)
        spares.link_spares(move, accounts)
    move.enter(0)
    permits.link_permits(move)
    survey.link_survey(move)
    for number in range(len(move.legs)):
        move.enter(number)
        gear.link_gear(move)


def _shut_down(move: Draft) -> tuple[Milestones, tuple[Problem, ...]]:
    """Add every phase of a tank that is shut down, and of its restart where there is one."""
    move.enter(0)
    survey.add_decision(move)
    for facts in move.facts.systems:
        survey.add_inventory(move, facts)
    gear.add_gear(move)
    mixes = move.facts.water.mixed_l > 0
    if mixes:
        water.add_water(move)
    ready.add_rehearsal(move)
    for facts in move.facts.systems:
        ready.add_care(move, facts)
    ready.add_eve(move)
    if mixes:
        water.link_water(move)
    for facts in move.facts.systems:
        teardown.add_teardown(move, facts)
        shut_down.add_keepers(move, facts)
    rests.add_rests(move)
    close.add_close(move)
    for facts in move.facts.systems:
        shut_down.add_storing(move, facts)
    _restart(move)
    move.enter(0)
    ready.link_ready(move)
    gear.link_gear(move)
    survey.link_inventory(move)
    unsafe = add_stays(move)
    settled = close.last_watch(move, move.facts.systems[-1])
    return (("ready", "go-or-no-go"), ("settled", settled)), unsafe


def _restart(move: Draft) -> None:
    if len(move.legs) == 1:
        return
    move.enter(-1)
    water.add_water(move)
    for facts in move.facts.systems:
        shut_down.add_restart(move, facts)
        ripening.add_filling(move, facts)
        ripening.add_cycle(move, facts)
        shut_down.add_restock(move, facts)
