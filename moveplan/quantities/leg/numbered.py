"""The containers of a leg, numbered: animals, rock, media, old water and new, of one system after the other."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from moveplan.plan.move import Plan
from moveplan.quantities.containers.means import BAG_KG, BOX_KG, Means, Spec, boxes_for
from moveplan.quantities.containers.packing import Packing
from moveplan.quantities.containers.tubs import CORALS_KG, MEDIA_KG
from moveplan.quantities.containers.vessels import Held, Numbers, Use, Vessel, empty_kg, spread
from moveplan.quantities.facts import GroupFacts, SystemFacts
from moveplan.quantities.safe_time.gas_hours import CHANGED, OXYGEN_L_MIN
from moveplan.quantities.trade_groups import CORALS


def numbered(systems: tuple[SystemFacts, ...], plan: Plan, means: Means) -> tuple[SystemFacts, ...]:
    """Give every system of a leg its containers, each with its number.

    Parameters
    ----------
    systems : tuple of SystemFacts
        Without containers, or with those of another share of old water.
    plan : Plan
        Its gear, and the numbers that were told.
    """
    numbers = Numbers(plan.gear, plan.labels)
    return tuple(replace(facts, vessels=tuple(_of_system(facts, numbers, means))) for facts in systems)


def numbered_groups(
    groups: Mapping[str, Sequence[GroupFacts]], plan: Plan, means: Means
) -> tuple[Vessel, ...]:
    """Give groups of animals that travel by themselves their containers.

    Parameters
    ----------
    groups : mapping of str to sequence of GroupFacts
        Who travels, by id of the system that they come from.
    plan : Plan
        Its gear, and the numbers that were told.
    """
    numbers = Numbers(plan.gear, plan.labels)
    return tuple(
        vessel
        for system, several in groups.items()
        for vessel in _animals(tuple(several), system, numbers, means)
    )


def _of_system(facts: SystemFacts, numbers: Numbers, means: Means) -> Iterator[Vessel]:
    yield from _animals(facts.groups, facts.system.id, numbers, means)
    tubs, tub, own = facts.tubs, means.main("tub"), facts.system.id
    bare = empty_kg(tub.volume_l)
    for use, count, water_l, load_kg in (
        (Use.ROCK, tubs.rock, tubs.rock_l, tubs.rock_kg),
        (Use.MEDIA, tubs.media, tubs.media_l, MEDIA_KG),
        (Use.OLD_WATER, tubs.keep, tubs.keep_l, 0.0),
    ):
        for _ in range(count):
            yield _vessel(tub, use, own, numbers, water_l, bare + load_kg, (Held(use.value),))
    if facts.cans:
        can = means.main("can")
        yield from _cans(can, Use.NEW_WATER, own, numbers, facts.water.new.likely)
        yield from _cans(can, Use.SPARE_WATER, own, numbers, facts.spare_l)


def _cans(can: Spec, use: Use, system: str, numbers: Numbers, litres: float) -> Iterator[Vessel]:
    count = cans_for(can, litres)
    for _ in range(count):
        yield _vessel(can, use, system, numbers, litres / count, empty_kg(can.volume_l), (Held("new-water"),))


CAN_L = 14.0
"""Water in a lidded can, so that one person carries it over stairs: 16 kg at knuckle height; HSE L23, recalled. [l]"""


def cans_for(can: Spec, litres: float) -> int:
    """Count the cans for so much water."""
    return math.ceil(litres / min(CAN_L, can.volume_l) - 1e-9)


def _vessel(
    spec: Spec,
    use: Use,
    system: str,
    numbers: Numbers,
    water_l: float,
    dry_kg: float,
    holds: tuple[Held, ...],
    packing: Packing | None = None,
) -> Vessel:
    box = packing.box if packing else None
    vessel = Vessel(
        number="",
        kind=spec.kind,
        gear=spec.gear,
        use=use,
        system=system,
        volume_l=spec.volume_l,
        water_l=water_l,
        dry_kg=dry_kg,
        holds=holds,
        stones=box.stones if box else 0,
        wrapped=box.wrapped if box else False,
        heater_w=box.heater_w if box else 0.0,
        changed_l=CHANGED * water_l if box and box.changed else 0.0,
        oxygen_l=60 * OXYGEN_L_MIN * box.journey.total_h if box and box.fed else 0.0,
    )
    return replace(vessel, number=numbers.take(spec.kind, spec.gear, vessel.what))


def companies(groups: Iterable[GroupFacts]) -> tuple[tuple[GroupFacts, ...], ...]:
    """Sort groups by the containers that they share; those who wait for their bags together are one company."""
    rows: dict[frozenset[str], list[GroupFacts]] = {}
    for group in groups:
        packing = group.packing.waiting or group.packing
        rows.setdefault(frozenset((group.livestock.id, *packing.shares_with)), []).append(group)
    return tuple(tuple(several) for several in rows.values())


def _animals(groups: tuple[GroupFacts, ...], system: str, numbers: Numbers, means: Means) -> Iterator[Vessel]:
    bags: list[Vessel] = []
    for several in companies(groups):
        packing, counts = several[0].packing, [(one.livestock.id, one.count) for one in several]
        if packing.waiting is not None:
            yield from _open(packing.waiting, Use.WAITING, system, numbers, counts)
        if packing.bagged:
            for group in several:
                bags += _open(
                    group.packing, Use.ANIMALS, system, numbers, [(group.livestock.id, group.count)]
                )
        else:
            racked = several[0].kind.group in CORALS
            yield from _open(packing, Use.CORALS if racked else Use.ANIMALS, system, numbers, counts)
    yield from bags
    yield from _boxed(bags, system, numbers, means)


def _open(
    packing: Packing, use: Use, system: str, numbers: Numbers, counts: list[tuple[str, int]]
) -> Iterator[Vessel]:
    spec = packing.spec
    dry_kg = BAG_KG if spec.kind == "bag" else empty_kg(spec.volume_l)
    dry_kg += CORALS_KG if packing.racked else 0.0
    for held in spread(counts, packing.count):
        yield _vessel(spec, use, system, numbers, packing.water_l, dry_kg, held, packing)


def _boxed(bags: list[Vessel], system: str, numbers: Numbers, means: Means) -> Iterator[Vessel]:
    box, boxes, count = means.main("box"), boxes_for(means, len(bags)), len(bags)
    for at in range(boxes):
        together = bags[at * count // boxes : (at + 1) * count // boxes]
        inside = tuple(Held("container", bag.number) for bag in together)
        yield _vessel(box, Use.BAGS, system, numbers, 0.0, BOX_KG, inside)
