"""Labels, one a container: its number, what is in it, and by when it has to be opened."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from moveplan.outputs.agenda import Opening
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.wording.names import Names
from moveplan.plan.livestock import Livestock
from moveplan.quantities.containers.vessels import Vessel
from moveplan.science.animals.livestock import ContainerRule, endangers

HURTS = (ContainerRule.SPINES, ContainerRule.STINGS, ContainerRule.TOXIN)
"""Rules of animals that a label warns of."""

FELT_KG = 5.0
"""What weighs so much is lifted with care, and says so. Chosen. [kg]"""


@dataclass(frozen=True, slots=True)
class Label:
    """The label of one container.

    Parameters
    ----------
    number : str
        Of the container; empty where it has none.
    inside : tuple of (str, int)
        Animals in it: name and how many.
    use : str
        What it is for, where no animal is in it.
    container : str
        The container in words, such as ``40 l box``.
    water_l : float
        Water in it. [l]
    opening : Opening or None
        The stay of those in it who last shortest; None: no animal.
    temperature_c : float or None
        Of the water that the animals come from. [°C]
    hurts : tuple of str
        ``spines``, ``stings`` or ``toxin``.
    bags : tuple of str
        Numbers of the bags that stand in it.
    alone : bool
        Whether nobody else may share it.
    apart : tuple of str
        Names of other animals of the plan that may not share it.
    weighs_kg : float
        All of it, to the kilogram; 0 where it is light, or holds bags. [kg]
    goes_to : str
        Where it is opened or emptied, in words; empty where that is not known.
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
    alone: bool = False
    apart: tuple[str, ...] = ()
    weighs_kg: float = 0.0
    goes_to: str = ""


def labels_of(outlook: Outlook, openings: Iterable[Opening]) -> tuple[Label, ...]:
    """List the labels of all containers: those with animals by their numbers, then the others.

    Parameters
    ----------
    openings : iterable of Opening
        Every stay of every group.
    """
    shared: dict[str, list[list[Opening]]] = {}
    for opening in sorted(openings, key=lambda one: one.stay.span.start):
        for number in opening.stay.numbers or (f" {opening.dated.route.livestock}",):
            _join(shared.setdefault(number, []), opening)
    vessels = tuple(use.vessel for use in outlook.project.ledger.containers)
    living = [
        _living(outlook, vessels, number, together) for number, stays in shared.items() for together in stays
    ]
    return (
        *sorted(living, key=lambda one: _in_order(one.number)),
        *_lifeless(outlook),
        *_buckets(outlook, {one.number for one in vessels}),
    )


def alike(labels: Iterable[Label]) -> tuple[tuple[Label, list[Label]], ...]:
    """Gather neighbours that differ in their number alone, and not in its length."""
    runs: list[tuple[Label, list[Label]]] = []
    for label in labels:
        first = runs[-1][0] if runs else label
        if (
            runs
            and label == replace(first, number=label.number)
            and len(first.number) == len(label.number) > 0
        ):
            runs[-1][1].append(label)
        else:
            runs.append((label, []))
    return tuple(runs)


def _join(stays: list[list[Opening]], opening: Opening) -> None:
    """Put an opening to those that are in the container with it: who comes later goes into the same water."""
    if stays and any(opening.stay.span.overlaps(one.stay.span) for one in stays[-1]):
        stays[-1].append(opening)
    else:
        stays.append([opening])


def _in_order(number: str) -> tuple[str, int]:
    """Sort X2 before X10; containers without a number stay as they come."""
    return (number[0], int(number[1:])) if number else ("", 0)


def _living(outlook: Outlook, vessels: tuple[Vessel, ...], number: str, several: list[Opening]) -> Label:
    own_vessels = [one for one in vessels if one.number == number]
    counts = {held.id: held.count for one in own_vessels for held in one.holds}
    plan, routes = outlook.project.plan, [one.dated.route for one in several]
    animals = {one.id: one for one in plan.livestock}
    own = [animals[route.livestock] for route in routes if route.livestock in animals]
    rules = {rule for one in own for rule in one.traits.container}
    warm = {system.id: system.temperature_c for system in plan.systems}
    worst = min(several, key=lambda one: one.stay.span.start + one.stay.safe.estimate.low)
    return Label(
        number.strip() if number in worst.stay.numbers else "",
        tuple((route.name, counts.get(route.livestock, route.count)) for route in routes),
        "",
        worst.stay.container.rpartition(" × ")[2],
        own_vessels[0].water_l if own_vessels else 0.0,
        worst,
        warm.get(own[0].system) if own else None,
        tuple(rule.value for rule in HURTS if rule in rules),
        alone=ContainerRule.ALONE in rules,
        apart=_apart(outlook, own),
        weighs_kg=_weighs_kg(own_vessels[0]) if own_vessels else 0.0,
        goes_to=_opened_at(worst),
    )


def _weighs_kg(vessel: Vessel) -> float:
    bags = any(held.what == "container" for held in vessel.holds)
    return float(round(vessel.kg)) if vessel.kg >= FELT_KG and not bags else 0.0


def _apart(outlook: Outlook, inside: list[Livestock]) -> tuple[str, ...]:
    """Name the other animals that harm these, or that these harm."""
    travelling = {route.livestock for route in outlook.project.routes}
    others = [one for one in outlook.project.plan.livestock if one.id in travelling and one not in inside]
    return tuple(
        dict.fromkeys(
            other.name for other in others if any(_harms(one, other) or _harms(other, one) for one in inside)
        )
    )


def _harms(one: Livestock, other: Livestock) -> bool:
    return endangers(one.traits, one.size_cm, other.traits, other.size_cm)


def _opened_at(opening: Opening) -> str:
    """Where the stay ends: the last place that it passes."""
    return opening.stay.where[-1]


def _lifeless(outlook: Outlook) -> Iterator[Label]:
    """Label what holds rock, media and water, and the boxes in which bags stand."""
    places = {task.id: task.place for task in outlook.project.network.tasks}
    starts = {one.task: one.start for one in outlook.schedule.placements}
    named: set[str] = set()
    for use in outlook.project.ledger.containers:
        one = use.vessel
        if not one.livestock and one.number not in named:
            named.add(one.number)
            bags = tuple(held.id for held in one.holds if held.what == "container")
            last = max(use.ends, key=lambda task: starts.get(task, 0))
            yield Label(
                one.number,
                (),
                one.use.value,
                one.kind,
                one.water_l,
                bags=bags,
                weighs_kg=_weighs_kg(one),
                goes_to=Names(outlook.project).place(places.get(last, "")),
            )


def _buckets(outlook: Outlook, known: set[str]) -> Iterator[Label]:
    """Label what rides with a number and holds neither water nor animals: the buckets of sand."""
    places = {task.id: task.place for task in outlook.project.network.tasks}
    for load in outlook.project.loads:
        for task, items in load.stowed:
            goes_to = places.get(f"un{task}", "")
            for item in items:
                if item.number and item.number not in known:
                    known.add(item.number)
                    place = Names(outlook.project).place(goes_to)
                    yield Label(item.number, (), "sand", item.name.partition(" ")[0], 0.0, goes_to=place)
