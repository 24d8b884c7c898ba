"""What the plan changes in the register, and what a measure changes in an entry."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from difflib import get_close_matches

from moveplan.errors import Problem
from moveplan.estimate import Provenance
from moveplan.plan.risks import PossibleMeasure, RiskChange
from moveplan.practice.project import Project
from moveplan.risk.default import CENT
from moveplan.risk.summary import Measure, RegisterEntry
from moveplan.risk.words import problem_words

Register = tuple[RegisterEntry, ...]
COMPUTED = ("safe-time-passed", "hire-window-missed", "keys-back-missed", "water-not-ready", "cycle-not-done")
"""Entries whose figures come out of the simulation."""


def changed(project: Project, register: Register) -> Register:
    """Apply what the plan says under ``risks:``.

    A risk whose tasks are all behind has passed, and falls out.

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
    """
    changes = {
        change.id: replace(change, tasks=_tasks(project, change.tasks)) for change in project.plan.risks
    }
    known = {entry.id for entry in register}
    kept = tuple(
        _merged(entry, changes[entry.id]) if entry.id in changes else entry
        for entry in register
        if entry.id not in changes or not changes[entry.id].strike
    )
    return (*kept, *(_new(change) for change in changes.values() if change.id not in known and change.tasks))


def reworded(project: Project, computed: Iterable[RegisterEntry]) -> Iterator[RegisterEntry]:
    """Apply what the plan says about entries that come out of the simulation: other words, or none of it.

    Parameters
    ----------
    project : Project
        Its plan holds the changes. [-]
    computed : iterable of RegisterEntry
        As simulated. [-]
    """
    changes = {change.id: change for change in project.plan.risks}
    for entry in computed:
        change = changes.get(entry.id)
        if change is None:
            yield entry
        elif not change.strike:
            yield _merged(
                entry,
                RiskChange(entry.id, False, change.event, change.trigger, change.response, who=change.who),
            )


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


def _tasks(project: Project, names: Iterable[str]) -> tuple[str, ...]:
    """List the tasks that are named, or whose ids begin with a name: ``drive-van`` names all trips of the van."""
    ids = [task.id for task in project.network.tasks]
    found = (
        [name] if name in ids else [one for one in ids if one.startswith((f"{name}-", f"{name}."))]
        for name in names
    )
    return tuple(dict.fromkeys(task for some in found for task in some))


def _merged(entry: RegisterEntry, change: RiskChange) -> RegisterEntry:
    stated = any(one is not None for one in (change.probability, change.cost, change.delay_min))
    measured = replace(
        entry,
        event=change.event or entry.event,
        trigger=change.trigger or entry.trigger,
        response=change.response or entry.response,
        who=change.who or entry.who,
        tasks=change.tasks or entry.tasks,
        probability=entry.probability if change.probability is None else change.probability,
        cost=entry.cost if change.cost is None else cents(change.cost),
        delay_min=entry.delay_min if change.delay_min is None else change.delay_min,
        provenance=Provenance.GIVEN if stated else entry.provenance,
        measures=_measures(entry.measures, change.possible_measures),
    )
    return with_measures(measured, change.measures)


def _new(change: RiskChange) -> RegisterEntry:
    empty = RegisterEntry(change.id, "", "", 0.0, Decimal("0.00"), 0, "", "", Provenance.GIVEN)
    return _merged(empty, change)


def cents(amount: Decimal) -> Decimal:
    """Round to the cent, halves away from zero."""
    return amount.quantize(CENT, ROUND_HALF_UP)


def _measures(known: tuple[Measure, ...], stated: tuple[PossibleMeasure, ...]) -> tuple[Measure, ...]:
    """Put the keeper's figures into the measures of an entry; new ones come last."""
    measures = {one.id: one for one in known}
    for one in stated:
        measures[one.id] = _measure(measures.get(one.id, Measure(one.id, "", Decimal("0.00"))), one)
    return tuple(measures.values())


def _measure(known: Measure, stated: PossibleMeasure) -> Measure:
    return replace(
        known,
        text=stated.text or known.text,
        cost=known.cost if stated.cost is None else cents(stated.cost),
        probability_left=_first(stated.probability_left, known.probability_left),
        cost_left=_first(stated.cost_left, known.cost_left),
        delay_left=_first(stated.delay_left, known.delay_left),
        provenance=known.provenance if stated.cost is None and known.text else Provenance.GIVEN,
    )


def _first(stated: float | None, known: float) -> float:
    return known if stated is None else stated


def faults(project: Project, register: Register) -> Iterator[Problem]:
    """Find what the plan says under ``risks:`` that names what there is not.

    Parameters
    ----------
    project : Project
        Its plan holds the changes. [-]
    register : tuple of RegisterEntry
        The usual entries. [-]
    """
    known = {entry.id: entry for entry in register}
    for change in project.plan.risks:
        yield from _faults(project, known, change)


def _faults(project: Project, known: Mapping[str, RegisterEntry], change: RiskChange) -> Iterator[Problem]:
    key = f"risks.{change.id}"
    if change.id in COMPUTED:
        yield from _computed_faults(project, change, key)
        return
    fresh = change.id not in known
    if fresh and (change.strike or not change.event or change.probability is None):
        near = _nearest(change.id, [*known, *COMPUTED])
        yield _problem(project, "unknown", key, risk=change.id, near=near, known=", ".join(known))
        return
    tasks = [task.id for task in project.network.tasks]
    if fresh and not change.tasks:
        yield _problem(project, "no-task", key, risk=change.id)
    for task in change.tasks:
        if not _tasks(project, (task,)):
            near = _nearest(task, tasks)
            yield _problem(project, "task", f"{key}.tasks", risk=change.id, task=task, near=near)
    yield from _person_faults(project, change, key)
    yield from _measure_faults(project, known.get(change.id), change)


def _computed_faults(project: Project, change: RiskChange, key: str) -> Iterator[Problem]:
    given = (change.probability, change.cost, change.delay_min)
    if any(one is not None for one in given) or change.tasks or change.measures or change.possible_measures:
        yield _problem(project, "computed", key, risk=change.id)
    yield from _person_faults(project, change, key)


def _person_faults(project: Project, change: RiskChange, key: str) -> Iterator[Problem]:
    people = [person.id for person in project.plan.people]
    if change.who and change.who not in people:
        names = ", ".join(people)
        yield _problem(project, "person", f"{key}.who", risk=change.id, person=change.who, people=names)


def _nearest(name: str, known: Iterable[str]) -> str:
    """Offer the three names that are nearest, however far."""
    return ", ".join(get_close_matches(name, list(known), 3, 0.0)) or "…"


def _measure_faults(project: Project, entry: RegisterEntry | None, change: RiskChange) -> Iterator[Problem]:
    usual = {one.id: one for one in entry.measures} if entry else {}
    for stated in change.possible_measures:
        one = _measure(usual.get(stated.id, Measure(stated.id, "", Decimal(0))), stated)
        key = f"risks.{change.id}.possible-measures.{stated.id}"
        if not one.text:
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
