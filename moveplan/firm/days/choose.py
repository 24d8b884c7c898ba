"""The one way in: the best days there are, by whatever engine is there; and which promises contradict each other."""

from __future__ import annotations

from dataclasses import replace

from moveplan.firm.days.question import Answer, DayStatus, Question
from moveplan.firm.days.serial import chosen_serially
from moveplan.scheduling.solve import exact_is_there


def chosen(question: Question, *, engine: str = "auto") -> Answer:
    """Choose a day, a crew and vehicles for each job.

    Parameters
    ----------
    engine : str
        ``auto``: exact where its solver is installed; ``serial`` or ``exact``.

    Returns
    -------
    Answer
        INFEASIBLE only with a proof: promised days that cannot all be kept.
    """
    return _chosen(question, engine, any_does=False)


def _chosen(question: Question, engine: str, *, any_does: bool) -> Answer:
    first = chosen_serially(question)
    if engine == "serial" or (engine == "auto" and not exact_is_there()):
        return first
    from moveplan.firm.days.exact import chosen_exactly

    exact = chosen_exactly(question, first, any_does=any_does)
    if exact.status is DayStatus.UNKNOWN and first.status is DayStatus.FEASIBLE:
        return first
    return exact


def contradicting(question: Question, *, engine: str = "auto") -> tuple[str, ...]:
    """Find promised jobs that cannot all be kept: a set from which none can be left out.

    Parameters
    ----------
    question : Question
        One whose promises contradict each other.
    engine : str
        As for :func:`chosen`.
    """
    kept = [one for one in question.wanted if one.promised]
    for one in list(kept):
        fewer = [other for other in kept if other is not one]
        if not can_be(replace(question, wanted=tuple(fewer)), engine=engine):
            kept = fewer
    return tuple(one.job for one in kept)


def can_be(question: Question, *, engine: str = "auto") -> bool:
    """Whether all promised jobs of a question can be kept: the others can be left out, and no choice is the best."""
    kept = replace(question, wanted=tuple(one for one in question.wanted if one.promised))
    return _chosen(kept, engine, any_does=True).status in (DayStatus.OPTIMAL, DayStatus.FEASIBLE)
