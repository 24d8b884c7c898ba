"""How fast this crew works, as it was learnt from an earlier move; one where nothing was."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import replace

from moveplan.estimate import Estimate
from moveplan.plan.move import Learnt
from moveplan.quantities.policy import Policy

GENERAL_MIN = 120
"""The pace of all work counts for a kind of task as if it had been measured on that kind for so long; assumed. [min]"""
SLOWEST, FASTEST = 3.0, 0.5
"""Paces that are believed; assumed. [-]"""


class Paces:
    """Looks paces up.

    Parameters
    ----------
    learnt : Learnt or None
        What an earlier move taught; None: nothing.
    policy : Policy
        ``pace_moving_day`` and ``pace_other_work``, which come before what was learnt.
    kinds : iterable of str
        Kinds of tasks: what ids of tasks begin with.
    """

    def __init__(self, learnt: Learnt | None, policy: Policy, kinds: Iterable[str]) -> None:
        self._learnt, self._policy = learnt, policy
        self._kinds = set(kinds)
        self._measured = _measured(learnt, self._kinds) if learnt else {}

    def of(self, task: str, *, moving_day: bool) -> float:
        """Give how much longer than usual a task takes, by its id or its kind. [-]."""
        name = "pace_moving_day" if moving_day else "pace_other_work"
        general = self._policy[name]
        if self._learnt and name not in self._policy.overrides:
            general = self._learnt.paces.get(name, general)
        planned, real = self._measured.get(_kind(task, self._kinds), (0, 0))
        pace = (real + general * GENERAL_MIN) / (planned + GENERAL_MIN)
        return round(min(max(pace, FASTEST), SLOWEST), 2)


def _measured(learnt: Learnt, kinds: set[str]) -> Mapping[str, tuple[int, int]]:
    """Add up planned and real minutes of each kind. [min]."""
    found: dict[str, tuple[int, int]] = {}
    for task, planned, real in learnt.tasks:
        kind = _kind(task, kinds)
        if kind:
            before = found.get(kind, (0, 0))
            found[kind] = (before[0] + planned, before[1] + real)
    return found


def _kind(task: str, kinds: Container[str]) -> str:
    """Find the kind of a task: the longest that its id begins with; empty: none of these."""
    parts = task.split("-")
    heads = ("-".join(parts[:count]) for count in range(len(parts), 0, -1))
    return next((head for head in heads if head in kinds), "")


def paced(estimate: Estimate, factor: float) -> Estimate:
    """Stretch the duration of work to the pace of the crew.

    Parameters
    ----------
    estimate : Estimate
        Duration at the usual pace. [min]
    factor : float
        How much longer it takes.

    Examples
    --------
    >>> usual = Estimate(20, 30, 60, "min", "a list")
    >>> slower = paced(usual, Paces(None, Policy({"pace_other_work": 1.5}), ()).of("pack", moving_day=False))
    >>> slower.likely, slower.basis
    (45.0, 'a list; 1.5 times as long, as this crew took before')
    >>> learnt = Learnt((("catch-fish-reef", 60, 120),), {})
    >>> Paces(learnt, Policy({}), ("catch-fish", "catch")).of("catch-fish", moving_day=True)
    1.33
    >>> paced(usual, 1.0) == usual
    True
    """
    if factor == 1.0:
        return estimate
    return replace(
        estimate,
        low=estimate.low * factor,
        likely=estimate.likely * factor,
        high=estimate.high * factor,
        basis=f"{estimate.basis}; {factor:g} times as long, as this crew took before",
    )
