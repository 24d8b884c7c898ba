"""A problem searched by the serial engine for a moment, and what is wrong with what it found."""

from __future__ import annotations

from moveplan.errors import Fault
from moveplan.scheduling.construct.search import Found, search
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.improve.result import schedule_of
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Engine, Schedule
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.state.frame import Frame, frame_of
from moveplan.scheduling.state.model import model_of
from moveplan.scheduling.verify import verify


def searched(problem: SchedulingProblem, seconds: float = 0.1) -> tuple[Frame, Found]:
    """The frame of a problem, and what a little effort finds."""
    frame, effort = frame_of(model_of(problem)), Effort(seconds=seconds)
    return frame, search(frame, effort, Meter(effort))


def as_schedule(desk: Desk | None) -> Schedule:
    """A complete schedule as everybody else sees it."""
    assert desk is not None
    return schedule_of(desk, (), Engine.SERIAL, Meter(Effort()))


def broken(problem: SchedulingProblem, desk: Desk | None) -> tuple[Fault, ...]:
    """Limits that a schedule breaks; empty: none."""
    return verify(problem, as_schedule(desk))
