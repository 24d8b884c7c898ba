"""Which changes are tried against what breaks."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.changed.change import Change
from moveplan.changed.hands import more_hands
from moveplan.changed.hours import longer_days, longer_eves
from moveplan.changed.means import hired_longer, in_bags, other_way
from moveplan.practice.project import Project
from moveplan.risk.promise.values import Promise
from moveplan.scheduling.schedule import Schedule

OFTEN = 0.02
"""What breaks less often is not worth a change; assumed. [-]"""


def changes_for(project: Project, schedule: Schedule, promise: Promise) -> Iterator[Change]:
    """Give the changes that go against what breaks.

    Parameters
    ----------
    project : Project
        Its people, vehicles and dates.
    schedule : Schedule
        Who works on the moving day.
    """
    found = {change.writes: change for change in _changes(project, schedule, promise)}
    yield from found.values()


def _changes(project: Project, schedule: Schedule, promise: Promise) -> Iterator[Change]:
    often = [one for one in promise.breaks if one.chance >= OFTEN]
    if not often:
        return
    late = tuple(one.id for one in often if one.what == "hours")
    if late:
        yield from longer_days(project, schedule, late)
        yield from longer_eves(project, schedule, late)
    for one in often:
        if one.what == "hire":
            yield from hired_longer(project, one.id)
    yield from more_hands(project, schedule)
    yield from in_bags(project)
    yield from other_way(project)
