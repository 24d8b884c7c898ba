"""Money adds up, whatever the quantities and prices."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.cost.bill import Bill
from moveplan.cost.book import given as priced
from moveplan.cost.lines import cost_of
from moveplan.cost.summary import CostSummary
from moveplan.plan.supplies import Price
from tests.outputs.scene import moving_day

SCENE = moving_day()
QUANTITIES = st.decimals(-10_000, 10_000, places=2, allow_nan=False)
PRICES = st.decimals(0, 10_000, places=4, allow_nan=False)


@settings(max_examples=100)
@given(st.lists(st.tuples(QUANTITIES, PRICES), max_size=20))
def test_every_amount_is_right_to_half_a_cent_and_the_total_is_exact(
    rows: list[tuple[Decimal, Decimal]],
) -> None:
    bill = Bill(SCENE.project.plan)
    for number, (quantity, price) in enumerate(rows):
        bill.add(f"extra-{number}", f"group-{number % 3}", quantity, priced(price, "item"), "extra", what="x")
    summary = CostSummary(
        "EUR", tuple(bill.lines), sum((line.amount for line in bill.lines), Decimal("0.00"))
    )
    assert len(bill.lines) == sum(quantity != 0 for quantity, _ in rows)
    for line in bill.lines:
        assert abs(Fraction(line.quantity) * Fraction(line.unit_price) - Fraction(line.amount)) <= Fraction(
            1, 200
        )
    assert sum(Fraction(line.amount) for line in bill.lines) == Fraction(summary.total)
    assert sum(Fraction(amount) for _, amount in summary.groups) == Fraction(summary.total)


@settings(max_examples=40)
@given(PRICES, PRICES)
def test_a_dearer_item_never_makes_the_bill_cheaper(one: Decimal, other: Decimal) -> None:
    cheap, dear = sorted((one, other))

    def total(price: Decimal) -> Decimal:
        plan = replace(SCENE.project.plan, prices=(Price("salt", price, "kg"),))
        return cost_of(replace(SCENE.project, plan=plan), SCENE.schedule).total

    assert total(cheap) <= total(dear)
