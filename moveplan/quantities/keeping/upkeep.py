"""What a holding system uses up while animals wait in it: salt water for its changes, top-up, salt and food."""

from __future__ import annotations

import math
from dataclasses import dataclass

from moveplan.plan.supplies import WaterMaking
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.keeping.holding import holding_of
from moveplan.quantities.policy import Policy
from moveplan.quantities.water.amounts import mixed_of

FED = 0.5
"""Food of animals that wait, as a share of what they are fed at home; common practice, no source. [-]"""
LAST_DAYS = 2
"""No weekly change so shortly before they go on; assumed. [day]"""


@dataclass(frozen=True, slots=True)
class Upkeep:
    """A holding system over the whole time in which animals wait in it.

    Parameters
    ----------
    system : str
        Id of the system whose animals wait.
    name : str
        What the holding system is called.
    days : int
        From the day on which they come to the day on which they go. [day]
    looks : int
        Days on which somebody looks after them and feeds.
    changes : int
        Weekly changes of water.
    change_l : float
        Salt water of one weekly change. [l]
    daily_l : float
        Salt water of each day's change, where the filter does not keep up by itself. [l]
    batches : int
        How often salt water is mixed for it.
    days_a_batch : int
        From one batch to the next. [day]
    batch_l, batch_purified_l, batch_salt_kg : float
        Salt water of one batch, with its purified water and dry mix. [l, l, kg]
    top_up_l_day : float
        Purified water that replaces what evaporates in a day. [l/day]
    feed_g : float
        Dry food over the whole time. [g]
    """

    system: str
    name: str
    days: int
    looks: int
    changes: int
    change_l: float
    daily_l: float
    batches: int
    days_a_batch: int
    batch_l: float
    batch_purified_l: float
    batch_salt_kg: float
    top_up_l_day: float
    feed_g: float

    @property
    def mixings(self) -> int:
        """Batches that are mixed while animals wait: of changes every day the first stands there already. [-]."""
        return self.batches - 1 if self.daily_l else self.batches

    @property
    def first_topping_l(self) -> float:
        """Purified water to top up with that stands there when animals come: up to the first batch, a day over. [l]."""
        return self.top_up_l_day * min(self.looks, self.days_a_batch + 1)

    @property
    def batch_topping_l(self) -> float:
        """Purified water to top up with that is made with each batch of salt water. [l]."""
        return self.top_up_l_day * self.days_a_batch

    @property
    def topping_left_l(self) -> float:
        """Purified water to top up with that is left in the end. [l]."""
        made = self.first_topping_l + self.mixings * self.batch_topping_l
        return max(made - self.looks * self.top_up_l_day, 0.0)

    @property
    def purified_l(self) -> float:
        """Purified water in it. [l]."""
        return self.batches * self.batch_purified_l

    @property
    def salt_kg(self) -> float:
        """Dry mix in it. [kg]."""
        return self.batches * self.batch_salt_kg


def upkeep_of(facts: SystemFacts, days: int, policy: Policy, making: WaterMaking) -> Upkeep:
    """Work out what a holding system uses up.

    Parameters
    ----------
    facts : SystemFacts
        The system whose animals wait, in the leg that brings them there.
    days : int
        From the day on which they come to the day on which they go. [day]
    policy : Policy
        Share of a weekly change, and of evaporation.
    making : WaterMaking
        Moisture of the dry mix.
    """
    groups = tuple((group.livestock, group.count) for group in facts.groups)
    litres = facts.volumes.total.likely
    holding = holding_of(facts.rebuilt, facts.volumes.total, groups, policy)
    looks, changes = max(days - 1, 1), max((days - LAST_DAYS) // 7, 0)
    change_l, daily_l = policy["holding_weekly_change"] * litres, holding.change * litres
    batches = math.ceil(looks / 7) if daily_l else changes
    days_a_batch = math.ceil(looks / batches) if daily_l else 7
    batch_l = daily_l * days_a_batch if daily_l else (change_l if changes else 0.0)
    purified, salt = mixed_of(facts.system, batch_l, making)
    return Upkeep(
        system=facts.system.id,
        name=facts.rebuilt.name,
        days=days,
        looks=looks,
        changes=changes,
        change_l=0.0 if daily_l else change_l,
        daily_l=daily_l,
        batches=batches,
        days_a_batch=days_a_batch,
        batch_l=batch_l,
        batch_purified_l=purified.likely,
        batch_salt_kg=salt.likely,
        top_up_l_day=policy["evaporation_daily"] * litres,
        feed_g=FED * facts.system.feed_g_per_day * days,
    )
