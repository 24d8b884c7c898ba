"""The tasks of a schedule as people read them: by phase, by day, by person."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from itertools import groupby

from moveplan.network.task import Kind, State, Task
from moveplan.outputs.livestock import DatedRoute, Stay, dated_routes
from moveplan.outputs.outlook import Outlook
from moveplan.practice.project import Caution
from moveplan.scheduling.dates.critical import Times
from moveplan.scheduling.schedule import Placement
from moveplan.times import to_local


@dataclass(frozen=True, slots=True)
class Line:
    """One task on paper.

    Parameters
    ----------
    number : int
        Its number on every page of this outlook, from 1 in order of start. [-]
    task : Task
        What to do. [-]
    placement : Placement
        When and by whom. [-]
    state : State
        What the journal says. [-]
    times : Times or None
        Its room; None where it was not computed. [min]
    day : date
        Local day on which it begins. [-]
    """

    number: int
    task: Task
    placement: Placement
    state: State
    times: Times | None
    day: date

    @property
    def room_min(self) -> int | None:
        """How far it may slip from where it is planned; None where that was not computed. [min]."""
        return None if self.times is None else self.times.room_min(self.placement.start)


@dataclass(frozen=True, slots=True)
class Opening:
    """A container that must be opened in time.

    Parameters
    ----------
    dated : DatedRoute
        The animals. [-]
    stay : Stay
        The container and its hours. [min]
    """

    dated: DatedRoute
    stay: Stay

    @property
    def open_by(self) -> int | None:
        """Low end of the safe time as a moment, UTC; None where there is no limit. [min]."""
        low = self.stay.safe.estimate.low
        return None if low == float("inf") else self.stay.span.start + int(low)

    @property
    def in_vehicle_by(self) -> int | None:
        """The same where it stays in the vehicle, UTC; None where it does not ride or nothing limits it. [min]."""
        least = self.stay.in_vehicle_min
        return None if least is None else self.stay.span.start + int(least)

    @property
    def over(self) -> bool:
        """Whether it is planned to stay closed for longer than the low end of its safe time."""
        return self.stay.margin_min < 0


@dataclass(frozen=True, slots=True)
class Day:
    """One local day.

    Parameters
    ----------
    start : int
        Start of its first task, UTC. [min]
    lines : tuple of Line
        In order of start. [-]
    cautions : tuple of Caution
        What its tasks call for, once each. [-]
    openings : tuple of Opening
        Containers that are closed on it. [-]
    """

    start: int
    lines: tuple[Line, ...]
    cautions: tuple[Caution, ...]
    openings: tuple[Opening, ...]


@dataclass(frozen=True, slots=True)
class Phase:
    """One phase with its days.

    Parameters
    ----------
    name : str
        What to print; may be empty in a plan of own tasks. [-]
    days : tuple of Day
        In order. [-]
    """

    name: str
    days: tuple[Day, ...]


@dataclass(frozen=True, slots=True)
class Agenda:
    """All lines, grouped.

    Parameters
    ----------
    lines : tuple of Line
        In order of start. [-]
    phases : tuple of Phase
        In the order of the network. [-]
    openings : tuple of Opening
        Every container stay of every group, by the time of closing. [-]
    """

    lines: tuple[Line, ...]
    phases: tuple[Phase, ...]
    openings: tuple[Opening, ...]
    _by_id: dict[str, Line] = field(repr=False)

    def line(self, task_id: str) -> Line | None:
        """Find the line of a task; None where it is not scheduled.

        Parameters
        ----------
        task_id : str
            Id of the task. [-]
        """
        return self._by_id.get(task_id)

    @property
    def hold_points(self) -> tuple[Line, ...]:
        """The lines at which somebody decides, in order."""
        return tuple(line for line in self.lines if line.task.kind is Kind.HOLD_POINT)

    def work_of(self, person: str) -> tuple[Line, ...]:
        """Lines that one person takes part in.

        Parameters
        ----------
        person : str
            Id of the person. [-]
        """
        return tuple(line for line in self.lines if person in line.placement.people)


def agenda(outlook: Outlook) -> Agenda:
    """Group the scheduled tasks of an outlook for reading.

    Parameters
    ----------
    outlook : Outlook
        What was found. [-]

    Returns
    -------
    Agenda
        Empty where there is no schedule. [-]
    """
    lines = _lines(outlook)
    openings = tuple(
        sorted(
            (Opening(dated, stay) for dated in dated_routes(outlook) for stay in dated.stays),
            key=lambda opening: opening.stay.span.start,
        )
    )
    return Agenda(
        lines, tuple(_phases(outlook, lines, openings)), openings, {line.task.id: line for line in lines}
    )


def _lines(outlook: Outlook) -> tuple[Line, ...]:
    tasks = {task.id: task for task in outlook.project.network.tasks}
    placed = sorted(outlook.schedule.placements, key=lambda placement: (placement.start, placement.finish))
    zone = outlook.project.plan.zone
    return tuple(
        Line(
            number,
            tasks[placement.task],
            placement,
            outlook.states.get(placement.task, State.NEEDS_ACTION),
            outlook.times.get(placement.task),
            to_local(placement.start, zone).date(),
        )
        for number, placement in enumerate(placed, start=1)
    )


def _phases(outlook: Outlook, lines: tuple[Line, ...], openings: tuple[Opening, ...]) -> Iterable[Phase]:
    names = list(dict.fromkeys(task.phase for task in outlook.project.network.tasks))
    first_of_day = {
        line.day: line.task.phase for line in reversed(lines) if line.task.id in _closing(openings)
    }
    for name in names:
        own = [line for line in lines if line.task.phase == name]
        days = groupby(own, key=lambda line: line.day)
        if own:
            yield Phase(
                name, tuple(_day(outlook, tuple(day), openings, name, first_of_day) for _, day in days)
            )


def _closing(openings: tuple[Opening, ...]) -> set[str]:
    """Ids of the tasks at whose edges containers are closed."""
    return {
        stop.since.task
        for opening in openings
        for stop in opening.dated.route.stops
        if stop.safe is not None and stop.since is not None
    }


def _day(
    outlook: Outlook,
    lines: tuple[Line, ...],
    openings: tuple[Opening, ...],
    phase: str,
    phase_of_openings: dict[date, str],
) -> Day:
    zone = outlook.project.plan.zone
    named = {caution for line in lines for caution in line.task.cautions}
    here = phase_of_openings.get(lines[0].day) == phase
    return Day(
        lines[0].placement.start,
        lines,
        tuple(caution for caution in outlook.project.cautions if caution.id in named),
        tuple(
            opening
            for opening in openings
            if here and to_local(opening.stay.span.start, zone).date() == lines[0].day
        ),
    )
