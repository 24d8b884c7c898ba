"""A network in the making: phases add tasks and links to it, the wording tables give the words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from moveplan.errors import Problem
from moveplan.estimate import Estimate
from moveplan.network.link import Hold, Link, Relation
from moveplan.network.task import Kind, Task
from moveplan.plan.move import Assumption
from moveplan.plan.systems import System
from moveplan.practice.comfort.mealtimes import Mealtime
from moveplan.practice.drafting.cautions import applying
from moveplan.practice.drafting.pace import Paces, paced, paces_of
from moveplan.practice.drafting.task_parts import on_grid
from moveplan.practice.ledger.bins import Bins
from moveplan.practice.ledger.entries import LEAST_L, Balances, Body, Entries, InUse, Pour
from moveplan.practice.ledger.stores import Stores
from moveplan.practice.project import LoadItem, Meals, Passage
from moveplan.quantities.containers.vessels import Vessel
from moveplan.quantities.facts import GroupFacts, SystemFacts
from moveplan.quantities.keeping.entry import Entry, entry_of, kit_totals
from moveplan.quantities.keeping.gates import NitrogenGates, nitrogen_gates
from moveplan.quantities.leg.mixing import Mixing
from moveplan.quantities.trade_groups import CORALS

MOVING_DAY, SECOND_DAY = "moving-day", "moving-in-day"
_DAYS = (MOVING_DAY, SECOND_DAY)
SUFFIXES = ("", "-in")


@dataclass(slots=True)
class Draft(Stores):
    """Collects the tasks and links of one move.

    A move has one leg or two. While the second is composed, ids of tasks get an ending, and names of tasks mean those
    of the second leg where it has them.
    """

    suffix: str = ""
    at: int = 0
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
    pours: list[Pour] = field(default_factory=list)
    uses: list[InUse] = field(default_factory=list)
    bodies: tuple[Body, ...] = ()
    balances: Balances = field(init=False)
    afresh_kg: float = 0.0
    bins: Bins = field(init=False)
    paces: Paces = field(init=False)
    hints: list[str] = field(default_factory=list)
    stowed: dict[tuple[str, str, int], list[tuple[str, list[LoadItem]]]] = field(default_factory=dict)
    first_mixed: str = ""
    first_mixing: Mixing = field(init=False)
    mealtimes: list[Mealtime] = field(default_factory=list)
    meals: list[Meals] = field(default_factory=list)
    _keys: dict[str, str] = field(default_factory=dict)
    _phase: str = ""

    def __post_init__(self) -> None:
        Stores.__post_init__(self)
        self.balances = Balances(self.bodies)
        self.paces = paces_of(self.plan, self.wording.kinds)
        self.bins = Bins(self._bin_means())

    def enter(self, number: int, *, plain: bool = False) -> None:
        """Go on with a leg; plain: name tasks as those of the first.

        Parameters
        ----------
        number : int
            0 is the first, -1 the last.
        plain : bool
            Whether tasks keep their plain names.
        """
        at = number % len(self.legs)
        self.facts, self.at = self.legs[at], at
        self.suffix = "" if plain else SUFFIXES[at]
        self.day = _DAYS[at]

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
        pours: Entries = (),
        handled: tuple[GroupFacts, ...] = (),
        dangers: tuple[str, ...] = (),
        **fields: Any,
    ) -> str:
        """Add a task; its title, steps and cautions come from the wording tables.

        Parameters
        ----------
        key : str
            Key in the wording tables, verb and thing.
        estimate : Estimate
            Duration. [min]
        system : SystemFacts or None
            The system it is about; its id becomes part of the task's id.
        subject : str
            Anything else it is about; becomes part of the task's id.
        words : dict of str to object
            Further values that the texts name.
        pours : tuple of (str, str, float)
            Water that it moves: from, to, litres; the texts may name them. [l]
        handled : tuple of GroupFacts
            Whose animals are handled; none: all of the system.
        dangers : tuple of str
            Ids of cautions beside those of the wording tables.
        **fields : object
            Further fields of ``Task``.
        """
        about = subject or (system.system.id if system else "")
        task_id = (f"{key}-{about}" if about else key) + self.suffix
        entries = tuple(one for one in pours if one[2] > LEAST_L)
        times = fields["repeats"].times if fields.get("repeats") else 1
        arrived = self.drives and fields.get("place") == self.facts.leg.destination
        poured = self.bins.numbered(entries, task_id, times, self.at + arrived)
        text = self.wording.task(key, lambda: self.context(system) | {"pours": poured} | (words or {}))
        self._keys[task_id] = key
        if fields.get("kind") is Kind.HOLD_POINT:
            skills = fields["crew"].skills if fields.get("crew") else ()
            fields["crew"] = self.keeper(*(skill for skill, _ in skills))
        if fields.get("crew") is not None and fields.get("kind", Kind.WORK) is Kind.WORK:
            estimate = paced(estimate, self.paces.of(key, moving_day=bool(fields.get("day"))))
        self.tasks[task_id] = Task(
            id=task_id,
            title=text.title,
            estimate=on_grid(estimate),
            phase=self.wording.phase(self._phase),
            steps=text.steps,
            cautions=applying(
                (*text.cautions, *dangers), tuple(one.kind for one in handled) or self.kinds_in(system)
            ),
            **fields,
        )
        for _ in range(times):
            self.balances.book(entries)
        self.pours += [Pour(task_id, *entry) for entry in poured]
        why = self.wording.why("poured > bin", lambda: self.context(None))
        self.links += [Link(before, task_id, why=why) for before in self.bins.emptied_by(task_id)]
        if key == "drive":
            self.bins.drive(self.at)
        return task_id

    def use(self, vessels: Iterable[Vessel], first: str, last: str) -> None:
        """Note that containers are in use from the start of one task to the finish of another."""
        self.uses += [InUse(vessel, self.id(first), self.id(last)) for vessel in vessels]

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
        any_length: bool = False,
    ) -> None:
        """Let one task wait for another; the reason comes from the wording tables.

        Parameters
        ----------
        before, after : str
            Ids of tasks that have been added.
        relation : Relation
            Which ends the gap is measured between.
        gap, at_most : int or None
            Least and greatest gap. [min]
        words : dict of str to object
            Further values that the reason names.
        key : str
            Key of the reason, where it is not that of the two tasks.
        any_length : bool
            Whether every gap up to the greatest is as good.
        """
        before, after = self.id(before), self.id(after)
        named = key or f"{self._keys[before]} > {self._keys[after]}"
        why = self.wording.why(named, lambda: self.context(None) | (words or {}))
        self.links.append(Link(before, after, relation, gap, at_most, why, any_length=any_length))

    def chain(self, *task_ids: str) -> None:
        """Link tasks one after the other, without gaps."""
        for before, after in pairwise(task_ids):
            self.link(before, after)

    def context(self, system: SystemFacts | None) -> dict[str, object]:
        """Values that every text may name."""
        standing = system.standing if system else all(one.standing for one in self.facts.systems)
        values: dict[str, object] = {
            "plan": self.plan,
            "facts": self.facts,
            "old": self.facts.old,
            "new": self.facts.new,
            "home": self.final.new,
            "drives": self.drives,
            "leaves_home": self.leaves_home,
            "gives_away": self.facts.leg.gives_away,
            "limit": self.policy,
            "gates": self._gates,
            "entry": self._entry,
            "kit": self._kit,
            "money": self.money,
            "elsewhere": self.drives and (self.facts.leg.water_there or standing),
            "water_cools": self.water_cools(),
            "pours_here": self.facts.leg.water_there or not self.drives,
            "standing": standing,
            "has_corals": any(kind.group in CORALS for kind in self.kinds_in(system)),
        }
        return values | (_of_system(system) if system else {})

    def _gates(self, system: System) -> NitrogenGates:
        """Find the limits of ammonia and nitrite for the animals of a system."""
        return nitrogen_gates(self.plan, system.id)

    def _entry(self, system: System) -> Entry:
        """Find what the water of a system must be before animals go in."""
        return entry_of(self.plan, system, self.facts.new)

    def _kit(self, unionised_mg_n_l: float, system: System) -> str:
        """Say what total ammonia a kit reads at a limit of un-ionised ammonia, in the water of a system."""
        return self.phrase("on-the-kit", totals=kit_totals(unionised_mg_n_l, system))

    def assume(self, key: str, value: str, why: str) -> None:
        """Note something that practice assumed."""
        self.assumptions.append(Assumption(key, value, why))


def _of_system(facts: SystemFacts) -> dict[str, object]:
    """Values of one system: as it stands and as it will, and the kinds of equipment it has, its return pump with it."""
    after = facts.rebuilt
    parts = {item.kind for item in after.equipment} | ({"return-pump"} if after.sump_l else set())
    return {"q": facts, "system": facts.system, "after": after, "parts": parts}
