"""The tasks of a schedule as people read them: in order of start, each by the number that it was told by."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from itertools import count
from math import isinf

from moveplan.network.reach import reached
from moveplan.network.task import Kind, State, Task
from moveplan.outputs.livestock import DatedRoute, Stay, dated_routes
from moveplan.outputs.outlook import Outlook
from moveplan.risk.prepared.stays import stays_of
from moveplan.scheduling.dates.critical import Times
from moveplan.scheduling.schedule import Placement
from moveplan.times import to_local


@dataclass(frozen=True, slots=True)
class Line:
    """One task on paper.

    Parameters
    ----------
    number : int
        Its number on every page: the one that it was told by, else the next that no task ever had, in order of start.
    task : Task
        What to do.
    placement : Placement
        When and by whom.
    state : State
        What the journal says.
    times : Times or None
        Its room; None where it was not computed. [min]
    day : date
        Local day on which it begins.
    spare_min : int or None
        How far it may slip for animals that are closed up meanwhile and wait for it: what is left of their safe time,
        and the room that it has before they are opened, the least of all containers; None: none is. [min]
    decide_by : int or None
        Latest start of a hold point with which the moving day is kept as surely as the plan asks, UTC; without runs the
        one that keeps every limit; None: that is not known. [min]
    seldom : float or None
        Share of the runs in which it is begun by its start, of what follows the moving days and is begun by then in
        less than half of them; None: of everything else.
    """

    number: int
    task: Task
    placement: Placement
    state: State
    times: Times | None
    day: date
    spare_min: int | None = None
    decide_by: int | None = None
    seldom: float | None = None

    @property
    def room_min(self) -> int | None:
        """How far it may slip from where it is planned; None where that was not computed. [min]."""
        if self.times is None:
            return None
        room_min = self.times.room_min(self.placement.start)
        return room_min if self.spare_min is None else min(room_min, self.spare_min)


@dataclass(frozen=True, slots=True)
class Opening:
    """A container that must be opened in time.

    Parameters
    ----------
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
class Agenda:
    """All lines.

    Parameters
    ----------
    lines : tuple of Line
        In order of start.
    openings : tuple of Opening
        Every container stay of every group, by the time of closing.
    """

    lines: tuple[Line, ...]
    openings: tuple[Opening, ...]
    _by_id: dict[str, Line] = field(repr=False)

    def line(self, task_id: str) -> Line | None:
        """Find the line of a task; None where it is not scheduled."""
        return self._by_id.get(task_id)

    @property
    def hold_points(self) -> tuple[Line, ...]:
        """The lines at which somebody decides, in order."""
        return tuple(line for line in self.lines if line.task.kind is Kind.HOLD_POINT)

    def work_of(self, person: str) -> tuple[Line, ...]:
        """Lines that one person takes part in."""
        return tuple(line for line in self.lines if person in line.placement.people)


def agenda(outlook: Outlook) -> Agenda:
    """Give the scheduled tasks of an outlook their numbers.

    Returns
    -------
    Agenda
        Empty where there is no schedule.
    """
    lines = _lines(outlook)
    openings = tuple(
        sorted(
            (Opening(dated, stay) for dated in dated_routes(outlook) for stay in dated.stays),
            key=lambda opening: opening.stay.span.start,
        )
    )
    return Agenda(lines, openings, {line.task.id: line for line in lines})


def _lines(outlook: Outlook) -> tuple[Line, ...]:
    tasks = {task.id: task for task in outlook.project.network.tasks}
    placed = sorted(outlook.schedule.placements, key=lambda placement: (placement.start, placement.finish))
    zone, told = outlook.project.plan.zone, outlook.numbers
    spare, decided, seldom = _spare(outlook), _decided(outlook), outlook.seldom()
    fresh = count(max(told.values(), default=0) + 1)
    return tuple(
        Line(
            told.get(placement.task) or next(fresh),
            tasks[placement.task],
            placement,
            outlook.states.get(placement.task, State.NEEDS_ACTION),
            outlook.times.get(placement.task),
            to_local(placement.start, zone).date(),
            spare.get(placement.task),
            decided.get(placement.task),
            seldom.get(placement.task),
        )
        for placement in placed
    )


def _decided(outlook: Outlook) -> dict[str, int]:
    if outlook.risk and outlook.risk.runs:
        return {one.task: one.latest for one in outlook.risk.hold_by}
    holds = (task.id for task in outlook.project.network.tasks if task.kind is Kind.HOLD_POINT)
    return {name: outlook.times[name].late_start for name in holds if name in outlook.times}


def _spare(outlook: Outlook) -> dict[str, int]:
    """Find what is left of each closed container's safe time, for every task between its closing and its opening.

    It is told in whole steps of the schedule, as starts are.
    """
    grid_min = outlook.project.scheduling.grid_min
    placed = {one.task: one for one in outlook.schedule.placements}
    before: dict[str, list[str]] = {}
    for link in outlook.project.network.links:
        before.setdefault(link.after, []).append(link.before)
    spare: dict[str, int] = {}
    rooms = {
        name: times.room_min(placed[name].start) for name, times in outlook.times.items() if name in placed
    }
    for stay in stays_of(outlook.project):
        low_min, last = stay.safe.estimate.low, stay.until.task
        if isinf(low_min) or stay.since.task not in placed or last not in placed:
            continue
        closed, opened = (getattr(placed[one.task], one.edge) for one in (stay.since, stay.until))
        within = {name for name, one in placed.items() if one.start >= closed}
        waits = {name: within.intersection(before.get(name, ())) for name in placed}
        between = {last} | reached([last], lambda name: waits[name])  # noqa: B023 - asked at once
        left_min = max(0, int((closed + low_min - opened) // grid_min * grid_min))
        for name in between & rooms.keys():
            own_min = left_min + max(0, rooms[name] - rooms.get(last, 0))
            spare[name] = min(spare.get(name, own_min), own_min)
    return spare
