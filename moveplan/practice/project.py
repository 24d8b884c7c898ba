"""A move as a project: its network, the way of every animal, its loads, water and cautions."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from moveplan.errors import Problem
from moveplan.estimate import Estimate
from moveplan.network.graph import Network
from moveplan.plan.move import Assumption, Plan
from moveplan.practice.comfort.mealtimes import Mealtime
from moveplan.practice.ledger.entries import PURIFIED, Ledger
from moveplan.quantities.containers.journeys import Measured
from moveplan.quantities.freight.freight import Load as Load
from moveplan.quantities.freight.freight import LoadItem as LoadItem
from moveplan.quantities.keeping.upkeep import Upkeep
from moveplan.quantities.leg.mixing import Mixing
from moveplan.quantities.leg.shares import Share
from moveplan.quantities.safe_time.safe_time import SafeTime
from moveplan.quantities.water.amounts import Water as Water
from moveplan.scheduling.problem import SchedulingProblem


@dataclass(frozen=True, slots=True)
class Moment:
    """The start or the finish of a task.

    Parameters
    ----------
    task : str
        Id of the task.
    edge : str
        ``start`` or ``finish``.
    """

    task: str
    edge: Literal["start", "finish"]


@dataclass(frozen=True, slots=True)
class Stop:
    """One stretch of an animal's way, in one place and container.

    Parameters
    ----------
    where : str
        Place or vehicle in words for people, such as ``Mill Terrace`` or ``Hired long van``.
    container : str
        The system or container in words, such as ``Display reef`` or ``2 × 12 l bag``.
    since : Moment or None
        When it begins; None: it has been there from the beginning.
    until : Moment or None
        When it ends; None: it stays there.
    safe : SafeTime or None
        Safe time, only in unfiltered containers. Neighbouring stops with the same container and safe time are
        one stay.
    numbers : tuple of str
        On the labels of the containers, where they have any.
    """

    where: str
    container: str
    since: Moment | None
    until: Moment | None
    safe: SafeTime | None = None
    numbers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Route:
    """The way of one group of animals, without a hole.

    Parameters
    ----------
    livestock : str
        Id of the group in the plan.
    name : str
        What to print.
    count : int
        How many travel.
    stops : tuple of Stop
        In order.
    allowance_min : int
        P90 less likely of the tasks inside the container stay, taken off the safe time. [min]
    """

    livestock: str
    name: str
    count: int
    stops: tuple[Stop, ...]
    allowance_min: int = 0


@dataclass(frozen=True, slots=True)
class Passage:
    """One way of a group from one home to the next, in containers.

    Parameters
    ----------
    livestock, name : str
        Id of the group and what to print.
    count : int
        How many.
    origin, target : tuple of (str, str)
        Place and system in words, before and after.
    out, home : Moment
        When it leaves the one and has reached the other.
    stops : tuple of Stop
        In between.
    allowance_min : int
        Allowed for delays. [min]
    """

    livestock: str
    name: str
    count: int
    origin: tuple[str, str]
    target: tuple[str, str]
    out: Moment
    home: Moment
    stops: tuple[Stop, ...]
    allowance_min: int = 0


@dataclass(frozen=True, slots=True)
class Caution:
    """A danger, the usual care, and whose word decides.

    Parameters
    ----------
    id, text, source : str
        Identity, the words, and where they come from.
    """

    id: str
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class WaterChoice:
    """How much old water a leg keeps, and what would change with another share.

    Parameters
    ----------
    systems : tuple of str
        Names of the systems that are filled.
    tasks : tuple of str
        Ids of the tasks that draw the water.
    why : tuple of str
        Why so much is kept, a sentence a system.
    shares : tuple of Share
        By share, the planned one among them.
    """

    systems: tuple[str, ...]
    tasks: tuple[str, ...]
    why: tuple[str, ...]
    shares: tuple[Share, ...]


@dataclass(frozen=True, slots=True)
class Meals:
    """The last meal of some animals before a catch, and the first one after it.

    Parameters
    ----------
    livestock : tuple of str
        Ids of groups.
    last, catch, first : str
        Ids of the tasks; ``first`` is empty where somebody else feeds them from then on.
    whole_min : int
        Greatest time from the end of the last meal to the first one. [min]
    fed_by : str
        Id of the boarding place that feeds them from then on; empty where none does.
    """

    livestock: tuple[str, ...]
    last: str
    catch: str
    first: str
    whole_min: int
    fed_by: str = ""


SETTLED = "settled"
"""Name of the milestone that is reached when the last animal is home and safe. [-]"""


@dataclass(frozen=True, slots=True)
class Project:
    """Everything that practice says about one plan.

    Parameters
    ----------
    plan : Plan
        What it is about.
    way : str
        The way of moving; empty for own tasks.
    network : Network
        Tasks and links.
    scheduling : SchedulingProblem
        The same with people, vehicles, gear and days.
    routes : tuple of Route
        Where every group of animals is.
    loads : tuple of Load
        What travels.
    water : Water or None
        None for own tasks.
    water_choices : tuple of WaterChoice
        One a leg on which a tank is filled.
    quantities : tuple of (str, Estimate)
        Named estimates worth showing, in the order of reading.
    gear_needed : tuple of (str, int, int)
        Kind of gear, how many are needed, how many there are.
    cautions : tuple of Caution
        Those that some task names.
    assumptions : tuple of Assumption
        The plan's and those that practice added.
    unsafe : tuple of Problem
        Why it would be unsafe, as far as is known before scheduling.
    impossible : tuple of Problem
        Why it cannot be done whatever the schedule, with proof.
    findings : tuple of Problem
        Things to know that stop nothing.
    hints : tuple of str
        What would make the moving day shorter; nobody has tried it.
    ledger : Ledger
        Every litre that is poured, and every container.
    meals : tuple of Meals
        Last meals before and first meals after each catch.
    upkeep : tuple of Upkeep
        What holding systems use up.
    day_notes : tuple of (str, str, int)
        What its schedule asks of people beyond what it should, as the findings say it: what, about whom or where, and
        from when on, UTC. [min]
    day_said : tuple of str
        The same in words, for the list that people follow.
    mealtimes : tuple of Mealtime
        Last meals that somebody has to give.
    mixings : tuple of Mixing
        How new salt water is warmed.
    curing : tuple of (float, float)
        Purified water and dry mix in which new rock cures. [l], [kg]
    afresh_salt_kg : float
        Dry mix for what is mixed afresh by itself, for waves and for the first changes after the move, and to make up
        for what boarded animals take along. [kg]
    measured : tuple of Mapping
        How long each group of animals is in containers, by its id, for each leg.
    reserve_salt : tuple of (float, float)
        Salt water that could be mixed once more on arrival, and the dry mix kept for it. [l], [kg]
    """

    plan: Plan
    way: str
    network: Network
    scheduling: SchedulingProblem
    routes: tuple[Route, ...] = ()
    loads: tuple[Load, ...] = ()
    water: Water | None = None
    water_choices: tuple[WaterChoice, ...] = ()
    quantities: tuple[tuple[str, Estimate], ...] = ()
    gear_needed: tuple[tuple[str, int, int], ...] = ()
    cautions: tuple[Caution, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    unsafe: tuple[Problem, ...] = ()
    impossible: tuple[Problem, ...] = ()
    findings: tuple[Problem, ...] = ()
    hints: tuple[str, ...] = ()
    ledger: Ledger = field(default_factory=Ledger)
    meals: tuple[Meals, ...] = ()
    upkeep: tuple[Upkeep, ...] = ()
    day_notes: tuple[tuple[str, str, int], ...] = ()
    day_said: tuple[str, ...] = ()
    mealtimes: tuple[Mealtime, ...] = ()
    mixings: tuple[Mixing, ...] = ()
    curing: tuple[float, float] = (0.0, 0.0)
    afresh_salt_kg: float = 0.0
    reserve_salt: tuple[float, float] = (0.0, 0.0)
    measured: tuple[Measured, ...] = ()

    @property
    def homecomings(self) -> tuple[str, ...]:
        """Ids of the tasks by which each group of animals comes home, those that wait elsewhere included."""
        last = (route.stops[-1].since for route in self.routes if route.stops)
        return tuple(dict.fromkeys(moment.task for moment in last if moment is not None))

    @property
    def purified_l(self) -> float:
        """All purified water that is made or bought: mixed, for curing rock, and in place of what evaporates. [l]."""
        times = {task.id: task.repeats.times for task in self.network.tasks if task.repeats}
        return sum(
            pour.litres * times.get(pour.task, 1) for pour in self.ledger.pours if pour.target == PURIFIED
        )

    @property
    def more_salt_kg(self) -> float:
        """Dry mix beside that of the move itself: for changes, and for curing rock. [kg]."""
        later = self.curing[1] + self.afresh_salt_kg
        return sum(one.salt_kg for one in self.upkeep) + later
