"""What may be lifted, by how many and with what: one rule for tubs, cans, tanks and teams."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.quantities.freight.freight import LoadItem
from moveplan.quantities.policy import Policy
from moveplan.science.carrying.lifting import (
    ON_STAIRS,
    band_ends_kg,
    guideline_filter_kg,
    team_band,
    team_limit_kg,
)

MOST_CARRIERS = 4
"""Largest team: more seldom get a hold; HSE L23. [-]"""
TUB_BEARERS = 2
"""People to a tub, where there are two. [-]"""
TUB_KG = 20.0
"""What a tub may weigh for two people: its handles stand 0.3 to 0.4 m above the floor, and 21.3 kg would go over
stairs; HSE L23, recalled. From a stand it would be 26.7. [kg]"""
HEAVY_KG = 30.0
"""What weighs more is no tub: everybody there carries it together, slowly; assumed, between what two may lift at
knuckle height and over stairs. [kg]"""
ARM_M = 0.7
"""What is longer has no one who gets both hands round it on a stair; assumed. [m]"""
ONE_PERSON_TUB_L = 150.0
"""Largest tub that one person gets hold of; assumed. [l]"""
SOURCE = "Health and Safety Executive, INDG143, L23 and INDG383, recalled"


class By(StrEnum):
    """How something heavy is carried."""

    HAND = "hand"
    AID = "aid"
    MACHINE = "machine"


@dataclass(frozen=True, slots=True)
class Lift:
    """How something heavy is carried.

    Parameters
    ----------
    people : int
        Who carry it, or guide it.
    by : By
        With bare hands; by trained hands with lifters, straps and a dolly; or only by a machine.
    hand_kg, aid_kg : float
        What so many carry by hand, and with aids. [kg]
    enough : int
        Smallest team that could carry it with aids; 0: none.
    heavy : bool
        Whether it is in the red band for so many even with aids.
    eased : int
        Smallest team for which it is not; 0: none.
    short : bool
        Whether one more is missing at its lower end, over stairs.
    """

    people: int
    by: By
    hand_kg: float
    aid_kg: float
    enough: int
    heavy: bool = False
    eased: int = 0
    short: bool = False

    @property
    def firm(self) -> bool:
        """Whether a firm carries it: no team can, or it is in the red band for the largest."""
        return self.by is By.MACHINE or (self.heavy and self.people == MOST_CARRIERS)


def strength(plan: Plan) -> float:
    """Give what those who lift take, over the guideline figure. [-]."""
    return Policy(plan.policy)["lift_capacity"] / guideline_filter_kg("elbow")


def hand_limit_kg(plan: Plan, people: int, zones: Sequence[str], *, stairs: bool) -> float:
    """Give what so many people of the plan lift with bare hands.

    Parameters
    ----------
    plan : Plan
        Its policy says what one of them takes.
    people : int
        One to four.
    zones : sequence of str
        Heights that the hands pass.
    stairs : bool
        Whether it goes over stairs.
    """
    return strength(plan) * team_limit_kg(["men"] * people, zones, stairs=stairs)


def aid_limit_kg(plan: Plan, people: int) -> float:
    """Give what so many trained people carry with lifters, straps and a dolly.

    One alone: what straps let the hands hold at the waist. Teams: the end of the red band.

    Parameters
    ----------
    plan : Plan
        Weaker people carry less; stronger ones no more.
    people : int
        One to four.
    """
    if people == 1:
        return strength(plan) * guideline_filter_kg("elbow")
    return min(strength(plan), 1.0) * band_ends_kg(people)[2]


def tub_limit_kg(plan: Plan, places: Sequence[Place] = ()) -> float:
    """Give what a tub may weigh for those who lift: it is taken up from the floor and carried, over stairs as well.

    Parameters
    ----------
    plan : Plan
        One who lifts carries alone; nobody counts as two, since somebody is then to be found.
    places : sequence of Place
        Where it is carried; none: every place of the plan.
    """
    return from_floor_kg(plan, 1 if plan.lifters == 1 else TUB_BEARERS, places)


def from_floor_kg(plan: Plan, people: int, places: Sequence[Place] = ()) -> float:
    """Give what so many people take up from the floor by its handles and carry, over stairs as well.

    Parameters
    ----------
    plan : Plan
        Its policy says what one of them takes.
    people : int
        One to four.
    places : sequence of Place
        Where it is carried; none: every place of the plan.
    """
    floor = hand_limit_kg(plan, people, ("handles", "knuckle"), stairs=False)
    if not stairs_between(places or plan.places):
        return floor
    return min(floor, hand_limit_kg(plan, people, ("knuckle",), stairs=True))


def carried_as(item: LoadItem) -> str:
    """Say how a thing is carried: like a can by one, like a tub by two, as glass by two, like a tank by all.

    >>> carried_as(LoadItem("carton", 4.0)), carried_as(LoadItem("empty tank", 13.0, fragile=True))
    ('can', 'glass')
    """
    if item.by_handle:
        return "can"
    if item.kg > HEAVY_KG:
        return "tank"
    if item.fragile:
        return "glass"
    light = item.kg <= team_limit_kg(["men"], ["handles"])
    return "can" if light and max(item.length_m, item.width_m, item.height_m) <= ARM_M else "tub"


def bearers(item: LoadItem) -> int:
    """Give how many carry a thing that is no tank: one by its handle or where one may take it from the floor, else two.

    Parameters
    ----------
    item : LoadItem
        What travels.
    """
    return 1 if carried_as(item) == "can" else TUB_BEARERS


def stairs_between(places: Sequence[Place]) -> bool:
    """Whether what is carried passes stairs at one of the places: none where a lift carries it."""
    return any(place.carried_steps for place in places)


def lift_of(plan: Plan, kg: float, places: Sequence[Place]) -> Lift:
    """Say how a tank is carried: off its stand and onto it at knuckle height or above, and over stairs.

    The smallest team that carries it by hand; else the smallest for which it is in the amber band with aids, over
    stairs, where two bear it, with one more at its lower end if there is one; else all who are there, with aids as
    long as they can at all. Where they cannot, they guide a machine.

    Parameters
    ----------
    plan : Plan
        Who lifts; nobody counts as two, since somebody is then to be found.
    kg : float
        Mass. [kg]
    places : sequence of Place
        Where it is carried.
    """
    able = min(plan.lifters, MOST_CARRIERS) or TUB_BEARERS
    teams = range(1 if able == 1 else 2, able + 1)
    stairs = stairs_between(places)
    by_hand = [hand_limit_kg(plan, team, ("knuckle",), stairs=stairs) for team in teams]
    with_aid = [aid_limit_kg(plan, team) for team in teams]
    hands = [team for team, limit in zip(teams, by_hand, strict=True) if kg <= limit]
    aided = [team for team, limit in zip(teams, with_aid, strict=True) if kg <= limit]
    amber = [team for team in aided if team > 1 and _eased(team, kg)]
    people = min(hands or amber or [able])
    lower_end = stairs and people in amber and not hands and kg > ON_STAIRS * aid_limit_kg(plan, 1)
    short = lower_end and people == able < MOST_CARRIERS
    people = min(people + lower_end, able)
    at = people - teams[0]
    enough = next((team for team in range(1, MOST_CARRIERS + 1) if kg <= aid_limit_kg(plan, team)), 0)
    by = By.HAND if hands else By.AID if aided else By.MACHINE
    heavy = by is By.AID and people > 1 and not amber
    eased = next((team for team in range(2, MOST_CARRIERS + 1) if _eased(team, kg)), 0)
    return Lift(people, by, by_hand[at], with_aid[at], enough, heavy, eased, short)


def _eased(team: int, kg: float) -> bool:
    """Whether trained hands with aids carry it without being in the red band."""
    return team_band(team, kg) in ("green", "amber")


def aids_of(glass: Sequence[Lift], others: Sequence[Lift] = ()) -> tuple[tuple[str, int], ...]:
    """Count the aids for what is carried one after the other: kind of gear, how many.

    A suction lifter for each who carries glass, a carrying strap for each two, one dolly for the level.

    Parameters
    ----------
    glass, others : sequence of Lift
        What is carried.
    """
    panes, most = (
        max((lift.people for lift in lifts if lift.by is By.AID), default=0)
        for lifts in (glass, (*glass, *others))
    )
    return (("lifters", panes), ("straps", -(-most // 2)), ("dolly", min(most, 1)))
