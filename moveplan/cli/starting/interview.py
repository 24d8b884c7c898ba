"""An interview in the terminal: one question after the other, a step back, and a draft to go on from later."""

from __future__ import annotations

import json
import shutil
import textwrap
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from moveplan.cli.starting.mending import mended, worth_mending
from moveplan.cli.starting.questions import Question, usual_answer

if TYPE_CHECKING:
    from moveplan.planfile.replies.rows import RowError

BACK, QUIT, HELP, YES = ("<", "back"), ("quit", "q"), ("?", "help"), ("yes", "y")
_NARROWEST = 40
"""Narrowest text, whatever the terminal says: one word a line helps nobody. [character]"""


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
    doubt : callable
        Asks about an answer that is hardly meant, given its question and all answers; empty where it does not.
    keep : callable
        Keeps the answers so far.
    answers : dict of str to str
        Answers so far.
    """

    questions: tuple[Question, ...]
    today: date
    read: Callable[[str, str], str]
    doubt: Callable[[str, Mapping[str, str]], str]
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
        while (said := self._reply(question)) != BACK[0]:
            if self._took(question, said or self._usual(question)[0]):
                return 1
        return -1

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

    def _took(self, question: Question, text: str) -> bool:
        from moveplan.planfile.replies.rows import RowError
        from moveplan.planfile.schema.refusals import RefusedError

        if question.choices and text.isdecimal() and 0 < int(text[:3]) <= len(question.choices):
            text = question.choices[int(text[:3]) - 1][0]
        try:
            read = self.read(question.key, text)
        except RefusedError as error:
            if isinstance(error, RowError) and worth_mending(error):
                return self._mended(question, error)
            for one in error.refusals:
                say(f"{one.message}; {one.remedy}" if one.remedy else one.message, "  ! ")
            return False
        doubt = self.doubt(question.key, self.answers | {question.key: read})
        if doubt and (otherwise := self._otherwise(question, doubt)) is not None:
            return bool(otherwise) and self._took(question, otherwise)
        self.answers[question.key] = read
        self.keep(self.answers)
        return True

    def _otherwise(self, question: Question, doubt: str) -> str | None:
        """Hear what is answered instead; nothing where it was meant, empty where its question is posed again."""
        say(f'{doubt} Write "yes", or the answer again.', "  ? ")
        while not (said := self._reply(question)):
            continue
        if said == BACK[0]:
            self._pose(question, self.open().index(question))
            return ""
        return None if said.casefold() in YES else said

    def _mended(self, question: Question, row: RowError) -> bool:
        """Ask for the parts that were not understood, and take the answer with them; or pose its question again."""
        text = mended(row, lambda: self._reply(question), say)
        if text is None:
            self._pose(question, self.open().index(question))
            return False
        return self._took(question, text)

    def _reply(self, question: Question) -> str:
        """Hear what is said, a step back as ``<``."""
        while (said := _heard()) in HELP:
            self._explain(question)
        if said.casefold() in QUIT:
            raise LeftError
        return BACK[0] if said.casefold() in BACK else said


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
