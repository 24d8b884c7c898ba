"""The questions of the interview, and what is taken where nothing is answered."""

from __future__ import annotations

import os
import tomllib
from calendar import SATURDAY
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from moveplan.cli.shipped import shipped

_WEEKS_TO_PREPARE = {"house-move": 10, "larger-tank": 24, "house-move-larger-tank": 24, "shut-down": 14}
_DAYS_SHUT_DOWN = 182
"""Half a year: the usual end of a shut-down that is offered. Assumed. [d]"""


@dataclass(frozen=True, slots=True)
class Question:
    """One question.

    Parameters
    ----------
    key : str
        Its name, as the option that answers it.
    ask, why, more : str
        The question, why it is asked, and how to find its answer and write it.
    usual : str or dict
        What is taken where nothing is answered; one for each system of units where it has a unit.
    reason : str
        The reason for that.
    writes : tuple of str
        Keys of the plan file that its answer becomes, beside the one of its own name.
    purposes : tuple of str
        Purposes it is asked for; empty: all.
    choices : tuple of (str, str)
        Words to choose from, each with what it means.
    """

    key: str
    ask: str
    why: str
    more: str
    usual: str | Mapping[str, str] = ""
    reason: str = ""
    writes: tuple[str, ...] = ()
    purposes: tuple[str, ...] = ()
    choices: tuple[tuple[str, str], ...] = ()

    def applies(self, answers: Mapping[str, str]) -> bool:
        """Whether it matters after what was answered so far."""
        return not self.purposes or answers.get("purpose", "house-move") in self.purposes


def questions() -> tuple[Question, ...]:
    """Read the questions, in their order."""
    table = tomllib.loads((shipped("templates") / "new" / "questions.toml").read_text("utf-8"))
    return tuple(_question(key, row) for key, row in table.items())


def _question(key: str, row: Mapping[str, Any]) -> Question:
    return Question(
        key=key,
        ask=row["ask"],
        why=row["why"],
        more=row["more"],
        usual=row.get("default", ""),
        reason=row["reason"],
        writes=tuple(row.get("writes", ())),
        purposes=tuple(row.get("for", ())),
        choices=tuple((word, meaning) for word, meaning in row.get("choices", ())),
    )


def usual_answer(question: Question, answers: Mapping[str, str], today: date) -> str:
    """Find what is taken where nothing is answered; empty where it has to be answered.

    Parameters
    ----------
    answers : Mapping of str to str
        What was answered so far.
    today : date
        The day of the interview.
    """
    found = _FOUND.get(question.key)
    if found is not None:
        return found(answers, today)
    usual = question.usual
    return usual if isinstance(usual, str) else usual[answers.get("units", "metric")]


def _zone(_answers: Mapping[str, str], _today: date) -> str:
    """Name the zone of this computer; one that is no place, such as UTC, is nobody's home."""
    name = os.environ.get("TZ", "").lstrip(":")
    if not name:
        _before, _mark, name = str(Path("/etc/localtime").resolve()).partition("zoneinfo/")[0:3]
    return name if "/" in name and not name.startswith(("/", "Etc/")) else ""


def usual_units(answers: Mapping[str, str]) -> str:
    """Units of the country of the zone that was answered, else of this computer's."""
    from moveplan.planfile.schema.zones import US_UNITS, country_of

    zone = answers.get("timezone") or _zone(answers, date.min)
    return "us" if country_of(zone) in US_UNITS else "metric"


def _move_day(answers: Mapping[str, str], today: date) -> str:
    day = today + timedelta(weeks=_WEEKS_TO_PREPARE[answers.get("purpose", "house-move")])
    return (day + timedelta(days=(SATURDAY - day.weekday()) % 7)).isoformat()


def _restart_day(answers: Mapping[str, str], _today: date) -> str:
    return (date.fromisoformat(answers["move-day"]) + timedelta(days=_DAYS_SHUT_DOWN)).isoformat()


def _roles(answers: Mapping[str, str], _today: date) -> str:
    from moveplan.planfile.replies.named import people_in
    from moveplan.planfile.replies.several import usual_roles

    return usual_roles([one.name for one in people_in(answers["people"])])


_FOUND: Mapping[str, Callable[[Mapping[str, str], date], str]] = {
    "timezone": _zone,
    "units": lambda answers, _today: usual_units(answers),
    "move-day": _move_day,
    "restart-day": _restart_day,
    "roles": _roles,
}
