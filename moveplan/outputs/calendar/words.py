"""The words of the calendar, from its template."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from moveplan.outputs.calendar.facts import Facts
from moveplan.outputs.wording.escape import one_line
from moveplan.outputs.wording.templates import environment
from moveplan.units import show_kept

_MOST_CHARACTERS = 200
"""Longest title; longer ones are cut off by readers, some of which fail. [character]"""


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of somebody's work, for the list in an event.

    Parameters
    ----------
    facts : Facts
        What is told of it.
    start, finish : datetime
        Local times.
    others : tuple of str
        Names of those who do it together with them.
    """

    facts: Facts
    start: datetime
    finish: datetime
    others: tuple[str, ...]


class Wording:
    """Speaks through ``templates/calendar/``."""

    def __init__(self) -> None:
        # The macros are looked up by name, which the template's module does not declare to a type checker.
        env = environment("text")
        self._macros: Any = env.get_template("calendar/words.txt.j2").module
        self._people: Any = env.get_template("calendar/people.txt.j2").module

    def title(self, facts: Facts) -> str:
        """Title of an event or a to-do."""
        return _short(self._macros.title(facts))

    def notes(self, facts: Facts) -> str:
        """Tell steps, who, after what and which care."""
        return str(self._macros.notes(facts))

    def location(self, facts: Facts) -> str:
        """Place with its address; empty where none is to be told."""
        return str(self._macros.location(facts))

    def cancelled(self, title: str) -> str:
        """Title of an event that is no longer planned."""
        return _short(self._macros.cancelled(title))

    def start_by_title(self, facts: Facts) -> str:
        """Title of a latest start."""
        return _short(self._macros.start_by_title(facts))

    def start_by_notes(self, facts: Facts, latest: str, confidence: float) -> str:
        """Say what the latest start is good for."""
        return str(self._macros.start_by_notes(facts, latest, show_kept(confidence)))

    def moving_day_title(self, title: str, *, done: bool) -> str:
        """Title of a moving day."""
        return _short(self._people.moving_day_title(title, done))

    def moving_day_notes(
        self, pieces: Sequence[Piece], ends: Sequence[datetime] = (), confidence: float = 0.0
    ) -> str:
        """Say when and where to meet, who does what when, and by when it is over in half of the runs and surely."""
        return str(self._people.moving_day_notes(pieces, ends, show_kept(confidence)))

    def session_title(self, pieces: Sequence[Piece], *, done: bool) -> str:
        """Title of an evening or half day: its only piece, or the first and how many more."""
        return _short(self._people.session_title(pieces, done))

    def session_notes(self, pieces: Sequence[Piece]) -> str:
        """List what is to be done in it, each with its steps."""
        return str(self._people.session_notes(pieces))

    def waits_title(self, first: str, more: int) -> str:
        """Title of several waits: that of the first, and how many more."""
        return _short(self._people.waits_title(first, more))

    def waits_notes(self, waits: Sequence[Piece]) -> str:
        """List what is waited for, from which day until which."""
        return str(self._people.waits_notes(waits))

    def small_title(self) -> str:
        """Title of the short jobs before a moving day."""
        return _short(self._people.small_title())

    def small_notes(self, times: Sequence[Sequence[Piece]]) -> str:
        """List which short job is due when, each with its steps."""
        return str(self._people.small_notes(times))

    def care_title(self) -> str:
        """Title of the daily care."""
        return _short(self._people.care_title())

    def care_notes(self, days: Sequence[Sequence[Piece]]) -> str:
        """List what is due day by day."""
        return str(self._people.care_notes(days))

    def calendar_name(self, title: str, person: str, phase: str, *, moving_day: bool) -> str:
        """Name of the calendar, with what was selected."""
        return _short(self._macros.calendar_name(title, person, phase, moving_day))

    def to_dos_name(self, name: str) -> str:
        """Name of the second calendar."""
        return _short(self._macros.to_dos_name(name))


def _short(text: object) -> str:
    line = one_line(str(text))
    return line if len(line) <= _MOST_CHARACTERS else line[: _MOST_CHARACTERS - 1].rstrip() + "…"
