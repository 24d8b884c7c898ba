"""The containers that a company of animals could travel in, and what each would cost the day."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from itertools import product

from moveplan.quantities.containers.means import BUYING_MIN, Means, Spec
from moveplan.quantities.containers.pricing import (
    A_KG_MIN,
    BAGGED_MIN,
    LOST_L_MIN,
    ONE_HAND_KG,
    costs_of,
    floor_min,
)
from moveplan.quantities.containers.tubs import CORALS_KG, EMPTY_KG_A_LITRE, WATER_KG_L, fill_l, racks_for
from moveplan.quantities.freight.sizes import tub_size_m
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box, Journey

BAG_KG = 0.1
"""An empty bag; assumed. [kg]"""
BOX_KG = 2.0
"""An empty insulated box; assumed. [kg]"""
MOST = 6
"""Most tubs or pails for one company of animals; assumed. [-]"""
FEW = 2
"""So many more containers than the fewest are tried one by one, and then the most; assumed. [-]"""
LEAST_DEPTH_M, LEAST_LOW_M = 0.07, 0.05
"""Least depth of water for fish, and for what sits on the ground; assumed. [m]"""
BODY_DEPTHS = 0.6
"""Least depth of water over the length of the longest animal: it must be covered upright; assumed. [-]"""
HALF_GAS = 0.5
"""Least share of gas in a bag: more water stays warm for longer, where its gas lasts; common practice. [-]"""
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
class Journeys:
    """How long a company is in containers, by the way in which it travels.

    Parameters
    ----------
    whole : Journey
        From taking it out to letting it in.
    waiting : Journey
        From taking it out until it is bagged, just before loading.
    bagged : Journey
        From bagging to letting it in.
    """

    whole: Journey
    waiting: Journey
    bagged: Journey


@dataclass(frozen=True, slots=True)
class Company:
    """What an offer has to know of the animals that share containers.

    Parameters
    ----------
    animals : int
        How many.
    biomass_g : float
        Their mass. [g]
    longest_m : float
        Length of the longest. [m]
    widths_m : tuple of float
        Widths of colonies, which stand in racks; none: they are no corals. [m]
    kind : str
        The kind of container that the keeper asks for; empty: any.
    may_be_bagged : bool
        Whether a bag holds each of them.
    bags : int
        Bags of all animals of the system that may be bagged: they share boxes and keep each other warm.
    journeys : Journeys
        How long.
    """

    animals: int
    biomass_g: float
    longest_m: float
    widths_m: tuple[float, ...]
    kind: str
    may_be_bagged: bool
    bags: int
    journeys: Journeys


@dataclass(frozen=True, slots=True)
class Offer:
    """One way of packing a company.

    Parameters
    ----------
    spec : Spec
        What kind of container.
    count : int
        How many.
    box : Box
        One of them.
    cost_min : float
        What it costs the day: minutes of handling and carrying, kilograms and orders in minutes. [min]
    waiting : Offer or None
        Where those who are bagged wait until then.
    """

    spec: Spec
    count: int
    box: Box
    cost_min: float
    waiting: Offer | None = None


@dataclass(slots=True)
class Stock:
    """What is left of the plan's own containers while one company after the other is packed.

    Parameters
    ----------
    means : Means
        What there is.
    carry_min : float
        Carrying one thing out and in, of the whole move. [min]
    used : dict of str to int
        How many of each gear, of wraps and of outlets are taken.
    """

    means: Means
    carry_min: float
    used: dict[str, int] = field(default_factory=dict)

    def left(self, spec: Spec) -> int:
        """How many of a size are left; may be below zero where some are ordered."""
        return spec.there - self.used.get(spec.gear, 0)

    def take(self, gear: str, count: int) -> None:
        """Note that so many are used."""
        self.used[gear] = self.used.get(gear, 0) + count

    def short(self, spec: Spec, count: int) -> int:
        """How many of a size would have to be ordered."""
        return max(count - max(self.left(spec), 0), 0)

    def short_of(self, what: str, there: int, count: int) -> int:
        """How many wraps or outlets would have to be ordered."""
        return max(count - max(there - self.used.get(what, 0), 0), 0)

    def taking(self, offer: Offer, sign: int = 1) -> None:
        """Take everything that an offer uses, or give it back with a sign of -1."""
        before = self.used.get(offer.spec.gear, 0)
        self.take(offer.spec.gear, sign * offer.count)
        self.take("wrap", sign * offer.count * offer.box.wrapped)
        self.take("outlet", sign * offer.count * offer.box.stones)
        self.take("heater", sign * offer.count * (offer.box.heater_w > 0))
        if offer.spec.kind == "bag":
            after = before + sign * offer.count
            boxes = boxes_for(self.means, after) - boxes_for(self.means, before)
            self.take(self.means.main("box").gear, boxes)
        if offer.waiting:
            self.taking(offer.waiting, sign)

    @property
    def anything_short(self) -> bool:
        """Whether something has to be ordered."""
        means = self.means
        there = {spec.gear: spec.there for spec in means.specs}
        there |= {"wrap": means.wraps, "outlet": means.outlets, "heater": means.heaters}
        return any(count > there.get(gear, 0) for gear, count in self.used.items())


def boxes_for(means: Means, bags: int) -> int:
    """Insulated boxes for so many bags."""
    return math.ceil(bags / bags_to_a_box(means))


def bags_to_a_box(means: Means) -> int:
    """Bags that one insulated box holds, and that are not too heavy in it with as much water as a bag may hold."""
    bag_l = means.main("bag").volume_l
    bag_kg = BAG_KG + WATER_KG_L * bag_l * (1 - HALF_GAS)
    most = min(means.main("box").volume_l / bag_l, (means.lift_kg - BOX_KG) / bag_kg)
    return max(math.floor(most), 1)


def offers_of(company: Company, stock: Stock, policy: Policy) -> tuple[Offer, ...]:
    """List the ways of packing a company, whatever they last.

    Parameters
    ----------
    company : Company
        Who.
    stock : Stock
        What is left of the plan's own things.
    policy : Policy
        Loading densities.
    """
    open_ones = tuple(_open(company, stock, policy, company.journeys.whole))
    return (
        *(one for one in open_ones if company.kind in ("", one.spec.kind)),
        *_bags(company, stock, policy),
    )


def _open(company: Company, stock: Stock, policy: Policy, journey: Journey) -> Iterator[Offer]:
    """Offer tubs and pails: fewer and fuller, or more and emptier; bare or wrapped."""
    kinds = ("tub", "box") if company.widths_m else ("tub", "pail", "box")
    for spec in stock.means.of(*kinds):
        dressed = [one for one in DRESSED if spec.kind != "box" or not (one[1] or one[2])]
        insulated = spec.insulated or spec.kind == "box"
        for count in _counts(company, spec, stock, policy):
            costs = costs_of(company.animals, spec, count, stock)
            for water_l in _fills(company, spec, count, stock, policy):
                for stones, wrapped, heated in dressed:
                    box = Box(
                        spec.kind,
                        spec.volume_l,
                        water_l,
                        journey,
                        stones=stones,
                        wrapped=wrapped,
                        heater_w=SMALL_HEATER_W if heated else 0.0,
                        insulated=insulated,
                    )
                    yield Offer(spec, count, box, costs.of(box))
                    if stones and journey.road_h >= LONG_ROAD_H:
                        fresh = replace(box, changed=True)
                        yield Offer(spec, count, fresh, costs.of(fresh))


def _most_l(company: Company, spec: Spec, stock: Stock) -> float:
    if spec.kind == "pail":
        return _one_hand_l(spec, stock.means.fill)
    load_kg = CORALS_KG if company.widths_m else 0.0
    return fill_l(spec.volume_l, load_kg, stock.means.lift_kg, stock.means.fill)


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


def _counts(company: Company, spec: Spec, stock: Stock, policy: Policy) -> Iterator[int]:
    most_l = _most_l(company, spec, stock)
    if most_l <= 0:
        return
    racks = racks_for(company.widths_m, spec.volume_l)
    first = max(racks, math.ceil(company.biomass_g / policy["loading_aerated"] / most_l - 1e-9), 1)
    last = max(min(company.animals, MOST), racks)
    first = min(first, last)
    for count in sorted({*range(first, min(first + FEW, last) + 1), last}):
        if spec.bought or count <= stock.left(spec):
            yield count


def _fills(company: Company, spec: Spec, count: int, stock: Stock, policy: Policy) -> tuple[float, ...]:
    """Fill with what is needed, with what one carries, with what two carry."""
    most_l = _most_l(company, spec, stock)
    least_l = min(_least_l(company, spec, count, policy), most_l)
    levels = (least_l, min(max(_one_hand_l(spec, stock.means.fill), least_l), most_l), most_l)
    return tuple(dict.fromkeys(math.floor(10 * level + 1e-9) / 10 for level in levels))


def _bags(company: Company, stock: Stock, policy: Policy) -> Iterator[Offer]:
    """Offer a bag an animal in insulated boxes: closed just before loading, and a tub or pail to wait in until then.

    Where bags last from the catch on, they stand filled when it begins, and nobody waits. Where nothing is driven, bags
    are for those who ask for them, and nobody waits either.
    """
    drives = company.journeys.whole.road_h > 0
    if not company.may_be_bagged or company.kind not in (("", "bag") if drives else ("bag",)):
        return
    means = stock.means
    spec, count = means.main("bag"), company.animals
    together = min(bags_to_a_box(means), max(company.bags, count))
    gases, boxes = (True, False) if means.oxygen else (False,), _share_of_boxes(company, stock)
    carried = boxes * (stock.carry_min + floor_min(means.main("box")) + A_KG_MIN * BOX_KG)
    missing = stock.short(means.main("box"), math.ceil(boxes))
    orders = stock.short(spec, count) * BUYING_MIN["bag"] + min(missing, boxes) * BUYING_MIN["box"]
    usual = policy["gas_share"]
    open_ones = _waiting_places(company, stock, policy) if drives else ()
    for gas_share in dict.fromkeys((usual, min(usual, HALF_GAS))):
        water_l = (1 - gas_share) * spec.volume_l
        cost = BAGGED_MIN * count + carried + A_KG_MIN * count * WATER_KG_L * water_l + orders
        waiting = [*_waits(open_ones, count * water_l), None]
        for waits, oxygen in product(waiting, gases):
            journey = company.journeys.bagged if waits else company.journeys.whole
            box = Box(
                "bag", spec.volume_l, water_l, journey, oxygen=oxygen, neighbours=together, insulated=True
            )
            drawn = waits.cost_min if waits else LOST_L_MIN * count * water_l
            yield Offer(spec, count, box, cost + drawn, waits)


def _share_of_boxes(company: Company, stock: Stock) -> float:
    """Share of the boxes that all bags of a system stand in together, without the room left in boxes already taken."""
    means, all_bags = stock.means, max(company.bags, company.animals)
    taken = stock.used.get(means.main("bag").gear, 0)
    room = boxes_for(means, taken) * bags_to_a_box(means) - taken
    return max(company.animals - room, 0) * boxes_for(means, all_bags) / all_bags


def _waiting_places(company: Company, stock: Stock, policy: Policy) -> tuple[list[Offer], ...]:
    """List the tubs and pails in which those who are bagged may wait, carried nowhere; those dressed alike together."""
    still = replace(stock, carry_min=0.0)
    alike: dict[tuple[bool, bool, bool], list[Offer]] = {}
    for one in _open(company, still, policy, company.journeys.waiting):
        if one.spec.kind != "box":
            alike.setdefault((one.box.aerated, one.box.wrapped, one.box.heater_w > 0), []).append(one)
    return tuple(alike.values())


def _waits(places: Iterable[list[Offer]], bags_l: float) -> Iterator[Offer]:
    """Offer where those who are bagged wait, with water enough for bags: each as cheap and as full as it comes."""
    for offers in places:
        enough = [one for one in offers if one.count * one.box.water_l >= bags_l] or offers
        cheapest = min(enough, key=lambda one: (one.cost_min, one.spec.gear))
        fullest = min(enough, key=lambda one: (-one.box.water_l, one.cost_min, one.spec.gear))
        yield from dict.fromkeys((cheapest, fullest))
