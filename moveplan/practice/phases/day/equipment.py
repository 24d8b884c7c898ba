"""The equipment check of a new tank: findings, and a task with its lead time."""

from __future__ import annotations

from moveplan.errors import Problem
from moveplan.network.task import Kind
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, hands, usual
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.keeping.equipment import Check, checks_of


def add_equipment(move: Draft, facts: SystemFacts) -> None:
    """Add the equipment check of a system that gets a new tank.

    Parameters
    ----------
    move : Draft
        In the leg in which the system reaches its new tank.
    """
    system = move.plan.system(facts.system.id)
    if system.new_tank is None:
        return
    move.phase("equipment")
    rows = checks_of(
        system, facts.rebuilt, facts.volumes.total.likely, facts.groups, move.facts.new, move.policy
    )
    short = tuple(row for row in rows if not row.ok)
    words: dict[str, object] = {
        "rows": [_row(move, row) for row in rows],
        "short": [_row(move, row) for row in short],
    }
    move.add(
        "check-equipment",
        usual(30, 60, 120, "labels, leaflets, a list"),
        system=facts,
        crew=hands(1),
        words=words,
    )
    move.link("agree-plan", facts.task("check-equipment"))
    if short:
        move.add(
            "order-equipment",
            usual(30, 60, 120, "offers and an order"),
            system=facts,
            crew=move.keeper(),
            words=words,
        )
        parcels = usual(5 * DAY, 10 * DAY, 28 * DAY, "equipment is often out of stock")
        move.add("wait-equipment", parcels, system=facts, kind=Kind.WAIT, words=words)
        move.chain(*map(facts.task, ("check-equipment", "order-equipment", "wait-equipment")))
    move.findings += [_finding(move, facts, row) for row in short]


def link_equipment(move: Draft, facts: SystemFacts) -> None:
    """Tie the ordered equipment to its mounting."""
    if not move.has(facts.task("wait-equipment")):
        return
    for mounting in ("start-ahead", "connect-equipment"):
        if move.has(facts.task(mounting)):
            move.link(facts.task("wait-equipment"), facts.task(mounting))
            return


def _shown(value: float) -> float:
    """Round as people say it: powers and flows to ten, small numbers to a tenth."""
    return round(value, -1 if value >= 100 else 1)


def _row(move: Draft, row: Check) -> str:
    return move.phrase(
        f"equipment-{row.id}",
        there=_shown(row.there),
        needed=_shown(row.needed),
        ok=row.ok,
        basis=row.basis,
    )


def _finding(move: Draft, facts: SystemFacts, row: Check) -> Problem:
    return Problem(
        f"{facts.rebuilt.name}: {_row(move, row).removesuffix('.')}",
        move.plan.where(f"systems.{facts.system.id}.new-tank.equipment"),
        "the plan has a task to look at it and order what is missing",
    )
