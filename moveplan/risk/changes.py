"""What the plan changes in the register, and what a measure changes in an entry."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from difflib import get_close_matches

from moveplan.errors import PlanFileError, Problem
from moveplan.estimate import Provenance
from moveplan.plan.risks import RiskChange
from moveplan.practice.project import Project
from moveplan.risk.default import CENT
from moveplan.risk.summary import RegisterEntry
from moveplan.risk.words import problem_words

Register = tuple[RegisterEntry, ...]


def changed(project: Project, register: Register) -> Register:
    """Apply what the plan says under ``risks:``.

    Parameters
    ----------
    project : Project
        Its plan holds the changes. [-]
    register : tuple of RegisterEntry
        The usual entries. [-]

    Returns
    -------
    tuple of RegisterEntry
        New entries last. [-]

    Raises
    ------
    PlanFileError
        Where a change names an entry, task, person or measure that there is not.
    """
    changes = {change.id: change for change in project.plan.risks}
    known = {entry.id: entry for entry in register}
    problems = tuple(problem for change in changes.values() for problem in _faults(project, known, change))
    if problems:
        raise PlanFileError(problems, project.plan.file_name)
    kept = tuple(
        _merged(entry, changes[entry.id]) if entry.id in changes else entry
        for entry in register
        if entry.id not in changes or not changes[entry.id].strike
    )
    return (*kept, *(_new(change) for change in changes.values() if change.id not in known))


def with_measures(entry: RegisterEntry, taken: tuple[str, ...]) -> RegisterEntry:
    """Reckon an entry as if some of its measures had been taken.

    Parameters
    ----------
    entry : RegisterEntry
        As it stands. [-]
    taken : tuple of str
        Ids of measures; those taken before and ids of other entries are passed over. [-]
    """
    for measure in entry.measures:
        if measure.id not in taken or measure.taken:
            continue
        left = Decimal(repr(measure.cost_left))
        entry = replace(
            entry,
            probability=round(entry.probability * measure.probability_left, 6),
            cost=(entry.cost * left).quantize(CENT, ROUND_HALF_UP),
            delay_min=round(entry.delay_min * measure.delay_left),
            measures=tuple(replace(one, taken=one.taken or one is measure) for one in entry.measures),
        )
    return entry


def ranked(register: Register) -> Register:
    """Sort by expected loss, the greatest first; then by delay and name."""
    return tuple(
        sorted(register, key=lambda one: (-one.expected_loss, -one.probability * one.delay_min, one.id))
    )


def _merged(entry: RegisterEntry, change: RiskChange) -> RegisterEntry:
    said = {
        "event": change.event or entry.event,
        "trigger": change.trigger or entry.trigger,
        "response": change.response or entry.response,
        "who": change.who or entry.who,
        "tasks": change.tasks or entry.tasks,
    }
    numbers = {
        "probability": entry.probability if change.probability is None else change.probability,
        "cost": entry.cost if change.cost is None else change.cost.quantize(CENT, ROUND_HALF_UP),
        "delay_min": entry.delay_min if change.delay_min is None else change.delay_min,
    }
    stated = any(one is not None for one in (change.probability, change.cost, change.delay_min))
    word = Provenance.GIVEN if stated else entry.provenance
    return with_measures(replace(entry, **said, **numbers, provenance=word), change.measures)  # type: ignore[arg-type]


def _new(change: RiskChange) -> RegisterEntry:
    return RegisterEntry(
        id=change.id,
        event=change.event,
        trigger=change.trigger,
        probability=change.probability or 0.0,
        cost=(change.cost or Decimal(0)).quantize(CENT, ROUND_HALF_UP),
        delay_min=change.delay_min or 0,
        response=change.response,
        who=change.who,
        provenance=Provenance.GIVEN,
        tasks=change.tasks,
    )


def _faults(project: Project, known: Mapping[str, RegisterEntry], change: RiskChange) -> Iterator[Problem]:
    where = project.plan.where(f"risks.{change.id}")
    fresh = change.id not in known
    if fresh and (change.strike or not change.event or change.probability is None):
        near = (get_close_matches(change.id, list(known), 1, 0.0) or ["…"])[0]
        yield _problem("unknown", where, risk=change.id, near=near)
        return
    if fresh and change.delay_min and not change.tasks:
        yield _problem("no-task", where, risk=change.id)
    tasks = [task.id for task in project.network.tasks]
    for task in change.tasks:
        if task not in tasks:
            near = (get_close_matches(task, tasks, 1, 0.0) or ["…"])[0]
            yield _problem("task", f"{where}.tasks", risk=change.id, task=task, near=near)
    people = [person.id for person in project.plan.people]
    if change.who and change.who not in people:
        yield _problem("person", f"{where}.who", risk=change.id, person=change.who, people=", ".join(people))
    yield from _measure_faults(where, known.get(change.id), change)


def _measure_faults(where: str, entry: RegisterEntry | None, change: RiskChange) -> Iterator[Problem]:
    known = [one.id for one in entry.measures] if entry else []
    for measure in change.measures:
        if measure in known:
            continue
        message = problem_words("measure", risk=change.id, measure=measure)
        remedy = problem_words("measure-remedy", known=", ".join(known))
        yield Problem(message, where, remedy if known else problem_words("no-measure-remedy"))


def _problem(key: str, where: str, **values: object) -> Problem:
    return Problem(problem_words(key, **values), where, problem_words(f"{key}-remedy", **values))
