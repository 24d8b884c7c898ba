"""Things that are bought and thrown away: water, salt, containers, sand, a new tank."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from moveplan.cost.bill import Bill, exact
from moveplan.cost.book import Tariff, given, of_price, price_book, tariff
from moveplan.cost.words import price_words
from moveplan.estimate import Provenance
from moveplan.plan.systems import NewTank, System
from moveplan.practice.ledger.entries import TAP
from moveplan.practice.project import Project
from moveplan.quantities.leg.shares import Share

if TYPE_CHECKING:
    from moveplan.risk.summary import RegisterEntry

ONE = Decimal(1)
_WORD_OF = {Provenance.GIVEN: "given", Provenance.COMPUTED: "days"}
_LITRES_A_M3 = 1000
"""Litres of a cubic metre. [l/m³]"""


def add_water(bill: Bill, project: Project) -> None:
    """Add salt, purified water made or bought, and the power that warms it.

    Parameters
    ----------
    project : Project
        Its water and systems.
    """
    water, making = project.water, project.plan.water_making
    if water is None:
        return
    new, spare = exact(water.new.likely, 0), exact(water.spare.likely, 0)
    product = exact(project.purified_l, 0)
    bill.book("salt", exact(water.salt.likely, 1), new=new, spare=spare)
    bought, ready = (_fetched_l(project, task) for task in ("fetch-water", "fetch-salt"))
    bill.book("salt-water", ready, litres=ready)
    making = making if making is not None and making.rate_l_day > 0 else None
    bought = product if making is None else bought
    bill.book("purified-water", bought, product=bought)
    if making is not None and product > bought:
        own = product - bought
        waste = exact(float(own) * making.waste_ratio, 0)
        bill.book("tap-water", own + waste, product=own, waste=waste)
        bill.book("filter-wear", own, product=own)
    _add_warming(bill, project)


def _fetched_l(project: Project, task: str) -> Decimal:
    """Count what tasks of one kind fetch from a shop. [l]."""
    pours = project.ledger.pours
    return exact(sum(one.litres for one in pours if one.task.startswith(task) and one.source == TAP), 0)


def _add_warming(bill: Bill, project: Project) -> None:
    mixed = [one for one in project.mixings if one.energy_kwh > 0]
    if not mixed:
        return
    bill.book(
        "electricity",
        exact(sum(one.energy_kwh for one in mixed), 1),
        litres=exact(sum(one.litres for one in mixed), 0),
        start=f"{min(one.start_c[1] for one in mixed):.0f}",
        end=f"{max(one.target_c for one in mixed):g}",
        power=exact(max(one.heater_w for one in mixed), 0),
    )


def add_gear(bill: Bill, project: Project) -> None:
    """Add the gear that is needed and not there, and gear the plan lists as not yet owned."""
    reckoned = {kind for kind, _, _ in project.gear_needed}
    add_missing(bill, project.gear_needed)
    for item in project.plan.gear:
        if item.kind in reckoned or item.owned:
            continue
        price = given(item.price, "item") if item.price is not None else tariff(bill.plan, item.kind)
        group = price_book()[item.kind].group
        count = Decimal(item.count)
        bill.add(f"gear-{item.id}", group, count, price, "listed-gear", gear=item.name, needed=item.count)


def add_missing(bill: Bill, gear_needed: tuple[tuple[str, int, int], ...]) -> None:
    """Add the gear that is needed and not there.

    Parameters
    ----------
    gear_needed : tuple of (str, int, int)
        Kind of gear, how many are needed, how many there are.
    """
    for kind, needed, there in gear_needed:
        short = Decimal(max(needed - there, 0))
        price = _gear_price(bill, kind)
        bill.add(kind, price_book()[kind].group, short, price, kind, needed=needed, there=there)


def _gear_price(bill: Bill, kind: str) -> Tariff:
    prices = [item.price for item in bill.plan.gear if item.kind == kind and item.price is not None]
    return given(prices[0], "item") if prices else tariff(bill.plan, kind)


def add_consumables(bill: Bill, project: Project) -> None:
    """Add tests and small things, where animals travel."""
    if project.water is not None:
        for item in ("test-kits", "ammonia-binder", "small-things"):
            bill.book(item, ONE)
        aired = {(one.vessel.account, one.vessel.stones) for one in project.ledger.containers}
        bill.book("air-stones", Decimal(1 + sum(stones for _, stones in aired)))


def add_tanks(bill: Bill, project: Project) -> None:
    """Add new sand, new rock and new tanks, and the disposal of what they replace."""
    for system in project.plan.systems if project.water is not None else ():
        if system.role == "holding":
            continue
        sand = _new_sand_kg(system)
        bill.book("sand", exact(sand, 1), system.id, system=system.name)
        if system.new_tank is not None:
            _add_new_tank(bill, system, system.new_tank)
        if sand and system.old_sand == "replace":
            bill.book("disposal", exact(system.sand_kg, 1), system.id, system=system.name)


def _new_sand_kg(system: System) -> float:
    new = system.new_tank
    if system.old_sand == "replace":
        return new.sand_kg if new and new.sand_kg else system.sand_kg
    return max(new.sand_kg - system.sand_kg, 0.0) if new else 0.0


def _add_new_tank(bill: Bill, system: System, new: NewTank) -> None:
    bill.book("rock", exact(new.rock_kg, 1), system.id, system=system.name)
    line_id = f"new-tank-{system.id}"
    if new.price:
        price = given(Decimal(new.price), "item")
        bill.add(line_id, "tank", ONE, price, "new-tank-given", system=system.name)
        return
    tank = new.tank
    inside = (tank.length_m - 2 * tank.wall_m) * (tank.width_m - 2 * tank.wall_m)
    volume = exact(_LITRES_A_M3 * inside * (tank.height_m - tank.base_m), 0)
    bill.book("new-tank", volume, system.id, system=system.name, volume=volume)


def add_measures(bill: Bill, register: Sequence[RegisterEntry]) -> None:
    """Add what is bought beforehand against risks.

    Parameters
    ----------
    register : sequence of RegisterEntry
        With the measures that are taken.
    """
    for entry in register:
        for measure in entry.measures:
            if measure.taken and measure.cost:
                where = price_words(_WORD_OF.get(measure.provenance, "register"))
                price = Tariff(measure.cost, "item", measure.provenance, where)
                line_id = f"measure-{entry.id}-{measure.id}"
                bill.add(line_id, "precautions", ONE, price, "measure", what=measure.text, risk=entry.event)


def add_own(bill: Bill) -> None:
    """Add what the plan itself names: extras, deposits paid and paid back, things sold."""
    for price in bill.plan.prices:
        what = price.item.partition("-")[2].replace("-", " ")
        one = of_price(price)
        if price.item.startswith("extra-"):
            bill.add(price.item, "extras", ONE, one, "extra", what=what)
        elif price.item.startswith("deposit-"):
            bill.add(price.item, "deposits", ONE, one, "deposit-paid", what=what)
            bill.add(f"{price.item}-back", "deposits", -ONE, one, "deposit-back", what=what)
        elif price.item.startswith("resale-"):
            bill.add(price.item, "income", -ONE, one, "resale", what=what)


HOLDS_WATER = ("tub", "can")
"""Kinds of gear whose number follows from the water that is kept."""


def cost_of_share(project: Project, share: Share) -> Decimal:
    """Sum what hangs on the share of old water.

    Parameters
    ----------
    project : Project
        Its plan's prices come first.
    share : Share
        Its water, and the containers it takes.

    Returns
    -------
    Decimal
        In the plan's currency.
    """
    bill = Bill(project.plan)
    add_water(bill, replace(project, water=share.water))
    add_missing(bill, tuple(row for row in share.gear_needed if row[0] in HOLDS_WATER))
    return sum((line.amount for line in bill.lines), Decimal("0.00"))
