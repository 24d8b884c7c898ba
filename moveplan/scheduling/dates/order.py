"""The order in which people, vehicles and gear pass from task to task in a schedule, as links."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from moveplan.network.link import Link, Relation
from moveplan.network.task import Task
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Placement, Schedule


@dataclass(frozen=True, slots=True)
class Order:
    """One task waits for another because both need the same person, vehicle or gear.

    Parameters
    ----------
    link : Link
        From the earlier to the later task; its least gap is the drive between their places. [min]
    kind : str
        ``person``, ``vehicle`` or ``gear``.
    resource : str
        Id of what both need.
    """

    link: Link
    kind: str
    resource: str


@dataclass(frozen=True, slots=True)
class _Stretch:
    """One stretch of a task: the whole of it, or one time of recurring care."""

    start: int
    finish: int
    task: Task
    stands: Placement


def _stretches(task: Task, stands: Placement, person: str = "") -> Iterator[_Stretch]:
    if task.repeats is None:
        yield _Stretch(stands.start, stands.finish, task, stands)
        return
    crews = stands.segment_people or (stands.people,) * len(stands.segments)
    for piece, crew in zip(stands.segments, crews, strict=True):
        if not person or person in crew:
            yield _Stretch(piece.start, piece.finish, task, stands)


def _link(one: _Stretch, two: _Stretch, gap: int) -> Link:
    """Link two stretches; one in the middle of recurring care counts from the first, less what it may slip."""
    if one.finish == one.stands.finish and two.start == two.stands.start:
        return Link(one.task.id, two.task.id, Relation.FINISHTOSTART, gap)
    offset = (one.finish - one.stands.start) + gap - (two.start - two.stands.start) - _slips_min(two)
    return Link(one.task.id, two.task.id, Relation.STARTTOSTART, offset)


def _slips_min(two: _Stretch) -> int:
    """By how much one time of recurring care may still be later without the first one being so. [min]."""
    again, since = two.task.repeats, two.start - two.stands.start
    if again is None or not since:
        return 0
    planned = round(since / again.every_min) * again.every_min
    return max(planned + again.slack_min - since, 0)


def _diary(
    problem: SchedulingProblem, visits: Iterable[_Stretch], kind: str, resource: str, home: str
) -> Iterator[Order]:
    """Link consecutive visits, and across visits without a place those with one."""
    here = home
    last_placed: _Stretch | None = None
    in_order = sorted(visits, key=lambda visit: (visit.start, visit.finish, visit.task.id))
    for one, two in pairwise([None, *in_order]):
        if two is None:
            continue
        drive = problem.drive_min(here, two.task.place) if two.task.place else 0
        if one is not None and one.task.id != two.task.id and not _crossed(one, two):
            at_one_go = one is last_placed or two.start - one.finish >= drive
            yield Order(_link(one, two, drive if at_one_go else 0), kind, resource)
        if last_placed not in (None, one) and drive and last_placed.task.id != two.task.id:
            yield Order(_link(last_placed, two, drive), kind, resource)
        if two.task.ends_at:
            here, last_placed = two.task.ends_at, two


def _crossed(one: _Stretch, two: _Stretch) -> bool:
    """Whether two kinds of recurring care meet here in the other order than they began: neither waits for the other."""
    both = one.task.repeats is not None and two.task.repeats is not None
    return both and one.stands.start > two.stands.start


def _people(problem: SchedulingProblem, placed: dict[str, Placement]) -> Iterator[Order]:
    for person in problem.people:
        visits = [
            stretch
            for task in problem.network.tasks
            if person.id in placed[task.id].people
            for stretch in _stretches(task, placed[task.id], person.id)
        ]
        yield from _diary(problem, visits, "person", person.id, person.home)


def _vehicles(problem: SchedulingProblem, placed: dict[str, Placement]) -> Iterator[Order]:
    for vehicle in problem.vehicles:
        visits = [
            stretch
            for task in problem.network.tasks
            if vehicle.id in task.vehicles
            for stretch in _stretches(task, placed[task.id])
        ]
        yield from _diary(problem, visits, "vehicle", vehicle.id, vehicle.home)


Use = tuple[int, int, str, str, int]


def _uses(problem: SchedulingProblem, placed: dict[str, Placement], gear: str) -> list[Use]:
    """Start, finish, opening task, closing task and count of each time gear is in use."""
    uses: list[Use] = []
    for task in problem.network.tasks:
        count = sum(number for name, number in task.gear if name == gear)
        stretches = _stretches(task, placed[task.id]) if count else ()
        uses += [(s.start, s.finish, task.id, task.id, count) for s in stretches if s.finish > s.start]
    for hold in problem.network.holds:
        begin, end = placed[hold.from_task].start, placed[hold.until_task].finish
        if hold.gear == gear and end > begin:
            uses.append((begin, end, hold.from_task, hold.until_task, hold.count))
    return sorted(uses)


def _gear(problem: SchedulingProblem, placed: dict[str, Placement]) -> Iterator[Order]:
    """Follow each piece of gear from use to use: the piece that has been free longest goes out first."""
    tasks = {task.id: task for task in problem.network.tasks}
    for thing in problem.gear:
        free: list[tuple[int, str, int]] = [(problem.start, "", thing.count)]
        for begin, end, opens, closes, count in _uses(problem, placed, thing.id):
            needed = count
            for at, (since, last, number) in enumerate(free):
                if not needed or since > begin:
                    break
                taken = min(needed, number)
                needed -= taken
                free[at] = (since, last, number - taken)
                if taken and last and last != opens:
                    link = _handed_on(tasks, placed, (last, since), (opens, begin))
                    yield Order(link, "gear", thing.id)
            free = sorted([*(item for item in free if item[2]), (end, closes, count)])


def _handed_on(
    tasks: dict[str, Task], placed: dict[str, Placement], one: tuple[str, int], two: tuple[str, int]
) -> Link:
    before, after = placed[one[0]], placed[two[0]]
    first = _Stretch(before.start, one[1], tasks[one[0]], before)
    second = _Stretch(two[1], after.finish, tasks[two[0]], after)
    return _link(first, second, 0)


def resource_order(problem: SchedulingProblem, schedule: Schedule) -> tuple[Order, ...]:
    """Give the order of a schedule on people, vehicles and gear as links.

    Whatever keeps these links, the plan's own links and the hours of the same people keeps the schedule free
    of double booking; of two kinds of recurring care that meet in both orders, that of their beginnings counts.

    Parameters
    ----------
    schedule : Schedule
        A schedule of it, with placements.

    Returns
    -------
    tuple of Order
        Each once, in the order of people, vehicles and gear.
    """
    placed = {placement.task: placement for placement in schedule.placements}
    found = [*_people(problem, placed), *_vehicles(problem, placed), *_gear(problem, placed)]
    return tuple(dict.fromkeys(found))
