"""Which animals travel in which containers: who shares, how many, and how long each group is safe."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace

from moveplan import units
from moveplan.errors import CannotBeDoneError, OutOfRangeError, Problem
from moveplan.plan.livestock import Livestock
from moveplan.plan.move import Plan
from moveplan.quantities.boxes import Box, Surroundings, safe_time_of, verdicts
from moveplan.quantities.metabolism import NOTHING, Breathing, breathing
from moveplan.quantities.packing import Packing
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time import SafeTime
from moveplan.quantities.tubs import fill_l
from moveplan.science.livestock import ContainerRule, Kind, endangers

BAG_L = 12.0
"""Full volume of a fish bag where the plan names none; assumed. [l]"""
BOX_L = 40.0
"""Volume of an insulated box where the plan names none; assumed. [l]"""
BAG_WATER = 1 / 3
"""Share of a bag that is water; common practice (airline pages ask for the same). [-]"""
MOST_TUBS = 6
"""Most tubs for one company of animals; assumed. [-]"""
APART = (ContainerRule.ALONE, ContainerRule.TOXIN)
"""Kinds that get containers of their own."""


@dataclass(frozen=True, slots=True)
class Travellers:
    """One group that travels.

    Parameters
    ----------
    livestock : Livestock
        What the keeper said. [-]
    kind : Kind
        What is known of it. [-]
    count : int
        How many travel. [-]
    """

    livestock: Livestock
    kind: Kind
    count: int

    @property
    def apart(self) -> bool:
        """Whether it shares its containers with nobody."""
        fighter = self.kind.group == "fish" and self.livestock.temperament in ("territorial", "predator")
        return fighter or any(rule in self.kind.container for rule in APART)


@dataclass(frozen=True, slots=True)
class Means:
    """Containers that the plan has.

    Parameters
    ----------
    tub_l, bag_l, box_l : float
        Full volume of a tub, a bag and an insulated box. [l]
    oxygen : bool
        Whether there is pure oxygen. [-]
    units_system : str
        ``metric`` or ``us``, for labels. [-]
    where : callable
        Line of the plan file of a key, for messages. [-]
    """

    tub_l: float
    bag_l: float
    box_l: float
    oxygen: bool
    units_system: str
    where: Callable[[str], str] = str


def means_of(plan: Plan, tub_l: float) -> Means:
    """Read the containers of a plan."""

    def volume(kind: str, default: float) -> float:
        return max(
            (item.volume_l for item in plan.gear if item.kind == kind and item.volume_l > 0), default=default
        )

    def there(kind: str) -> bool:
        return any(item.kind == kind and item.count > 0 for item in plan.gear)

    return Means(tub_l, volume("bag", BAG_L), volume("box", BOX_L), there("oxygen"), plan.units, plan.where)


def pack(
    groups: tuple[Travellers, ...],
    coral_groups: tuple[str, ...],
    coral_tubs: int,
    around: Surroundings,
    means: Means,
    policy: Policy,
) -> Mapping[str, Packing]:
    """Choose containers for every group of a system.

    Fish go by themselves in bags in insulated boxes where that lasts from catching to release, otherwise in aerated
    tubs, heated in the rooms; peaceful ones may share a tub. Corals share racked tubs, other invertebrates one
    aerated tub; what fights or is toxic travels apart.

    Parameters
    ----------
    groups : tuple of Travellers
        Who travels. [-]
    coral_groups : tuple of str
        Trade groups that travel racked in coral tubs. [-]
    coral_tubs : int
        How many coral tubs there are. [-]
    around : Surroundings
        What containers stand in. [-]
    means : Means
        What there is. [-]
    policy : Policy
        Limits. [-]

    Returns
    -------
    Mapping of str to Packing
        By id of the group. [-]
    """
    loads = {group.livestock.id: _breathing(group, around, means, policy) for group in groups}
    fish = tuple(group for group in groups if group.kind.group == "fish")
    corals = tuple(group for group in groups if group.kind.group in coral_groups)
    others = tuple(group for group in groups if group not in fish and group not in corals)
    return {
        **_pack_fish(fish, loads, around, means, policy),
        **_pack_shared(corals, loads, around, means, policy, max(coral_tubs, 1)),
        **_pack_shared(others, loads, around, means, policy, 1),
    }


@contextmanager
def _told_of(company: tuple[Travellers, ...], means: Means) -> Iterator[None]:
    """Tell a value outside a formula's range with the animals and the line that it comes from."""
    try:
        yield
    except OutOfRangeError as error:
        names = ", ".join(group.livestock.name for group in company)
        message = (
            f"{names}: {error.argument.replace('_', ' ')} comes out as {float(str(error.value)):.0f}, outside "
            f"{error.low:g} to {error.high:g} in which anything is known ({error.source})"
        )
        remedy = (
            "correct size or count, name larger tubs under gear, or let the animals travel with a specialist"
        )
        problem = Problem(message, means.where(f"livestock.{company[0].livestock.id}"), remedy)
        raise CannotBeDoneError((problem,)) from error


def _breathing(group: Travellers, around: Surroundings, means: Means, policy: Policy) -> Breathing:
    with _told_of((group,), means):
        return breathing(group.livestock, group.kind, group.count, around.temperature_c, policy)


