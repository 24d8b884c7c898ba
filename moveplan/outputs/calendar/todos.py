"""To-dos from the schedule: what somebody has to do, by which day. Waits are none."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.network.task import Kind, State
from moveplan.outputs.calendar.event import ToDo
from moveplan.outputs.calendar.identity import to_do_uid
from moveplan.outputs.calendar.source import Segment, Source
from moveplan.times import to_local


def to_dos(source: Source) -> tuple[ToDo, ...]:
    """Make one to-do a task, and one an occurrence of recurring care.

    Parameters
    ----------
    source : Source
        Selected tasks and their words.

    Returns
    -------
    tuple of ToDo
        In the order of the plan.
    """
    return tuple(_to_do(source, segment) for segment in _stretches(source))


def _stretches(source: Source) -> Iterator[Segment]:
    whose = "" if source.options.every_task else source.options.person
    for task_id, (task, placement) in source.placed.items():
        if task.kind is Kind.WAIT or (whose and whose not in placement.people):
            continue
        if task.repeats:
            yield from source.segments(task_id)
        else:
            yield source.whole(task_id)


def _to_do(source: Source, segment: Segment) -> ToDo:
    state, finish = source.state(segment.task.id), segment.stretch.finish
    last_minute = max(segment.stretch.start, finish - 1)
    return ToDo(
        key=segment.key,
        uid=to_do_uid(source.outlook.project.plan.id, segment.key),
        due=to_local(last_minute, source.zone).date(),
        words=source.words(segment),
        state=state,
        completed=min(finish, source.outlook.now) if state is State.COMPLETED else None,
        private=source.options.private,
    )
