"""What to keep back: from the spread of the simulated cost, and the expected loss of the risk register."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from moveplan.cost.summary import CostSummary
from moveplan.risk.summary import RiskSummary


def with_reserve(summary: CostSummary, risk: RiskSummary) -> CostSummary:
    """Add to a bill what the risk says of it.

    The simulated cost is the bill with its paid hours and hire as they came out of each run, and with the cost of
    what went wrong in it. The reserve is its P80 less its mean, never below zero: where rare and dear mishaps
    put the mean above P80, the expected loss is what to keep back.

    Parameters
    ----------
    summary : CostSummary
        The bill. [-]
    risk : RiskSummary
        Register, and the spread of the cost where it was simulated. [-]

    Returns
    -------
    CostSummary
        With expected loss; with mean, P50, P80 and reserve where it was simulated. [-]
    """
    loss = sum((entry.expected_loss for entry in risk.register), Decimal("0.00"))
    if risk.cost is None:
        return replace(summary, expected_loss=loss)
    fixed = summary.total - risk.cost.planned
    mean, p50, p80 = (fixed + part for part in (risk.cost.mean, risk.cost.p50, risk.cost.p80))
    reserve = max(p80 - mean, Decimal("0.00"))
    return replace(summary, expected_loss=loss, mean=mean, p50=p50, p80=p80, reserve=reserve)
