"""The first screen: when, how sure, who has least time, how much money, what next."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from moveplan.network.task import Kind, State
from moveplan.outputs.agenda import Agenda, Line, Opening
from moveplan.outputs.figures.day import moving_days
from moveplan.outputs.outlook import Outlook
from moveplan.risk.promise.values import EVERYBODY, DayEnd
from moveplan.times import Interval


@dataclass(frozen=True, slots=True)
class Answers:
    """What a keeper asks first.

    Parameters
    ----------
    days : tuple of Interval
        Each moving day from the first hand that is needed to the last, UTC. [min]
    ends : tuple of DayEnd or None
        By when everybody is done with each of them, the animals included; None where that was not simulated.
    tied : bool
        Whether these are moving days; else the day with the most tasks.
    tightest : Opening or None
        The stay in a container that has the least time to spare; None: no stay has a limit.
    next_line : Line or None
        The first task that is open; None: nothing is left.
    """

    days: tuple[Interval, ...]
    ends: tuple[DayEnd | None, ...]
    tied: bool
    tightest: Opening | None
    next_line: Line | None


def answers_of(outlook: Outlook, agenda: Agenda) -> Answers:
    """Pick the answers out of all that was found."""
    days = moving_days(agenda)
    limited = [one for one in agenda.openings if one.open_by is not None]
    return Answers(
        tuple(_hours(agenda.lines, day) for day in days),
        tuple(outlook.end(day, EVERYBODY) for day in days),
        any(line.task.day for line in agenda.lines),
        min(limited, key=lambda one: (one.stay.margin_min, -one.stay.span.minutes), default=None),
        next((line for line in agenda.lines if _is_open(line)), None),
    )


def _hours(lines: Iterable[Line], day: object) -> Interval:
    """From the first to the last task of a day that somebody works on and that does not recur."""
    own = [line for line in lines if line.day == day and not line.task.repeats]
    spans = [line.placement.segments[0] for line in own if line.placement.people]
    spans = spans or [line.placement.segments[0] for line in own]
    return Interval(min(span.start for span in spans), max(span.finish for span in spans))


def _is_open(line: Line) -> bool:
    waits = line.task.kind is Kind.WAIT and not line.placement.people
    return not waits and line.state in (State.NEEDS_ACTION, State.IN_PROCESS)
