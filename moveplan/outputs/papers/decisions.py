"""What can still be missed before a moving day: decisions, orders and bookings, and what has to begin in time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from moveplan.network.task import State
from moveplan.outputs.agenda import Agenda, Line
from moveplan.outputs.outlook import Outlook
from moveplan.practice.hires import hires_of

ORDER = "order-missing"
"""The task in which everything is ordered. [-]"""
_OVER = (State.COMPLETED, State.CANCELLED)


@dataclass(frozen=True, slots=True)
class Decision:
    """Something to decide, or to begin in time.

    Parameters
    ----------
    latest : int or None
        UTC; None where it was not computed. [min]
    confidence : float or None
        Chance that what is begun is ready in time; None: a hold point.
    """

    line: Line
    latest: int | None
    confidence: float | None = None

    @property
    def by(self) -> int:
        """The moment it is sorted by, UTC. [min]."""
        return self.line.placement.start if self.latest is None else self.latest

    @property
    def planned_too_late(self) -> bool:
        """Whether the plan begins it later than is sure enough."""
        begins = self.confidence is not None and self.latest is not None
        return begins and self.line.placement.start > (self.latest or 0)


def decisions_of(outlook: Outlook, lines: Agenda) -> tuple[Decision, ...]:
    """List what weighs most first: what is planned too late, then what is decided, ordered, booked or begun in time.

    Hold points of a moving day are met on it, one after the other, and stand in its lists.
    """
    begun = [(lines.line(start.task), start) for start in (outlook.risk.start_by if outlook.risk else ())]
    ahead = [
        Decision(line, start.latest, start.confidence)
        for line, start in begun
        if line is not None and line.state not in (*_OVER, State.IN_PROCESS)
    ]
    known = {one.line.task.id for one in ahead}
    held = [one for one in _held(outlook, lines) if one.line.task.id not in known]
    settled = outlook.milestones().get("settled")
    before = [one for one in held if settled is None or one.line.placement.start <= settled]
    late = [one for one in ahead if one.planned_too_late]
    return (
        *late,
        *before,
        *(one for one in ahead if one not in late),
        *(one for one in held if one not in before),
    )


def by_date(found: Iterable[Decision]) -> tuple[Decision, ...]:
    """Sort by the moment after which it is too late."""
    return tuple(sorted(found, key=lambda one: (one.by, one.line.number)))


def _held(outlook: Outlook, lines: Agenda) -> Iterator[Decision]:
    hires = hires_of(outlook.project.plan, outlook.schedule)
    asked = {ORDER, *(booking for hire in hires for booking in hire.bookings)}
    holds = {line.task.id for line in lines.hold_points if not line.task.day}
    for line in lines.lines:
        if line.task.id in asked | holds and line.state not in _OVER:
            begun = line.times.late_start if line.times else None
            yield Decision(line, line.decide_by if line.task.id in holds else begun)
