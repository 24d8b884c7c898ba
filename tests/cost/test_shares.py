"""What another share of old water costs: the lines of the bill that hang on it, and no others."""

from __future__ import annotations

from decimal import Decimal

from moveplan.cost.lines import cost_of
from moveplan.cost.materials import cost_of_share
from moveplan.scheduling.schedule import Engine, Schedule, Status
from tests.examples import project

NOTHING = Schedule(Status.UNKNOWN, Engine.SERIAL)
HANGING = {"salt", "tap-water", "filter-wear", "purified-water", "electricity", "tub", "can"}


def test_the_planned_share_costs_what_the_bill_says() -> None:
    found = project("house_move")
    (choice,) = found.water_choices
    (planned,) = (one for one in choice.shares if one.planned)
    lines = [line for line in cost_of(found, NOTHING).lines if line.item in HANGING]
    assert cost_of_share(found, planned) == sum((line.amount for line in lines), Decimal(0))


def test_less_old_water_costs_more_salt_and_water() -> None:
    found = project("service_firm_office_tank", "gear.tubs.count=80")
    (choice,) = found.water_choices
    costs = [cost_of_share(found, one) for one in choice.shares if one.share <= 0.5]
    assert costs == sorted(costs, reverse=True)
