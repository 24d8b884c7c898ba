"""Who does a task, with how many others, and how the heavy things are lifted."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations

from moveplan.hours import days_off
from moveplan.network.task import Crew
from moveplan.plan.move import Plan
from moveplan.plan.people import Helper
from moveplan.practice.drafting.task_parts import hands
from moveplan.practice.drafting.wording import Wording
from moveplan.quantities.containers.vessels import Use
from moveplan.quantities.durations import MANY, bagging, fillers, fitters, side_by_side
from moveplan.quantities.facts import Facts, SystemFacts
from moveplan.quantities.freight.lifting import MOST_CARRIERS, By, Lift, lift_of, stairs_between
from moveplan.quantities.handling import Handling
from moveplan.quantities.policy import Policy


@dataclass(slots=True)
class Crews:
    """Says who does a task, and with how many others.

    Parameters
    ----------
    plan : Plan
        What the keeper told us.
    facts : Facts
        The quantities of the plan.
    wording : Wording
        Where the words come from.
    """

    plan: Plan
    facts: Facts
    wording: Wording
    handling: Handling = field(init=False)
    policy: Policy = field(init=False)

    def __post_init__(self) -> None:
        self.handling = Handling(self.plan.policy)
        self.policy = Policy(self.plan.policy)

    def phrase(self, key: str, **words: object) -> str:
        """Fill in a half-sentence."""
        return self.wording.phrase(key, words)

    @property
    def single_handed(self) -> bool:
        """Whether one person does it all, with nobody to brief, to ask or to thank."""
        return len(self.plan.people) == 1

    def people_words(self) -> dict[str, object]:
        """Names of all who help."""
        return {"helpers": [person.name for person in self.plan.people]}

    def keeper(self, *skills: str) -> Crew:
        """Whoever asks, books, briefs, decides and signs: the one who leads, else the first of the plan.

        Parameters
        ----------
        *skills : str
            What else the task needs; one who lacks it leaves it to those who have it.
        """
        lead = self.plan.leads
        able = lead is not None and not self._away(lead) and all(getattr(lead, skill) for skill in skills)
        named = (lead.id,) if able and lead else ()
        return Crew(1, tuple((skill, 1) for skill in skills), named)

    def owner(self) -> str:
        """Name of the one whose tank it is: the client of a firm, else who leads, else the first of the plan."""
        return max(self.plan.people, key=lambda one: (one.client, one.lead)).name

    def looks_in(self) -> str:
        """Name of the one who looks in late and early: who lives where the tank stands now, else its owner."""
        near = (one.name for one in self.plan.people if one.cares and one.place == self.facts.new.id)
        return next(near, self.owner())

    def _away(self, one: Helper) -> bool:
        """Whether somebody is away on a day on which the leg may go over."""
        days = self.facts.leg.days
        return bool(days_off(one.absences, days[0], days[-1]) & set(days)) if days else False

    def team(self, most: int, skill: str = "") -> Crew:
        """As many people as there are, at most so many; with ``lifts`` all of them lift."""
        there = self.plan.lifters if skill == "lifts" else len(self.plan.people)
        count = max(min(most, there), 1)
        if skill == "lifts":
            return Crew(count, (("lifts", count),))
        return Crew(count, ((skill, 1),) if skill else ())

    def heavers(self, kg: float, most: int = 2) -> Crew:
        """People who lift so much by hand, piece by piece or by the bucket: all of them lift. [kg]."""
        return self.team(most, "lifts" if kg else "")

    def able(self, *skills: str, least: int = 1) -> Crew:
        """As few people as have all these skills between them, so many at least where there are as many."""
        people = self.plan.people
        for count in range(min(least, len(people)), len(people) + 1):
            if any(
                all(any(getattr(one, skill) for one in some) for skill in skills)
                for some in combinations(people, count)
            ):
                return hands(count, *skills)
        return hands(least, *skills)

    def carriers(self, *, all_of_them: bool) -> Crew:
        """People who carry a load: all who lift, or a pair, as tubs need it, while others go on with their work."""
        return self.team(MOST_CARRIERS if all_of_them else 2, "lifts")

    def alone(self, skill: str) -> Crew:
        """One of a crew of three and more, while the others go on with their work; else all who can."""
        return self.team(1 if len(self.plan.people) > 2 else 2, skill)

    def care_crew(self, animals: int = MANY) -> Crew:
        """People who handle animals side by side: two where there are two, one for a few animals."""
        able = max(min(sum(person.cares for person in self.plan.people), 2), 1)
        count = side_by_side(animals, able)
        return Crew(count, (("cares", count),))

    def bag_crew(self, facts: SystemFacts) -> Crew:
        """People who close bags and boxes of fish."""
        return self.box_crew(facts.handled.bags)

    def box_crew(self, boxes: int, of: int = 0) -> Crew:
        """People who close or open boxes side by side: two where there is more than a handful in all."""
        count = min(bagging(max(boxes, of), self.care_crew().count), max(boxes, 1))
        return Crew(count, (("cares", count),))

    def fitters(self, pieces: int) -> Crew:
        """People who take equipment off, or put it on, side by side."""
        return Crew(fitters(pieces, self.facts.carriers))

    def fillers(self, facts: SystemFacts) -> Crew:
        """People who fill a tank out of containers."""
        poured = sum(vessel.use in (Use.OLD_WATER, Use.NEW_WATER) for vessel in facts.vessels)
        return Crew(fillers(poured, self.facts.carriers))

    def tank_lift(self, facts: SystemFacts, *, old: bool = False) -> Lift:
        """How the empty tank, or the one it replaces, is carried."""
        before_kg, after_kg = facts.lifted_kg
        return lift_of(self.plan, before_kg if old else after_kg, (self.facts.old, self.facts.new))

    def firm_carries(self, kg: float) -> bool:
        """Whether a firm has to come for something so heavy. [kg]."""
        return lift_of(self.plan, kg, (self.facts.old, self.facts.new)).firm

    def tank_crew(self, facts: SystemFacts, *, old: bool = False) -> Crew:
        """People who carry the empty tank, or the one it replaces."""
        count = self.tank_lift(facts, old=old).people
        return Crew(count, (("lifts", count),))

    def lift_words(self, facts: SystemFacts, *, old: bool = False) -> dict[str, object]:
        """Say how the tank, or the one it replaces, is carried: in full where it is first read, else in short.

        Where several carry it, they read it when they walk the way; who is alone reads it when it comes off.
        """
        lift = self.tank_lift(facts, old=old)
        stairs = stairs_between((self.facts.old, self.facts.new))
        by = By.MACHINE if lift.firm else lift.by
        full = self.phrase(f"lift-{by}", lift=lift, stairs=stairs)
        short = self.phrase(f"short-lift-{by}", lift=lift, stairs=stairs)
        return {
            "lift_words": full,
            "lift_short": short,
            "lift_coming_off": full if self.single_handed else short,
        }
