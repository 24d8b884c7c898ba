"""Who travels, and who may share a container with whom."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.plan.livestock import Livestock
from moveplan.science.animals.livestock import ContainerRule, Kind, endangers

APART = (ContainerRule.ALONE, ContainerRule.TOXIN)
"""Kinds that get containers of their own."""
_SOFT = ("soft-coral",)
"""Corals whose slime harms stony ones in a small volume; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Travellers:
    """One group that travels.

    Parameters
    ----------
    livestock : Livestock
        What the keeper said.
    kind : Kind
        What is known of it.
    count : int
        How many travel.
    """

    livestock: Livestock
    kind: Kind
    count: int

    @property
    def apart(self) -> bool:
        """Whether it shares its containers with nobody."""
        fighter = self.kind.group == "fish" and self.livestock.temperament in ("territorial", "predator")
        return fighter or any(rule in self.kind.container for rule in APART)

    @property
    def may_be_bagged(self) -> bool:
        """Whether a bag holds it: nothing with spines, and no colony."""
        return self.kind.group == "fish" and ContainerRule.SPINES not in self.kind.container


Several = tuple[Travellers, ...]


def sharing(groups: Several) -> tuple[Several, ...]:
    """Sort groups into companies that share water.

    Peaceful ones are together, soft corals apart from stony ones; who fights, is toxic, or endangers another, and
    who is to have another kind of container, travels apart.

    Parameters
    ----------
    groups : tuple of Travellers
        Fish, or corals, or others.
    """
    calm = _peaceful(groups)
    rows: dict[tuple[bool, str], list[Travellers]] = {}
    for group in calm:
        rows.setdefault((group.kind.group in _SOFT, group.livestock.container), []).append(group)
    apart = [(group,) for group in without(groups, calm)]
    return (*apart, *(tuple(several) for several in rows.values()))


def without(groups: Several, some: Several) -> Several:
    """Leave some groups out."""
    ids = {group.livestock.id for group in some}
    return tuple(group for group in groups if group.livestock.id not in ids)


def _peaceful(groups: Several) -> Several:
    """Pick those that may share water: none travels apart by its kind, none endangers another."""
    calm = tuple(group for group in groups if not group.apart)
    prey = _smallest(calm)
    return tuple(group for group in calm if not any(_hunts(group, other) for other in prey if other != group))


def _smallest(groups: Several) -> Several:
    """Pick the two smallest of each kind: who endangers any of a kind endangers these, one of which is another."""
    of_kind: dict[str, list[Travellers]] = {}
    for group in sorted(groups, key=lambda group: group.livestock.size_cm):
        of_kind.setdefault(group.kind.id, []).append(group)
    return tuple(group for alike in of_kind.values() for group in alike[:2])


def _hunts(hunter: Travellers, other: Travellers) -> bool:
    return endangers(hunter.kind, hunter.livestock.size_cm, other.kind, other.livestock.size_cm)
