"""When people who are added could work, and a vehicle that is hired for longer could be had."""

from __future__ import annotations

from collections.abc import Sequence

from moveplan.network.words import worked
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.state.clock import stretch
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.state.tracks import Track
from moveplan.scheduling.ways_out.other_day import days_said
from moveplan.times import Interval

_MORE_DAYS = (0, 1, 2, 4, 8)
"""By how many days around them a vehicle may be had for longer, one after the other. Chosen. [d]"""


_EARLIER_MIN = 60
"""How much earlier than everybody else one more person may begin. [min]"""


def people_lacking(problem: SchedulingProblem) -> int:
    """How many people the largest crew lacks."""
    sizes = (task.crew.count for task in problem.network.tasks if task.crew)
    return max(0, max(sizes, default=0) - len(problem.people))


def daytime(problem: SchedulingProblem) -> tuple[Interval, ...]:
    """Every day from eight to ten; all the time where days are not told."""
    if not problem.days:
        return (Interval(problem.start, problem.horizon),)
    return tuple(Interval(day.start + 8 * 60, day.start + 22 * 60) for day in problem.days)


def _all_day(problem: SchedulingProblem) -> tuple[Interval, ...]:
    """All tied days, from midnight to midnight."""
    return tuple(sorted({day for row in problem.tied_days for day in row.days}))


def waking(problem: SchedulingProblem, earlier_min: int = 0) -> tuple[Interval, ...]:
    """Give the tied days from the first to the last hour in which anybody works, or from earlier on to midnight."""
    found = []
    for day in _all_day(problem):
        hours = [piece for person in problem.people for piece in person.available if piece.overlaps(day)]
        begin = min((piece.start for piece in hours), default=day.start) - earlier_min
        end = day.finish if earlier_min else max((piece.finish for piece in hours), default=day.finish)
        found.append(Interval(max(day.start, begin), min(day.finish, end)))
    return tuple(found)


def long_day(problem: SchedulingProblem) -> tuple[Interval, ...]:
    """Give the tied days from an hour before anybody works to midnight."""
    return waking(problem, _EARLIER_MIN)


def hours_of(desk: Desk, tracks: Sequence[Track]) -> tuple[str, str]:
    """Say when some people are booked, and for how much work in all."""
    problem = desk.model.problem
    bookings = sorted(booking for track in tracks for booking in track.bookings if booking[1] > booking[0])
    if not bookings:
        return "", ""
    last = max(booking[1] for booking in bookings)
    minutes = worked(sum(booking[1] - booking[0] for booking in bookings))
    days = len({desk.model.day_of(booking[0]) for booking in bookings})
    on = f"on {days_said(days)} " if days > 1 and problem.days else ""
    work = f"{minutes} of work{' in all' if len(tracks) > 1 else ''}"
    return f"{on}{stretch(problem, bookings[0][0], last)}", work


def longer_hours(problem: SchedulingProblem, hired: tuple[Interval, ...]) -> tuple[Interval, ...]:
    """Later on the last day, earlier on the first, both, more days around them, and at any time."""
    always = Interval(problem.start, problem.horizon)
    if not hired or not problem.days:
        return (always,)
    begin, end = hired[0].start, hired[-1].finish
    touched = [
        at
        for at, day in enumerate(problem.days)
        if any(day.overlaps(piece) for piece in (hired[0], hired[-1]))
    ]
    last = len(problem.days) - 1
    around = [
        Interval(
            problem.days[max(0, touched[0] - more)].start, problem.days[min(last, touched[-1] + more)].finish
        )
        for more in _MORE_DAYS
    ]
    return (Interval(begin, around[0].finish), Interval(around[0].start, end), *around, always)
