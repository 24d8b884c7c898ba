"""Labels, one a container: its number, what is in it, and by when it has to be opened."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from moveplan.outputs.agenda import Opening
from moveplan.outputs.outlook import Outlook
from moveplan.quantities.containers.vessels import Vessel
from moveplan.science.livestock import ContainerRule, kinds

HURTS = (ContainerRule.SPINES, ContainerRule.STINGS, ContainerRule.TOXIN)
"""Rules of animals that a label warns of."""


@dataclass(frozen=True, slots=True)
class Label:
    """The label of one container.

    Parameters
    ----------
    number : str
        Of the container; empty where it has none. [-]
    inside : tuple of (str, int)
        Animals in it: name and how many. [-]
    use : str
        What it is for, where no animal is in it. [-]
    container : str
        The container in words, such as ``40 l box``. [-]
    water_l : float
        Water in it. [l]
    opening : Opening or None
        The stay of those in it who last shortest; None: no animal. [-]
    temperature_c : float or None
        Of the water that the animals come from. [°C]
    hurts : tuple of str
        ``spines``, ``stings`` or ``toxin``. [-]
    bags : tuple of str
        Numbers of the bags that stand in it. [-]
    """

    number: str
    inside: tuple[tuple[str, int], ...]
    use: str
    container: str
    water_l: float
    opening: Opening | None = None
    temperature_c: float | None = None
    hurts: tuple[str, ...] = ()
    bags: tuple[str, ...] = ()


def labels_of(outlook: Outlook, openings: Iterable[Opening]) -> tuple[Label, ...]:
    """List the labels of all containers: those with animals by their numbers, then the others.

    Parameters
    ----------
    outlook : Outlook
        What was found. [-]
    openings : iterable of Opening
        Every stay of every group. [-]
    """
    shared: dict[tuple[str, int], list[Opening]] = {}
    for opening in openings:
        for number in opening.stay.numbers or (f" {opening.dated.route.livestock}",):
            shared.setdefault((number, opening.stay.span.start), []).append(opening)
    vessels = tuple(use.vessel for use in outlook.project.ledger.containers)
    living = [_living(outlook, vessels, number, several) for (number, _), several in shared.items()]
    return (*sorted(living, key=lambda one: _in_order(one.number)), *_lifeless(vessels))


def _in_order(number: str) -> tuple[str, int]:
    """Sort X2 before X10; containers without a number stay as they come."""
    return (number[0], int(number[1:])) if number else ("", 0)


def _living(outlook: Outlook, vessels: tuple[Vessel, ...], number: str, several: list[Opening]) -> Label:
    own_vessels = [one for one in vessels if one.number == number]
    counts = {held.id: held.count for one in own_vessels for held in one.holds}
    plan, routes = outlook.project.plan, [one.dated.route for one in several]
    animals = {one.id: one for one in plan.livestock}
    own = [animals[route.livestock] for route in routes if route.livestock in animals]
    rules = {rule for one in own for rule in kinds()[one.kind].container}
    warm = {system.id: system.temperature_c for system in plan.systems}
    worst = min(several, key=lambda one: one.stay.safe.estimate.low)
    return Label(
        number.strip() if number in worst.stay.numbers else "",
        tuple((route.name, counts.get(route.livestock, route.count)) for route in routes),
        "",
        worst.stay.container.rpartition(" × ")[2],
        own_vessels[0].water_l if own_vessels else 0.0,
        worst,
        warm.get(own[0].system) if own else None,
        tuple(rule.value for rule in HURTS if rule in rules),
    )


def _lifeless(vessels: tuple[Vessel, ...]) -> Iterator[Label]:
    """Label what holds rock, media and water, and the boxes in which bags stand."""
    named: set[str] = set()
    for one in vessels:
        if not one.livestock and one.number not in named:
            named.add(one.number)
            bags = tuple(held.id for held in one.holds if held.what == "container")
            yield Label(one.number, (), one.use.value, one.kind, one.water_l, bags=bags)
