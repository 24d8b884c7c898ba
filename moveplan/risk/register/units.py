"""Of how many things a risk is one each: drives, tanks, pumps, containers, hands."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from moveplan.practice.project import Project
from moveplan.quantities.containers.vessels import Use

PUMP = "air-pump"
"""Kind of gear that fails by its number. [-]"""


def chance_of_any(each: float, units: int) -> float:
    """Chance that it happens to at least one of so many, each of them alone.

    Parameters
    ----------
    each : float
        Chance of one, 0 to 1.

    >>> chance_of_any(0.02, 3)
    0.058808
    """
    return round(1 - (1 - each) ** units, 6)


def units_of(project: Project, unit: str, tasks: Sequence[str]) -> int:
    """Count what a risk may strike.

    Parameters
    ----------
    project : Project
        Its people, animals, gear and containers.
    unit : str
        Name in the table; empty: the move as a whole.
    tasks : sequence of str
        Ids of the tasks that it may strike.
    """
    return _COUNTS[unit](project, tasks) if unit else 1


def _drives(_project: Project, tasks: Sequence[str]) -> int:
    return len(tasks)


def _tanks(project: Project, tasks: Sequence[str]) -> int:
    """Count systems that a task names; one where none is named."""
    names = [system.id for system in project.plan.systems]
    return max(sum(any(name in task for task in tasks) for name in names), 1)


def _fish(project: Project, _tasks: Sequence[str]) -> int:
    fish = {group.id for group in project.plan.livestock if group.traits.group == "fish"}
    return sum(route.count for route in project.routes if route.livestock in fish)


def _helpers(project: Project, _tasks: Sequence[str]) -> int:
    return len(project.plan.people) - 1


def _people(project: Project, _tasks: Sequence[str]) -> int:
    return len(project.plan.people)


def _pumps(project: Project, _tasks: Sequence[str]) -> int:
    return sum(needed for name, needed, _there in project.gear_needed if name == PUMP)


def _containers(project: Project, _tasks: Sequence[str]) -> int:
    vessels = {use.vessel.number: use.vessel for use in project.ledger.containers}
    return sum(any(one.count for one in vessel.holds) for vessel in vessels.values())


def _rock(project: Project, _tasks: Sequence[str]) -> int:
    return len({use.vessel.number for use in project.ledger.containers if use.vessel.use is Use.ROCK})


_COUNTS: Mapping[str, Callable[[Project, Sequence[str]], int]] = {
    "drives": _drives,
    "tanks": _tanks,
    "fish": _fish,
    "helpers": _helpers,
    "people": _people,
    "pumps": _pumps,
    "containers": _containers,
    "rock": _rock,
}
