"""Which animals travel in which containers: who shares, how many, and how long each group is safe."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace

from moveplan import units
from moveplan.errors import CannotBeDoneError, OutOfRangeError, Problem
from moveplan.quantities.boxes import Box, Surroundings
from moveplan.quantities.judging import judged
from moveplan.quantities.metabolism import NOTHING, Breathing, breathing
from moveplan.quantities.packing import Packing
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time import SafeTime
from moveplan.quantities.travellers import Means, Travellers
from moveplan.quantities.tubs import CORALS_KG, fill_l
from moveplan.science.livestock import endangers
from moveplan.science.transit import SafeTime as Verdict

BAG_WATER = 1 / 3
"""Share of a bag that is water; common practice (airline pages ask for the same). [-]"""
MOST_TUBS = 6
"""Most tubs for one company of animals; assumed. [-]"""
HELPED_BY_MORE = frozenset({"oxygen", "carbon-dioxide", "ammonia"})
"""Limits that fewer animals to a tub put off; cold and rules of caution come as soon in each of many tubs."""


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
    others = _without(groups, (*fish, *corals))
    bagged = _bagged(fish, loads, around, means, policy)
    left = tuple(group for group in fish if group.livestock.id not in bagged)
    water_l = fill_l(means.tub_l, heaviest_kg=means.lift_kg)
    companies = [
        *_fish_companies(left, loads, water_l, policy),
        *_companies(corals, loads, max(coral_tubs, 1), racked=True),
        *_companies(others, loads, 1),
    ]
    return {**bagged, **_tubbed(companies, around, means, policy)}


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


def _bagged(
    fish: tuple[Travellers, ...],
    loads: Mapping[str, Breathing],
    around: Surroundings,
    means: Means,
    policy: Policy,
) -> dict[str, Packing]:
    """Put groups into bags, one to an animal; left out where that does not last, or a bag is too small for one."""
    to_a_box = max(math.floor(means.box_l / means.bag_l), 1)
    plain = Box(BAG_WATER * means.bag_l, (1 - BAG_WATER) * means.bag_l, oxygen=means.oxygen, insulated=True)
    bags = [
        (replace(plain, neighbours=min(to_a_box, group.count)), loads[group.livestock.id].over(group.count))
        for group in fish
    ]
    packed: dict[str, Packing] = {}
    for group, found in zip(fish, _judged_bags(bags, around, policy), strict=True):
        if found is not None and found[0].safe_h >= around.needed_h:
            label = f"{group.count} × {units.show_volume(means.bag_l, means.units_system)} bag"
            packed[group.livestock.id] = Packing(
                "bag",
                group.count,
                label,
                plain.water_l,
                plain.gas_l,
                False,
                means.oxygen,
                False,
                False,
                (),
                found[1],
            )
    return packed


def _judged_bags(
    bags: list[tuple[Box, Breathing]], around: Surroundings, policy: Policy
) -> tuple[tuple[Verdict, SafeTime] | None, ...]:
    """Judge all bags at once; where one is out of range half of them at a time, to find out which."""
    try:
        return judged(tuple(bags), around, policy)
    except OutOfRangeError:
        if len(bags) == 1:
            return (None,)
    half = len(bags) // 2
    return (*_judged_bags(bags[:half], around, policy), *_judged_bags(bags[half:], around, policy))


@dataclass(frozen=True, slots=True)
class _Company:
    """Groups that share tubs.

    Parameters
    ----------
    groups : tuple of Travellers
        Who shares. [-]
    load : Breathing
        All of them. [-]
    count, most : int
        How many tubs are tried next, and at most. [-]
    racked : bool
        Whether they stand in the racked tubs of the corals. [-]
    """

    groups: tuple[Travellers, ...]
    load: Breathing
    count: int
    most: int
    racked: bool = False


def _fish_companies(
    fish: tuple[Travellers, ...], loads: Mapping[str, Breathing], water_l: float, policy: Policy
) -> list[_Company]:
    """Let peaceful fish share; the fewest tubs follow from the mass of fish to a litre."""
    sharing = _peaceful(fish)
    apart = [(group,) for group in _without(fish, sharing)]
    companies = []
    for groups in (*apart, *((sharing,) if sharing else ())):
        load = _together(groups, loads)
        count = max(1, math.ceil(load.biomass_g / (policy["loading_aerated_low"] * water_l) - 1e-9))
        animals = sum(group.count for group in groups)
        companies.append(_Company(groups, load, min(count, animals), min(animals, MOST_TUBS)))
    return companies


def _companies(
    groups: tuple[Travellers, ...], loads: Mapping[str, Breathing], count: int, *, racked: bool = False
) -> list[_Company]:
    """Let peaceful animals share some tubs; each of the others gets one."""
    sharing = _peaceful(groups)
    shared = [_Company(sharing, _together(sharing, loads), count, MOST_TUBS, racked)] if sharing else []
    apart = _without(groups, sharing)
    return [*shared, *(_Company((group,), loads[group.livestock.id], 1, 1) for group in apart)]


def _without(groups: tuple[Travellers, ...], some: tuple[Travellers, ...]) -> tuple[Travellers, ...]:
    ids = {group.livestock.id for group in some}
    return tuple(group for group in groups if group.livestock.id not in ids)


def _tubbed(
    companies: list[_Company], around: Surroundings, means: Means, policy: Policy
) -> dict[str, Packing]:
    """Take the fewest tubs that last from catching to release, or as many as make them last longer.

    One number of tubs of every company is judged at a time, for many at once cost little more than one.
    """
    packed: dict[str, Packing] = {}
    while companies:
        again = []
        for company, found in zip(companies, _judged_tubs(companies, around, means, policy), strict=True):
            box, safe = _first_that_lasts(found, around)
            helps = safe.limited_by in HELPED_BY_MORE and company.count < company.most
            if helps and safe.estimate.low < 60 * around.needed_h:
                again.append(replace(company, count=company.count + 1))
            else:
                packed |= _packings(company, box, safe, means)
        companies = again
    return packed


_Judged = tuple[Box, Verdict, SafeTime]
"""A box, its low end in detail, and its safe time."""


def _judged_tubs(
    companies: list[_Company], around: Surroundings, means: Means, policy: Policy
) -> list[tuple[_Judged, ...]]:
    """Judge a bare and a wrapped tub of each company; a value out of range is told with its animals."""
    tubs = tuple(
        (box, company.load.over(company.count)) for company in companies for box in _tubs(company, means)
    )
    try:
        found = judged(tubs, around, policy)
    except OutOfRangeError:
        if len(companies) == 1:
            with _told_of(companies[0].groups, means):
                raise
        half = len(companies) // 2
        parts = companies[:half], companies[half:]
        return [row for part in parts for row in _judged_tubs(part, around, means, policy)]
    both = [(box, *one) for (box, _), one in zip(tubs, found, strict=True)]
    return [tuple(both[row : row + 2]) for row in range(0, len(both), 2)]


def _tubs(company: _Company, means: Means) -> tuple[Box, Box]:
    """Fill a bare and a wrapped tub as far as they can be lifted; what corals and their rack weigh is water less."""
    water_l = fill_l(means.tub_l, CORALS_KG if company.racked else 0.0, means.lift_kg)
    bare = Box(water_l, means.tub_l - water_l, aerated=True, heated=True)
    return bare, replace(bare, wrapped=True)


def _first_that_lasts(found: tuple[_Judged, ...], around: Surroundings) -> tuple[Box, SafeTime]:
    """Take the plainest box that lasts from catching to release, or the one that lasts longest."""
    lasting = [one for one in found if one[1].safe_h >= around.needed_h]
    box, _, safe = lasting[0] if lasting else max(found, key=lambda one: one[1].safe_h)
    return box, safe


def _peaceful(groups: tuple[Travellers, ...]) -> tuple[Travellers, ...]:
    """Pick those that may share water: none travels apart by its kind, none endangers another."""
    calm = tuple(group for group in groups if not group.apart)
    prey = _smallest(calm)
    return tuple(group for group in calm if not any(_hunts(group, other) for other in prey if other != group))


def _smallest(groups: tuple[Travellers, ...]) -> tuple[Travellers, ...]:
    """Pick the two smallest of each kind: who endangers any of a kind endangers these, one of which is another."""
    of_kind: dict[str, list[Travellers]] = {}
    for group in sorted(groups, key=lambda group: group.livestock.size_cm):
        of_kind.setdefault(group.kind.id, []).append(group)
    return tuple(group for alike in of_kind.values() for group in alike[:2])


def _hunts(hunter: Travellers, other: Travellers) -> bool:
    return endangers(hunter.kind, hunter.livestock.size_cm, other.kind, other.livestock.size_cm)


def _together(company: tuple[Travellers, ...], loads: Mapping[str, Breathing]) -> Breathing:
    total = NOTHING
    for group in company:
        total = total.plus(loads[group.livestock.id])
    return total


def _packings(company: _Company, box: Box, safe: SafeTime, means: Means) -> dict[str, Packing]:
    tub = f"{units.show_volume(means.tub_l, means.units_system)} {'wrapped ' * box.wrapped}aerated tub"
    ids = tuple(group.livestock.id for group in company.groups)
    return {
        own: Packing(
            gear="tub",
            count=company.count,
            label=f"{company.count} × {tub}",
            water_l=box.water_l,
            gas_l=box.gas_l,
            aerated=True,
            oxygen=False,
            wrapped=box.wrapped,
            racked=company.racked,
            shares_with=tuple(one for one in ids if one != own),
            safe=safe,
        )
        for own in ids
    }
