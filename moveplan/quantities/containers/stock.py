"""What is left of the plan's own containers, pumps, wraps and heaters while companies are packed."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from moveplan.quantities.containers.company import Company
from moveplan.quantities.containers.means import (
    BOX_KG,
    BUYING_MIN,
    Means,
    Spec,
    bags_to_a_box,
    boxes_for,
)
from moveplan.quantities.containers.offers import Offer, label_of
from moveplan.quantities.containers.pricing import A_KG_MIN, floor_min


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
    filled : Mapping of str to tuple of str
        Groups whose containers are filled already, each with these in words.
    """

    means: Means
    carry_min: float
    used: dict[str, int] = field(default_factory=dict)
    filled: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

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

    def as_filled(self, groups: Iterable[str], offer: Offer) -> bool:
        """Whether an offer is what some groups are in, where that is filled: whatever the day has become, it stays so.

        A bag an animal is the same for one animal less.
        """
        told = {words for group in groups for words in self.filled.get(group, ())}
        chain = (offer, offer.waiting) if offer.waiting else (offer,)
        labels = (label_of(one, self.means.units_system) for one in chain)
        return not told or set(map(_however_many, told)) == set(map(_however_many, labels))

    @property
    def anything_short(self) -> bool:
        """Whether something has to be ordered."""
        means = self.means
        there = {spec.gear: spec.there for spec in means.specs}
        there |= {"wrap": means.wraps, "outlet": means.outlets, "heater": means.heaters}
        return any(count > there.get(gear, 0) for gear, count in self.used.items())

    def offers(self, offer: Offer) -> bool:
        """Whether there are as many, or more of them may be ordered."""
        return offer.spec.bought or offer.count <= self.left(offer.spec)

    def pricing(self, company: Company) -> Callable[[Offer], float]:
        """Give what offers to a company cost by what is left, with what has to be ordered and boxes of bags. [min]."""
        known: dict[tuple[object, ...], float] = {}
        boxes = _share_of_boxes(company, self)

        def of(offer: Offer) -> float:
            spec, count, box = offer.spec, offer.count, offer.box
            key = (spec.gear, count, box.stones, box.wrapped, box.heater_w)
            if key not in known:
                ordered = self._boxes_min(boxes) if spec.kind == "bag" else self._dressing_min(offer)
                known[key] = ordered + self.short(spec, count) * BUYING_MIN[spec.kind]
            return offer.own_min + known[key] + (of(offer.waiting) if offer.waiting else 0.0)

        return of

    def _dressing_min(self, offer: Offer) -> float:
        """Price the wraps, heaters and pumps that have to be ordered. [min]."""
        means, count, box = self.means, offer.count, offer.box
        outlets = self.short_of("outlet", means.outlets, count * box.stones)
        return (
            self.short_of("wrap", means.wraps, count * box.wrapped) * BUYING_MIN["wrap"]
            + self.short_of("heater", means.heaters, count * (box.heater_w > 0)) * BUYING_MIN["heater"]
            + outlets * BUYING_MIN["pump"] / means.outlets_a_pump
        )

    def _boxes_min(self, boxes: float) -> float:
        """Price so many insulated boxes of bags: carried, stowed, and ordered where there are too few. [min]."""
        box = self.means.main("box")
        missing = self.short(box, math.ceil(boxes))
        carried = boxes * (self.carry_min + floor_min(box) + A_KG_MIN * BOX_KG)
        return carried + min(missing, boxes) * BUYING_MIN["box"]


def _share_of_boxes(company: Company, stock: Stock) -> float:
    """Share of the boxes that all bags of a system stand in together, without the room left in boxes already taken."""
    means, all_bags = stock.means, max(company.bags, company.animals)
    taken = stock.used.get(means.main("bag").gear, 0)
    room = boxes_for(means, taken) * bags_to_a_box(means) - taken
    return max(company.animals - room, 0) * boxes_for(means, all_bags) / all_bags


def _however_many(label: str) -> str:
    """Give the words of a container, of bags without their number.

    >>> _however_many("2 × 12 l bag"), _however_many("2 × 40 l box")
    ('12 l bag', '2 × 40 l box')
    """
    return label.partition(" × ")[2] if label.endswith("bag") else label
