"""The usual register: what commonly goes wrong, cut down to what this project has."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from pathlib import Path
from typing import Any

from moveplan.estimate import Provenance
from moveplan.kept import table_of
from moveplan.plan.livestock import Livestock
from moveplan.practice.project import Project
from moveplan.risk.register.units import chance_of_any, units_of
from moveplan.risk.register.words import measure_words, risk_words
from moveplan.risk.summary import Measure, RegisterEntry
from moveplan.scheduling.schedule import Schedule

CENT = Decimal("0.01")


@cache
def table(name: str) -> Mapping[str, Any]:
    """Read one of the data files of risk, by its name without ending."""
    return table_of(Path(__file__).parent / "data" / f"{name}.toml")


def struck(project: Project, keys: Sequence[str]) -> tuple[str, ...]:
    """List the tasks that belong to some keys, in the order of the network.

    Parameters
    ----------
    keys : sequence of str
        Ids, or their beginnings before the name of a system or vehicle.
    """
    return tuple(
        task.id
        for task in project.network.tasks
        if any(task.id == key or task.id.startswith(f"{key}-") for key in keys)
    )


def travelling(project: Project) -> tuple[tuple[Livestock, int], ...]:
    """List the groups of animals that travel, and how many of each."""
    counts = {route.livestock: route.count for route in project.routes}
    return tuple((group, counts[group.id]) for group in project.plan.livestock if group.id in counts)


def value_of(groups: Sequence[tuple[Livestock, int]]) -> Decimal:
    """Add up what animals are worth."""
    return sum((group.value * count for group, count in groups), Decimal(0))


def responsible(project: Project, schedule: Schedule, role: str, tasks: Sequence[str]) -> str:
    """Id of the person who answers a risk; empty where there is nobody.

    Parameters
    ----------
    project : Project
        Its people; the first is the keeper.
    schedule : Schedule
        Who is at the tasks comes before others who could.
    role : str
        ``keeper``, ``driver`` or ``carer``.
    tasks : sequence of str
        Ids of the tasks that the risk strikes.
    """
    people = project.plan.people
    skill = {"driver": "drives", "carer": "cares"}.get(role)
    able = [person.id for person in people if skill is None or getattr(person, skill)]
    there = {name for one in schedule.placements if one.task in tasks for name in one.people}
    at_work = [name for name in able if name in there] if skill else []
    return next(iter((*at_work, *able, *(person.id for person in people))), "")


def default_register(project: Project, schedule: Schedule) -> tuple[RegisterEntry, ...]:
    """Pick the usual risks that fit a project.

    Parameters
    ----------
    project : Project
        Its way, tasks and animals.

    Returns
    -------
    tuple of RegisterEntry
        In the order of the table, assumed all of them; none for own tasks.
    """
    if not project.way:
        return ()
    rows = ((risk, row, struck(project, row["tasks"])) for risk, row in table("register").items())
    return tuple(
        _entry(project, risk, row, tasks, responsible(project, schedule, row["who"], tasks))
        for risk, row, tasks in rows
        if _fits(project, row, tasks) and units_of(project, row.get("units", ""), tasks) > 0
    )


def _fits(project: Project, row: Mapping[str, Any], tasks: tuple[str, ...]) -> bool:
    if project.way not in row.get("ways", (project.way,)):
        return False
    return bool(tasks) and ("groups" not in row or bool(_of_groups(project, row["groups"])))


def _of_groups(project: Project, names: Sequence[str]) -> list[tuple[Livestock, int]]:
    return [(group, count) for group, count in travelling(project) if group.traits.group in names]


def _entry(
    project: Project, risk: str, row: Mapping[str, Any], tasks: tuple[str, ...], who: str
) -> RegisterEntry:
    event, trigger, response = risk_words(risk)
    at_stake = _of_groups(project, row["groups"]) if "groups" in row else travelling(project)
    units = units_of(project, row.get("units", ""), tasks)
    loss = Decimal(str(row["share"])) * value_of(at_stake) / (units if row.get("apart") else 1)
    return RegisterEntry(
        id=risk,
        event=event,
        trigger=trigger,
        probability=chance_of_any(row["probability"], units),
        cost=(Decimal(row["cost"]) + loss).quantize(CENT, ROUND_HALF_UP),
        delay_min=row["delay_min"],
        response=response,
        who=who,
        provenance=Provenance.ASSUMED,
        tasks=tasks,
        measures=tuple(measure_of(one) for one in row["measures"]),
        holding=row.get("holding", False),
    )


def measure_of(row: Mapping[str, Any]) -> Measure:
    """Read a measure of a table; one without a cost costs nothing yet."""
    return Measure(
        id=row["id"],
        text=measure_words(row["id"]),
        cost=Decimal(row.get("cost", "0")),
        probability_left=row.get("probability", 1.0),
        cost_left=row.get("cost_left", 1.0),
        delay_left=row.get("delay", 1.0),
        effect=Provenance.COMPUTED if "grace_days" in row else Provenance.ASSUMED,
    )
