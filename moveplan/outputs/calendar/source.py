"""What events and to-dos are made from: the tasks that were selected, with their words at hand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from moveplan.network.task import State, Task
from moveplan.outputs.calendar.event import Words
from moveplan.outputs.calendar.facts import Facts, Names
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.calendar.words import Wording
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.wording.escape import one_line
from moveplan.scheduling.schedule import Placement
from moveplan.times import Interval

#: Begins the key of a latest start; the id of its task follows.
START_BY = "start-by:"


@dataclass(frozen=True, slots=True)
class Segment:
    """One stretch of a selected task.

    Parameters
    ----------
    key : str
        Id of the task and number of the stretch; stays when dates move.
    stretch : Interval
        When. [min]
    facts : Facts
        What is told of it.
    people : tuple of str
        Who does this stretch: of recurring care that changes hands, not everybody who ever does it.
    """

    key: str
    stretch: Interval
    task: Task
    facts: Facts
    people: tuple[str, ...]


class Source:
    """An outlook, seen through the options.

    Parameters
    ----------
    outlook : Outlook
        The scheduled plan.
    options : CalendarOptions
        What was chosen.
    wording : Wording
        The words.
    """

    def __init__(self, outlook: Outlook, options: CalendarOptions, wording: Wording) -> None:
        self.outlook = outlook
        self.options = options
        self.wording = wording
        self.zone = outlook.project.plan.zone
        self._names = Names(outlook, addresses=options.addresses)
        tasks = {task.id: task for task in outlook.project.network.tasks}
        # A dropped task is left out: its earlier events are then cancelled.
        self.placed: dict[str, tuple[Task, Placement]] = {
            placement.task: (tasks[placement.task], placement)
            for placement in outlook.schedule.placements
            if self.state(placement.task) is not State.CANCELLED
            and options.takes(tasks[placement.task], placement)
        }

    def state(self, task_id: str) -> State:
        """Tell how far a task is."""
        return self.outlook.states.get(task_id, State.NEEDS_ACTION)

    def met_start_by(self, key: str) -> bool:
        """Tell whether a key is that of a latest start whose task has begun."""
        begun = (State.IN_PROCESS, State.COMPLETED)
        return key.startswith(START_BY) and self.state(key.removeprefix(START_BY)) in begun

    def segments(self, task_id: str) -> Iterator[Segment]:
        """Give the stretches of a task: of a pause, or of recurring care.

        Parameters
        ----------
        task_id : str
            Id of a placed task.

        Yields
        ------
        Segment
            In order.
        """
        task, placement = self.placed[task_id]
        stretches = placement.segments or (Interval(placement.start, placement.finish),)
        crews = placement.segment_people or (placement.people,) * len(stretches)
        for part, (stretch, crew) in enumerate(zip(stretches, crews, strict=True), start=1):
            facts = self._names.facts(task, replace(placement, people=crew), stretch, part, len(stretches))
            yield Segment(f"{task_id}/{part}", stretch, task, facts, crew)

    def whole(self, task_id: str) -> Segment:
        """Give a task as one stretch from its start to its finish."""
        task, placement = self.placed[task_id]
        stretch = Interval(placement.start, placement.finish)
        facts = self._names.facts(task, placement, stretch, 1, 1)
        return Segment(task_id, stretch, task, facts, placement.people)

    def words(self, segment: Segment) -> Words:
        """Put one stretch into words."""
        return Words(
            title=self.wording.title(segment.facts),
            notes=self.wording.notes(segment.facts),
            location=self.wording.location(segment.facts),
            category=one_line(segment.task.phase),
        )
