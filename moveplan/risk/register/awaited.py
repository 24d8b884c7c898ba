"""Entries of the register whose figures come out of the simulation, before it has run."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from moveplan.estimate import Provenance
from moveplan.plan.people import Vehicle
from moveplan.practice.project import Project
from moveplan.risk.prepared.stays import stays_of
from moveplan.risk.register.changes import Register, merged
from moveplan.risk.register.default import CENT, measure_of, responsible, struck, table
from moveplan.risk.register.words import risk_words
from moveplan.risk.summary import Measure, RegisterEntry
from moveplan.scheduling.schedule import Schedule
from moveplan.times import MINUTES_A_DAY


def awaited(project: Project, schedule: Schedule) -> Register:
    """List the entries that a simulation of a project fills with figures, as the plan words them.

    Parameters
    ----------
    project : Project
        Its tasks, animals, vehicles and dates.
    schedule : Schedule
        Who does what; without placements every hired vehicle counts as used.

    Returns
    -------
    tuple of RegisterEntry
        Without chance and cost; in the order of the table.
    """
    changes = {change.id: change for change in project.plan.risks}
    return tuple(
        merged(entry, changes[entry.id]) if entry.id in changes else entry
        for entry in usually_awaited(project, schedule)
    )


def usually_awaited(project: Project, schedule: Schedule) -> Register:
    """List the same entries without what the plan says about them."""
    found = (_entry(project, schedule, risk) for risk in table("computed"))
    return tuple(entry for entry in found if entry is not None)


def _entry(project: Project, schedule: Schedule, risk: str) -> RegisterEntry | None:
    row = table("computed")[risk]
    tasks = _STRUCK.get(risk, _in_time)(project, schedule, row)
    if tasks is None:
        return None
    event, trigger, response = risk_words(risk)
    measures = (_priced(project, schedule, measure_of(one), one) for one in row["measures"])
    return RegisterEntry(
        id=risk,
        event=event,
        trigger=trigger,
        probability=0.0,
        cost=Decimal("0.00"),
        delay_min=0,
        response=response,
        who=responsible(project, schedule, row["who"], tasks),
        provenance=Provenance.COMPUTED,
        tasks=tasks,
        measures=tuple(one for one in measures if one is not None),
    )


_Tasks = tuple[str, ...] | None


def _in_time(project: Project, _schedule: Schedule, row: Mapping[str, Any]) -> _Tasks:
    """Tasks that have to be over before the moving day."""
    return (struck(project, row["tasks"]) or None) if project.way else None


def _keys_back(project: Project, _schedule: Schedule, row: Mapping[str, Any]) -> _Tasks:
    due = project.plan.dates.keys_back if project.plan.dates else None
    return None if due is None else struck(project, row["tasks"])[:1] or None


def _released(project: Project, _schedule: Schedule, _row: Mapping[str, Any]) -> _Tasks:
    return tuple(dict.fromkeys(stay.until.task for stay in stays_of(project))) or None


def _last_trips(project: Project, schedule: Schedule, _row: Mapping[str, Any]) -> _Tasks:
    """Last task of each hired vehicle."""
    hired = hired_vehicles(project, schedule)
    uses = [[one for one in schedule.placements if vehicle.id in one.vehicles] for vehicle in hired]
    tasks = (max(used, key=lambda one: (one.finish, one.start)).task for used in uses if used)
    return tuple(tasks) if hired else None


_STRUCK: Mapping[str, Callable[[Project, Schedule, Mapping[str, Any]], _Tasks]] = {
    "safe-time-passed": _released,
    "hire-window-missed": _last_trips,
    "keys-back-missed": _keys_back,
}


def hired_vehicles(project: Project, schedule: Schedule) -> tuple[Vehicle, ...]:
    """List the hired vehicles that a schedule uses; all of them where nothing is placed."""
    used = {vehicle for one in schedule.placements for vehicle in one.vehicles}
    hired = (vehicle for vehicle in project.plan.vehicles if vehicle.hired)
    return tuple(vehicle for vehicle in hired if not schedule.placements or vehicle.id in used)


def _priced(project: Project, schedule: Schedule, measure: Measure, row: Mapping[str, Any]) -> Measure | None:
    """Price a measure by the days of what is hired where its row has no cost; None where a day has no price."""
    if "cost" in row:
        return measure
    days = [vehicle.cost_per_day for vehicle in hired_vehicles(project, schedule)]
    cost = sum(days, Decimal(0)).quantize(CENT)
    return replace(measure, cost=cost, provenance=Provenance.COMPUTED) if all(days) else None


def is_taken(entry: RegisterEntry | None) -> bool:
    """Tell whether a measure is taken that the runs are counted with."""
    measures = entry.measures if entry else ()
    return any(one.taken and one.effect is Provenance.COMPUTED for one in measures)


def granted_min(risk: str) -> float:
    """How much later is no miss where the measure is taken that the runs are counted with. [min].

    >>> granted_min("keys-back-missed")
    10080.0
    """
    return MINUTES_A_DAY * float(max(one.get("grace_days", 0) for one in table("computed")[risk]["measures"]))


def filled(
    entry: RegisterEntry, probability: float, cost: float | Decimal, left: tuple[float, float] = (1.0, 1.0)
) -> RegisterEntry:
    """Fill an entry with what was simulated.

    Parameters
    ----------
    entry : RegisterEntry
        As the plan words it.
    probability : float
        Share of the runs, those of its measures reckoned with that the runs were counted with.
    cost : float or Decimal
        What it costs if it happens.
    left : tuple of (float, float)
        What a measure that can still be counted leaves of chance and cost.
    """
    chance, price = left_by(entry)
    measures = tuple(
        replace(one, probability_left=left[0], cost_left=left[1])
        if one.effect is Provenance.COMPUTED and not one.taken
        else one
        for one in entry.measures
    )
    return replace(
        entry,
        probability=round(probability * chance, 6),
        cost=(Decimal(repr(price)) * Decimal(str(cost))).quantize(CENT, ROUND_HALF_UP),
        measures=measures,
    )


def left_by(entry: RegisterEntry) -> tuple[float, float]:
    """Tell what the measures that are taken, and not counted in the runs, leave of chance and cost.

    Parameters
    ----------
    entry : RegisterEntry
        With its measures.
    """
    chance = price = 1.0
    for one in _assumed(entry):
        chance, price = chance * one.probability_left, price * one.cost_left
    return chance, price


def _assumed(entry: RegisterEntry) -> Iterator[Measure]:
    return (one for one in entry.measures if one.taken and one.effect is not Provenance.COMPUTED)
