"""Warming and mixing new salt water: in which batches, with which heaters, how long it takes and what it draws."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from moveplan.estimate import Estimate, Provenance, exactly
from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.plan.supplies import WaterMaking
from moveplan.quantities.circuits import left_w
from moveplan.quantities.course import Leg
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.heaters import Heater, Turn, hung_beside, in_turn, power_w, spare_heaters, turns_h
from moveplan.quantities.policy import Policy
from moveplan.quantities.warming import bin_loss_w_k, start_of, warming_h
from moveplan.quantities.water.amounts import flow_of, making_for

USUAL_BATCH_L = 60.0
"""What is mixed at once where no storage is known; common practice, no source. [l]"""
MOST_BATCHES = 6
"""Nobody mixes more batches: so much water is mixed in a larger vessel; assumed. [-]"""
WARMING_SOURCE = "first-order heating with loss; TEOS-10 heat capacity; shape of the bin assumed"
_HELD_H = 8.0
"""From warm in the night to poured in the morning; assumed. [h]"""
DENSEST_W_L = 10.0
"""No more heaters in so much water: 300 W in 30 l warm it by 8.8 K an hour, a danger if one sticks; assumed. [W/l]"""
LONG_H = 24.0
"""Warming a batch for longer is worth one more heater; assumed. [h]"""


@dataclass(frozen=True, slots=True)
class Mixing:
    """How new salt water is warmed for mixing.

    Parameters
    ----------
    litres, batch_l : float
        All of it, and one batch. [l]
    batches : int
        How many follow each other.
    start_c : tuple of (float, float, float)
        Of the purified water: warmest, likely and coldest. [°C]
    target_c, room_c : float
        Of the tank, and of the air in the room. [°C]
    heater_w : float
        Heaters that hang in the bin. [W]
    heaters : tuple of Heater
        These themselves.
    lidded : bool
        Whether the bin has to be lidded to get warm in time.
    loss_w_k : float
        Lost by the bin. [W/K]
    time : Estimate
        To warm one batch. [min]
    energy_kwh : float
        Drawn for all batches, losses and a day of standing warm included. [kWh]
    turns : tuple of Turn
        Which heaters hang in which bins; none where one bin takes them all.
    """

    litres: float
    batch_l: float
    batches: int
    start_c: tuple[float, float, float]
    target_c: float
    room_c: float
    heater_w: float
    heaters: tuple[Heater, ...]
    lidded: bool
    loss_w_k: float
    time: Estimate
    energy_kwh: float
    turns: tuple[Turn, ...] = ()


def mixing_of(
    plan: Plan,
    place: Place,
    making: WaterMaking,
    litres: float,
    target_c: float,
    leg: Leg | None = None,
    more_heaters: int = 0,
) -> Mixing:
    """Work out how so much salt water is warmed.

    Parameters
    ----------
    plan : Plan
        Its gear and limits.
    place : Place
        Where it is mixed.
    making : WaterMaking
        Storage and supply.
    litres : float
        How much. [l]
    target_c : float
        Of the tank. [°C]
    leg : Leg or None
        Whose tanks are filled with it first; None: they run already.
    more_heaters : int
        Heaters ordered beside the spare ones.
    """
    policy = Policy(plan.policy)
    size = max(making.storage_l or USUAL_BATCH_L, litres / MOST_BATCHES)
    batches = max(math.ceil(litres / size - 1e-9), 1)
    batch, room = litres / batches, place.room_temperature_c
    there = spare_heaters(plan, more_heaters)
    heaters = hung_beside(there, min(left_w(plan, place, leg), DENSEST_W_L * batch))
    heater_w = power_w(heaters)
    closed = bin_loss_w_k(batch, policy, lidded=True) if batch else 1.0
    start = start_of(making, max(batch, 1.0), flow_of(making), room, closed)
    opened = bin_loss_w_k(batch, policy, lidded=False) if batch else 1.0
    lidded = warming_h(batch or 1.0, start[1], target_c, heater_w, opened, room) > LONG_H / 4
    loss = closed if lidded else opened
    hours = [warming_h(max(batch, 1.0), one, target_c, heater_w, loss, room) for one in start]
    if more_heaters < MOST_BATCHES and hours[1] > LONG_H and heaters == there:
        return mixing_of(plan, place, making, litres, target_c, leg, more_heaters + 1)
    low, likely, high = (60 * min(hour, 10 * LONG_H) for hour in hours)
    lost = "a lidded" if lidded else "an open"
    basis = (
        f"{batch:.0f} l from {start[1]:.1f} °C to {target_c:.1f} °C with {heater_w:.0f} W of heaters in {lost} bin "
        f"that loses {loss:.0f} W/K to a room at {room:.1f} °C"
    )
    time = Estimate(low, likely, high, "min", basis, Provenance.COMPUTED, WARMING_SOURCE)
    held = loss * max(target_c - room, 0.0) * policy["mixing_hours"] / 1000
    energy = batches * (heater_w * likely / 60_000 + held)
    return Mixing(
        litres,
        batch,
        batches,
        start,
        target_c,
        room,
        heater_w,
        heaters,
        lidded,
        loss,
        time,
        energy if litres else 0.0,
    )


def rewarming_of(
    plan: Plan, place: Place, bins: tuple[tuple[str, float], ...], target_c: float, leg: Leg | None = None
) -> Mixing:
    """Work out how salt water that was mixed days ago is warmed again.

    Parameters
    ----------
    plan : Plan
        Its gear and limits.
    place : Place
        Where it stands: as warm as the room.
    bins : tuple of (str, float)
        Number of each bin, and how much stands in it. [l]
    target_c : float
        Of the tank. [°C]
    leg : Leg or None
        Whose tanks are filled with it; None: they run already.
    """
    policy, litres = Policy(plan.policy), sum(part for _, part in bins)
    heaters = hung_beside(spare_heaters(plan), min(left_w(plan, place, leg), DENSEST_W_L * litres))
    cold_c, warm_c = place.room_temperature_c, max(place.room_high_c, place.room_temperature_c)
    start = (warm_c, (cold_c + warm_c) / 2, cold_c)
    loss = sum(bin_loss_w_k(part, policy, lidded=True) for _, part in bins)
    none = exactly(0.0, "min", "nothing is warmed yet")
    whole = Mixing(
        litres, litres, 1, start, target_c, cold_c, power_w(heaters), heaters, True, loss, none, 0.0
    )
    found = in_bins(whole, bins, policy)
    hours, volumes = _warm_h(whole, policy, start[1]), dict(bins)
    drawn = sum(one.watts * turns_h((one,), volumes, hours) for one in found.turns)
    held = loss * max(target_c - cold_c, 0.0) * _HELD_H
    return replace(found, energy_kwh=(drawn + held) / 1000)


def in_bins(mixing: Mixing, bins: tuple[tuple[str, float], ...], policy: Policy) -> Mixing:
    """Hang the heaters of a batch into the bins that it stands in, and count the time until the last is warm.

    Parameters
    ----------
    mixing : Mixing
        A batch, and its heaters.
    bins : tuple of (str, float)
        Number of each, and its water. [l]
    policy : Policy
        U-value of an open surface.
    """
    turns, volumes = in_turn(bins, mixing.heaters, _warm_h(mixing, policy, mixing.start_c[1])), dict(bins)
    hours = [turns_h(turns, volumes, _warm_h(mixing, policy, start_c)) for start_c in mixing.start_c]
    low, likely, high = (60 * min(hour, 10 * LONG_H) for hour in hours)
    hung = "; ".join(f"{one.watts:.0f} W in {', then '.join(one.bins)}" for one in turns)
    basis = (
        f"{sum(volumes.values()):.0f} l from {mixing.start_c[1]:.1f} °C to {mixing.target_c:.1f} °C in a room at "
        f"{mixing.room_c:.1f} °C: {hung}"
    )
    time = Estimate(low, likely, high, "min", basis, Provenance.COMPUTED, WARMING_SOURCE)
    return replace(mixing, time=time, turns=turns)


def _warm_h(mixing: Mixing, policy: Policy, start_c: float) -> Callable[[float, float], float]:
    """Give the hours in which so many litres get warm with so many watts, lidded as the batch is."""

    def hours(litres: float, watts: float) -> float:
        loss = bin_loss_w_k(litres, policy, lidded=mixing.lidded)
        return warming_h(litres, start_c, mixing.target_c, watts, loss, mixing.room_c)

    return hours


def first_mixed_l(systems: tuple[SystemFacts, ...]) -> float:
    """Salt water mixed at first: all of it, or what tanks are filled with long before the day. [l]."""
    ahead = [facts.water.new.likely for facts in systems if facts.standing]
    return (
        sum(ahead)
        if ahead
        else sum(facts.water.new.likely + facts.old.lent_l + facts.spare_l for facts in systems)
    )


def water_place(leg: Leg, systems: tuple[SystemFacts, ...]) -> str:
    """Id of the place where water is made: where it is poured in, if the tank there is filled ahead."""
    ahead = leg.water_there or all(facts.standing for facts in systems)
    return leg.destination if ahead else leg.origin


def mixed_for(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...]) -> Mixing:
    """Work out how the new water of a leg is warmed.

    Parameters
    ----------
    plan : Plan
        Its gear and storage.
    leg : Leg
        Where it goes.
    systems : tuple of SystemFacts
        What is filled.
    """
    place = plan.place(water_place(leg, systems))
    warmest = max(facts.rebuilt.temperature_c for facts in systems)
    making = making_for(plan, leg)
    litres = 0.0 if making.ready_mixed else first_mixed_l(systems)
    return mixing_of(plan, place, making, litres, warmest, leg)
