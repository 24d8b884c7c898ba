"""What animals cost while they wait elsewhere: boarding by the day, food, salt and water of a holding system."""

from __future__ import annotations

from decimal import Decimal

from moveplan.cost.bill import Bill, exact
from moveplan.cost.book import given, tariff
from moveplan.estimate import Provenance
from moveplan.plan.livestock import Livestock
from moveplan.practice.project import Project
from moveplan.quantities.keeping.upkeep import Upkeep
from moveplan.quantities.safe_time.metabolism import mass_g
from moveplan.scheduling.schedule import Schedule
from moveplan.times import to_local


def add_upkeep(bill: Bill, project: Project) -> None:
    """Add what holding systems use up: salt of their changes, and food.

    Parameters
    ----------
    project : Project
        Its holding systems.
    """
    for one in project.upkeep:
        _add_changes(bill, one)
        food = tariff(bill.plan, "food")
        grams = exact(one.feed_g / 1000, 3)
        bill.add(f"food-{one.system}", "animals", grams, food, "holding-food", system=one.name, days=one.days)


def _add_changes(bill: Bill, one: Upkeep) -> None:
    litres, salt = exact(one.batch_l, 1), exact(one.salt_kg, 1)
    words = {"system": one.name, "batches": one.batches, "days": one.days, "litres": litres}
    bill.add(f"salt-{one.system}", "water", salt, tariff(bill.plan, "salt"), "holding-salt", **words)


def boarded_days(project: Project, schedule: Schedule, boarding: str) -> int:
    """Days from the one on which animals are brought to a boarding place until the one on which they are fetched.

    Parameters
    ----------
    boarding : str
        Id of the boarding place.

    Returns
    -------
    int
        At least 1; 0 where the schedule does not say. [day]
    """
    zone, stands = project.plan.zone, {one.task: one for one in schedule.placements}
    out, back = (
        stands.get(f"{way}-{boarding}") or stands.get(f"{way}-{boarding}-in")
        for way in ("board-out", "board-back")
    )
    if out is None or back is None:
        return 0
    return max((to_local(back.finish, zone).date() - to_local(out.start, zone).date()).days, 1)


def add_boarding(bill: Bill, project: Project, schedule: Schedule) -> None:
    """Add boarding by the day, and the food, where animals wait elsewhere.

    Parameters
    ----------
    project : Project
        Its boarding places and animals.
    schedule : Schedule
        When they are brought and fetched.
    """
    for boarding in project.plan.boarding:
        groups = [group for group in project.plan.livestock if group.boarded == boarding.id]
        days = boarded_days(project, schedule, boarding.id)
        if not groups or not days:
            continue
        unsaid = project.plan.provenance(f"boarding.{boarding.id}.cost") is Provenance.ASSUMED
        price = tariff(bill.plan, "boarding-day") if unsaid else given(boarding.cost_per_day, "day")
        bill.add(
            f"boarding-{boarding.id}",
            "animals",
            Decimal(days),
            price,
            "boarding",
            boarding=boarding.name,
            days=days,
            animals=", ".join(group.name for group in groups),
        )
        _add_food(bill, groups, boarding.id, boarding.name, days)


def _add_food(bill: Bill, groups: list[Livestock], boarding: str, name: str, days: int) -> None:
    plan = bill.plan
    systems = list(dict.fromkeys(group.system for group in groups))
    grams = sum(
        plan.system(system).feed_g_per_day
        * _fish_g([one for one in groups if one.system == system])
        / max(_fish_g([one for one in plan.livestock if one.system == system]), 1e-9)
        for system in systems
    )
    bill.add(
        f"food-{boarding}",
        "animals",
        exact(grams * days / 1000, 3),
        tariff(plan, "food"),
        "boarding-food",
        boarding=name,
        systems=", ".join(plan.system(system).name for system in systems),
        days=days,
    )


def _fish_g(groups: list[Livestock]) -> float:
    fish = [one for one in groups if one.traits.group == "fish" and not one.wished]
    return sum(mass_g(one, one.traits).likely * one.count for one in fish)
