"""A move as a project: its network, the way of every animal, its loads, water and cautions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from moveplan.errors import Problem
from moveplan.estimate import Estimate
from moveplan.network.graph import Network
from moveplan.plan.move import Assumption, Plan
from moveplan.quantities.freight import Load as Load
from moveplan.quantities.freight import LoadItem as LoadItem
from moveplan.quantities.safe_time import SafeTime
from moveplan.quantities.shares import Share
from moveplan.quantities.water import Water as Water
from moveplan.scheduling.problem import SchedulingProblem


@dataclass(frozen=True, slots=True)
class Moment:
    """The start or the finish of a task.

    Parameters
    ----------
    task : str
        Id of the task. [-]
    edge : str
        ``start`` or ``finish``. [-]
    """

    task: str
    edge: Literal["start", "finish"]


@dataclass(frozen=True, slots=True)
class Stop:
    """One stretch of an animal's way, in one place and container.

    Parameters
    ----------
    where : str
        Place or vehicle in words for people, such as ``Mill Terrace`` or ``Hired long van``. [-]
    container : str
        The system or container in words, such as ``Display reef`` or ``2 × 12 l bag``. [-]
    since : Moment or None
        When it begins; None: it has been there from the beginning. [-]
    until : Moment or None
        When it ends; None: it stays there. [-]
    safe : SafeTime or None
        Safe time, only in unfiltered containers. Neighbouring stops with the same container and safe time are
        one stay. [-]
    """

    where: str
    container: str
    since: Moment | None
    until: Moment | None
    safe: SafeTime | None = None


@dataclass(frozen=True, slots=True)
class Route:
    """The way of one group of animals, without a hole.

    Parameters
    ----------
    livestock : str
        Id of the group in the plan. [-]
    name : str
        What to print. [-]
    count : int
        How many travel. [-]
    stops : tuple of Stop
        In order. [-]
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
        Id of the group and what to print. [-]
    count : int
        How many. [-]
    origin, target : tuple of (str, str)
        Place and system in words, before and after. [-]
    out, home : Moment
        When it leaves the one and has reached the other. [-]
    stops : tuple of Stop
        In between. [-]
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
        Identity, the words, and where they come from. [-]
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
        Names of the systems that are filled. [-]
    tasks : tuple of str
        Ids of the tasks that draw the water. [-]
    why : tuple of str
        Why so much is kept, a sentence a system. [-]
    shares : tuple of Share
        By share, the planned one among them. [-]
    """

    systems: tuple[str, ...]
    tasks: tuple[str, ...]
    why: tuple[str, ...]
    shares: tuple[Share, ...]


@dataclass(frozen=True, slots=True)
class Project:
    """Everything that practice says about one plan.

    Parameters
    ----------
    plan : Plan
        What it is about. [-]
    way : str
        The way of moving; empty for own tasks. [-]
    network : Network
        Tasks and links. [-]
    scheduling : SchedulingProblem
        The same with people, vehicles, gear and days. [-]
    routes : tuple of Route
        Where every group of animals is. [-]
    loads : tuple of Load
        What travels. [-]
    water : Water or None
        None for own tasks. [-]
    water_choices : tuple of WaterChoice
        One a leg on which a tank is filled. [-]
    quantities : tuple of (str, Estimate)
        Named estimates worth showing, in the order of reading. [-]
    gear_needed : tuple of (str, int, int)
        Kind of gear, how many are needed, how many there are. [-]
    cautions : tuple of Caution
        Those that some task names. [-]
    assumptions : tuple of Assumption
        The plan's and those that practice added. [-]
    unsafe : tuple of Problem
        Why it would be unsafe, as far as is known before scheduling. [-]
    impossible : tuple of Problem
        Why it cannot be done whatever the schedule, with proof. [-]
    findings : tuple of Problem
        Things to know that stop nothing. [-]
    hints : tuple of str
        What would make the moving day shorter; nobody has tried it. [-]
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
