"""Links of every kind as one kind of arc: this start is at least so long after that start."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Task


class Cause(StrEnum):
    """What an arc comes from."""

    START = "start"
    LEAST = "least gap"
    GREATEST = "greatest gap"
    NOT_BEFORE = "not before"
    FINISH_BY = "finish by"


@dataclass(frozen=True, slots=True)
class Arc:
    """``start of head >= start of tail + weight``.

    Parameters
    ----------
    tail, head : int
        Positions of the tasks; one past the last task is the start of everything.
    weight : int
        Least distance between the two starts, negative for a greatest gap. [min]
    cause : Cause
        What it comes from.
    link : Link or None
        The link, where it comes from one.
    """

    tail: int
    head: int
    weight: int
    cause: Cause
    link: Link | None = None


@dataclass(frozen=True, slots=True)
class Span:
    """How long a task lasts from start to finish: at least, and at most.

    Parameters
    ----------
    least : int
        The least possible. [min]
    greatest : int or None
        The greatest possible; None where nothing limits it, as where the work may pause. [min]
    """

    least: int
    greatest: int | None


@dataclass(frozen=True, slots=True)
class ArcGraph:
    """A network reduced to arcs between starts.

    Parameters
    ----------
    tasks : tuple of Task
        In the network's order; position ``len(tasks)`` is the start of everything.
    spans : tuple of Span
        One a task. [min]
    arcs : tuple of Arc
        Every link, least and greatest, and the hard dates.
    start : int
        When everything starts, on the axis of the hard dates. [min]
    """

    tasks: tuple[Task, ...]
    spans: tuple[Span, ...]
    arcs: tuple[Arc, ...]
    start: int = 0

    @property
    def origin(self) -> int:
        """Position of the start of everything."""
        return len(self.tasks)


def _least(link: Link, before: int, after: int, spans: Sequence[Span]) -> Arc | None:
    late_end = spans[after].greatest if link.relation.to_finish else 0
    if link.min_gap_min is None or late_end is None:
        return None
    weight = link.min_gap_min + (spans[before].least if link.relation.from_finish else 0) - late_end
    return Arc(before, after, weight, Cause.LEAST, link)


def _greatest(link: Link, before: int, after: int, spans: Sequence[Span]) -> Arc | None:
    late_end = spans[before].greatest if link.relation.from_finish else 0
    if link.max_gap_min is None or late_end is None:
        return None
    weight = (spans[after].least if link.relation.to_finish else 0) - link.max_gap_min - late_end
    return Arc(after, before, weight, Cause.GREATEST, link)


def _dates(position: int, task: Task, span: Span, origin: int, start: int) -> list[Arc]:
    arcs = []
    if task.not_before is not None:
        arcs.append(Arc(origin, position, task.not_before - start, Cause.NOT_BEFORE))
    if task.finish_by is not None:
        arcs.append(Arc(position, origin, span.least - (task.finish_by - start), Cause.FINISH_BY))
    return arcs


def arcs_of(network: Network, spans: Sequence[Span] | None = None, start: int = 0) -> ArcGraph:
    """Reduce a network to arcs between starts.

    Parameters
    ----------
    network : Network
        Its links name only tasks it has.
    spans : sequence of Span, optional
        How long each task lasts; by default exactly its likely duration. [min]
    start : int
        When everything starts, on the axis of the hard dates. [min]

    Returns
    -------
    ArcGraph
        The arcs, in the order of the links, then the dates.

    References
    ----------
    Bartusch, Moehring and Radermacher (1988), Annals of Operations Research 16, 201-240: greatest
    gaps as backward arcs of negative length (recalled).
    """
    lasting = tuple(spans or (Span(task.minutes, task.minutes) for task in network.tasks))
    at = {task.id: position for position, task in enumerate(network.tasks)}
    arcs: list[Arc] = []
    for link in network.links:
        ends = at[link.before], at[link.after]
        arcs += [arc for arc in (_least(link, *ends, lasting), _greatest(link, *ends, lasting)) if arc]
    for position, task in enumerate(network.tasks):
        arcs += _dates(position, task, lasting[position], len(network.tasks), start)
    return ArcGraph(network.tasks, lasting, tuple(arcs), start)
