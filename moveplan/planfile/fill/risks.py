"""What the plan says about risks."""

from __future__ import annotations

from collections.abc import Mapping

from moveplan.plan.risks import PossibleMeasure, RiskChange
from moveplan.planfile.schema.risks import MeasureEntry, RiskEntry


def risks(entries: Mapping[str, RiskEntry]) -> tuple[RiskChange, ...]:
    """Take over what the keeper adds to the register, changes and strikes.

    Parameters
    ----------
    entries : Mapping of str to RiskEntry
        Risks by id.
    """
    return tuple(_change(risk_id, entry) for risk_id, entry in entries.items())


def _change(risk_id: str, entry: RiskEntry) -> RiskChange:
    return RiskChange(
        id=risk_id,
        strike=entry.strike,
        event=entry.event or "",
        trigger=entry.trigger or "",
        response=entry.response or "",
        probability=entry.probability,
        cost=entry.cost.amount if entry.cost else None,
        delay_min=None if entry.delay is None else round(entry.delay),
        who=entry.who or "",
        tasks=entry.tasks or (),
        measures=entry.measures or (),
        possible_measures=tuple(_measure(name, one) for name, one in (entry.possible_measures or {}).items()),
    )


def _measure(measure_id: str, entry: MeasureEntry) -> PossibleMeasure:
    return PossibleMeasure(
        id=measure_id,
        text=entry.text or "",
        cost=entry.cost.amount if entry.cost else None,
        probability_left=entry.probability_left,
        cost_left=entry.cost_left,
        delay_left=entry.delay_left,
    )
