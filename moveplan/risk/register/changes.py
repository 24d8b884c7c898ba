"""What the plan changes in the register, and what a measure changes in an entry."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal

from moveplan.estimate import Provenance
from moveplan.plan.risks import PossibleMeasure, RiskChange
from moveplan.practice.project import Project
from moveplan.risk.register.default import CENT
from moveplan.risk.summary import Measure, RegisterEntry

Register = tuple[RegisterEntry, ...]


def changed(project: Project, register: Register) -> Register:
    """Apply what the plan says under ``risks:``.

    A risk whose tasks are all behind has passed, and falls out.

    Parameters
    ----------
    project : Project
        Its plan holds the changes.
    register : tuple of RegisterEntry
        The usual entries.

    Returns
    -------
    tuple of RegisterEntry
        New entries last.
    """
    changes = {
        change.id: replace(change, tasks=tasks_named(project, change.tasks)) for change in project.plan.risks
    }
    known = {entry.id for entry in register}
    kept = tuple(
        merged(entry, changes[entry.id]) if entry.id in changes else entry
        for entry in register
        if entry.id not in changes or not changes[entry.id].strike
    )
    return (*kept, *(_new(change) for change in changes.values() if change.id not in known and change.tasks))


def with_measures(entry: RegisterEntry, taken: tuple[str, ...]) -> RegisterEntry:
    """Reckon an entry as if some of its measures had been taken.

    Parameters
    ----------
    taken : tuple of str
        Ids of measures; those taken before and ids of other entries are passed over.
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


def tasks_named(project: Project, names: Iterable[str]) -> tuple[str, ...]:
    """List the tasks that are named, or whose ids begin with a name: ``drive-van`` names all trips of the van."""
    ids = [task.id for task in project.network.tasks]
    found = (
        [name] if name in ids else [one for one in ids if one.startswith((f"{name}-", f"{name}."))]
        for name in names
    )
    return tuple(dict.fromkeys(task for some in found for task in some))


def merged(entry: RegisterEntry, change: RiskChange) -> RegisterEntry:
    """Put what the plan says about an entry into it, its measures included.

    Parameters
    ----------
    change : RiskChange
        What is None or empty stays.
    """
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
    return merged(empty, change)


def cents(amount: Decimal) -> Decimal:
    """Round to the cent, halves away from zero."""
    return amount.quantize(CENT, ROUND_HALF_UP)


def _measures(known: tuple[Measure, ...], stated: tuple[PossibleMeasure, ...]) -> tuple[Measure, ...]:
    """Put the keeper's figures into the measures of an entry; new ones come last."""
    measures = {one.id: one for one in known}
    for one in stated:
        measures[one.id] = measure_with(measures.get(one.id, Measure(one.id, "", Decimal("0.00"))), one)
    return tuple(measures.values())


def measure_with(known: Measure, stated: PossibleMeasure) -> Measure:
    """Put what the plan says about a measure into it."""
    lefts = (stated.probability_left, stated.cost_left, stated.delay_left)
    return replace(
        known,
        text=stated.text or known.text,
        cost=known.cost if stated.cost is None else cents(stated.cost),
        probability_left=_first(stated.probability_left, known.probability_left),
        cost_left=_first(stated.cost_left, known.cost_left),
        delay_left=_first(stated.delay_left, known.delay_left),
        provenance=known.provenance if stated.cost is None and known.text else Provenance.GIVEN,
        effect=Provenance.GIVEN if any(one is not None for one in lefts) else known.effect,
    )


def _first(stated: float | None, known: float) -> float:
    return known if stated is None else stated
