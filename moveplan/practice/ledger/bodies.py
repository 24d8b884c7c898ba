"""The tanks of a move as bodies of water: what runs in the beginning, what runs in the end."""

from __future__ import annotations

from moveplan.practice.ledger.entries import Body
from moveplan.quantities.facts import Facts, SystemFacts
from moveplan.quantities.water.old_water import drawable_l
from moveplan.quantities.water.volumes import brim_l


def bodies_of(legs: tuple[Facts, ...]) -> tuple[Body, ...]:
    """List the bodies of water that the legs of a move empty and fill.

    Parameters
    ----------
    legs : tuple of Facts
        In order of time.
    """
    found: dict[str, Body] = {}
    for facts in legs:
        for one in facts.systems:
            _note(found, facts, one)
    return tuple(found.values())


def _note(found: dict[str, Body], facts: Facts, one: SystemFacts) -> None:
    """Note where a system comes from and where it goes to; who is emptied and filled again is both."""
    source, target = (account.partition(":")[2] for account in (one.shift.out_of, one.shift.into))
    if not facts.leg.empty and source not in found:
        there_l = one.old.there_l
        found[source] = Body(
            source, one.system.name, there_l, drawable_l(one.system, there_l), facts.old.id, "old", full=True
        )
    if facts.leg.gives_away:
        return
    litres, before = one.volumes.total.likely, found.get(target)
    role = "both" if before else ("holding" if facts.leg.waits else "new")
    full = before.full if before else False
    there_l = before.litres if before else litres
    found[target] = Body(
        target,
        one.rebuilt.name,
        litres,
        before.drawable_l if before else drawable_l(one.rebuilt, there_l),
        facts.new.id,
        role,
        full,
        brim_l(one.rebuilt),
    )
