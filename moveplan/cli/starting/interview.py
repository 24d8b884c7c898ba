"""An interview in the terminal: one question after the other, a step back, and a draft to go on from later."""

from __future__ import annotations

import json
import os
import shutil
import textwrap
import tomllib
from calendar import SATURDAY
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import typer

from moveplan.cli.shipped import shipped

BACK, QUIT, HELP = ("<", "back"), ("quit", "q"), ("?", "help")
_WEEKS_TO_PREPARE = {"house-move": 10, "larger-tank": 24, "house-move-larger-tank": 24, "shut-down": 14}
_DAYS_SHUT_DOWN = 182
"""Half a year: the usual end of a shut-down that is offered. Assumed. [d]"""
_NARROWEST = 40
"""Narrowest text, whatever the terminal says: one word a line helps nobody. [character]"""


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


class LeftError(Exception):
    """The interview was left before its end."""


@dataclass(slots=True)
class Interview:
    """An interview.

    Parameters
    ----------
    questions : tuple of Question
        All of them; those that do not matter are passed over.
    today : date
        The day on which it is held.
    read : callable
        Reads an answer, given its question; ``RefusedError`` where it cannot be one.
    keep : callable
        Keeps the answers so far.
    answers : dict of str to str
        Answers so far.
    """

    questions: tuple[Question, ...]
    today: date
    read: Callable[[str, str], str]
    keep: Callable[[Mapping[str, str]], None]
    answers: dict[str, str] = field(default_factory=dict)

    def open(self) -> list[Question]:
        """Questions that matter after what was answered so far."""
        return [question for question in self.questions if question.applies(self.answers)]

    def hold(self) -> None:
        """Ask until everything that matters is answered.

        Raises
        ------
        LeftError
            Where it is left before.
        """
        _with_line_editing()
        step = next((n for n, question in enumerate(self.open()) if question.key not in self.answers), 0)
        while step < len(self.open()):
            self._pose(self.open()[step], step)
            step = max(0, step + self._settled(self.open()[step]))

    def again(self, question: Question) -> None:
        """Ask one question once more; what was answered is what is taken."""
        step = self.open().index(question)
        self._pose(question, step)
        while self._settled(question) < 0:
            self._pose(question, step)

    def _settled(self, question: Question) -> int:
        """Hear answers to a question until one is taken; tell where to go from there, 1 on or -1 back."""
        while True:
            said = _heard()
            if said.casefold() in BACK:
                return -1
            if said.casefold() in QUIT:
                raise LeftError
            if said in HELP:
                self._explain(question)
                continue
            if self._took(question, said):
                return 1

    def _usual(self, question: Question) -> tuple[str, str]:
        given = self.answers.get(question.key)
        if given is not None:
            return given, "your answer"
        return usual_answer(question, self.answers, self.today), question.reason

    def _pose(self, question: Question, step: int) -> None:
        usual, reason = self._usual(question)
        typer.echo()
        say(f"{step + 1}/{len(self.open())}  {question.ask}")
        say(question.why, "     ")
        for number, (word, meaning) in enumerate(question.choices, start=1):
            say(f"{number}  {word}: {meaning}", "     ")
        say(f"Enter for: {usual} ({reason})" if usual else "There is no usual answer.", "     ")

    def _explain(self, question: Question) -> None:
        """Say how to find the answer, and what it looks like; then what there is to choose from."""
        say(question.more, "     ")
        for number, (word, meaning) in enumerate(question.choices, start=1):
            say(f"{number}  {word}: {meaning}", "     ")

    def _took(self, question: Question, said: str) -> bool:
        from moveplan.planfile.schema.refusals import RefusedError

        text = said or self._usual(question)[0]
        if question.choices and text.isdecimal() and 0 < int(text[:3]) <= len(question.choices):
            text = question.choices[int(text[:3]) - 1][0]
        try:
            self.answers[question.key] = self.read(question.key, text)
        except RefusedError as error:
            for one in error.refusals:
                say(f"{one.message}; {one.remedy}" if one.remedy else one.message, "  ! ")
            return False
        self.keep(self.answers)
        return True


def _with_line_editing() -> None:
    """Let arrow keys move within an answer, where the terminal has it."""
    try:
        import readline  # noqa: F401 - by being there it edits lines
    except ImportError:
        return


def _heard() -> str:
    try:
        return input("> ").strip()
    except EOFError:
        raise LeftError from None


def say(text: str, indent: str = "") -> None:
    """Print a text, wrapped to the width of the terminal.

    Parameters
    ----------
    indent : str
        What its first line begins with.
    """
    width = max(_NARROWEST, min(100, shutil.get_terminal_size().columns))
    blank = " " * len(indent)
    typer.echo(textwrap.fill(text, width, initial_indent=indent, subsequent_indent=blank or "     "))


def draft_path(file: Path) -> Path:
    """Name the file beside a plan that holds the answers so far."""
    return file.with_name(f"{file.name}.draft")


def kept_answers(file: Path) -> dict[str, str]:
    """Read the answers of an interview that was left; none where there are none that can be read.

    Parameters
    ----------
    file : Path
        The plan file that was to be written.
    """
    try:
        held = json.loads(draft_path(file).read_bytes())
    except (OSError, ValueError, RecursionError):
        return {}
    if not isinstance(held, dict):
        return {}
    return dict(_texts(held))


def _texts(held: Mapping[str, object]) -> Iterator[tuple[str, str]]:
    for key, value in held.items():
        if isinstance(value, str):
            yield key, value
