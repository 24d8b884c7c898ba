"""Water used before a new tank is filled for good: its leak test, and the salt water in which its rock cures."""

from __future__ import annotations

from moveplan.cost.bill import Bill, exact
from moveplan.cost.book import tariff
from moveplan.practice.ledger.entries import TAP
from moveplan.practice.project import Project

_LEAK_TEST = "fill-test-"


def add_ahead(bill: Bill, project: Project) -> None:
    """Add tap water of leak tests, and salt of curing rock, of the first change, of boarded animals and of the reserve.

    Parameters
    ----------
    project : Project
        Its ledger and its curing rock.
    """
    tested = sum(
        pour.litres
        for pour in project.ledger.pours
        if pour.task.startswith(_LEAK_TEST) and pour.source == TAP
    )
    if tested:
        litres = exact(tested, 0)
        bill.add(
            "tap-water-test", "water", litres, tariff(bill.plan, "tap-water"), "leak-test", litres=litres
        )
    (purified_l, salt_kg), (reserve_l, reserve_kg) = project.curing, project.reserve_salt
    salt = tariff(bill.plan, "salt")
    for line, kg, words, product_l in (
        ("salt-curing", salt_kg, "curing-salt", purified_l),
        ("salt-afresh", project.afresh_salt_kg, "afresh-salt", 0.0),
        ("salt-reserve", reserve_kg, "reserve-salt", reserve_l),
    ):
        if kg:
            bill.add(line, "water", exact(kg, 1), salt, words, product=exact(product_l, 0))
