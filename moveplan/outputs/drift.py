"""How far a schedule has moved from those that were accepted, by task and milestone, and what it keeps no more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

from moveplan.errors import Problem
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.travelling import Travelling
from moveplan.network.link import Link
from moveplan.network.task import State
from moveplan.outputs.closed import told
from moveplan.outputs.outlook import Drift, Moved, Outlook, Slipped
from moveplan.practice.under_way.story import Story
from moveplan.scheduling.schedule import Schedule
from moveplan.units import show_duration


def drift_of(outlook: Outlook, story: Story, dangers: tuple[Problem, ...]) -> Drift | None:
    """Compare a schedule with those that were accepted.

    Parameters
    ----------
    story : Story
        The schedules that were accepted.
    dangers : tuple of Problem
        What cannot be kept any more.

    Returns
    -------
    Drift or None
        None where none was accepted.
    """
    if story.first is None or story.last is None:
        return None
    cost = outlook.cost.total if outlook.cost else None
    return Drift(
        moved=tuple(_moved(outlook, story.last)),
        milestones=tuple(_slipped(outlook, story.first)),
        dangers=dangers,
        first_accepted=story.first.now,
        cost_more=None if cost is None or not story.first.cost else cost - _total(story.first),
    )


def dangers_of(
    short: tuple[Travelling, ...], broken: Iterable[Link], outlook: Outlook
) -> tuple[Problem, ...]:
    """Tell what cannot be kept any more: containers that do not last, by their countdown, then what else is passed.

    A gap from the closing to the opening of such a container says the same once more, and is left out.

    Parameters
    ----------
    short : tuple of Travelling
        Containers that do not last.
    broken : iterable of Link
        Greatest gaps that cannot be kept any more.
    """
    same = {(one.stay.shut_task, one.stay.open_task) for one in short}
    others = (link for link in broken if (link.before, link.after) not in same)
    gaps = (_danger(link, outlook) for link in worst_first(others, outlook.schedule))
    return (*told(short, outlook), *gaps)


def worst_first(broken: Iterable[Link], schedule: Schedule) -> list[Link]:
    """Sort greatest gaps by how much they are passed, so that what has the least time left is told first.

    Parameters
    ----------
    broken : iterable of Link
        Of which each has a greatest gap.
    schedule : Schedule
        When their tasks are planned.
    """
    placed = {one.task: one for one in schedule.placements}

    def spare_min(link: Link) -> int:
        before, after = placed.get(link.before), placed.get(link.after)
        return (link.max_gap_min or 0) - link.gap_between(before, after) if before and after else 0

    return sorted(broken, key=spare_min)


def _total(snapshot: Snapshot) -> Decimal:
    return sum(map(Decimal, snapshot.cost.values()), Decimal("0.00"))


def _moved(outlook: Outlook, last: Snapshot) -> Iterator[Moved]:
    before = {task.id: task for task in last.tasks}
    titles = {task.id: task.title for task in outlook.project.network.tasks}
    for placement in outlook.schedule.placements:
        state = outlook.states.get(placement.task, State.NEEDS_ACTION)
        old = before.get(placement.task)
        if state is not State.NEEDS_ACTION or (old is not None and old.start == placement.start):
            continue
        times = outlook.times.get(placement.task)
        yield Moved(
            placement.task,
            titles[placement.task],
            None if old is None else old.start,
            placement.start,
            times.driver if times else None,
        )


def _slipped(outlook: Outlook, first: Snapshot) -> Iterator[Slipped]:
    finishes = {placement.task: placement.finish for placement in outlook.schedule.placements}
    for name, task in outlook.project.network.milestones:
        old = first.task(first.milestones.get(name, ""))
        if old is not None and task in finishes:
            yield Slipped(name, old.finish, finishes[task])


def _danger(link: Link, outlook: Outlook) -> Problem:
    titles = {task.id: task.title for task in outlook.project.network.tasks}
    before, after = titles[link.before], titles[link.after]
    within = show_duration(link.max_gap_min or 0)
    return Problem(
        f"“{after}” was to follow “{before}” within {within}, and cannot any more",
        link.where,
        link.why,
    )
