"""How animals are to be touched: what may not be lifted into air, and what hurts a hand."""

from __future__ import annotations

from collections.abc import Iterable

from moveplan.quantities.facts import GroupFacts
from moveplan.quantities.trade_groups import CORALS, FISH
from moveplan.science.animals.livestock import ContainerRule

_HURTS = (ContainerRule.STINGS, ContainerRule.TOXIN)


def under_water(groups: Iterable[GroupFacts]) -> list[str]:
    """Name those who bear no air, and so are lifted under water."""
    return [group.livestock.name for group in groups if ContainerRule.NO_AIR in group.kind.container]


def hard_to_catch(groups: Iterable[GroupFacts]) -> list[str]:
    """Name the fish that are hard to catch, for whom a trap is set."""
    return [group.livestock.name for group in groups if taken_out(group) == "empty-trap"]


def taken_out(group: GroupFacts) -> str:
    """Key of the task that takes a group out of its tank."""
    if group.kind.group in CORALS:
        return "corals-out"
    if group.kind.group not in FISH:
        return "invertebrates-out"
    return "empty-trap" if group.kind.catching == "hard" else "catch-fish"


def with_gloves(groups: Iterable[GroupFacts]) -> list[tuple[str, str]]:
    """Name those who cut, pierce, sting or poison, and what is known of them; corals have their own caution."""
    return [
        (group.livestock.name, group.kind.tolerance)
        for group in groups
        if group.kind.group not in CORALS
        and any(
            rule in group.kind.container
            for rule in (*_HURTS, *((ContainerRule.SPINES,) if group.kind.group in FISH else ()))
        )
    ]
