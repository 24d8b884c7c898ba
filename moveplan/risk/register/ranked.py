"""The risk register of a project: the usual entries, what the plan changes, ranked by expected loss."""

from __future__ import annotations

from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from decimal import Decimal

from moveplan.errors import PlanFileError
from moveplan.practice.project import Project
from moveplan.risk.register.awaited import usually_awaited
from moveplan.risk.register.changes import Register, changed, ranked
from moveplan.risk.register.default import default_register
from moveplan.risk.register.faults import faults
from moveplan.risk.summary import Measure, RegisterEntry
from moveplan.scheduling.schedule import Engine, Schedule, Status


def register_of(project: Project, schedule: Schedule) -> Register:
    """Make the register of a scheduled project.

    Parameters
    ----------
    project : Project
        Its way, tasks, animals and people.
    schedule : Schedule
        Who is at a task answers its risks.

    Returns
    -------
    tuple of RegisterEntry
        Ranked by expected loss; entries that only a simulation can give are not among them.
    """
    return ranked(changed(project, default_register(project, schedule)))


def check_risks(project: Project) -> None:
    """Refuse what the plan says under ``risks:`` where it names what there is not.

    Parameters
    ----------
    project : Project
        All of its tasks, those that are done as well.

    Raises
    ------
    PlanFileError
        With every such entry.
    """
    if not project.plan.risks or project.impossible:
        return
    unscheduled = Schedule(Status.UNKNOWN, Engine.SERIAL)
    problems = tuple(
        faults(project, default_register(project, unscheduled), usually_awaited(project, unscheduled))
    )
    if problems:
        raise PlanFileError(problems, project.plan.file_name)


@dataclass(frozen=True, slots=True)
class Offer:
    """A measure that is not taken yet, and what it would save.

    Parameters
    ----------
    measure : Measure
        What could be done.
    saves : Decimal
        By how much it lowers the expected loss, its own cost left out.
    spares_min : float
        Delay of a moving day that it spares on average, by which promises break and animals wait. [min]
    """

    entry: RegisterEntry
    measure: Measure
    saves: Decimal
    spares_min: float

    @property
    def pays(self) -> bool:
        """Whether it saves what it costs."""
        return self.saves >= self.measure.cost


def offers(register: Register, tied: AbstractSet[str] = frozenset()) -> tuple[Offer, ...]:
    """List the measures that are not taken yet, what spares most delay first, then what saves most beyond its cost.

    Parameters
    ----------
    tied : set of str
        Ids of the tasks of moving days, on which a delay counts.
    """
    found = (
        Offer(
            entry, one, entry.lowers_by(one), 0.0 if tied.isdisjoint(entry.tasks) else _spared_min(entry, one)
        )
        for entry in register
        for one in entry.measures
        if not one.taken
    )
    return tuple(
        sorted(found, key=lambda one: (-one.spares_min, one.measure.cost - one.saves, one.measure.id))
    )


def _spared_min(entry: RegisterEntry, measure: Measure) -> float:
    return entry.probability * entry.delay_min * (1 - measure.probability_left * measure.delay_left)


def best_offers(project: Project, register: Register, most: int) -> tuple[Offer, ...]:
    """Pick so many of those that save money as well."""
    tied = {task.id for task in project.network.tasks if task.day}
    return tuple(one for one in offers(register, tied) if one.saves)[:most]
