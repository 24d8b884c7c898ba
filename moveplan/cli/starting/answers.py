"""The work of ``moveplan new``: from answers, or from an example, to a plan file that is known to be sound."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from moveplan.cli.starting.copying import in_runs
from moveplan.cli.starting.interview import Interview, LeftError, draft_path, kept_answers, say
from moveplan.cli.starting.like import text_of
from moveplan.cli.starting.questions import Question, questions, usual_answer, usual_units
from moveplan.cli.terminal.paper import show_text
from moveplan.errors import INTERRUPTED, PlanFileError, Problem

if TYPE_CHECKING:
    from moveplan.plan.move import Plan

_OPTIONS = "the options"
_READ_FIRST = ("units", "people", "move-day")
"""Answers by which others are read."""


def refuse_what_is_there(file: Path, *, force: bool) -> None:
    """Refuse to write over a file, unless told to."""
    if file.exists() and not force:
        problem = Problem(
            "there is a file of this name already", str(file), "name another one, or say --force"
        )
        raise PlanFileError((problem,), str(file))


def from_answers(file: Path, given: Mapping[str, str], *, asking: bool) -> str:
    """Ask what was not given, or take the usual answers, and fill in the template of a plan.

    Parameters
    ----------
    file : Path
        The plan file that is to be written.
    given : Mapping of str to str
        Answers given as options.
    asking : bool
        Whether to ask for the others.
    """
    today = date.today()  # noqa: DTZ011 - the day where the keeper is
    asked = questions()
    read = _reader(today)
    answers = _sound(given, read)
    if not asking:
        _take_usual(answers, asked, today)
        return _sound_text(asked, answers, today)
    held = Interview(asked, today, read, _doubt, lambda so_far: _keep(file, so_far), answers)
    _ask(file, answers, held)
    while True:
        try:
            return _sound_text(asked, answers, today)
        except PlanFileError as error:
            found = next(
                (question for one in error.problems if (question := _answers(one, held.open()))), None
            )
            if found is None:
                raise
            _ask_again(held, found, error)


def _sound_text(asked: Iterable[Question], answers: Mapping[str, str], today: date) -> str:
    """Fill in the template; what answers say against each other is told by their options."""
    kept = {one.key: answers[one.key] for one in asked if one.applies(answers)}
    try:
        return _filled(kept, today)
    except PlanFileError as error:
        told = (
            replace(one, where=f"--{question.key}") if (question := _answers(one, asked)) else one
            for one in error.problems
        )
        raise PlanFileError(tuple(told), _OPTIONS) from None


def _answers(problem: Problem, asked: Iterable[Question]) -> Question | None:
    """Find the question whose answer became the key of the plan that a problem is about."""
    place = problem.where.rpartition(" ")[2].removeprefix("--").split(".")
    return next((one for part in reversed(place) for one in asked if part in (one.key, *one.writes)), None)


def _ask_again(held: Interview, question: Question, error: PlanFileError) -> None:
    """Say what answers say against each other, and ask for one of them once more."""
    for one in error.problems:
        say(f"{one.message} {one.remedy}".strip(), "  ! ")
    _held(lambda: held.again(question))


def _reader(today: date) -> Callable[[str, str], str]:
    """Give what reads answers; those that were read last say what a number alone means, and who there is."""
    before: dict[str, str] = {}

    def read(key: str, text: str) -> str:
        from moveplan.planfile.starter import read_answer

        before[key] = read_answer(key, text, today, before)
        return before[key]

    return read


def _doubt(key: str, answers: Mapping[str, str]) -> str:
    from moveplan.planfile.starter import doubt_of

    return doubt_of(key, answers)


def _sound(given: Mapping[str, str], read: Callable[[str, str], str]) -> dict[str, str]:
    """Read answers given as options; all that is wrong with them at once."""
    if not given:
        return {}
    from moveplan.planfile.schema.refusals import Refusal, RefusedError

    answers: dict[str, str] = {}
    wrong: dict[str, tuple[Refusal, ...]] = {}
    if "units" not in given:
        read("units", usual_units(given))  # of a number alone, until they are asked for
    for key, text in sorted(given.items(), key=lambda one: one[0] not in _READ_FIRST):
        try:
            answers[key] = read(key, text)
        except RefusedError as error:
            wrong[key] = error.refusals
    if wrong:
        rows = [(key, one) for key in given for one in wrong.get(key, ())]
        raise PlanFileError(
            tuple(Problem(one.message, f"--{key}", one.remedy) for key, one in rows), _OPTIONS
        )
    return answers


def _take_usual(answers: dict[str, str], asked: Iterable[Question], today: date) -> None:
    for question in asked:
        if question.applies(answers) and question.key not in answers:
            usual = usual_answer(question, answers, today)
            if not usual:
                remedy = "add --timezone Continent/City" if question.key == "timezone" else question.why
                problem = Problem("this has no usual answer here", f"--{question.key}", remedy)
                raise PlanFileError((problem,), _OPTIONS)
            answers[question.key] = usual


def _ask(file: Path, answers: dict[str, str], held: Interview) -> None:
    if not sys.stdin.isatty():
        problem = Problem("there is no terminal to ask in", "", "add --no-questions, and answers as options")
        raise PlanFileError((problem,), _OPTIONS)
    say(
        f"A few questions make {file}. Enter takes the usual answer; ? explains; < goes back; quit keeps it for later."
    )
    begun = _still_sound(kept_answers(file), held)
    if begun:
        held.answers |= begun | answers
        say(f"An interview was begun before: {len(begun)} answers are kept, and it goes on from there.")
    _held(held.hold)


def _held(ask: Callable[[], None]) -> None:
    """Ask, and say what becomes of the answers where it is left before its end."""
    try:
        ask()
    except (LeftError, KeyboardInterrupt) as left:
        typer.echo()
        say("Nothing is written yet. Run the same command again to go on from here.")
        raise typer.Exit(INTERRUPTED if isinstance(left, KeyboardInterrupt) else 0) from None


def _still_sound(begun: Mapping[str, str], held: Interview) -> dict[str, str]:
    """Keep those answers of a draft that answer a question and can still be read."""
    if not begun:
        return {}
    from moveplan.planfile.schema.refusals import RefusedError

    answers = {}
    for question in held.questions:
        try:
            answers[question.key] = held.read(question.key, begun.get(question.key, ""))
        except RefusedError:
            continue
    return answers


def _keep(file: Path, answers: Mapping[str, str]) -> None:
    from moveplan.files import write_files

    text = json.dumps(dict(answers), ensure_ascii=True, indent=1)
    write_files({draft_path(file): text.encode()})


def forget(file: Path) -> None:
    """Remove the answers that were kept beside a plan."""
    draft_path(file).unlink(missing_ok=True)


def _filled(answers: Mapping[str, str], today: date) -> str:
    from uuid import uuid4

    from markupsafe import Markup

    from moveplan.outputs.wording.templates import environment
    from moveplan.planfile.reader import plan_of
    from moveplan.planfile.starter import starter_values, yaml_scalar

    env = environment("text")
    env.filters["yaml"] = lambda value: Markup(yaml_scalar(value))  # noqa: S704 - written as YAML just here
    env.filters["flow"] = Markup  # a value as the plan file has it
    template, values = env.get_template("new/plan.yaml.j2"), starter_values(answers, str(uuid4()), today)
    plan = plan_of(template.render(values, assumed={}).encode(), Path("plan.yaml"))
    return template.render(values, assumed={one.key: one.value for one in plan.assumptions})


def write(file: Path, text: str, invented: tuple[int, ...] = ()) -> None:
    """Write a plan file that is known to be sound, and say what to look at first.

    Parameters
    ----------
    invented : tuple of int
        Its lines with prices, telephone numbers and addresses that are not the keeper's own.
    """
    from moveplan.files import write_files
    from moveplan.planfile.reader import plan_of

    content = text.encode()
    plan = plan_of(content, file, datetime.now().replace(microsecond=0))  # noqa: DTZ005 - in the plan's zone
    write_files({file: content})
    show_text(_what_next(file, plan, invented))


def write_form(form: Path, file: Path) -> None:
    """Write a form for a plan file, filled in where there is one.

    Parameters
    ----------
    form : Path
        The HTML file to write.
    file : Path
        The plan file that the form is to save.
    """
    from moveplan.files import write_files
    from moveplan.outputs.documents.form import form_html

    opened = text_of(file) if file.exists() else None
    write_files({form: form_html(file.name, opened).encode()})
    say(f"{form} is written. Open it in a browser, and save {file.name} from there.")


def _what_next(file: Path, plan: Plan, invented: tuple[int, ...]) -> str:
    from moveplan.outputs.wording.templates import environment

    return (
        environment("text")
        .get_template("new/after.txt.j2")
        .render(
            file=file,
            folder=file.stem,
            invented=in_runs(invented),
            livestock_line=plan.lines.get("livestock", 1),
            systems_line=plan.lines["systems"],
        )
    )
