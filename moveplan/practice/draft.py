"""A network in the making: phases add tasks and links to it, the wording tables give the words."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from moveplan.estimate import Estimate, Provenance, exactly
from moveplan.network.link import Hold, Link, Relation
from moveplan.network.task import Crew, Task
from moveplan.plan.move import Assumption
from moveplan.practice.brief import Brief
from moveplan.quantities.facts import SystemFacts

MOVING_DAY = "moving-day"
HOUR = 60
DAY = 24 * HOUR
WEEK = 7 * DAY
_GRID = 5


@dataclass(slots=True)
class Draft(Brief):
    """Collects the tasks and links of one move."""

    tasks: dict[str, Task] = field(default_factory=dict)
    links: list[Link] = field(default_factory=list)
    holds: list[Hold] = field(default_factory=list)
    assumptions: list[Assumption] = field(default_factory=list)
    _keys: dict[str, str] = field(default_factory=dict)
    _phase: str = ""

    def phase(self, phase_id: str) -> None:
        """Name the phase that the next tasks belong to."""
        self._phase = phase_id

    def has(self, task_id: str) -> bool:
        """Whether a task has been added."""
        return task_id in self.tasks

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
        suffix = subject or (system.system.id if system else "")
        task_id = f"{key}-{suffix}" if suffix else key
        context = self.context(system) | (words or {})
        text = self.wording.task(key, context)
        self._keys[task_id] = key
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
        context = self.context(None) | (words or {})
        why = self.wording.why(key or f"{self._keys[before]} > {self._keys[after]}", context)
        self.links.append(Link(before, after, relation, gap, at_most, why))

    def chain(self, *task_ids: str) -> None:
        """Link tasks one after the other, without gaps."""
        for before, after in pairwise(task_ids):
            self.link(before, after)

    def context(self, system: SystemFacts | None) -> dict[str, object]:
        """Values that every text may name."""
        return {"plan": self.plan, "facts": self.facts, "old": self.facts.old, "new": self.facts.new} | (
            {"q": system, "system": system.system} if system else {}
        )

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
