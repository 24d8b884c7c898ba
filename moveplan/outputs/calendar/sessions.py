"""What one person does, gathered as they live through it: evenings and half days, moving days, daily care.

A session is told by the piece of work that it begins with, so that it keeps its name when it moves as a whole.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from moveplan.network.task import Kind
from moveplan.outputs.calendar.source import Segment, Source
from moveplan.times import MINUTES_A_DAY, Interval, to_local

_NOON, _EVENING = 12, 17
"""Hours at which the afternoon and the evening begin; common practice, no source. [h]"""
_SHORT_MIN = 45
"""What takes no longer needs no evening of its own; chosen for this program. [min]"""
_SHORT_CARE_MIN = 60
"""The same of what follows the last moving day, when nothing hangs on the hour; chosen for this program. [min]"""
_AT_ONCE_MIN = 45
"""A longer pause makes two events of what is done in two parts of a day; chosen for this program. [min]"""
_VISIT_PAUSE_MIN = 180
"""Who comes because they are asked stays over a pause that is no longer; chosen for this program. [min]"""
_BY_THE_DAY_MIN = 2 * MINUTES_A_DAY
"""What comes back after a longer time is no daily care; chosen for this program. [min]"""
_FEWEST_DAYS = 2
"""Days with care from which on it is told as one event that comes back. [-]"""
_LONGEST_HOLE_DAYS = 2
"""Days between two waits after which the second is a band of its own; chosen for this program. [day]"""


@dataclass(frozen=True, slots=True)
class Session:
    """Work that one person does in one go.

    Parameters
    ----------
    key : str
        Name that lasts.
    segments : tuple of Segment
        At least one, in the order of time.
    """

    key: str
    segments: tuple[Segment, ...]

    @property
    def stretch(self) -> Interval:
        """From the first start to the last finish."""
        return Interval(self.segments[0].stretch.start, max(one.stretch.finish for one in self.segments))

    @property
    def tied_until(self) -> int:
        """When the last of it ends that is tied to a moving day; where nothing is, its start, UTC. [min]."""
        ends = (one.stretch.finish for one in self.segments if one.task.day)
        return max(ends, default=self.stretch.start)

    @property
    def work_min(self) -> int:
        """How long all of it takes, without pauses. [min]."""
        return sum(one.stretch.minutes for one in self.segments)


@dataclass(frozen=True, slots=True)
class Gathered:
    """Everything that one person's calendar is made of.

    Parameters
    ----------
    days : tuple of Session
        Moving days, one a local day.
    sessions : tuple of Session
        Evenings and half days; of somebody who comes because they are asked, each time they come.
    small : Mapping of str to tuple of Session
        Short work before a moving day that the person does alone, by which moving day and hours.
    decisions : tuple of Segment
        Hold points that a moving day waits for, and which are met before it.
    waits : tuple of Session
        Waits of a day or more, those together that leave few days between them; only of the one who leads.
    care : tuple of tuple of Session
        What is due day by day, and what is short after the last moving day: runs of days, a session each.
    """

    days: tuple[Session, ...]
    sessions: tuple[Session, ...]
    small: Mapping[str, tuple[Session, ...]]
    decisions: tuple[Segment, ...]
    waits: tuple[Session, ...]
    care: tuple[tuple[Session, ...], ...]


def gathered(source: Source, person: str, *, leads: bool) -> Gathered:
    """Gather the work of one person.

    Parameters
    ----------
    source : Source
        The whole plan.
    person : str
        Whose work.
    leads : bool
        Whether waits, which are nobody's work, are told to this person.
    """
    every = sorted(
        (segment for task in source.placed for segment in source.segments(task)),
        key=lambda one: (one.stretch.start, one.key),
    )
    waits = [one for one in every if one.task.kind is Kind.WAIT and one.stretch.minutes >= MINUTES_A_DAY]
    mine = [one for one in every if person in one.people]
    asked = _is_asked(source, person)
    days = list(_sessions(source, (one for one in mine if one.task.day), "day"))
    tied = [one for one in mine if any(_is_of_day(source, one, day, asked=asked) for day in days)]
    free = [one for one in mine if one not in tied and one.task.kind not in (Kind.WAIT, Kind.REST)]
    deciding = _deciding(source)
    decisions = tuple(one for one in free if one.task.id in deciding)
    care = _care(source, [one for one in free if one not in decisions], asked=asked)
    cared = {one.key for run in care for session in run for one in session.segments}
    rest = [one for one in free if one not in decisions and one.key not in cared]
    evenings = tuple(_sessions(source, rest, "visit" if asked else "session"))
    small = _small(source, evenings)
    apart = {one.key for times in small.values() for one in times}
    return Gathered(
        tuple(_sessions(source, tied, "day")),
        tuple(one for one in evenings if one.key not in apart),
        small,
        decisions,
        tuple(_bands(source, waits)) if leads else (),
        care,
    )


def _is_asked(source: Source, person: str) -> bool:
    """Whether somebody comes for the day because they are asked, and is not there anyway."""
    people = {one.id: one for one in source.outlook.project.scheduling.people}
    return person in people and people[person].helps and not people[person].lives


def _is_of_day(source: Source, segment: Segment, day: Session, *, asked: bool) -> bool:
    """Whether work belongs to a moving day: tied to it, in its midst, or what whoever was asked stays for."""
    if segment in day.segments or day.stretch.overlaps(segment.stretch):
        return True
    pause = segment.stretch.start - day.stretch.finish
    return (
        asked and _date(source, segment) == _date(source, day.segments[0]) and 0 <= pause <= _VISIT_PAUSE_MIN
    )


def _date(source: Source, segment: Segment) -> date:
    return to_local(segment.stretch.start, source.zone).date()


def _deciding(source: Source) -> set[str]:
    """Name the hold points before a moving day that its tasks wait for directly."""
    tasks = {task.id: task for task in source.outlook.project.network.tasks}
    return {
        link.before
        for link in source.outlook.project.network.links
        if tasks[link.after].day and not tasks[link.before].day and tasks[link.before].kind is Kind.HOLD_POINT
    }


def _care(source: Source, free: list[Segment], *, asked: bool) -> tuple[tuple[Session, ...], ...]:
    """Gather what is short and comes back day by day, and all that is short once the last moving day is over.

    A moving day ends a run of days; what fills hardly any days is told as other work, and so is what somebody who is
    asked does on a day on which they come for more.
    """
    days = _day_ends(source)
    if not days:
        return ()
    longer = {_date(source, one) for one in free if asked and one.stretch.minutes > _SHORT_CARE_MIN}
    short = [
        one for one in free if one.stretch.minutes <= _SHORT_CARE_MIN and _date(source, one) not in longer
    ]
    due = [one for one in short if one.stretch.start >= days[-1] or _by_the_day(one)]
    runs: list[list[Session]] = []
    for session in _sessions(source, due, "care"):
        since = runs[-1][-1].stretch.finish if runs else 0
        start = session.stretch.start
        if not runs or any(since <= day <= start for day in days):
            runs.append([])
        runs[-1].append(session)
    return tuple(tuple(run) for run in runs if len(run) >= _FEWEST_DAYS)


def _small(source: Source, evenings: tuple[Session, ...]) -> dict[str, tuple[Session, ...]]:
    """Gather what is short and done alone before the last moving day, by day and in the evening; a moving day parts it.

    An evening with more to do, or with somebody else, keeps its event, and so does a decision.
    """
    days = _day_ends(source)
    times: dict[str, list[Session]] = {}
    for one in evenings:
        start = one.stretch.start
        before = sum(start >= day for day in days)
        alone = all(len(row.people) == 1 and row.task.kind is not Kind.HOLD_POINT for row in one.segments)
        if days and start < days[-1] and alone and one.work_min <= _SHORT_MIN:
            part = "evening" if to_local(start, source.zone).hour >= _EVENING else "day"
            times.setdefault(f"{before}:{part}", []).append(one)
    return {name: tuple(found) for name, found in times.items() if len(found) > 1}


def _day_ends(source: Source) -> list[int]:
    """Give when the work of the moving days ends."""
    return sorted(
        placement.finish
        for task, placement in source.placed.values()
        if task.day and task.kind is not Kind.REST
    )


def _bands(source: Source, waits: list[Segment]) -> Iterator[Session]:
    """Put waits together that share a day, or follow on another within a few days."""
    rows: list[Segment] = []
    for wait in waits:
        until = max((one.stretch.finish - 1 for one in rows), default=0)
        last = to_local(until, source.zone).date()
        if rows and _date(source, wait) > last + timedelta(days=_LONGEST_HOLE_DAYS + 1):
            yield Session(f"wait:{rows[0].key}", tuple(rows))
            rows = []
        rows.append(wait)
    if rows:
        yield Session(f"wait:{rows[0].key}", tuple(rows))


def _by_the_day(segment: Segment) -> bool:
    repeats = segment.task.repeats
    return repeats is not None and repeats.every_min <= _BY_THE_DAY_MIN


def _sessions(source: Source, segments: Iterable[Segment], kind: str) -> Iterator[Session]:
    """Gather by local day; ordinary work by its part too, unless one piece follows on another at once.

    A visit is told under the name of ordinary work.
    """
    rows: list[Segment] = []
    name = "session" if kind == "visit" else kind
    for segment in segments:
        if rows and not _goes_on(source, rows, segment, kind):
            yield Session(f"{name}:{rows[0].key}", tuple(rows))
            rows = []
        rows.append(segment)
    if rows:
        yield Session(f"{name}:{rows[0].key}", tuple(rows))


def _goes_on(source: Source, rows: list[Segment], segment: Segment, kind: str) -> bool:
    """Whether a piece of work belongs to what has been gathered last."""
    before, after = (to_local(one.stretch.start, source.zone) for one in (rows[0], segment))
    if before.date() != after.date():
        return False
    pause = segment.stretch.start - max(one.stretch.finish for one in rows)
    if kind == "visit":
        return pause <= _VISIT_PAUSE_MIN
    return kind != "session" or _part(before) == _part(after) or pause <= _AT_ONCE_MIN


def _part(local: datetime) -> int:
    """Tell morning, afternoon and evening by their numbers."""
    return (local.hour >= _NOON) + (local.hour >= _EVENING)
