"""An independent check of any schedule against its problem; shares no code with the engines.

A failure is a fault of the program, never of the plan. Faults are codes, ids and numbers; their words stand in
``templates/terminal/faults.toml``.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from moveplan.errors import Fault
from moveplan.network.link import Link
from moveplan.network.task import Crew, Repeat, Task
from moveplan.scheduling.problem import Person, SchedulingProblem, Vehicle
from moveplan.scheduling.schedule import Placement, Schedule, Status
from moveplan.times import Interval

Faults = Iterator[Fault]
Placed = Mapping[str, Placement]


def verify(problem: SchedulingProblem, schedule: Schedule) -> tuple[Fault, ...]:
    """Check every limit of a problem on a schedule that claims to keep them.

    Parameters
    ----------
    schedule : Schedule
        What came out, with placements.

    Returns
    -------
    tuple of Fault
        Every limit that is broken; empty where the schedule is sound.
    """
    tasks = problem.network.tasks
    stand = [placement.task for placement in schedule.placements]
    if stand != [task.id for task in tasks]:
        return (Fault("not-every-task-once", values=(len(stand), len(tasks))),)
    placed = dict(zip(stand, schedule.placements, strict=True))
    faults = [fault for task in tasks for fault in _of_task(problem, task, placed[task.id])]
    faults += [fault for link in problem.network.links for fault in _of_link(link, placed)]
    faults += [fault for person in problem.people for fault in _of_person(problem, person, placed)]
    faults += [fault for vehicle in problem.vehicles for fault in _of_vehicle(problem, vehicle, placed)]
    faults += _of_gear(problem, placed)
    faults += _of_tied_days(problem, placed)
    faults += _of_claims(problem, schedule)
    return tuple(faults)


def _of_task(problem: SchedulingProblem, task: Task, stands: Placement) -> Faults:
    own, pieces = (task.id,), stands.segments
    backwards = any(piece.minutes < 0 for piece in pieces)
    if not pieces or backwards or (pieces[0].start, pieces[-1].finish) != (stands.start, stands.finish):
        yield Fault("stretches-do-not-span", values=(stands.start, stands.finish), tasks=own)
        return
    if any(one.finish > two.start for one, two in pairwise(pieces)):
        yield Fault("stretches-overlap", tasks=own)
    if stands.start < problem.start or stands.finish > problem.horizon:
        yield Fault("outside-planned-time", values=(stands.start, stands.finish), tasks=own)
    if (stands.start - problem.start) % problem.grid_min:
        yield Fault("off-grid", values=(stands.start, problem.grid_min), tasks=own)
    if task.not_before is not None and stands.start < task.not_before:
        yield Fault("starts-too-early", values=(stands.start, task.not_before), tasks=own)
    if task.finish_by is not None and stands.finish > task.finish_by:
        yield Fault("finishes-too-late", values=(stands.finish, task.finish_by), tasks=own)
    crews = _crews(stands)
    if len(crews) != len(pieces) or set(stands.people) != {name for crew in crews for name in crew}:
        yield Fault("crew-unclear", values=(len(crews), len(pieces)), tasks=own)
        return
    yield from _of_duration(task, stands, crews)
    yield from _of_crew(problem, task, stands, crews)


def _crews(stands: Placement) -> Sequence[tuple[str, ...]]:
    """Give the crew of each stretch."""
    return stands.segment_people or (stands.people,) * len(stands.segments)


def _of_duration(task: Task, stands: Placement, crews: Sequence[tuple[str, ...]]) -> Faults:
    if task.repeats is not None:
        yield from _of_care(task, task.repeats, stands, crews)
        return
    own, worked = (task.id,), sum(piece.minutes for piece in stands.segments)
    if worked not in _lasts(task, len(crews[0])):
        yield Fault("lasts", values=(worked, task.minutes), tasks=own)
    if len(stands.segments) > 1 and not task.may_pause:
        yield Fault("pauses", values=(len(stands.segments),), tasks=own)
    if len(set(crews)) > 1:
        yield Fault("changes-hands", values=(len(set(crews)),), tasks=own)


def _of_care(task: Task, repeats: Repeat, stands: Placement, crews: Sequence[tuple[str, ...]]) -> Faults:
    own = (task.id,)
    if len(stands.segments) != repeats.times:
        yield Fault("happens", values=(len(stands.segments), repeats.times), tasks=own)
    for number, (piece, crew) in enumerate(zip(stands.segments, crews, strict=True)):
        if piece.minutes not in _lasts(task, len(crew)):
            yield Fault("lasts", values=(piece.minutes, task.minutes), tasks=own)
        off = abs(piece.start - stands.start - number * repeats.every_min)
        if off > repeats.slack_min:
            yield Fault("time-of-care", values=(number + 1, off, repeats.slack_min), tasks=own)


def _lasts(task: Task, people: int) -> set[int]:
    """List the durations that a task may have with so many people."""
    lasts = {larger.minutes for larger in task.larger_crews if larger.count == people}
    return lasts | {task.minutes} if task.crew is None or people == task.crew.count else lasts


def _of_crew(
    problem: SchedulingProblem, task: Task, stands: Placement, crews: Sequence[tuple[str, ...]]
) -> Faults:
    own = (task.id,)
    if sorted(stands.vehicles) != sorted(task.vehicles):
        yield Fault("wrong-vehicles", stands.vehicles, tasks=own)
    if task.crew is None:
        if stands.people:
            yield Fault("needs-nobody", stands.people, tasks=own)
        return
    skills = {person.id: person.skills for person in problem.people}
    for crew in dict.fromkeys(crews):
        yield from _of_hands(task, task.crew, crew, skills)


def _of_hands(
    task: Task, needs: Crew, crew: tuple[str, ...], skills: Mapping[str, tuple[str, ...]]
) -> Faults:
    own, sizes = (task.id,), {needs.count, *(larger.count for larger in task.larger_crews)}
    if len(set(crew)) != len(crew) or len(crew) not in sizes or not set(crew) <= set(skills):
        yield Fault("crew-size", crew, (len(crew), needs.count), own)
        return
    for name in sorted(set(needs.named) - set(crew)):
        yield Fault("not-in-crew", (name,), tasks=own)
    for skill, number in needs.skills:
        able = sum(skill in skills[name] for name in crew)
        if able < number:
            yield Fault("crew-lacks-skill", (skill,), (able, number), own)


def _of_link(link: Link, placed: Placed) -> Faults:
    before, after = placed[link.before], placed[link.after]
    begin = before.finish if link.relation.from_finish else before.start
    end = after.finish if link.relation.to_finish else after.start
    both = (link.after, link.before)
    if link.min_gap_min is not None and end - begin < link.min_gap_min:
        yield Fault("too-soon-after", values=(end - begin, link.min_gap_min), tasks=both)
    if link.max_gap_min is not None and end - begin > link.max_gap_min:
        yield Fault("too-long-after", values=(end - begin, link.max_gap_min), tasks=both)


Visit = tuple[Interval, Task]


def _of_person(problem: SchedulingProblem, person: Person, placed: Placed) -> Faults:
    visits = [
        (piece, task)
        for task in problem.network.tasks
        if person.id in placed[task.id].people
        for piece, crew in zip(placed[task.id].segments, _crews(placed[task.id]), strict=False)
        if person.id in crew
    ]
    return _of_diary(problem, person, visits)


def _of_vehicle(problem: SchedulingProblem, vehicle: Vehicle, placed: Placed) -> Faults:
    visits = [
        (piece, task)
        for task in problem.network.tasks
        if vehicle.id in task.vehicles
        for piece in placed[task.id].segments
    ]
    return _of_diary(problem, vehicle, visits)


def _of_diary(problem: SchedulingProblem, whose: Person | Vehicle, visits: list[Visit]) -> Faults:
    """Check one diary: within the hours, one thing at a time, and a drive at one go between two places.

    Tasks without a place happen wherever they are; a drive may come before or after them.
    """
    owner, here, free_from, longest = (whose.id,), whose.home, problem.start, 0
    last: tuple[str, ...] = ()
    left = sorted(visits, key=lambda visit: (visit[0], visit[1].id))
    begins = [hours.start for hours in whose.available]
    while left:
        piece, task = left.pop(_next_of(left, here))
        at = bisect_right(begins, piece.start) - 1
        if at < 0 or piece.finish > whose.available[at].finish:
            yield Fault("outside-hours", owner, (piece.start, piece.finish), (task.id,))
        longest = max(longest, piece.start - free_from)
        drive = problem.drive_min(here, task.place) if task.place else 0
        if piece.start < free_from:
            yield Fault("two-at-once", owner, (piece.start, free_from), (task.id, *last))
        elif longest < drive:
            yield Fault("no-time-to-drive", (*owner, here, task.place), (longest, drive), (task.id, *last))
        if task.place or task.place_after:
            here, longest = task.place_after or task.place, 0
        free_from, last = piece.finish, (task.id,)


def _next_of(visits: list[Visit], here: str) -> int:
    """Of visits that take no time at the same moment, take one that needs no drive first."""
    first = visits[0][0]
    alike = (
        at for at, (piece, task) in enumerate(visits[:20]) if piece == first and task.place in ("", here)
    )
    return next(alike, 0) if first.minutes == 0 else 0


def _of_gear(problem: SchedulingProblem, placed: Placed) -> Faults:
    uses: dict[str, list[tuple[int, int, str]]] = {gear.id: [] for gear in problem.gear}
    for task in problem.network.tasks:
        stands = placed[task.id]
        pieces = stands.segments if task.repeats else (Interval(stands.start, stands.finish),)
        for name, count in task.gear:
            uses[name] += [(piece.start, count, task.id) for piece in pieces]
            uses[name] += [(piece.finish, -count, task.id) for piece in pieces]
    for hold in problem.network.holds:
        begin, end = placed[hold.from_task].start, placed[hold.until_task].finish
        if end < begin:
            both = (hold.until_task, hold.from_task)
            yield Fault("held-backwards", (hold.gear,), (begin, end), both)
        else:
            uses[hold.gear] += [(begin, hold.count, hold.from_task), (end, -hold.count, hold.from_task)]
    for gear in problem.gear:
        yield from _of_stock(gear.id, gear.count, uses[gear.id])


def _of_stock(gear: str, count: int, uses: list[tuple[int, int, str]]) -> Faults:
    """Count one kind of gear up to the first moment at which there is not enough."""
    in_use: dict[str, int] = {}
    for moment, change, task in sorted(uses):
        in_use[task] = in_use.get(task, 0) + change
        total = sum(in_use.values())
        if total > count:
            users = tuple(name for name, number in in_use.items() if number)
            yield Fault("not-enough-gear", (gear,), (total, moment, count), users)
            return


def _of_tied_days(problem: SchedulingProblem, placed: Placed) -> Faults:
    stated = {tied.tag: tied.days for tied in problem.tied_days}
    tags = dict.fromkeys(task.day for task in problem.network.tasks if task.day)
    for tag in tags:
        tied = tuple(task.id for task in problem.network.tasks if task.day == tag)
        begin, end = min(placed[name].start for name in tied), max(placed[name].finish for name in tied)
        if not any(day.start <= begin and end <= day.finish for day in stated.get(tag, problem.days)):
            yield Fault("not-on-one-day", (tag,), (begin, end), tied)


def _of_claims(problem: SchedulingProblem, schedule: Schedule) -> Faults:
    last = max((placement.finish for placement in schedule.placements), default=problem.start)
    if schedule.makespan_min != last - problem.start:
        yield Fault("finish-claimed", values=(schedule.makespan_min, last - problem.start))
    if schedule.bound_min > schedule.makespan_min:
        yield Fault("bound-claimed", ("finish",), (schedule.bound_min, schedule.makespan_min))
    for aim in schedule.aims:
        if aim.bound > aim.value or (aim.proven and aim.bound != aim.value):
            yield Fault("bound-claimed", (aim.name,), (aim.bound, aim.value))
        if schedule.status is Status.OPTIMAL and not aim.proven:
            yield Fault("best-claimed", (aim.name,), (aim.bound, aim.value))
