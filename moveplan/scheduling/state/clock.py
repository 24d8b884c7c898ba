"""Moments as the plan file writes them, for messages."""

from __future__ import annotations

from moveplan.network.words import said
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.times import to_local


def clock(problem: SchedulingProblem, moment: int) -> str:
    """Say a moment by the clock of the problem's zone, or else counted from its start."""
    if problem.zone is None:
        return f"{said(moment - problem.start)} after the start"
    return to_local(moment, problem.zone).strftime("%Y-%m-%d %H:%M")


def at(problem: SchedulingProblem, moment: int) -> str:
    """Say when something happens.

    >>> from moveplan.network.graph import Network
    >>> at(SchedulingProblem(Network(()), 0, 1440), 90)
    '1 h 30 min after the start'
    """
    return f"at {clock(problem, moment)}" if problem.zone else clock(problem, moment)


def between(problem: SchedulingProblem, first: int, last: int) -> str:
    """Say within which two moments.

    >>> from moveplan.network.graph import Network
    >>> between(SchedulingProblem(Network(()), 0, 1440), 60, 90)
    'between 1 h and 1 h 30 min after the start'
    """
    return f"between {_both(problem, first, last, 'and')}"


def stretch(problem: SchedulingProblem, first: int, last: int) -> str:
    """Say from when until when."""
    return f"from {_both(problem, first, last, 'to')}"


def _both(problem: SchedulingProblem, first: int, last: int, word: str) -> str:
    """Two moments with a word in between; what they have in common stands once."""
    if problem.zone is None:
        return f"{said(first - problem.start)} {word} {clock(problem, last)}"
    begin, end = clock(problem, first), clock(problem, last)
    return f"{begin} {word} {end[11:] if begin[:10] == end[:10] else end}"


def by(problem: SchedulingProblem, moment: int) -> str:
    """Say until when something must be over."""
    return f"by {clock(problem, moment)}"


def day_name(tag: str) -> str:
    """Name a tied day by its tag.

    >>> day_name("moving-day"), day_name("move")
    ('moving day', 'move day')
    """
    name = tag.replace("-", " ")
    return name if name.endswith("day") else f"{name} day"
