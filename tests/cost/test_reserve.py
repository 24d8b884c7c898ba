"""Reserve and expected loss."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from moveplan.cost.lines import cost_of
from moveplan.cost.reserve import with_reserve
from moveplan.cost.summary import CostSummary
from moveplan.estimate import Provenance
from moveplan.plan.supplies import Price
from moveplan.risk.assess import risk_summary
from moveplan.risk.summary import CostSpread, RegisterEntry, RiskSummary
from tests.outputs.scene import moving_day

BILL = CostSummary("EUR", (), Decimal("500.00"))
SCENE = moving_day()


def entry(probability: float, cost: str) -> RegisterEntry:
    return RegisterEntry("one", "e", "t", probability, Decimal(cost), 0, "r", "", Provenance.GIVEN)


def test_expected_loss_is_the_sum_over_the_register() -> None:
    found = with_reserve(BILL, RiskSummary(0, 1, (entry(0.1, "800"), entry(0.05, "3000"))))
    assert found.expected_loss == Decimal("230.00")
    assert found.reserve is None
    assert found.total == BILL.total


def spread(*amounts: str) -> CostSpread:
    return CostSpread(*map(Decimal, amounts))


def test_the_reserve_brings_the_bill_to_what_is_promised() -> None:
    """Planned pay of 120 is in the bill; the rest of the bill is the same in every run."""
    cost = spread("120.00", "150.00", "140.00", "210.00", "230.00")
    found = with_reserve(BILL, RiskSummary(10, 1, (), cost=cost))
    assert found.promised == BILL.total - Decimal(120) + Decimal(230)
    assert found.reserve == found.promised - BILL.total


def test_no_less_than_the_bill_is_promised() -> None:
    cost = spread("60.00", "50.00", "0.00", "10.00", "10.00")
    found = with_reserve(BILL, RiskSummary(10, 1, (), cost=cost))
    assert (found.promised, found.reserve) == (BILL.total, Decimal("0.00"))


def test_a_deposit_is_kept_ready_until_it_comes_back() -> None:
    """150 are paid beforehand and come back afterwards: the bill knows nothing of them, the purse does."""
    scene = replace(SCENE.project.plan, prices=(Price("deposit-keys", Decimal(150), "item"),))
    plain = cost_of(SCENE.project, SCENE.schedule)
    paid = cost_of(
        replace(SCENE.project, plan=replace(scene, prices=(*SCENE.project.plan.prices, *scene.prices))),
        SCENE.schedule,
    )
    risk = RiskSummary(10, 1, (), cost=spread("0.00", "50.00", "40.00", "60.00", "80.00"))
    before, after = with_reserve(plain, risk), with_reserve(paid, risk)
    assert before.ready is not None
    assert after.total == before.total
    assert after.promised == before.promised
    assert after.ready == before.ready + Decimal(150)
    assert paid.ready is None


def test_a_simulated_project_gets_all_of_it() -> None:
    risk = risk_summary(SCENE.project, SCENE.schedule, runs=2000)
    found = with_reserve(BILL, risk)
    assert found.mean is not None
    assert found.p50 is not None
    assert found.p80 is not None
    assert found.p50 <= found.p80
    assert found.expected_loss == sum(one.expected_loss for one in risk.register)
