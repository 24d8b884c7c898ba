"""Waves: which animals may come when, so that the filter keeps up; and what it will never carry."""

from __future__ import annotations

from dataclasses import dataclass, replace

from moveplan.estimate import Estimate
from moveplan.plan.livestock import Livestock
from moveplan.plan.systems import System
from moveplan.quantities.keeping.cycle import step_time
from moveplan.quantities.keeping.filter_load import ammonia_load, animals_load, removal
from moveplan.quantities.policy import Policy
from moveplan.times import MINUTES_A_DAY

LARGEST_FACTOR, LARGEST_LOAD = 5.0, 1.5
"""Step and load beyond which the growth model is asked no further, the pause being at its longest. [-, mg N/(l day)]"""
RANK = {"timid": 0, "peaceful": 1, "territorial": 2, "predator": 3}
"""Order of release by temperament; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Wave:
    """Animals that come together.

    Parameters
    ----------
    groups : tuple of (Livestock, int)
        Who, and how many.
    load : float
        Load once they are in. [mg N/day]
    pause : Estimate
        Until the next may come. [min]
    """

    groups: tuple[tuple[Livestock, int], ...]
    load: float
    pause: Estimate


@dataclass(frozen=True, slots=True)
class Balance:
    """What animals give off, and what a filter takes up.

    Parameters
    ----------
    load, capacity : Estimate
        Of all of them, and what the ripe surfaces take up. [mg N/day]
    beyond : tuple of str
        Ids of groups that the filter will not carry, heaviest first.
    """

    load: Estimate
    capacity: Estimate
    beyond: tuple[str, ...]


def order_in(groups: tuple[tuple[Livestock, int], ...]) -> tuple[tuple[Livestock, int], ...]:
    """Sort groups for release: clean-up crew, corals, then fish, timid before territorial, small before large."""

    def key(one: tuple[Livestock, int]) -> tuple[int, int, float]:
        group = one[0]
        kind = group.traits
        return (_step_of(kind.group), RANK[group.temperament], group.size_cm)

    return tuple(sorted(groups, key=key))


def _step_of(trade_group: str) -> int:
    if trade_group == "fish":
        return 2
    from moveplan.quantities.trade_groups import CORALS

    return 1 if trade_group in CORALS else 0


def waves_of(
    system: System,
    groups: tuple[tuple[Livestock, int], ...],
    litres: float,
    first_mg_n_day: float,
    policy: Policy,
) -> tuple[Wave, ...]:
    """Share animals out over waves.

    Parameters
    ----------
    system : System
        As it will stand.
    groups : tuple of (Livestock, int)
        Who is to come.
    litres : float
        Its water. [l]
    first_mg_n_day : float
        Load that it carries from the first day on. [mg N/day]
    """
    waves: list[Wave] = []
    carried, held = 0.0, max(first_mg_n_day, 1.0)
    company: list[tuple[Livestock, int]] = []
    for group, count in order_in(groups):
        own = _own_load(system, group, count, policy)
        most = held if not waves else held * (1 + policy["load_step"])
        if company and (carried + own > most or _apart(company[-1][0], group)):
            waves.append(_wave(system, company, carried, held, litres, policy))
            held, company = max(carried, held), []
        company.append((group, count))
        carried += own
    if company:
        waves.append(_wave(system, company, carried, held, litres, policy))
    return tuple(waves)


def balance_of(system: System, groups: tuple[tuple[Livestock, int], ...], policy: Policy) -> Balance:
    """Compare what animals give off with what a system takes up.

    Parameters
    ----------
    system : System
        As it will stand.
    groups : tuple of (Livestock, int)
        Who lives in it.
    """
    load, capacity = ammonia_load(system, groups, policy, feed=False), removal(system, policy)
    return Balance(load, capacity, _beyond(system, groups, load, capacity, policy))


def _apart(before: Livestock, after: Livestock) -> bool:
    """Whether a group waits for the next wave whatever the load: fish for the rest, fighters for the peaceful."""
    first_fish = after.traits.group == "fish" != before.traits.group
    first_fighter = RANK[after.temperament] >= RANK["territorial"] > RANK[before.temperament]
    return first_fish or (first_fighter and after.traits.group == "fish")


def _own_load(system: System, group: Livestock, count: int, policy: Policy) -> float:
    return 24 * animals_load(((group, count),), system.temperature_c, policy).ammonia_mg_n_h


def _wave(
    system: System,
    company: list[tuple[Livestock, int]],
    load: float,
    held: float,
    litres: float,
    policy: Policy,
) -> Wave:
    factor = min(max(load / held, 1.0), LARGEST_FACTOR)
    before = min(max(held / litres, 0.01), LARGEST_LOAD)
    pause = step_time(round(factor, 2), round(before, 3), system.temperature_c)
    least = MINUTES_A_DAY * policy["wave_gap"]
    low, likely, high = (max(end, least) for end in (pause.low, pause.likely, pause.high))
    return Wave(tuple(company), load, replace(pause, low=low, likely=likely, high=high))


def _beyond(
    system: System,
    groups: tuple[tuple[Livestock, int], ...],
    load: Estimate,
    capacity: Estimate,
    policy: Policy,
) -> tuple[str, ...]:
    """Name the groups without which the rest would be carried, wished ones first, then the heaviest."""
    left = load.likely
    if left <= capacity.likely:
        return ()
    scale = load.likely / max(sum(_own_load(system, group, count, policy) for group, count in groups), 1e-9)
    rows = sorted(
        ((not group.wished, -_own_load(system, group, count, policy), group.id) for group, count in groups),
    )
    gone: list[str] = []
    for _, minus, name in rows:
        if left <= capacity.likely:
            break
        gone.append(name)
        left += scale * minus
    return tuple(gone)
