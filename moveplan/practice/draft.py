"""A network in the making: phases add tasks and links to it, the wording tables give the words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise
from math import floor
from typing import Any

from moveplan.errors import Problem
from moveplan.estimate import Estimate, Provenance, exactly
from moveplan.network.link import Hold, Link, Relation
from moveplan.network.task import Crew, Kind, Task
from moveplan.plan.move import Assumption
from moveplan.plan.systems import System
from moveplan.practice.bins import ORDERED, STORAGE, BinMeans, Bins
from moveplan.practice.brief import Brief
from moveplan.practice.cautions import applying
from moveplan.practice.ledger import LEAST_L, Balances, Body, Entries, InUse, Pour, Running
from moveplan.practice.mealtimes import Mealtime
from moveplan.practice.pace import Paces, paced
from moveplan.practice.project import LoadItem, Meals, Passage
from moveplan.quantities.containers.vessels import Numbers, Vessel
from moveplan.quantities.facts import Facts, GroupFacts, SystemFacts
from moveplan.quantities.heaters import PUMP, mixing_pump
from moveplan.quantities.keeping.boarders import Boarders, boarding_salt_kg, boarding_vessels
from moveplan.quantities.keeping.entry import Entry, entry_of
from moveplan.quantities.keeping.gates import NitrogenGates, nitrogen_gates
from moveplan.quantities.keeping.upkeep import Upkeep, upkeep_of
from moveplan.quantities.leg.lading import gear_of
from moveplan.quantities.leg.mixing import Mixing, mixing_of, water_place
from moveplan.quantities.leg.refill import curing_water
from moveplan.quantities.trade_groups import CORALS
from moveplan.quantities.water.amounts import making_for, making_of, mixed_of

MOVING_DAY, SECOND_DAY = "moving-day", "moving-in-day"
_DAYS = (MOVING_DAY, SECOND_DAY)
SUFFIXES = ("", "-in")
HOUR = 60
"""Minutes of an hour. [min]"""
DAY = 24 * HOUR
WEEK = 7 * DAY
_GRID = 5
"""Durations are rounded to this. Chosen. [min]"""


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
    pours: list[Pour] = field(default_factory=list)
    uses: list[InUse] = field(default_factory=list)
    bodies: tuple[Body, ...] = ()
    boarders: Boarders = ()
    balances: Balances = field(init=False)
    known_bins: tuple[Vessel, ...] = ()
    known_afresh_kg: float = 0.0
    known_heaters: int = 0
    afresh_kg: float = 0.0
    bins: Bins = field(init=False)
    paces: Paces = field(init=False)
    hints: list[str] = field(default_factory=list)
    stowed: dict[tuple[str, str, int], list[tuple[str, list[LoadItem]]]] = field(default_factory=dict)
    mixings: list[Mixing] = field(default_factory=list)
    warmed: list[Running] = field(default_factory=list)
    first_mixed: str = ""
    first_mixing: Mixing = field(init=False)
    mealtimes: list[Mealtime] = field(default_factory=list)
    meals: list[Meals] = field(default_factory=list)
    _keys: dict[str, str] = field(default_factory=dict)
    _phase: str = ""

    def __post_init__(self) -> None:
        Brief.__post_init__(self)
        self.balances = Balances(self.bodies)
        self.paces = Paces(self.plan.learnt, self.policy, self.wording.kinds)
        self.bins = Bins(self._bin_means())

    def _bin_means(self) -> BinMeans:
        tub, making = self.means().main("tub"), self.plan.water_making
        days = [[one for own in facts.systems for one in own.vessels] for facts in self.legs]
        used = (sum(one.gear == tub.gear for one in vessels) for vessels in (*days, self.boarding()))
        storage_l = making.storage_l if making else 0.0
        numbers = Numbers(self.plan.gear)
        return BinMeans(storage_l, tub.gear, tub.volume_l, max(used, default=0), tub.there, numbers)

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
        self.facts = self.legs[at]
        self.suffix = "" if plain else SUFFIXES[at]
        self.day = _DAYS[at]

    def boarding(self) -> tuple[Vessel, ...]:
        """List the containers in which boarded animals are brought and fetched."""
        return tuple(one for _, groups in self.boarders for one in boarding_vessels(self.plan, groups))

    @property
    def final(self) -> Facts:
        """Where everything stands in the end."""
        return self.legs[-1]

    def gear_needed(self) -> tuple[tuple[str, int, int], ...]:
        """Kind of gear, how many are needed on the day that needs most, how many there are."""
        rows: dict[str, tuple[int, int]] = {}
        ways = [gear_of(self.plan, self.boarding())] if self.boarders else []
        for several in (*(facts.gear_needed for facts in self.legs), *ways):
            for kind, needed, there in several:
                rows[kind] = (max(needed, rows.get(kind, (0, 0))[0]), there)
        needed, there = rows.get("heater", (0, 0))
        rows["heater"] = (max(needed, self.known_heaters), there)
        if self.known_heaters:  # beside heaters a pump moves the water that is mixed
            rows[PUMP] = (1, sum(item.count for item in self.plan.gear if item.kind == PUMP and item.owned))
        for bin_ in self.known_bins:
            if bin_.gear != STORAGE:
                kind = ORDERED if bin_.kind == "vat" else bin_.kind
                needed, there = rows.get(kind, (0, 0))
                rows[kind] = (needed + 1, there)
        return tuple((kind, needed, there) for kind, (needed, there) in rows.items())

    def final_salt_kg(self) -> float:
        """Salt mix for all new and spare water of the move, and for changes in holding systems. [kg]."""
        made = sum(facts.water.salt.likely for facts in self.legs)
        boarding = boarding_salt_kg(self.plan, self.boarders)
        return made + sum(one.salt_kg for one in self.upkeep()) + self.known_afresh_kg + boarding

    def _at_home(self) -> tuple[SystemFacts, ...]:
        """List the systems in which animals are looked after once the move is over."""
        leg = self.final.leg
        return () if leg.gives_away or leg.empty else self.final.systems

    def reserve_salt(self) -> tuple[float, float]:
        """Salt water as much as all spare water once more, and dry mix for it that is at hand on arrival. [l], [kg]."""
        making = making_of(self.plan)
        systems = () if self.ready_mixed(self.final) else self._at_home()
        rows = [(one.rebuilt, one.water.spare.likely) for one in systems]
        salt = sum(mixed_of(system, litres, making)[1].likely for system, litres in rows)
        return sum(litres for _, litres in rows), salt

    def ready_mixed(self, facts: Facts) -> bool:
        """Whether the salt water of a leg is bought from a shop that mixes it."""
        return making_for(self.plan, facts.leg).ready_mixed

    def curing_water(self) -> tuple[float, float]:
        """Purified water and dry mix in which new rock cures. [l], [kg]."""
        if self.final.leg.gives_away:
            return 0.0, 0.0
        rows = [
            curing_water(self.plan, one)
            for one in self.final.systems
            if self.plan.system(one.system.id).new_tank
        ]
        return sum(row[0] for row in rows), sum(row[1] for row in rows)

    def mixing(self, litres: float, place: str = "") -> Mixing:
        """Work out how so much new salt water of the leg is warmed; the bill reads it too.

        Parameters
        ----------
        litres : float
            Salt water. [l]
        place : str
            Id of the place where it is warmed; empty: where the water of the leg is made.
        """
        where = self.plan.place(place or water_place(self.facts.leg, self.facts.systems))
        warmest = max(one.rebuilt.temperature_c for one in self.facts.systems)
        found = mixing_of(self.plan, where, making_of(self.plan), litres, warmest)
        self.mixings.append(found)
        return found

    def heat(self, mixing: Mixing, place: str, first: str, last: str) -> None:
        """Note that heaters and pump of a mixing run at a place from the start of one task to the end of another.

        Parameters
        ----------
        mixing : Mixing
            Whose heaters.
        place : str
            Id of the place.
        first, last : str
            Ids of tasks.
        """
        if mixing.litres > 0 and mixing.time.high > 0:
            held = (*(one.gear for one in mixing.heaters), mixing_pump(self.plan))
            self.warmed.append(Running(place, first, last, mixing.heater_w, "mixing", held=held))

    def heaters_hung(self) -> int:
        """Most spare heaters that hang in one bin. [-]."""
        return max((len(one.heaters) for one in self.mixings if one.litres > 0), default=0)

    def days_waiting(self) -> int:
        """Days between the legs of a move; 0 where there is one. [day]."""
        days = [facts.leg.days[-1] for facts in self.legs if facts.leg.days]
        return (days[-1] - days[0]).days if days else 0

    def upkeep(self) -> tuple[Upkeep, ...]:
        """Work out what holding systems use up between the legs of a move."""
        first = self.legs[0]
        if len(self.legs) == 1 or first.leg.gives_away:
            return ()
        making, days = making_of(self.plan), self.days_waiting()
        return tuple(upkeep_of(facts, days, self.policy, making) for facts in first.systems)

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
        **fields : object
            Further fields of ``Task``.

        Returns
        -------
        str
            The id of the task.
        """
        about = subject or (system.system.id if system else "")
        task_id = (f"{key}-{about}" if about else key) + self.suffix
        entries = tuple(one for one in pours if one[2] > LEAST_L)
        times = fields["repeats"].times if fields.get("repeats") else 1
        poured = self.bins.numbered(entries, task_id, times)
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
            cautions=applying(text.cautions, tuple(one.kind for one in handled) or self.kinds_in(system)),
            **fields,
        )
        for _ in range(times):
            self.balances.book(entries)
        self.pours += [Pour(task_id, *entry) for entry in poured]
        why = self.wording.why("poured > bin", lambda: self.context(None))
        self.links += [Link(before, task_id, why=why) for before in self.bins.emptied_by(task_id)]
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
            "standing": system.standing if system else all(one.standing for one in self.facts.systems),
            "has_corals": any(kind.group in CORALS for kind in self.kinds_in(system)),
        }
        return values | (_of_system(system) if system else {})

    def _gates(self, system: System) -> NitrogenGates:
        """Find the limits of ammonia and nitrite for the animals of a system."""
        return nitrogen_gates(self.plan, system.id)

    def _entry(self, system: System) -> Entry:
        """Find what the water of a system must be before animals go in."""
        return entry_of(self.plan, system, self.facts.new)

    def assume(self, key: str, value: str, why: str) -> None:
        """Note something that practice assumed."""
        self.assumptions.append(Assumption(key, value, why))


def _of_system(facts: SystemFacts) -> dict[str, object]:
    """Values of one system: as it stands and as it will, and the kinds of equipment it has, its return pump with it."""
    after = facts.rebuilt
    parts = {item.kind for item in after.equipment} | ({"return-pump"} if after.sump_l else set())
    return {"q": facts, "system": facts.system, "after": after, "parts": parts}


def on_grid(estimate: Estimate) -> Estimate:
    """Round a duration to whole five minutes, so that plans can be read and kept.

    To the nearest, and five for whatever takes less: rounded up, each of the thirty tasks that follow one another on a
    moving day would bring two or three minutes that nobody works, an hour and more in all.

    >>> found = on_grid(Estimate(1, 7, 13, "min", "four fish"))
    >>> found.low, found.likely, found.high
    (5.0, 5.0, 15.0)
    """

    def nearest(value: float) -> float:
        return float(max(floor(round(value, 6) / _GRID + 0.5), 1) * _GRID) if value > 0 else 0.0

    return Estimate(
        nearest(estimate.low),
        nearest(estimate.likely),
        nearest(estimate.high),
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
