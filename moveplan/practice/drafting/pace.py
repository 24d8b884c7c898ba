"""How fast this crew works, as it was learnt from an earlier move; one where nothing was."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import replace

from moveplan.estimate import Estimate
from moveplan.plan.move import Learnt, Plan
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
    lead : str
        Who leads; empty: it is not known.

    Examples
    --------
    >>> learnt = Learnt((), {"pace_moving_day": 1.2}, {"ruth": {"catch-fish": 1.5}})
    >>> paces = Paces(learnt, Policy({}), ("catch-fish", "pack"), "ruth")
    >>> [paces.of(task, moving_day=True) for task in ("catch-fish-reef", "pack")]
    [1.8, 1.2]
    """

    def __init__(self, learnt: Learnt | None, policy: Policy, kinds: Iterable[str], lead: str = "") -> None:
        self._learnt, self._policy = learnt, policy
        self._kinds = set(kinds)
        self._led = learnt.leads.get(lead, {}) if learnt else {}
        self._measured = _measured(learnt, self._kinds) if learnt else {}

    def of(self, task: str, *, moving_day: bool) -> float:
        """Give how much longer than usual a task takes, by its id or its kind. [-]."""
        name = "pace_moving_day" if moving_day else "pace_other_work"
        general = self._policy[name]
        if self._learnt and name not in self._policy.overrides:
            general = self._learnt.paces.get(name, general)
        kind = kind_of(task, self._kinds)
        planned, real = self._measured.get(kind, (0, 0))
        pace = (real + general * GENERAL_MIN) / (planned + GENERAL_MIN) * self._led.get(kind, 1.0)
        return round(min(max(pace, FASTEST), SLOWEST), 2)


def paces_of(plan: Plan, kinds: Iterable[str]) -> Paces:
    """Give the paces of a plan, of whoever leads in it.

    Parameters
    ----------
    kinds : iterable of str
        Kinds of tasks.
    """
    lead = next((one.id for one in plan.people if one.lead), "")
    return Paces(plan.learnt, Policy(plan.policy), kinds, lead)


def _measured(learnt: Learnt, kinds: set[str]) -> Mapping[str, tuple[int, int]]:
    """Add up planned and real minutes of each kind. [min]."""
    found: dict[str, tuple[int, int]] = {}
    for task, planned, real in learnt.tasks:
        kind = kind_of(task, kinds)
        if kind:
            before = found.get(kind, (0, 0))
            found[kind] = (before[0] + planned, before[1] + real)
    return found


def kind_of(task: str, kinds: Container[str]) -> str:
    """Find the kind of a task: the longest that its id begins with; empty: none of these.

    Parameters
    ----------
    task : str
        Its id.
    kinds : container of str
        All there are.

    >>> kind_of("catch-fish-reef", ("catch", "catch-fish")), kind_of("own", ("catch",))
    ('catch-fish', '')
    """
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