def _pack_fish(
    fish: tuple[Travellers, ...],
    loads: Mapping[str, Breathing],
    around: Surroundings,
    means: Means,
    policy: Policy,
) -> dict[str, Packing]:
    chosen: dict[str, Packing] = {}
    left: list[Travellers] = []
    for group in fish:
        bagged = _bagged(group, loads[group.livestock.id], around, means, policy)
        if bagged:
            chosen[group.livestock.id] = bagged
        else:
            left.append(group)
    sharing = _peaceful(tuple(left))
    apart = [(group,) for group in left if group not in sharing]
    for company in (*apart, *((sharing,) if sharing else ())):
        chosen |= _tubbed(company, loads, around, means, policy)
    return chosen


def _bagged(
    group: Travellers, load: Breathing, around: Surroundings, means: Means, policy: Policy
) -> Packing | None:
    """Put a group into bags, one to an animal; None where that does not last, or a bag is too small for one."""
    to_a_box = max(math.floor(means.box_l / means.bag_l), 1)
    box = Box(
        BAG_WATER * means.bag_l,
        (1 - BAG_WATER) * means.bag_l,
        oxygen=means.oxygen,
        insulated=True,
        neighbours=min(to_a_box, group.count),
    )
    one = load.over(group.count)
    try:
        ((low, _, _),) = verdicts(((box, one),), around, policy)
    except OutOfRangeError:
        return None
    if low.safe_h < around.needed_h:
        return None
    safe = safe_time_of(box, one, around, policy)
    label = f"{group.count} × {units.show_volume(means.bag_l, means.units_system)} bag"
    return Packing("bag", group.count, label, box.water_l, box.gas_l, False, means.oxygen, False, (), safe)


def _tubbed(
    company: tuple[Travellers, ...],
    loads: Mapping[str, Breathing],
    around: Surroundings,
    means: Means,
    policy: Policy,
) -> dict[str, Packing]:
    load = _together(company, loads)
    water_l = fill_l(means.tub_l)
    count = max(1, math.ceil(load.biomass_g / (policy["loading_aerated_low"] * water_l) - 1e-9))
    most = sum(group.count for group in company)
    return _until_it_lasts(
        company, load, (min(count, most), min(most, MOST_TUBS)), water_l, around, means, policy
    )


def _until_it_lasts(
    company: tuple[Travellers, ...],
    load: Breathing,
    counts: tuple[int, int],
    water_l: float,
    around: Surroundings,
    means: Means,
    policy: Policy,
) -> dict[str, Packing]:
    """Take the fewest tubs that last from catching to release, or the most that are reasonable."""
    least, most = counts
    for count in range(least, max(most, least) + 1):
        packed = _in_tubs(company, load, count, water_l, around, means, policy)
        if all(one.safe.estimate.low >= 60 * around.needed_h for one in packed.values()):
            break
    return packed


def _first_that_lasts(
    boxes: tuple[Box, ...], load: Breathing, around: Surroundings, policy: Policy
) -> tuple[Box, SafeTime]:
    """Take the plainest box that lasts from catching to release, or the one that lasts longest."""
    low_h = [own[0].safe_h for own in verdicts(tuple((box, load) for box in boxes), around, policy)]
    lasting = [box for box, hours in zip(boxes, low_h, strict=True) if hours >= around.needed_h]
    box = lasting[0] if lasting else boxes[low_h.index(max(low_h))]
    return box, safe_time_of(box, load, around, policy)


def _pack_shared(
    groups: tuple[Travellers, ...],
    loads: Mapping[str, Breathing],
    around: Surroundings,
    means: Means,
    policy: Policy,
    count: int,
) -> dict[str, Packing]:
    sharing = _peaceful(groups)
    packed: dict[str, Packing] = {}
    water_l = fill_l(means.tub_l)
    if sharing:
        counts = (count, max(count, MOST_TUBS))
        packed |= _until_it_lasts(sharing, _together(sharing, loads), counts, water_l, around, means, policy)
    for group in groups:
        if group not in sharing:
            packed |= _in_tubs((group,), loads[group.livestock.id], 1, water_l, around, means, policy)
    return packed


def _peaceful(groups: tuple[Travellers, ...]) -> tuple[Travellers, ...]:
    """Pick those that may share water: none travels apart by its kind, none endangers another."""
    calm = tuple(group for group in groups if not group.apart)
    return tuple(group for group in calm if not any(_hunts(group, other) for other in calm if other != group))


def _hunts(hunter: Travellers, other: Travellers) -> bool:
    return endangers(hunter.kind, hunter.livestock.size_cm, other.kind, other.livestock.size_cm)


def _together(company: tuple[Travellers, ...], loads: Mapping[str, Breathing]) -> Breathing:
    total = NOTHING
    for group in company:
        total = total.plus(loads[group.livestock.id])
    return total


def _in_tubs(
    company: tuple[Travellers, ...],
    load: Breathing,
    count: int,
    water_l: float,
    around: Surroundings,
    means: Means,
    policy: Policy,
) -> dict[str, Packing]:
    bare = Box(water_l, means.tub_l - water_l, aerated=True, heated=True)
    with _told_of(company, means):
        box, safe = _first_that_lasts((bare, replace(bare, wrapped=True)), load.over(count), around, policy)
    label = f"{count} × {units.show_volume(means.tub_l, means.units_system)} {'wrapped ' * box.wrapped}aerated tub"
    ids = tuple(group.livestock.id for group in company)
    return {
        own: Packing(
            gear="tub",
            count=count,
            label=label,
            water_l=water_l,
            gas_l=box.gas_l,
            aerated=True,
            oxygen=False,
            wrapped=box.wrapped,
            shares_with=tuple(one for one in ids if one != own),
            safe=safe,
        )
        for own in ids
    }
