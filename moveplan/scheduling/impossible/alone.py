"""Tasks that have no spot even where nothing else is done, told by what they lack."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import comb

from moveplan.errors import Lack as Missing
from moveplan.errors import Problem, in_key
from moveplan.network.words import listed, named, said
from moveplan.scheduling.construct.finder import CREWS_TRIED, Finder
from moveplan.scheduling.state.clock import between, clock, day_name
from moveplan.scheduling.state.crews import MOST_CREWS, skilled
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.state.model import Job, Model
from moveplan.scheduling.state.tracks import Windows
from moveplan.times import Interval

_NUMBERS = ("none", "one", "two", "three", "four", "five", "six")
_MOST_GROUPS = 3
"""Most groups of tasks of which each is shown to be impossible alone; more do not help a reader. [-]"""
_MOST_NAMED = 4
"""Most tasks that are named where somebody is away; who it is says more. [-]"""


@dataclass(frozen=True, slots=True)
class Lack:
    """What a task cannot have in the time it may be done.

    Parameters
    ----------
    people : tuple of int
        Who could do it; empty: people do not matter.
    count : int
        How many of them it takes.
    vehicles : tuple of int
        What it needs of these; empty: vehicles do not matter.
    rooms : tuple of Interval
        When it may be done. [min]
    tag : int
        Its tied day; -1: none.
    pauses : bool
        Whether it may stop and go on.
    """

    people: tuple[int, ...]
    count: int
    vehicles: tuple[int, ...]
    rooms: tuple[Interval, ...]
    tag: int
    pauses: bool


def searched_fully(job: Job) -> bool:
    """Whether the finder leaves out no crew of a task, so that what it does not find is not there."""
    if job.opens or job.task.repeats is not None:
        return False
    if not job.task.crew:
        return True
    others = len(job.pool) - len(job.named)
    sizes = [comb(others, max(0, option.count - len(job.named))) for option in job.options]
    return max(sizes) <= (CREWS_TRIED if job.task.may_pause else MOST_CREWS)


def rooms_of(model: Model, job: Job, start: int) -> tuple[Interval, ...]:
    """Stretches in which a task may be done by its dates and its tied day."""
    whole = Interval(model.problem.start, model.problem.horizon)
    days = model.tags[job.tag] if job.tag >= 0 else (whole,)
    until = model.problem.horizon if job.task.finish_by is None else job.task.finish_by
    return tuple(Interval(max(day.start, start), min(day.finish, until)) for day in days)


def fits(finder: Finder, position: int, start: int) -> bool:
    """Whether a task has any spot from a moment on."""
    job = finder.model.jobs[position]
    return any(
        finder.earliest(position, room.start, start, room.finish) is not None
        for room in rooms_of(finder.model, job, start)
    )


def check_alone(model: Model) -> tuple[Problem, ...]:
    """Tasks without any spot, by dates, days and hours of their own; what precedes them is left aside.

    Only what is searched without leaving anything out counts: where there are too many crews to try, or the
    work recurs, nothing is said.
    """
    finder = Finder(Desk(model))
    groups: dict[Lack, list[int]] = {}
    waiting: dict[tuple[int, str], list[int]] = {}
    for position, job in enumerate(model.jobs):
        start = max(model.problem.start, job.task.not_before or model.problem.start)
        if searched_fully(job) and not fits(finder, position, start):
            lack = lack_of(model, job, start)
            away = without_time(model, job, lack)
            for at in away:
                waiting.setdefault((at, _when(model, lack)), []).append(position)
            if not away:
                groups.setdefault(lack, []).append(position)
    return (*_told(model, groups), *(_away(model, at, when, rest) for (at, when), rest in waiting.items()))


def _told(model: Model, groups: dict[Lack, list[int]]) -> Iterator[Problem]:
    for number, (lack, positions) in enumerate(groups.items()):
        if number == _MOST_GROUPS:
            more = sum(len(rest) for rest in list(groups.values())[number:])
            yield Problem(f"{more} more task{'s' if more > 1 else ''} without any time that would do")
            return
        yield without_room(model, lack, positions)


def lack_of(model: Model, job: Job, start: int) -> Lack:
    """Find the least of what a task needs that is not to be had: its vehicles, its people, or both together."""
    rooms, pauses = rooms_of(model, job, start), job.task.may_pause
    count = max(min(option.count for option in job.options), len(job.named))
    vehicles = Lack((), 0, job.vehicles, rooms, job.tag, pauses)
    people = Lack(job.pool, count, (), rooms, job.tag, pauses)
    lasts = min(option.minutes for option in job.options)
    for lack in (vehicles, people):
        if (lack.vehicles or lack.people) and not pauses and longest(model, job, lack) < lasts:
            return lack
    return Lack(job.pool, count, job.vehicles, rooms, job.tag, pauses)


def without_time(model: Model, job: Job, lack: Lack) -> tuple[int, ...]:
    """Name those who have no time at all then, where without them no crew is complete; nobody where it is not that."""
    if lack.vehicles:
        return ()
    away = [
        at for at in lack.people if not any(one.starts for one in _within([model.people[at]], lack.rooms))
    ]
    return tuple(away) if away and all({*away} & {*crew} for crew in _crews(model, job, lack)) else ()


def _away(model: Model, at: int, when: str, positions: Sequence[int]) -> Problem:
    """Say who has no time, and what cannot be done without them."""
    person = model.problem.people[at]
    name = person.name or person.id
    tasks = listed([named(model.jobs[one].task) for one in positions], _MOST_NAMED)
    least = max(min(option.minutes for option in model.jobs[one].options) for one in positions)
    sentence = f"{name} has no time {when}, but is needed for {_first_of(model, positions)}: {said(least)} are missing"
    return Problem(
        f"{name} has no time {when}; without {name} there are too few people for {tasks}",
        person.where,
        f"give {name} hours then, or add somebody who has them",
        lack=Missing(sentence, model.problem.start, model.problem.start, least, 0) if least else None,
    )


def _first_of(model: Model, positions: Sequence[int]) -> str:
    """Name the first of some tasks, and how many more there are."""
    more = f" and {len(positions) - 1} more" if len(positions) > 1 else ""
    return f"{named(model.jobs[positions[0]].task)}{more}"


def longest(model: Model, job: Job, lack: Lack) -> int:
    """Longest stretch that a crew that would do, and the vehicles, have within the rooms."""
    best = 0
    for crew in _crews(model, job, lack):
        for hours in _within(_parts(model, crew, lack), lack.rooms):
            best = max(
                [best, *(end - begin for begin, end in zip(hours.starts, hours.finishes, strict=True))]
            )
    return best


def there_in(model: Model, job: Job, lack: Lack) -> int:
    """Give the minutes that a crew and the vehicles have: at a stretch, or in all where the task may pause."""
    if not lack.pauses:
        return longest(model, job, lack)
    return max(
        (
            sum(
                end - begin
                for hours in _within(_parts(model, crew, lack), lack.rooms)
                for begin, end in zip(hours.starts, hours.finishes, strict=True)
            )
            for crew in _crews(model, job, lack)
        ),
        default=0,
    )


def _parts(model: Model, crew: Sequence[int], lack: Lack) -> list[Windows]:
    return [model.people[at] for at in crew] + [model.vehicles[at] for at in lack.vehicles]


def _crews(model: Model, job: Job, lack: Lack) -> Iterator[tuple[int, ...]]:
    if not lack.people:
        yield ()
        return
    for crew in combinations(lack.people, lack.count):
        if set(job.named) <= set(crew) and skilled(model, job, crew):
            yield crew


def _within(parts: Sequence[Windows], rooms: Sequence[Interval]) -> Iterator[Windows]:
    for room in rooms:
        hours = Windows((room,)) if room.minutes > 0 else Windows(())
        for part in parts:
            hours = hours.common(part)
        yield hours


def without_room(model: Model, lack: Lack, positions: Sequence[int]) -> Problem:
    """Say what some tasks lack, all of them at once."""
    jobs = [model.jobs[at] for at in positions]
    lengths = sorted({min(option.minutes for option in job.options) for job in jobs})
    takes = said(lengths[0]) if len(lengths) == 1 else f"{said(lengths[0])} to {said(lengths[-1])}"
    each = "" if len(jobs) == 1 else " each"
    verb = "takes" if len(jobs) == 1 else "take"
    stretch = "" if lack.pauses else " at a stretch"
    text = f"{listed([named(job.task) for job in jobs])} {verb} {takes}{each}{stretch}"
    where = _where(model, lack, jobs)
    if not lack.people and not lack.vehicles:
        return Problem(f"{text}; {_when(model, lack)} there is no such time", where, _remedy(where))
    there = max(there_in(model, job, lack) for job in jobs)
    who = subject(model, lack, "less" if lack.pauses else f"{said(there)} at most" if there else "no time")
    text += f"; {who} {_when(model, lack)}"
    needed = lengths[-1]
    hardest = next(at for at in positions if min(one.minutes for one in model.jobs[at].options) == needed)
    sentence = (
        f"{_first_of(model, [hardest, *(at for at in positions if at != hardest)])} {verb} {takes}{each}{stretch}, "
        f"but {who.removesuffix(' together')} {_when(model, lack)}: {said(needed - there)} are missing"
    )
    rooms = lack.rooms
    lacking = Missing(sentence, rooms[0].start, rooms[-1].finish, needed, there) if there < needed else None
    return Problem(text, where, _remedy(where), lack=lacking)


def _remedy(where: str) -> str:
    key = in_key(where)
    return f"give more hours{key if key.startswith((' in people.', ' in vehicles.')) else ''}, more people or more days"


def subject(model: Model, lack: Lack, what: str) -> str:
    """Say how much time people and vehicles have, together where there are several."""
    wheels = [model.problem.vehicles[at].name or model.problem.vehicles[at].id for at in lack.vehicles]
    names = [model.problem.people[at].name or model.problem.people[at].id for at in lack.people]
    if len(names) > lack.count:
        number = _NUMBERS[lack.count] if lack.count < len(_NUMBERS) else str(lack.count)
        if not wheels and what == "no time":
            some = "none" if lack.count == 1 else f"no {number}"
            return f"{some} of {listed(names)} {'has time' if lack.count == 1 else 'have time together'}"
        names = [f"any {number} of {listed(names)}"]
    together = len(wheels) + lack.count > 1
    return f"{listed([*wheels, *names])} {f'have {what} together' if together else f'has {what}'}"


def _when(model: Model, lack: Lack) -> str:
    problem = model.problem
    first, last = lack.rooms[0].start, lack.rooms[-1].finish
    if lack.tag < 0:
        return between(problem, first, last)
    name = day_name(next(job.task.day for job in model.jobs if job.tag == lack.tag))
    if problem.zone is None or len(lack.rooms) > 1:
        return f"on the {name}" if len(lack.rooms) == 1 else f"on any {name} allowed"
    return f"on the {name}, {clock(problem, first)[:10]}"


def _where(model: Model, lack: Lack, jobs: Sequence[Job]) -> str:
    problem = model.problem
    own = [job.task.where for job in jobs]
    wheels = [problem.vehicles[at].where for at in lack.vehicles]
    days = [tied.where for tied in problem.tied_days if any(job.task.day == tied.tag for job in jobs)]
    people = [problem.people[at].where for at in lack.people]
    return next((where for where in (*own, *wheels, *days, *people) if where), "")
