"""Time down the page: the one scale that all pictures share."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from unicodedata import east_asian_width
from zoneinfo import ZoneInfo

from moveplan.times import MINUTES_A_DAY, Interval, at_local, to_local

FITS = 440.0
"""A picture up to this width is drawn as wide as the screen: on 360 px its text is 11 px high then. [px]"""
TEXT_PX, CHARACTER_PX, BOLD_PX = 14.5, 8.2, 9.3
"""Height of text in such a picture, and the widest of a character of a name and of one in bold. [px]"""


_SECOND = "\N{WORD JOINER}"
"""Stands for the second half of a wide character (Unicode Annex 11: F, W), as most picture signs are."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A moment on the scale.

    Parameters
    ----------
    y : float
        Where it is drawn. [px]
    moment : int
        When it is, UTC. [min]
    """

    y: float
    moment: int


@dataclass(frozen=True, slots=True)
class Scale:
    """Places moments on a vertical line.

    Parameters
    ----------
    span : Interval
        The time shown, UTC. [min]
    px_per_min : float
        Length of one minute. [px/min]
    top : float
        Where the span begins. [px]
    """

    span: Interval
    px_per_min: float
    top: float

    def y(self, moment: int) -> float:
        """Place a moment; what lies outside the span is put on its edge.

        Parameters
        ----------
        moment : int
            UTC. [min]
        """
        inside = min(max(moment, self.span.start), self.span.finish)
        return round(self.top + (inside - self.span.start) * self.px_per_min, 1)

    @property
    def bottom(self) -> float:
        """Where the span ends. [px]."""
        return self.y(self.span.finish)

    def hours(self, zone: ZoneInfo) -> tuple[Mark, ...]:
        """Mark the full hours on the local clock.

        Parameters
        ----------
        zone : ZoneInfo
            Time zone of the clock.
        """
        first = to_local(self.span.start, zone)
        offset = (60 - first.minute) % 60
        return tuple(
            Mark(self.y(moment), moment)
            for moment in range(self.span.start + offset, self.span.finish + 1, 60)
        )

    def mondays(self, zone: ZoneInfo) -> tuple[Mark, ...]:
        """Mark the local midnights with which weeks begin.

        Parameters
        ----------
        zone : ZoneInfo
            Time zone of the calendar.
        """
        return tuple(Mark(self.y(moment), moment) for moment in self._mondays(zone))

    def _mondays(self, zone: ZoneInfo) -> Iterator[int]:
        first = to_local(self.span.start, zone).date()
        day = first + timedelta(days=-first.weekday() % 7)
        while (moment := at_local(day, 0, zone)) <= self.span.finish:
            if moment >= self.span.start:
                yield moment
            day += timedelta(days=7)


STEPS_MIN = (5, 15, 30, 60, 120, 180, 360, 720, 1440, 2880, 4320, 10_080, 20_160, 40_320)
"""Distances of the labels on a line across. [min]"""
MOST_LABELS = 4
"""So many hours stand side by side on a screen of 360 px; of days, whose names are longer, one fewer. [-]"""


def labels_across(first: int, last: int, after_midnight_min: int) -> range:
    """Choose moments for the labels of a line across: few, and on whole steps of the local clock.

    Parameters
    ----------
    first, last : int
        Ends of the line. [min]
    after_midnight_min : int
        The local time at its first end. [min]

    Examples
    --------
    >>> list(labels_across(485, 700, 485))
    [540, 600, 660]
    """
    fitting = (step for step in STEPS_MIN if (last - first) // step < MOST_LABELS - (step >= MINUTES_A_DAY))
    step = next(fitting, STEPS_MIN[-1])
    return range(first + -after_midnight_min % step, last + 1, step)


def around(spans: Iterable[Interval], margin_min: int) -> Interval:
    """Give one span around several, with room before and after.

    Parameters
    ----------
    spans : iterable of Interval
        At least one. [min]
    margin_min : int
        Room on both sides. [min]
    """
    known = list(spans)
    start, finish = min(span.start for span in known), max(span.finish for span in known)
    return Interval(start - margin_min, finish + margin_min)


def in_lines(text: str, width: int, lines: int) -> tuple[str, ...]:
    """Break a text into lines of so many characters, cut with an ellipsis where it does not fit.

    Parameters
    ----------
    text : str
        Text from the plan.
    width : int
        Characters a line.
    lines : int
        Greatest number of lines.

    Examples
    --------
    >>> in_lines("Carry the empty tank down", 12, 2)
    ('Carry the', 'empty tank …')
    """
    return wrapped(text, max(width, 3), lines) if lines else ()


def wrapped(text: str, width: int, lines: int | None = None) -> tuple[str, ...]:
    """Break a text into lines of so many characters, of which a wide one counts as two.

    Parameters
    ----------
    width : int
        Characters a line.
    lines : int, optional
        Greatest number of lines; what goes beyond is cut with an ellipsis.

    Examples
    --------
    >>> wrapped("two fish", 8), wrapped("魚魚魚魚魚", 9)
    (('two fish',), ('魚魚魚魚', '魚'))
    """
    counted = "".join(one + _SECOND if east_asian_width(one) in "FW" else one for one in text)
    room = width if counted == text else width - 1  # a line may end within a wide sign
    found = textwrap.wrap(counted, room, max_lines=lines, placeholder=" …")
    return tuple(line.replace(_SECOND, "") for line in found)
