"""An independent check of any schedule against its problem; shares no code with the engines.

A failure is a fault of the program, never of the plan: no output is written then.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from moveplan.errors import Problem
from moveplan.network.link import Link
from moveplan.network.task import Task
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import Interval

Found = Iterator[str]
_REMEDY = "this is a fault of the program; please report it with the plan file"


def verify(problem: SchedulingProblem, schedule: Schedule) -> tuple[Problem, ...]:
    """Check every limit of a problem on a schedule that claims to keep them.

    Parameters
    ----------
    problem : SchedulingProblem
        What was asked. [-]
    schedule : Schedule
        What came out, with placements. [-]

    Returns
    -------
    tuple of Problem
        Every limit that is broken; empty where the schedule is sound. [-]
    """
    tasks = problem.network.tasks
    stand = [placement.task for placement in schedule.placements]
    if stand != [task.id for task in tasks]:
        return (Problem("the schedule does not hold every task once, in order", "", _REMEDY),)
    placed = dict(zip(stand, schedule.placements, strict=True))
    faults = [fault for task in tasks for fault in _of_task(problem, task, placed[task.id])]
    faults += [fault for link in problem.network.links for fault in _of_link(link, placed)]
    faults += _of_people(problem, placed)
    faults += _of_vehicles(problem, placed)
    faults += _of_gear(problem, placed)
    faults += _of_tied_days(problem, placed)
    faults += _of_claims(problem, schedule)
    return tuple(Problem(fault, "", _REMEDY) for fault in faults)


def _of_task(problem: SchedulingProblem, task: Task, stands: Placement) -> Found:
    pieces = stands.segments
    if not pieces or pieces[0].start != stands.start or pieces[-1].finish != stands.finish:
        yield f"{task.id}: its stretches do not span it"
        return
    if any(one.finish > two.start for one, two in pairwise(pieces)):
        yield f"{task.id}: its stretches overlap"
    if stands.start < problem.start or stands.finish > problem.horizon:
        yield f"{task.id}: outside the time that is planned"
    if (stands.start - problem.start) % problem.grid_min:
        yield f"{task.id}: starts off the grid"
    if task.not_before is not None and stands.start < task.not_before:
        yield f"{task.id}: starts before it may"
    if task.finish_by is not None and stands.finish > task.finish_by:
        yield f"{task.id}: finishes after it must"
    yield from _of_duration(task, stands)
    yield from _of_crew(problem, task, stands)


def _of_duration(task: Task, stands: Placement) -> Found:
    lasts = _lasts(task, len(_crews(stands)[0]))
    worked = [piece.minutes for piece in stands.segments]
    if task.repeats is None:
        if sum(worked) not in lasts:
            yield f"{task.id}: lasts {sum(worked)} min"
        if len(worked) > 1 and not task.may_pause:
            yield f"{task.id}: pauses but may not"
        return
    if len(worked) != task.repeats.times or any(minutes not in lasts for minutes in worked):
        yield f"{task.id}: happens {len(worked)} times"
    for number, piece in enumerate(stands.segments):
        if abs(piece.start - stands.start - number * task.repeats.every_min) > task.repeats.slack_min:
            yield f"{task.id}: time {number + 1} is too far from when it should be"


def _lasts(task: Task, people: int) -> set[int]:
    """List the durations that a task may have with so many people."""
    lasts = {larger.minutes for larger in task.larger_crews if larger.count == people}
    return lasts | {task.minutes} if task.crew is None or people == task.crew.count else lasts


def _crews(stands: Placement) -> Sequence[tuple[str, ...]]:
    return stands.segment_people or (stands.people,) * len(stands.segments)


def _of_crew(problem: SchedulingProblem, task: Task, stands: Placement) -> Found:
    if sorted(stands.vehicles) != sorted(task.vehicles):
        yield f"{task.id}: has the wrong vehicles"
    if task.crew is None:
        if stands.people:
            yield f"{task.id}: has people but needs none"
        return
    skills = {person.id: person.skills for person in problem.people}
    sizes = {task.crew.count, *(larger.count for larger in task.larger_crews)}
    for crew in _crews(stands):
        if len(set(crew)) != len(crew) or len(crew) not in sizes or not set(crew) <= set(skills):
            yield f"{task.id}: has {len(crew)} people"
        elif not set(task.crew.named) <= set(crew):
            yield f"{task.id}: somebody named is missing"
        elif any(sum(s in skills[p] for p in crew) < number for s, number in task.crew.skills):
            yield f"{task.id}: its crew lacks a skill"


def _of_link(link: Link, placed: Mapping[str, Placement]) -> Found:
    before, after = placed[link.before], placed[link.after]
    begin = before.finish if link.relation.from_finish else before.start
    end = after.finish if link.relation.to_finish else after.start
    if link.min_gap_min is not None and end - begin < link.min_gap_min:
        yield f"{link.after}: only {end - begin} min after {link.before}"
    if link.max_gap_min is not None and end - begin > link.max_gap_min:
        yield f"{link.after}: {end - begin} min after {link.before}"


Visit = tuple[Interval, Task]


def _diary(
    name: str, problem: SchedulingProblem, visits: list[Visit], hours: tuple[Interval, ...], home: str
) -> Found:
    """Check one diary: within the hours, one thing at a time, and a drive at one go between two places.

    Tasks without a place happen wherever they are; a drive may come before or after them.
    """
    here, free_from, last, longest = home, problem.start, "", 0
    for piece, task in sorted(visits, key=lambda visit: (visit[0], visit[1].id)):
        if not any(window.start <= piece.start and piece.finish <= window.finish for window in hours):
            yield f"{name}: has no time for {task.id}"
        longest = max(longest, piece.start - free_from)
        drive = problem.drive_min(here, task.place) if task.place else 0
        if piece.start < free_from or longest < drive:
            yield f"{name}: cannot be at {task.id} after {last or 'the start'}"
        if task.place or task.place_after:
            here, longest = task.place_after or task.place, 0
        free_from, last = piece.finish, task.id


def _of_people(problem: SchedulingProblem, placed: Mapping[str, Placement]) -> list[str]:
    visits: dict[str, list[Visit]] = {person.id: [] for person in problem.people}
    for task in problem.network.tasks:
        stands = placed[task.id]
        for piece, crew in zip(stands.segments, _crews(stands), strict=False):
            for name in crew:
                visits.setdefault(name, []).append((piece, task))
    return [
        fault
        for person in problem.people
        for fault in _diary(person.id, problem, visits[person.id], person.available, person.home)
    ]


def _of_vehicles(problem: SchedulingProblem, placed: Mapping[str, Placement]) -> list[str]:
    faults: list[str] = []
    for vehicle in problem.vehicles:
        visits = [
            (piece, task)
            for task in problem.network.tasks
            if vehicle.id in task.vehicles
            for piece in placed[task.id].segments
        ]
        faults += _diary(vehicle.id, problem, visits, vehicle.available, vehicle.home)
    return faults


def _of_gear(problem: SchedulingProblem, placed: Mapping[str, Placement]) -> Found:
    uses: dict[str, list[tuple[int, int]]] = {gear.id: [] for gear in problem.gear}
    for task in problem.network.tasks:
        stands = placed[task.id]
        pieces = stands.segments if task.repeats else (Interval(stands.start, stands.finish),)
        for name, count in task.gear:
            uses[name] += [step for p in pieces for step in ((p.start, count), (p.finish, -count))]
    for hold in problem.network.holds:
        begin, end = placed[hold.from_task].start, placed[hold.until_task].finish
        if end < begin:
            yield f"{hold.gear}: held from {hold.from_task} until {hold.until_task}, which is over before"
        else:
            uses[hold.gear] += [(begin, hold.count), (end, -hold.count)]
    for gear in problem.gear:
        in_use = 0
        for moment, change in sorted(uses[gear.id]):
            in_use += change
            if in_use > gear.count:
                yield f"{gear.id}: {in_use} in use at {moment}, there are {gear.count}"
                break


def _of_tied_days(problem: SchedulingProblem, placed: Mapping[str, Placement]) -> Found:
    stated = {tied.tag: tied.days for tied in problem.tied_days}
    tags = dict.fromkeys(task.day for task in problem.network.tasks if task.day)
    for tag in tags:
        stand = [placed[task.id] for task in problem.network.tasks if task.day == tag]
        begin, end = min(p.start for p in stand), max(p.finish for p in stand)
        if not any(day.start <= begin and end <= day.finish for day in stated.get(tag, problem.days)):
            yield f"{tag}: its tasks do not stand on one day"


def _of_claims(problem: SchedulingProblem, schedule: Schedule) -> Found:
    last = max((placement.finish for placement in schedule.placements), default=problem.start)
    if schedule.makespan_min != last - problem.start:
        yield f"the finish is given as {schedule.makespan_min} min but is {last - problem.start} min"
    for aim in schedule.aims:
        if aim.bound > aim.value or (aim.proven and aim.bound != aim.value):
            yield f"{aim.name}: the bound {aim.bound} does not fit the value {aim.value}"
