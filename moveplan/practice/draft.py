"""A network in the making: phases add tasks and links to it, the wording tables give the words."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from moveplan.errors import Problem
from moveplan.estimate import Estimate, Provenance, exactly
from moveplan.network.link import Hold, Link, Relation
from moveplan.network.task import Crew, Kind, Task
from moveplan.plan.move import Assumption
from moveplan.practice.brief import Brief
from moveplan.practice.pace import paced
from moveplan.practice.project import Passage
from moveplan.quantities.facts import Facts, SystemFacts

MOVING_DAY, SECOND_DAY = "moving-day", "moving-in-day"
_DAYS = (MOVING_DAY, SECOND_DAY)
SUFFIXES = ("", "-in")
HOUR = 60
DAY = 24 * HOUR
WEEK = 7 * DAY
_GRID = 5


@dataclass(slots=True)
class Draft(Brief):
    """Collects the tasks and links of one move.

    A move has one leg or two. While the second is composed, ids of tasks get an ending, and names of tasks mean those
    of the second leg where it has them.
    """

    legs: tuple[Facts, ...] = ()
    suffix: str = ""
    day: str = MOVING_DAY
    passages: list[Passage] = field(default_factory=list)
    ends: dict[str, tuple[str, str]] = field(default_factory=dict)
    unsafe: list[Problem] = field(default_factory=list)
    findings: list[Problem] = field(default_factory=list)
    last_watches: dict[str, str] = field(default_factory=dict)
    last_settled: dict[str, str] = field(default_factory=dict)
    newcomers: list[str] = field(default_factory=list)
    tasks: dict[str, Task] = field(default_factory=dict)
    links: list[Link] = field(default_factory=list)
    holds: list[Hold] = field(default_factory=list)
    assumptions: list[Assumption] = field(default_factory=list)
    _keys: dict[str, str] = field(default_factory=dict)
    _phase: str = ""

    def enter(self, number: int, *, plain: bool = False) -> None:
        """Go on with a leg; plain: name tasks as those of the first.

        Parameters
        ----------
        number : int
            0 is the first, -1 the last. [-]
        plain : bool
            Whether tasks keep their plain names. [-]
        """
        at = number % len(self.legs)
        self.facts = self.legs[at]
        self.suffix = "" if plain else SUFFIXES[at]
        self.day = _DAYS[at]

    @property
    def final(self) -> Facts:
        """Where everything stands in the end."""
        return self.legs[-1]

    def gear_needed(self) -> tuple[tuple[str, int, int], ...]:
        """Kind of gear, how many are needed on the day that needs most, how many there are."""
        rows: dict[str, tuple[int, int]] = {}
        for facts in self.legs:
            for kind, needed, there in facts.gear_needed:
                rows[kind] = (max(needed, rows.get(kind, (0, 0))[0]), there)
        return tuple((kind, needed, there) for kind, (needed, there) in rows.items())

    def final_salt_kg(self) -> float:
        """Salt mix for all new and spare water of the move. [kg]."""
        return sum(facts.water.salt.likely for facts in self.legs if not facts.leg.gives_away)

    @property
    def drives(self) -> bool:
        """Whether the leg has a way to drive."""
        return self.facts.leg.drives

    @property
    def leaves_home(self) -> bool:
        """Whether the move ends in another home than it begins in."""
        return self.legs[0].old.id != self.final.new.id

    def id(self, task_id: str) -> str:
        """Id of a task as this leg has it, else as it stands."""
        own = f"{task_id}{self.suffix}"
        return own if own in self.tasks else task_id

    def phase(self, phase_id: str) -> None:
        """Name the phase that the next tasks belong to."""
        self._phase = phase_id

    def has(self, task_id: str) -> bool:
        """Whether a task has been added."""
        return self.id(task_id) in self.tasks

    def has_own(self, task_id: str) -> bool:
        """Whether this leg has added a task."""
        return f"{task_id}{self.suffix}" in self.tasks

    def add(
        self,
        key: str,
        estimate: Estimate,
        *,
        system: SystemFacts | None = None,
        subject: str = "",
        words: dict[str, object] | None = None,
        **fields: Any,
    ) -> str:
        """Add a task; its title, steps and cautions come from the wording tables.

        Parameters
        ----------
        key : str
            Key in the wording tables, verb and thing. [-]
        estimate : Estimate
            Duration. [min]
        system : SystemFacts or None
            The system it is about; its id becomes part of the task's id. [-]
        subject : str
            Anything else it is about; becomes part of the task's id. [-]
        words : dict of str to object
            Further values that the texts name. [-]
        **fields : object
            Further fields of ``Task``. [-]

        Returns
        -------
        str
            The id of the task. [-]
        """
        about = subject or (system.system.id if system else "")
        task_id = (f"{key}-{about}" if about else key) + self.suffix
        context = self.context(system) | (words or {})
        text = self.wording.task(key, context)
        self._keys[task_id] = key
        if fields.get("crew") is not None and fields.get("kind", Kind.WORK) is Kind.WORK:
            estimate = paced(estimate, self.policy, moving_day=bool(fields.get("day")))
        self.tasks[task_id] = Task(
            id=task_id,
            title=text.title,
            estimate=on_grid(estimate),
            phase=self.wording.phase(self._phase),
            steps=text.steps,
            cautions=text.cautions,
            **fields,
        )
        return task_id

    def link(
        self,
        before: str,
        after: str,
        *,
        relation: Relation = Relation.FINISHTOSTART,
        gap: int | None = 0,
        at_most: int | None = None,
        words: dict[str, object] | None = None,
        key: str = "",
    ) -> None:
        """Let one task wait for another; the reason comes from the wording tables.

        Parameters
        ----------
        before, after : str
            Ids of tasks that have been added. [-]
        relation : Relation
            Which ends the gap is measured between. [-]
        gap, at_most : int or None
            Least and greatest gap. [min]
        words : dict of str to object
            Further values that the reason names. [-]
        key : str
            Key of the reason, where it is not that of the two tasks. [-]
        """
        before, after = self.id(before), self.id(after)
        context = self.context(None) | (words or {})
        why = self.wording.why(key or f"{self._keys[before]} > {self._keys[after]}", context)
        self.links.append(Link(before, after, relation, gap, at_most, why))

    def chain(self, *task_ids: str) -> None:
        """Link tasks one after the other, without gaps."""
        for before, after in pairwise(task_ids):
            self.link(before, after)

    def context(self, system: SystemFacts | None) -> dict[str, object]:
        """Values that every text may name."""
        values: dict[str, object] = {
            "plan": self.plan,
            "facts": self.facts,
            "old": self.facts.old,
            "new": self.facts.new,
            "home": self.final.new,
            "drives": self.drives,
            "leaves_home": self.leaves_home,
            "gives_away": self.facts.leg.gives_away,
            "standing": system.standing if system else all(one.standing for one in self.facts.systems),
        }
        return values | ({"q": system, "system": system.system, "after": system.rebuilt} if system else {})

    def assume(self, key: str, value: str, why: str) -> None:
        """Note something that practice assumed."""
        self.assumptions.append(Assumption(key, value, why))


def on_grid(estimate: Estimate) -> Estimate:
    """Round a duration up to whole five minutes, so that plans can be read and kept."""

    def up(value: float) -> float:
        return float(-(-round(value, 6) // _GRID) * _GRID)

    return Estimate(
        up(estimate.low),
        up(estimate.likely),
        up(estimate.high),
        estimate.unit,
        estimate.basis,
        estimate.provenance,
        estimate.source,
        estimate.inputs,
    )


def hands(count: int, *skills: str) -> Crew:
    """So many people, one of whom has each of the skills.

    >>> hands(2, "cares").skills
    (('cares', 1),)
    """
    return Crew(count, tuple((skill, 1) for skill in skills))


def lifters(count: int) -> Crew:
    """So many people, all of whom lift.

    >>> lifters(2).skills
    (('lifts', 2),)
    """
    return Crew(count, (("lifts", count),))


def usual(low: float, likely: float, high: float, basis: str) -> Estimate:
    """Estimate a duration from practice, in minutes."""
    return Estimate(low, likely, high, "min", basis, Provenance.ASSUMED, "common practice, no source")


def fixed(minutes: float, basis: str) -> Estimate:
    """Fix a duration without spread, in minutes."""
    return exactly(minutes, "min", basis, Provenance.ASSUMED, "common practice, no source")
