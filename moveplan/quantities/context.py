"""What the reckoning of every system of a leg needs: who lifts, what there is, how far it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.estimate import Estimate
from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.quantities.containers.journeys import Measured
from moveplan.quantities.containers.means import Means, means_of
from moveplan.quantities.containers.stock import Stock
from moveplan.quantities.course import Leg, Shift
from moveplan.quantities.durations import Handled, fillers, rebuild, teardown
from moveplan.quantities.freight.road import drive_of
from moveplan.quantities.handling import Handling
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Surroundings, surroundings_of
from moveplan.quantities.safe_time.verdicts import Judge, judge_of
from moveplan.quantities.water.pouring import water_flow


@dataclass(frozen=True, slots=True)
class Context:
    """What every system's reckoning needs: the leg, the people, the containers, and how long animals are in them."""

    plan: Plan
    leg: Leg
    policy: Policy
    handling: Handling
    old: Place
    new: Place
    drive: Estimate
    carriers: int
    carers: int
    means: Means
    stock: Stock
    measured: Measured
    judge: Judge


def context_of(plan: Plan, leg: Leg, measured: Measured) -> Context:
    """Gather what the reckoning of one leg needs; what is chosen is taken from its stock.

    Parameters
    ----------
    plan : Plan
        With what stands in the plan file.
    leg : Leg
        What goes over.
    measured : Mapping of str to Journeys
        How long each group is in containers, by its id, as far as tasks are known.
    """
    old, new = plan.place(leg.origin), plan.place(leg.destination)
    policy, handling, means = Policy(plan.policy), Handling(plan.policy), means_of(plan)
    carried = [handling.carry(0, 1, place, 2).likely for place in (old, new)] if leg.drives else [1.0]
    return Context(
        plan,
        leg,
        policy,
        handling,
        old,
        new,
        drive_of(plan, old.id, new.id, policy),
        max(plan.lifters, 1),
        max(min(sum(person.cares for person in plan.people), 2), 1),
        means,
        Stock(means, sum(carried), filled={group: told for group, at, told in plan.filled if at == old.name}),
        measured,
        judge_of(policy),
    )


def times_of(context: Context, what: Handled) -> Mapping[str, Estimate]:
    """Give the durations of the work on a system, by name.

    Parameters
    ----------
    context : Context
        Who works, and where.
    """
    gear, litres, policy = context.plan.gear, what.volumes.total.likely, context.policy
    carriers, flow = context.carriers, water_flow(gear, litres, policy)
    filling = water_flow(gear, litres, policy, fillers(what.poured, carriers))
    times = teardown(what, context.handling, flow, carriers, context.carers) | rebuild(
        what, context.handling, filling, carriers, context.carers, context.new, policy
    )
    if what.system.old_sand == "keep" or what.rebuilt.sand_kg == 0:
        times.pop("sand-rinse")
    return times


def surroundings_in(context: Context, shift: Shift) -> Surroundings:
    """Read what containers of a system stand in.

    Parameters
    ----------
    shift : Shift
        The system, as it stands now.
    """
    places = (context.old, context.new)
    return surroundings_of(context.plan, places, shift.before, context.means.battery_h)
