"""Changes of a plan that are carried out before they are named: composed, scheduled, and weighed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from moveplan.errors import MoveplanError
from moveplan.outputs.outlook import Outlook
from moveplan.plan.move import Plan
from moveplan.practice.project import Project
from moveplan.quantities.leg.shortages import Writes
from moveplan.scheduling.effort import Allowance
from moveplan.scheduling.state.clock import by
from moveplan.stages.reading import Settings, composed

QUICK_S = 0.3
"""Effort for one change, by the quick engine. [s]"""
TRIED_S, TRIED_SHARE = 4.0, 0.5
"""What all tries of a plan may cost, and so much of the effort more. [s], [-]"""
COMPOSED_S, WEIGHED_S = 0.002, 0.0025
"""Of composing a plan, and of weighing its schedule, for each task; measured on plans of 60 to 140 tasks. [s]"""
MANY = 1000
"""What the tasks tell weighs more than all that a schedule may. [-]"""

Foreseen = Callable[[Project, Settings], Outlook]
"""Schedules a project, and judges it."""


def settled_by(seen: Outlook) -> str:
    """Say by when the animals are settled."""
    settled = seen.schedule.of(dict(seen.project.network.milestones)["settled"])
    return f"settled {by(seen.project.scheduling, settled.finish)}"


def told(writes: Writes) -> str:
    """Say what to write.

    >>> told((("gear.tubs.count", "12"), ("gear", "{id: oxygen, kind: oxygen, count: 1}")))
    'write "gear.tubs.count: 12" and add "{id: oxygen, kind: oxygen, count: 1}" under gear'
    """
    return " and ".join(
        f'add "{value}" under gear' if key == "gear" else f'write "{key}: {value}"' for key, value in writes
    )


def on_trial(settings: Settings) -> Settings:
    """Give settings with an allowance for all plans that are tried beside the one asked for."""
    allowance = Allowance(TRIED_S + TRIED_SHARE * settings.effort.seconds)
    return replace(settings, effort=replace(settings.effort, allowance=allowance))


@dataclass(slots=True)
class Trials:
    """Tries changed plans, as many as the allowance pays for.

    Parameters
    ----------
    outlook : Outlook
        What came of the plan as it is.
    tried : list of (tuple of (str, str), frozenset of str)
        What was written in each, and the lines of the plan at which it is still not safe; none where it tells of none
        at all, since it cannot be done.
    """

    outlook: Outlook
    settings: Settings
    foresee: Foreseen
    tried: list[tuple[Writes, frozenset[str]]] = field(default_factory=list)

    def seen(self, plan: Plan, writes: Writes = ()) -> Outlook | Project | None:
        """Try a changed plan, and note what is left at which of its lines; None: nobody waits for more."""
        effort = self.settings.effort
        allowance = effort.allowance
        if allowance is None or (effort.interrupted is not None and effort.interrupted()):
            return None
        if not allowance.allows():
            return None
        found = self._seen(plan, allowance)
        self.tried.append((writes, _lines(found)))
        return found

    def _seen(self, plan: Plan, allowance: Allowance) -> Outlook | Project | None:
        """Compose it, and schedule and weigh it where it might be safe."""
        quick = replace(self.settings.effort, seconds=QUICK_S, engine="serial", progress=None, meanwhile=None)
        project = composed(replace(plan, way=self.outlook.project.way), steps=False)
        allowance.pay(COMPOSED_S * len(project.network.tasks))
        if project.unsafe or project.impossible:
            return project
        allowance.pay(WEIGHED_S * len(project.network.tasks))
        try:
            return self.foresee(project, replace(self.settings, effort=quick))
        except MoveplanError:  # its schedule did not pass the door
            return None


UNKNOWN = "?"
"""Stands for the lines of a plan that cannot be carried out: nothing is known of its dangers."""


def _lines(seen: Outlook | Project | None) -> frozenset[str]:
    """List the lines of the plan at which something is not safe."""
    if math.isinf(dangers_of(seen)):
        return frozenset({UNKNOWN})
    project = seen.project if isinstance(seen, Outlook) else seen
    problems = seen.problems if isinstance(seen, Outlook) and not seen.verdict.follows else ()
    return frozenset(one.where for one in (*problems, *(project.unsafe if project else ())))


def dangers_of(seen: Outlook | Project | None) -> float:
    """Count what is unsafe: first what the tasks tell, then what the schedule does; what cannot be done is worst."""
    project = seen.project if isinstance(seen, Outlook) else seen
    if project is None or project.impossible:
        return math.inf
    if project.unsafe or not isinstance(seen, Outlook):
        return MANY * len(project.unsafe)
    if not seen.schedule.placements:
        return math.inf
    return 0 if seen.verdict.follows else len(seen.problems)
