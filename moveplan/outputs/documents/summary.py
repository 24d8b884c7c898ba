"""``summary.md``: what, when, how sure, at what cost and by which dates, on two pages."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from moveplan.cost.summary import CostSummary
from moveplan.estimate import Provenance
from moveplan.outputs.agenda import Opening, agenda
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.papers.decisions import by_date, decisions_of
from moveplan.outputs.wording.documents import render
from moveplan.risk.register.ranked import best_offers
from moveplan.risk.summary import Percentiles

GREATEST = 5
"""So many risks are shown; the page has all of them. [-]"""
MOST_DECISIONS = 7
"""Most decisions on the page; the list by date has all. Chosen. [-]"""
MOST_FINDINGS = 1
"""Most findings in full; the rest is counted. Chosen. [-]"""
MEASURES = 3
"""Most measures offered. Chosen. [-]"""
TIGHTEST = 3
"""Most stretches with little room that are listed. Chosen. [-]"""


@dataclass(frozen=True, slots=True)
class Group:
    """Some lines of the bill together.

    Parameters
    ----------
    id : str
        What they are summed under.
    names : tuple of str
        Of its lines, the dearest first.
    amount, given : Decimal
        Sum of them, and the part of it whose prices the keeper gave.
    """

    id: str
    names: tuple[str, ...]
    amount: Decimal
    given: Decimal


@dataclass(frozen=True, slots=True)
class Sureness:
    """When something happens.

    Parameters
    ----------
    name : str
        Of the milestone, or ``finish``.
    planned : int
        UTC. [min]
    found : Percentiles or None
        Over the runs; None where nothing was simulated. [min]
    """

    name: str
    planned: int
    found: Percentiles | None


def summary_md(outlook: Outlook) -> str:
    """Write the summary; where the plan cannot be followed the reasons come first."""
    lines = agenda(outlook)
    found = decisions_of(outlook, lines)
    openings = tightest(lines.openings)
    return render(
        outlook,
        "markdown",
        "summary.md.j2",
        {
            "cost_rows": groups(outlook.cost),
            "sureness": tuple(_sureness(outlook)),
            "decisions": by_date(found[:MOST_DECISIONS]),
            "begins": bool(outlook.risk and outlook.risk.runs)
            and any(one.latest is not None for one in found[:MOST_DECISIONS]),
            "more_decisions": max(len(found) - MOST_DECISIONS, 0),
            "too_late": any(one.planned_too_late for one in found),
            "tightest": openings[:TIGHTEST],
            "roomier": max(len(openings) - TIGHTEST, 0),
            "over_limit": dict(outlook.risk.over_limit) if outlook.risk and outlook.risk.runs else {},
            "greatest": outlook.risk.register[:GREATEST] if outlook.risk else (),
            "offered": best_offers(outlook.project, outlook.risk.register, MEASURES) if outlook.risk else (),
            "findings": outlook.project.findings[:MOST_FINDINGS],
            "more_findings": max(len(outlook.project.findings) - MOST_FINDINGS, 0),
        },
    )


def cost_groups(cost: CostSummary | None) -> tuple[tuple[str, Decimal], ...]:
    """Sum the bill by group, in the order in which the groups first appear.

    Parameters
    ----------
    cost : CostSummary or None
        The bill; None where it was not computed.
    """
    return tuple((group.id, group.amount) for group in groups(cost))


def groups(cost: CostSummary | None) -> tuple[Group, ...]:
    """Gather the bill by group, in the order in which the groups first appear.

    Parameters
    ----------
    cost : CostSummary or None
        The bill; None where it was not computed.
    """
    lines = cost.lines if cost else ()
    order = list(dict.fromkeys(line.group for line in lines))
    ordered = sorted(lines, key=lambda line: (order.index(line.group), -abs(line.amount)))
    found = ((name, tuple(rows)) for name, rows in groupby(ordered, key=lambda line: line.group))
    return tuple(
        Group(
            name,
            tuple(row.name for row in rows),
            sum((row.amount for row in rows), Decimal(0)),
            sum((row.amount for row in rows if row.provenance is Provenance.GIVEN), Decimal(0)),
        )
        for name, rows in found
    )


def tightest(openings: tuple[Opening, ...]) -> tuple[Opening, ...]:
    """Take of each group of animals the stay with the least margin, the least first.

    Parameters
    ----------
    openings : tuple of Opening
        Every stay of every group.
    """
    ordered = sorted(openings, key=lambda one: (one.stay.margin_min, -one.stay.span.minutes))
    first: dict[str, Opening] = {}
    for one in ordered:
        first.setdefault(one.dated.route.livestock, one)
    return tuple(first.values())


def _sureness(outlook: Outlook) -> Iterator[Sureness]:
    risk = outlook.risk
    found = {"ready": risk.ready, "settled": risk.settled, "finish": risk.finish} if risk else {}
    for name, moment in outlook.planned().items():
        yield Sureness(name, moment, found.get(name))
