"""What is said beside a plan: what it would be with changes of it, each carried out before it is named."""

from __future__ import annotations

from dataclasses import replace

from moveplan.changed.helps import helps_for
from moveplan.changed.loans import with_loans
from moveplan.changed.other_ways import other_ways
from moveplan.changed.own_hands import by_own_hands
from moveplan.changed.trials import Foreseen, on_trial
from moveplan.changed.ways_out import with_ways_out
from moveplan.errors import WayOut, one_by_one, written
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Schedule
from moveplan.stages.reading import Settings


def with_changes(
    outlook: Outlook, project: Project, found: Schedule, settings: Settings, foresee: Foreseen
) -> Outlook:
    """Say beside an outlook what makes a tight plan surer, what may be borrowed, and what else would do.

    Parameters
    ----------
    outlook : Outlook
        What came of the plan as it is.
    project : Project
        As it was scheduled, before times were put to what people are told.
    settings : Settings
        How hard to look; a part of the effort more is spent on changes.
    foresee : callable
        Schedules a changed project, and judges it.
    """
    tries = on_trial(settings)
    outlook = replace(outlook, helps=helps_for(outlook, project, found, tries))
    outlook = with_loans(outlook, tries, foresee)
    own = by_own_hands(outlook, tries, foresee)  # costs nothing: tried first; then few, then many
    ways = _other_ways(outlook, tries, foresee)
    outlook = _with_said(with_ways_out(outlook, tries, foresee), own, ways)
    return replace(outlook, untried=tries.effort.allowance.refused if tries.effort.allowance else 0)


def _other_ways(outlook: Outlook, settings: Settings, foresee: Foreseen) -> tuple[WayOut, ...]:
    """Find the other ways of moving in which the plan can be done, or be done safely."""
    if outlook.verdict.follows or not outlook.problems:
        return ()
    safe_only = outlook.verdict is Verdict.UNSAFE
    return other_ways(outlook.project, settings, foresee, safe_only=safe_only)


def _with_said(outlook: Outlook, own: tuple[WayOut, ...], ways: tuple[WayOut, ...]) -> Outlook:
    """Say beside the ways out of the first problem what the plan's people could do, and other ways of moving."""
    if not own and not ways:
        return outlook
    first, *others = outlook.problems
    said = "; or ".join(filter(None, (*map(written, own), first.remedy, *map(written, ways))))
    every = (*own, *one_by_one(first), *ways)
    return replace(outlook, problems=(replace(first, remedy=said, ways=every), *others))
