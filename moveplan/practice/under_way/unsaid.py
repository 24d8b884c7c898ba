"""What the journal does not say: tasks that must be over because others follow them, and tasks that nobody logged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from moveplan.errors import Problem
from moveplan.journal.state import JournalState, TaskState
from moveplan.network.graph import Network
from moveplan.network.link import Relation
from moveplan.network.task import Kind, State
from moveplan.practice.project import Project
from moveplan.practice.under_way.story import Story
from moveplan.scheduling.schedule import Placement
from moveplan.times import Interval

_MOST_NAMED = 6
"""Most names in one sentence; the rest is counted. Chosen. [-]"""
POINT = "no-way-back"
"""Beginning of the ids of the hold points behind which nothing goes back."""
_BEGUN = (State.IN_PROCESS, State.COMPLETED)


def surely_over(project: Project, states: Mapping[str, TaskState], story: Story) -> dict[str, Placement]:
    """Place tasks that were planned to be over by now, and on which something depends that has begun.

    A last meal is among them behind the point of no return: no fish is fed on the day, and none waits for it. So is
    every preparation that was planned for a day before it: whoever signs that everything is there has it.

    Where no schedule is in force, or its record cannot be read, they were over when that began.

    Parameters
    ----------
    project : Project
        Tasks and links, and which meals are the last.
    states : Mapping of str to TaskState
        How far each task is, as far as somebody said.
    story : Story
        The schedule in force.

    Returns
    -------
    dict of str to Placement
        Where they were planned; they stay to be logged.
    """
    ties = {
        (link.before, link.after): link.min_gap_min
        for link in project.network.links
        if link.relation is Relation.FINISHTOSTART and link.min_gap_min is not None
    }
    day = {task.id: task.day for task in project.network.tasks}
    ties |= {
        (meal.last, point): ties.get((meal.last, meal.catch), 0)
        for meal in project.meals
        for point in day
        if point.startswith(POINT) and day[point] == day.get(meal.catch)
    }
    ties |= {
        (name, point): ties.get((name, point), 0)
        for name, tag in day.items()
        for point in day
        if not tag and point.startswith(POINT) and _ahead_of(name, point, story)
    }
    before: dict[str, list[tuple[str, int]]] = {}
    for (name, after), gap_min in ties.items():
        before.setdefault(after, []).append((name, gap_min))
    waiting = [name for name, found in states.items() if found.state in _BEGUN]
    over: dict[str, Placement] = {}
    while waiting:
        after = waiting.pop()
        for name, gap_min in before.get(after, ()):
            if states[name].state is not State.NEEDS_ACTION or name in over:
                continue
            planned = story.planned(name)
            if planned is not None and planned.finish <= story.now:
                over[name] = Placement(
                    name, planned.start, planned.finish, planned.segments, planned.people, planned.vehicles
                )
                waiting.append(name)
            elif story.last is None:
                begun = over[after].start if after in over else states[after].begun or states[after].done
                at = min(story.now if begun is None else begun, story.now) - max(gap_min, 0)
                over[name] = Placement(name, at, at, (Interval(at, at),))
                waiting.append(name)
    return over


def _ahead_of(name: str, point: str, story: Story) -> bool:
    """Whether a task was planned to be over before a point of no return."""
    one, two = story.planned(name), story.planned(point)
    return one is not None and two is not None and one.finish <= two.start


def findings_of(
    network: Network, states: Mapping[str, TaskState], story: Story, over: Mapping[str, Placement]
) -> Iterator[Problem]:
    """Say what nobody logged, and what the journal knows that the plan does not.

    Parameters
    ----------
    network : Network
        Tasks and links.
    states : Mapping of str to TaskState
        How far each task is.
    story : Story
        What has happened.
    over : Mapping of str to Placement
        Tasks that must be over.
    """
    late = [
        task.id
        for task in network.tasks
        if states[task.id].state is State.NEEDS_ACTION
        and task.id not in over
        and task.kind is not Kind.WAIT
        and (old := story.planned(task.id)) is not None
        and old.finish < story.now
    ]
    if late:
        yield Problem(
            f"should be over by now, and nothing says that it is: {_named(late)}; it is planned anew from now on",
            "",
            "log what was done with its real time (moveplan record PLAN done TASK --at TIME), or drop it",
        )
    alone = {task.id for task in network.tasks if task.kind is Kind.WAIT and task.crew is None}
    asked = [name for name in over if name not in alone]
    if asked:
        yield Problem(
            f"taken as done when it was planned, because what waits for it has begun: {_named(asked)}",
            "",
            "log it with its real time (moveplan record PLAN done TASK --at TIME; met for a hold point)",
        )
    yield from _gone(network, story.state)


def _named(names: list[str]) -> str:
    more = f" and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else ""
    return ", ".join(names[:_MOST_NAMED]) + more


def _gone(network: Network, state: JournalState) -> Iterator[Problem]:
    known = {task.id for task in network.tasks}
    words = {State.COMPLETED: "done", State.IN_PROCESS: "begun", State.CANCELLED: "dropped"}
    for name, found in state.tasks.items():
        if name not in known and found.state in words:
            yield Problem(
                f"the journal says that {name} is {words[found.state]}, but the plan no longer has this task",
                "",
                "nothing is lost: the record stays, and counts again when the task comes back",
            )
