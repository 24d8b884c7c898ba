"""What to keep ready: the bill, and what the simulated cost adds to it in the share of runs that the plan asks for."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from moveplan.cost.summary import CostSummary
from moveplan.risk.summary import RiskSummary


def with_reserve(summary: CostSummary, risk: RiskSummary) -> CostSummary:
    """Add to a bill what the risk says of it.

    The simulated cost is the bill with its paid hours and hire as they came out of each run, and with the cost of
    what went wrong in it. What is promised is enough in the share of the runs that the plan asks for; the reserve
    brings the bill up to it. The expected loss of the register is told apart.

    Parameters
    ----------
    risk : RiskSummary
        Register, and the spread of the cost where it was simulated.

    Returns
    -------
    CostSummary
        With expected loss; with mean, P50, P80, promise and reserve where it was simulated.
    """
    loss = sum((entry.expected_loss for entry in risk.register), Decimal("0.00"))
    if risk.cost is None:
        return replace(summary, expected_loss=loss)
    fixed = summary.total - risk.cost.planned
    mean, p50, p80 = (fixed + part for part in (risk.cost.mean, risk.cost.p50, risk.cost.p80))
    promised = max(fixed + risk.cost.promised, summary.total)
    return replace(
        summary,
        expected_loss=loss,
        mean=mean,
        p50=p50,
        p80=p80,
        promised=promised,
        reserve=promised - summary.total,
    )


def with_bill(summary: CostSummary, bill: CostSummary) -> CostSummary:
    """Put another bill in the place of the one that was simulated; what is to be kept ready stays.

    Parameters
    ----------
    summary : CostSummary
        With what was simulated.
    bill : CostSummary
        The lines of the same work at other planned durations.
    """
    promised = None if summary.promised is None else max(summary.promised, bill.total)
    reserve = None if promised is None else promised - bill.total
    return replace(summary, lines=bill.lines, total=bill.total, promised=promised, reserve=reserve)
