"""Bags in insulated boxes, closed just before loading, and where those who are bagged wait until then."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product

from moveplan.quantities.containers.company import Company
from moveplan.quantities.containers.means import HALF_GAS, Means, fewest_to_a_box
from moveplan.quantities.containers.offers import Offer, opened
from moveplan.quantities.containers.pricing import A_KG_MIN, BAGGED_MIN, LOST_L_MIN
from moveplan.quantities.containers.tubs import WATER_KG_L
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box, Journey


@dataclass(frozen=True, slots=True)
class Bags:
    """A bag an animal: filled before the catch, or closed just before loading.

    Parameters
    ----------
    whole : tuple of Offer
        Bags that stand filled when the catch begins, and nobody waits.
    late : tuple of Offer
        Bags that are closed just before loading; where the animals wait until then is not said yet.
    places : tuple of (tuple of Offer)
        Tubs and pails in which they may wait, carried nowhere; those dressed alike together.
    """

    whole: tuple[Offer, ...] = ()
    late: tuple[Offer, ...] = ()
    places: tuple[tuple[Offer, ...], ...] = ()

    def waits(self, bag: Offer, price: Callable[[Offer], float]) -> Iterator[Offer]:
        """Offer where those who are bagged wait, with water enough for the bags: each as cheap and as full as it comes.

        Parameters
        ----------
        bag : Offer
            One of those that are closed late.
        price : callable
            What a place costs; infinite where it is not left. [min]
        """
        bags_l = bag.count * bag.box.water_l
        for places in self.places:
            there = [(one, cost) for one in places if (cost := price(one)) < math.inf]
            enough = [row for row in there if row[0].count * row[0].box.water_l >= bags_l] or there
            if enough:
                cheapest, _ = min(enough, key=lambda row: (row[1], row[0].spec.gear))
                fullest, _ = min(enough, key=lambda row: (-row[0].box.water_l, row[1], row[0].spec.gear))
                yield from (cheapest,) if fullest is cheapest else (cheapest, fullest)


def bags_of(company: Company, means: Means, policy: Policy) -> Bags:
    """List the bags in which a company may travel, and where they wait.

    Where bags last from the catch on, they stand filled when it begins, and nobody waits. Where nothing is driven, bags
    are for those who ask for them, and nobody waits either.

    Parameters
    ----------
    means : Means
        What the plan has, and what may be bought beside it.
    policy : Policy
        Share of gas.
    """
    drives = company.journeys.whole.road_h > 0
    if not company.may_be_bagged or not (drives or company.kind == "bag"):
        return Bags()
    whole = tuple(_bags(company, means, policy, company.journeys.whole, LOST_L_MIN))
    if not drives:
        return Bags(whole)
    late = tuple(_bags(company, means, policy, company.journeys.bagged, 0.0))
    alike: dict[tuple[bool, bool, bool], list[Offer]] = {}
    for one in opened(company, means, policy, company.journeys.waiting, 0.0):
        if one.spec.kind != "box":
            alike.setdefault((one.box.aerated, one.box.wrapped, one.box.heater_w > 0), []).append(one)
    return Bags(whole, late, tuple(map(tuple, alike.values())))


def _bags(
    company: Company, means: Means, policy: Policy, journey: Journey, lost_l_min: float
) -> Iterator[Offer]:
    """Offer a bag an animal; water that is drawn for bags alone costs so much a litre."""
    spec, count, usual = means.main("bag"), company.animals, policy["gas_share"]
    together = fewest_to_a_box(means, count, max(company.bags, count))
    shares = dict.fromkeys((usual, min(usual, HALF_GAS)))
    for gas_share, oxygen in product(shares, (True, False) if means.oxygen else (False,)):
        litres = count * (1 - gas_share) * spec.volume_l
        box = Box(
            "bag",
            spec.volume_l,
            litres / count,
            journey,
            oxygen=oxygen,
            neighbours=together,
            insulated=True,
        )
        own_min = BAGGED_MIN * count + (A_KG_MIN * WATER_KG_L + lost_l_min) * litres
        yield Offer(spec, count, box, own_min)
