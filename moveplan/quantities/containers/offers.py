"""The containers that a company of animals could travel in, and what each would cost the day."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product

from moveplan.quantities.containers.company import Company
from moveplan.quantities.containers.means import Means, Spec
from moveplan.quantities.containers.pricing import ONE_HAND_KG, costs_of
from moveplan.quantities.containers.tubs import CORALS_KG, EMPTY_KG_A_LITRE, WATER_KG_L, fill_l, racks_for
from moveplan.quantities.freight.sizes import tub_size_m
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box, Journey
from moveplan.units import show_volume

MOST = 6
"""Most tubs or pails for one company of animals, or twice the fewest that hold a large one; assumed. [-]"""
FEW = 2
"""So many more containers than the fewest are tried one by one, and then the most; assumed. [-]"""
LEAST_DEPTH_M, LEAST_LOW_M = 0.07, 0.05
"""Least depth of water for fish, and for what sits on the ground; assumed. [m]"""
BODY_DEPTHS = 0.6
"""Least depth of water over the length of the longest animal: it must be covered upright; assumed. [-]"""
LONG_ROAD_H = 4.0
"""Hours on the road from which such a stop is thought of; assumed. [h]"""
SMALL_HEATER_W = 25.0
"""A heater with a thermostat for one container: small ones are sold from about 25 W; common practice. [W]"""
DRESSED = tuple(
    (stones, wrapped, heated)
    for stones in (0, 1, 2, 4)
    for wrapped, heated in ((False, False), (True, False), (True, True))
)
"""How many air stones hang in an open container, and whether it is wrapped and heated: what is tried."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One way of packing a company.

    Parameters
    ----------
    spec : Spec
        What kind of container.
    count : int
        How many.
    own_min : float
        What it costs the day, but for what has to be ordered: minutes of handling and carrying, and kilograms in
        minutes. [min]
    waiting : Offer or None
        Where those who are bagged wait until then.
    """

    spec: Spec
    count: int
    box: Box
    own_min: float
    waiting: Offer | None = None


def label_of(offer: Offer, units_system: str) -> str:
    """Say what containers an offer is, such as ``2 × 12 l bag``.

    Parameters
    ----------
    offer : Offer
        Where those who are bagged wait stands apart.
    units_system : str
        ``metric`` or ``us``.
    """
    box, size = offer.box, show_volume(offer.spec.volume_l, units_system)
    words = (
        f"{'wrapped ' * box.wrapped}{'oxygen-' * box.fed}{'aired ' * box.aerated}"
        f"{'heated ' * (box.heater_w > 0)}{offer.spec.kind}"
    )
    return f"{offer.count} × {size} {words}"


def opened(
    company: Company, means: Means, policy: Policy, journey: Journey, carry_min: float
) -> Iterator[Offer]:
    """Offer tubs and pails, whatever they last: fewer and fuller, or more and emptier; bare or wrapped.

    Parameters
    ----------
    means : Means
        What the plan has, and what may be bought beside it.
    policy : Policy
        Loading densities.
    journey : Journey
        How long they are in them.
    carry_min : float
        Carrying one of them; 0: they are carried nowhere. [min]
    """
    gases = (False, True) if means.oxygen else (False,)
    kinds = ("tub", "box") if company.widths_m else ("tub", "pail", "box")
    for spec in means.of(*kinds):
        dressed = [one for one in DRESSED if spec.kind != "box" or not (one[1] or one[2])]
        insulated = spec.insulated or spec.kind == "box"
        for count in _counts(company, spec, means, policy):
            costs = costs_of(company.animals, spec, count, carry_min)
            for water_l in _fills(company, spec, count, means, policy):
                for (stones, wrapped, heated), oxygen in product(dressed, gases):
                    if oxygen and not stones:
                        continue
                    box = Box(
                        spec.kind,
                        spec.volume_l,
                        water_l,
                        journey,
                        stones=stones,
                        oxygen=oxygen,
                        wrapped=wrapped,
                        heater_w=SMALL_HEATER_W if heated else 0.0,
                        insulated=insulated,
                    )
                    yield Offer(spec, count, box, costs.of(box))
                    if stones and journey.road_h >= LONG_ROAD_H:
                        fresh = replace(box, changed=True)
                        yield Offer(spec, count, fresh, costs.of(fresh))


def _most_l(company: Company, spec: Spec, means: Means) -> float:
    if spec.kind == "pail":
        return _one_hand_l(spec, means.fill)
    load_kg = CORALS_KG if company.widths_m else 0.0
    return fill_l(spec.volume_l, load_kg, means.lift_kg, means.fill)


def _one_hand_l(spec: Spec, fill: float) -> float:
    """Water with which one person still carries a container alone. [l]."""
    return min(fill * spec.volume_l, (ONE_HAND_KG - EMPTY_KG_A_LITRE * spec.volume_l) / WATER_KG_L)


def _least_l(company: Company, spec: Spec, count: int, policy: Policy) -> float:
    """Least water in one container: by the mass of the animals, and so that it covers them."""
    return max(
        company.biomass_g / policy["loading_aerated"] / count,
        covering_l(spec.volume_l, company.longest_m, swims=company.biomass_g > 0),
    )


def covering_l(volume_l: float, longest_m: float, *, swims: bool = True) -> float:
    """Water that covers the longest animal on the floor of a level container. [l]."""
    length, width, _ = tub_size_m(volume_l)
    least_m = LEAST_DEPTH_M if swims else LEAST_LOW_M
    return 1000 * length * width * max(least_m, BODY_DEPTHS * longest_m)


def _counts(company: Company, spec: Spec, means: Means, policy: Policy) -> Iterator[int]:
    most_l = _most_l(company, spec, means)
    if most_l <= 0:
        return
    racks = racks_for(company.widths_m, spec.volume_l)
    first = max(racks, math.ceil(company.biomass_g / policy["loading_aerated"] / most_l - 1e-9), 1)
    last = max(min(company.animals, max(MOST, 2 * first)), racks)
    first = min(first, last)
    for count in sorted({*range(first, min(first + FEW, last) + 1), last}):
        if spec.bought or count <= spec.there:
            yield count


def _fills(company: Company, spec: Spec, count: int, means: Means, policy: Policy) -> tuple[float, ...]:
    """Fill with what is needed, with what one carries, with what two carry."""
    most_l = _most_l(company, spec, means)
    least_l = min(_least_l(company, spec, count, policy), most_l)
    levels = (least_l, min(max(_one_hand_l(spec, means.fill), least_l), most_l), most_l)
    return tuple(dict.fromkeys(math.floor(10 * level + 1e-9) / 10 for level in levels))
