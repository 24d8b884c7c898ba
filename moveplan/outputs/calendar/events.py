"""Events from the schedule: work, waits, hold points and latest starts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import timedelta

from moveplan.network.link import Link
from moveplan.network.task import Kind, State
from moveplan.outputs.calendar.event import Alarm, Days, Event, Status, Successor, Timed, Words
from moveplan.outputs.calendar.identity import alarm_uid, event_uid
from moveplan.outputs.calendar.source import START_BY, Segment, Source
from moveplan.risk.summary import StartBy
from moveplan.times import MINUTES_A_DAY, to_local

_WORK = (Kind.WORK, Kind.TRAVEL)
_QUIET = (Kind.WAIT, Kind.REST)
_SHORT_EVENT_MIN = 15
"""Length of an event of a task that takes no time, so that calendars show it. Chosen. [min]"""
_WORK_ALARM_MIN = 30
"""Alarm before a task. Assumed. [min]"""
_HOLD_POINT_ALARM_MIN = 60
"""Alarm before a hold point, which wants a decision. Assumed. [min]"""
_START_BY_ALARM_MIN = MINUTES_A_DAY


def events(source: Source) -> tuple[Event, ...]:
    """Make every event of the selection.

    Parameters
    ----------
    source : Source
        Selected tasks and their words.

    Returns
    -------
    tuple of Event
        In the order of the plan; latest starts last.
    """
    successors = _successors(source)
    segments = [segment for task_id in source.placed for segment in source.segments(task_id)]
    alarms = _alarms(source, segments)
    made = [
        _event(source, segment, alarms.get(segment.key), tuple(successors.get(segment.key, ())))
        for segment in segments
    ]
    return (*made, *_start_by_events(source))


def _event(source: Source, segment: Segment, alarm: Alarm | None, successors: tuple[Successor, ...]) -> Event:
    plan_id = source.outlook.project.plan.id
    state, kind = source.state(segment.task.id), segment.task.kind
    unsure = kind is Kind.HOLD_POINT and state is not State.COMPLETED
    return Event(
        key=segment.key,
        uid=event_uid(plan_id, segment.key),
        when=_when(source, segment),
        words=source.words(segment),
        status=Status.TENTATIVE if unsure else Status.CONFIRMED,
        busy=kind in _WORK and segment.stretch.minutes > 0,
        private=source.options.private,
        alarm=alarm,
        successors=successors,
    )


def _when(source: Source, segment: Segment) -> Timed | Days:
    stretch, kind = segment.stretch, segment.task.kind
    if kind is Kind.WAIT and stretch.minutes >= MINUTES_A_DAY:
        first = to_local(stretch.start, source.zone).date()
        last = to_local(stretch.finish - 1, source.zone).date()
        return Days(first, last + timedelta(days=1))
    if kind is Kind.HOLD_POINT or not stretch.minutes:
        return _short(stretch.start, source)
    return Timed(stretch.start, stretch.finish, source.zone)


def _short(start: int, source: Source) -> Timed:
    return Timed(start, start + _SHORT_EVENT_MIN, source.zone)


def _alarms(source: Source, segments: Sequence[Segment]) -> dict[str, Alarm | None]:
    """Give the alarms by the key of their event; waits, rests and what is done have none."""
    ringing = [
        segment
        for segment in segments
        if segment.task.kind not in _QUIET and source.state(segment.task.id) is not State.COMPLETED
    ]
    silent = _silent(segments)
    return {
        segment.key: _ringing(source, segment.key, _before_min(segment))
        for segment in ringing
        if segment.key not in silent
    }


def _silent(segments: Iterable[Segment]) -> set[str]:
    """Name the work of a moving day after the first: one thing follows another, and nobody wants thirty alarms."""
    tied = sorted(
        (segment.stretch.start, segment.key, segment.task.day)
        for segment in segments
        if segment.task.day and segment.task.kind in _WORK
    )
    silent, begun = set(), set()
    for _, key, day in tied:
        if day in begun:
            silent.add(key)
        begun.add(day)
    return silent


def _before_min(segment: Segment) -> int:
    return _HOLD_POINT_ALARM_MIN if segment.task.kind is Kind.HOLD_POINT else _WORK_ALARM_MIN


def _ringing(source: Source, key: str, before_min: int) -> Alarm | None:
    if not source.options.alarms:
        return None
    return Alarm(alarm_uid(source.outlook.project.plan.id, key), before_min)


def _start_by_events(source: Source) -> Iterator[Event]:
    """Latest starts of what has not begun; the rest of them is history."""
    risk = source.outlook.risk
    for latest in risk.start_by if risk else ():
        if latest.task in source.placed and source.state(latest.task) is State.NEEDS_ACTION:
            yield _start_by_event(source, latest)


def _start_by_event(source: Source, start_by: StartBy) -> Event:
    key = START_BY + start_by.task
    whole = source.whole(start_by.task)
    latest = f"{to_local(start_by.latest, source.zone):%Y-%m-%d %H:%M}"
    return Event(
        key=key,
        uid=event_uid(source.outlook.project.plan.id, key),
        when=_short(start_by.latest, source),
        words=Words(
            title=source.wording.start_by_title(whole.facts),
            notes=source.wording.start_by_notes(whole.facts, latest, start_by.confidence),
            category=source.words(whole).category,
        ),
        private=source.options.private,
        alarm=_ringing(source, key, _START_BY_ALARM_MIN),
    )


def _successors(source: Source) -> dict[str, list[Successor]]:
    """Links by the key of the event they stand in, the predecessor's (RFC 9253, section 4).

    They run between the ends that the relation names: the last stretch where it counts from the finish, the
    first where it counts from the start. A link without a least gap says nothing that the relation could say.
    """
    found: dict[str, list[Successor]] = {}
    if not source.options.links:
        return found
    for link in source.outlook.project.network.links:
        if link.min_gap_min is None or link.before not in source.placed or link.after not in source.placed:
            continue
        key, successor = _successor(source, link, link.min_gap_min)
        if successor not in found.setdefault(key, []):
            found[key].append(successor)
    return found


def _successor(source: Source, link: Link, gap_min: int) -> tuple[str, Successor]:
    key = _end_key(source, link.before, finish=link.relation.from_finish)
    other = _end_key(source, link.after, finish=link.relation.to_finish)
    uid = event_uid(source.outlook.project.plan.id, other)
    return key, Successor(uid, link.relation, gap_min)


def _end_key(source: Source, task_id: str, *, finish: bool) -> str:
    segments = source.placed[task_id][1].segments
    return f"{task_id}/{max(1, len(segments)) if finish else 1}"
