"""What the plan says under ``risks:`` that names what there is not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from moveplan.errors import Problem
from moveplan.estimate import Provenance
from moveplan.near import near_names
from moveplan.plan.risks import RiskChange
from moveplan.practice.project import Project
from moveplan.risk.register.changes import Register, measure_with, tasks_named
from moveplan.risk.register.default import table
from moveplan.risk.register.words import problem_words
from moveplan.risk.summary import Measure, RegisterEntry


def faults(project: Project, register: Register, awaited: Register) -> Iterator[Problem]:
    """Find what the plan says under ``risks:`` that names what there is not.

    Parameters
    ----------
    project : Project
        Its plan holds the changes.
    register, awaited : tuple of RegisterEntry
        The usual entries, and those whose figures come out of the simulation.
    """
    known = {entry.id: entry for entry in register}
    to_come = {entry.id: entry for entry in awaited}
    for change in project.plan.risks:
        if change.id in table("computed"):
            yield from _computed_faults(project, to_come.get(change.id), change)
        else:
            yield from _faults(project, known, change)


def _faults(project: Project, known: Mapping[str, RegisterEntry], change: RiskChange) -> Iterator[Problem]:
    key = f"risks.{change.id}"
    fresh = change.id not in known
    if fresh and (change.strike or not change.event or change.probability is None):
        near = _offered("risk", near_names(change.id, [*known, *table("computed")]))
        yield _problem(project, "unknown", key, risk=change.id, near=near)
        return
    tasks = [task.id for task in project.network.tasks]
    if fresh and not change.tasks:
        yield _problem(project, "no-task", key, risk=change.id)
    for task in change.tasks:
        if not tasks_named(project, (task,)):
            near = _offered("task", near_names(task, tasks))
            yield _problem(project, "task", f"{key}.tasks", risk=change.id, task=task, near=near)
    yield from _person_faults(project, change, key)
    yield from _measure_faults(project, known.get(change.id), change)


def _computed_faults(project: Project, entry: RegisterEntry | None, change: RiskChange) -> Iterator[Problem]:
    key = f"risks.{change.id}"
    given = (change.probability, change.cost, change.delay_min)
    if any(one is not None for one in given) or change.tasks:
        yield _problem(project, "computed", key, risk=change.id)
    yield from _person_faults(project, change, key)
    if entry is not None:
        yield from _measure_faults(project, entry, change)
    elif change.measures or change.possible_measures:
        yield _problem(project, "absent", key, risk=change.id)


def _person_faults(project: Project, change: RiskChange, key: str) -> Iterator[Problem]:
    people = [person.id for person in project.plan.people]
    if change.who and change.who not in people:
        names = ", ".join(people)
        yield _problem(project, "person", f"{key}.who", risk=change.id, person=change.who, people=names)


def _offered(kind: str, near: Sequence[str]) -> str:
    """Offer the names that are near; where none is, say where they stand."""
    return problem_words("nearest", names=", ".join(near)) if near else problem_words(f"{kind}-list")


def _measure_faults(project: Project, entry: RegisterEntry | None, change: RiskChange) -> Iterator[Problem]:
    usual = {one.id: one for one in entry.measures} if entry else {}
    for stated in change.possible_measures:
        known_one = usual.get(stated.id, Measure(stated.id, "", Decimal(0)))
        one = measure_with(known_one, stated)
        key = f"risks.{change.id}.possible-measures.{stated.id}"
        if known_one.effect is Provenance.COMPUTED:
            if one.effect is Provenance.GIVEN:
                yield _problem(project, "counted", key, measure=stated.id)
        elif not one.text:
            yield _problem(project, "measure-text", key, measure=stated.id)
        elif one.probability_left == one.cost_left == one.delay_left == 1.0:
            yield _problem(project, "measure-idle", key, measure=stated.id)
    known = [*usual, *(one.id for one in change.possible_measures if one.id not in usual)]
    for measure in change.measures:
        if measure not in known:
            kind = "measure" if known else "no-measure"
            key = f"risks.{change.id}.measures"
            yield _problem(project, kind, key, risk=change.id, measure=measure, known=", ".join(known))


def _problem(project: Project, kind: str, key: str, **values: object) -> Problem:
    message, remedy = problem_words(kind, **values), problem_words(f"{kind}-remedy", **values)
    return Problem(message, project.plan.where(key), remedy)
