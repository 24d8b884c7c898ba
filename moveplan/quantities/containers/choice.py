"""Which animals travel in which containers: of those that last long enough, the ones that cost the day least."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from itertools import islice

from moveplan.errors import CannotBeDoneError, OutOfRangeError, Problem
from moveplan.quantities.containers.bags import Bags, bags_of
from moveplan.quantities.containers.company import Company, Journeys
from moveplan.quantities.containers.means import Means
from moveplan.quantities.containers.offers import Offer, label_of, opened
from moveplan.quantities.containers.packing import Packing
from moveplan.quantities.containers.stock import Stock
from moveplan.quantities.containers.travellers import Several, Travellers, sharing, without
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Surroundings
from moveplan.quantities.safe_time.ends import Row
from moveplan.quantities.safe_time.judging import judged, lasting_h
from moveplan.quantities.safe_time.metabolism import NOTHING, Breathing, breathing
from moveplan.quantities.safe_time.safe_time import SafeTime
from moveplan.quantities.safe_time.verdicts import Judge
from moveplan.quantities.trade_groups import CORALS, FISH

RESERVE = 1.3
"""Hours that a container should last over those it is needed for: what nobody foresees; assumed. [-]"""
TWO_STAYS = 1.15
"""So much longer each should last where animals wait in one and travel in another: either may be late; assumed. [-]"""
EASY, A_TIGHT_MIN = 1.5, 40.0
"""From so many times the hours on nobody minds how long a container lasts, and what each time less is worth: the whole
day is arranged around what lasts barely; assumed. [-], [min]"""
AS_LONG = 0.9
"""Where nothing lasts long enough, what lasts nearly as long as the longest is as good; assumed. [-]"""


@dataclass(frozen=True, slots=True)
class _Packed:
    """Groups that share containers, what they breathe, and what they could travel in, whatever it lasts.

    Parameters
    ----------
    facts : Company
        What offers have to know.
    open_ones : tuple of Offer
        Tubs, pails and boxes.
    bags : Bags
        Bags, and where those wait who are bagged late.
    """

    groups: Several
    load: Breathing
    facts: Company
    open_ones: tuple[Offer, ...]
    bags: Bags

    @property
    def offers(self) -> tuple[Offer, ...]:
        """All of them; those that are closed late are the last."""
        return (*self.open_ones, *self.bags.whole, *self.bags.late)

    def rows(self, offers: Sequence[Offer]) -> list[Row]:
        """Give one container of each offer, and the animals in it."""
        shared = {count: self.load.over(count) for count in {one.count for one in offers}}
        return [(one.box, shared[one.count]) for one in offers]


Ways = Callable[[Travellers], Journeys]
"""How long a group is in containers."""


def pack(
    groups: Several, ways: Ways, around: Surroundings, stock: Stock, judge: Judge, longer_h: float = 0.0
) -> Mapping[str, Packing]:
    """Choose containers for every group of a system.

    Parameters
    ----------
    groups : tuple of Travellers
        Who travels.
    ways : callable
        How long each group is in containers.
    stock : Stock
        What is left of the plan's own things; what is chosen is taken from it.
    longer_h : float
        Hours by which they may have to stay longer, while the same hands are at another system. [h]

    Raises
    ------
    CannotBeDoneError
        For animals beyond every formula, with their line.
    """
    means, policy = stock.means, judge.policy
    loads = {group.livestock.id: _breathing(group, around, means, policy) for group in groups}
    fish = tuple(group for group in groups if group.kind.group in FISH)
    corals = tuple(group for group in groups if group.kind.group in CORALS)
    others = without(groups, (*fish, *corals))
    bags = sum(group.count for group in fish if group.may_be_bagged)
    companies = [
        _company(several, loads, ways, bags, stock, policy)
        for several in (*sharing(corals), *sharing(fish), *sharing(others))
    ]
    lasting = _judged_ahead(companies, around, stock, judge)
    chosen = [
        _chosen(one, hours, around, stock, judge, longer_h)
        for one, hours in zip(companies, lasting, strict=True)
    ]
    if stock.anything_short:
        for at, one in enumerate(companies):  # once more, for now it is known what the others leave
            stock.taking(chosen[at], -1)
            chosen[at] = _chosen(one, lasting[at], around, stock, judge, longer_h)
    return _packings(companies, chosen, around, judge, means)


@contextmanager
def _told_of(company: Several, means: Means) -> Iterator[None]:
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


def _company(
    groups: Several,
    loads: Mapping[str, Breathing],
    ways: Ways,
    bags: int,
    stock: Stock,
    policy: Policy,
) -> _Packed:
    load = NOTHING
    for group in groups:
        load = load.plus(loads[group.livestock.id])
    corals = groups[0].kind.group in CORALS
    facts = Company(
        animals=sum(group.count for group in groups),
        biomass_g=load.biomass_g if groups[0].kind.group in FISH else 0.0,
        longest_m=max(group.livestock.size_cm for group in groups) / 100,
        widths_m=_widths_m(groups) if corals else (),
        kind=groups[0].livestock.container,
        may_be_bagged=all(group.may_be_bagged for group in groups),
        bags=bags,
        journeys=ways(groups[0]),
    )
    open_ones = tuple(opened(facts, stock.means, policy, facts.journeys.whole, stock.carry_min))
    return _Packed(groups, load, facts, open_ones, bags_of(facts, stock.means, policy))


def _widths_m(groups: Several) -> tuple[float, ...]:
    return tuple(group.livestock.size_cm / 100 for group in groups for _ in range(group.count))


def _judged_ahead(
    companies: list[_Packed], around: Surroundings, stock: Stock, judge: Judge
) -> list[list[float]]:
    """Judge all offers to all companies at once, which costs little more than one of them. [h].

    Where animals wait is judged along with the rest, and remembered, as far as the whole stock tells where that is.
    """
    rows = [one.rows(one.offers) for one in companies]
    waits = [one.rows([place for _, place in _waits(one, stock)]) for one in companies]
    found = iter(_lasting([row for several in (*rows, *waits) for row in several], around, judge))
    return [list(islice(found, len(several))) for several in rows]


def _waits(company: _Packed, stock: Stock) -> list[tuple[int, Offer]]:
    """List where the animals of each late bag, by its number, may wait."""
    price = stock.pricing(company.facts)

    def left(offer: Offer) -> float:
        return price(offer) if stock.offers(offer) else math.inf

    bags = company.bags
    return [(at, place) for at, bag in enumerate(bags.late) for place in bags.waits(bag, left)]


def _chosen(
    company: _Packed,
    lasting: list[float],
    around: Surroundings,
    stock: Stock,
    judge: Judge,
    longer_h: float,
) -> Offer:
    """Take the cheapest offer that lasts, or nearly the longest where none does, and what it uses out of the stock."""
    asked, late = company.facts.kind, company.bags.late
    offers = company.offers
    margins = [_margin(*row, longer_h) for row in zip(offers, lasting, strict=True)]
    direct = len(offers) - len(late)
    found = list(zip(offers[:direct], margins, strict=False))
    waits = _waits(company, stock) if asked in ("", "bag") else []
    stays = _lasting(company.rows([place for _, place in waits]), around, judge)
    for (at, place), hours in zip(waits, stays, strict=True):
        margin = min(margins[direct + at], _margin(place, hours, longer_h)) / TWO_STAYS
        found.append((replace(late[at], waiting=place), margin))
    found = [row for row in found if stock.offers(row[0])]
    # the kind that the keeper asks for may hold nobody of this company
    found = [row for row in found if asked in ("", row[0].spec.kind)] or found
    if max(margin for _, margin in found) == -math.inf:
        with _told_of(company.groups, stock.means):
            _first_refused(company, around, judge)
    ids = [group.livestock.id for group in company.groups]
    found = [row for row in found if stock.as_filled(ids, row[0])] or found
    offer = _best(found, stock.pricing(company.facts))
    stock.taking(offer)
    return offer


def _margin(offer: Offer, lasts_h: float, longer_h: float) -> float:
    """How long an offer lasts over what it has to."""
    return lasts_h / max(offer.box.journey.total_h + longer_h, 1e-9)


def _best(found: list[tuple[Offer, float]], price: Callable[[Offer], float]) -> Offer:
    """Take what costs least of those that last, with what being tight costs the day."""
    least = min(RESERVE, AS_LONG * max(margin for _, margin in found))
    enough = [(price(offer), margin, offer) for offer, margin in found if margin >= least]
    return min(enough, key=lambda row: (row[0] + A_TIGHT_MIN * max(EASY - row[1], 0.0), row[0]))[2]


def _first_refused(company: _Packed, around: Surroundings, judge: Judge) -> None:
    """Raise what the first container meets that is beyond the formulas."""
    for row in company.rows(company.offers):
        lasting_h([row], around, judge)


def _lasting(rows: list[Row], around: Surroundings, judge: Judge) -> list[float]:
    """Judge all at once; where one is out of range half of them at a time, to find out which."""
    try:
        return list(lasting_h(rows, around, judge))
    except OutOfRangeError:
        if len(rows) == 1:
            return [-math.inf]
    half = len(rows) // 2
    return [*_lasting(rows[:half], around, judge), *_lasting(rows[half:], around, judge)]


def _packings(
    companies: list[_Packed], offers: list[Offer], around: Surroundings, judge: Judge, means: Means
) -> dict[str, Packing]:
    """Give every group its containers, all judged at once."""
    pairs = list(zip(companies, offers, strict=True))
    stays = [(company, stay) for company, offer in pairs for stay in (offer, offer.waiting) if stay]
    safe = iter(judged([(stay.box, company.load.over(stay.count)) for company, stay in stays], around, judge))
    packed: dict[str, Packing] = {}
    for company, offer in pairs:
        packing = _packing(company, offer, next(safe), means)
        if offer.waiting:
            packing = replace(packing, waiting=_packing(company, offer.waiting, next(safe), means))
        ids = packing.shares_with
        packed |= {
            own: _of_group(packing, group, own, ids) for own, group in zip(ids, company.groups, strict=True)
        }
    return packed


def _of_group(packing: Packing, group: Travellers, own: str, ids: tuple[str, ...]) -> Packing:
    """Give one group its share: bags are its own, tubs are shared."""
    others = tuple(one for one in ids if one != own)
    if not packing.bagged:
        return replace(packing, shares_with=others)
    waiting = replace(packing.waiting, shares_with=others) if packing.waiting else None
    label = f"{group.count} × {packing.label.partition(' × ')[2]}"
    return replace(packing, count=group.count, label=label, shares_with=(), waiting=waiting)


def _packing(company: _Packed, offer: Offer, safe: SafeTime, means: Means) -> Packing:
    ids = tuple(group.livestock.id for group in company.groups)
    racked = bool(company.facts.widths_m)
    return Packing(offer.spec, offer.count, label_of(offer, means.units_system), offer.box, racked, ids, safe)
