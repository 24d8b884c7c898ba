"""What the commands do with a firm file, which holds many moves."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from moveplan.cli.terminal.paper import show_text

if TYPE_CHECKING:
    from moveplan.errors import Problem
    from moveplan.firm.outlook import FirmOutlook
    from moveplan.firm.values import Firm
    from moveplan.stages.reading import Settings

_GLANCED_BYTES = 65_536
"""How far into a file is looked to tell a firm from a plan. Chosen. [byte]"""
_FIRM = re.compile(rb"^purpose:[ \t]*[\"']?firm\b", re.MULTILINE)


def is_firm(path: Path) -> bool:
    """Tell at a glance whether a file is a firm's, without loading anything; whoever cannot read it says so later.

    Parameters
    ----------
    path : Path
        A plan file or a firm file.
    """
    try:
        with path.open("rb") as file:
            return _FIRM.search(file.read(_GLANCED_BYTES)) is not None
    except (OSError, ValueError):
        return False


def refuse_for_a_firm(options: dict[str, object]) -> None:
    """Refuse options that are about one plan, rather than leave them out without saying so.

    Parameters
    ----------
    options : dict of str to object
        Each with what was given; nothing where it was not.
    """
    _refuse(options, "for one plan only, not for a firm", "leave it out, or build the plan of the job")


def refuse_for_a_plan(options: dict[str, object]) -> None:
    """Refuse what only a firm file has, where one plan is named.

    Parameters
    ----------
    options : dict of str to object
        Each with what was given; nothing where it was not.
    """
    _refuse(options, "for a firm file only, not for one plan", "leave it out")


def _refuse(options: dict[str, object], why: str, remedy: str) -> None:
    from moveplan.errors import PlanFileError, Problem

    given = [name for name, value in options.items() if value]
    if given:
        raise PlanFileError((Problem(f"{', '.join(given)}: {why}", "", remedy),))


def accept(
    path: Path, settings: Settings, jobs: Sequence[str], reason: str, built: Path | None = None
) -> None:
    """Schedule a firm, and keep what that says of its jobs in their journals."""
    import typer

    from moveplan.cli.options import clear_progress
    from moveplan.firm.changes.accept import accepted
    from moveplan.firm.dispatch import outlook_of
    from moveplan.firm.file.reader import read_firm

    if built is not None:
        _told(read_firm(path), built / "result.json")
    outlook = outlook_of(path, settings, built=built / "result.json" if built else None)
    clear_progress()
    for one in accepted(outlook, jobs, reason):
        plan = outlook.firm.job(one.job).plan
        typer.echo(f"{one.job}: accepted for {one.sent.day}; what happens goes into moveplan record {plan}")


def build_firm(path: Path, folder: Path, settings: Settings, jobs: int) -> int:
    """Write all files of a firm, and print what was written; the exit status."""
    from moveplan.cli.options import clear_progress
    from moveplan.firm import written

    built = written.build(path, folder, settings, jobs=jobs)
    clear_progress()
    files = [file for file in built.files if file.parent == folder]
    _print("firm/built.txt.j2", built.outlook, {"files": files, "folder": folder, "stale": built.stale})
    return 0 if built.outlook.fits else 1


def show_firm(path: Path, settings: Settings, *, as_json: bool) -> int:
    """Print which job is when, and who goes; the exit status."""
    from moveplan.cli.options import clear_progress
    from moveplan.cli.terminal.findings import print_json
    from moveplan.firm.dispatch import outlook_of
    from moveplan.firm.papers.data import firm_data
    from moveplan.firm.quote import quotes_of

    outlook = outlook_of(path, settings)
    clear_progress()
    if as_json:
        print_json(firm_data(outlook, quotes_of(outlook)))
    else:
        _print("firm/show.txt.j2", outlook, {})
    return 0 if outlook.fits else 1


def check_firm(
    path: Path, now: datetime | None, others: Sequence[Path] = (), *, as_json: bool, quiet: bool
) -> int:
    """Read a firm file and the plans of its jobs, and print what is assumed; the exit status.

    Parameters
    ----------
    others : sequence of Path
        Firm files in which somebody of this firm may stand too.
    """
    from moveplan.cli.terminal.findings import print_json
    from moveplan.firm.checks.shared import Beside, double_booked, merely_named
    from moveplan.firm.day.roads import roads_of
    from moveplan.firm.file.reader import read_firm
    from moveplan.firm.jobs import composed_alone, read_jobs

    firm = read_firm(path, now)
    read = read_jobs(firm)
    plans = {job: one.plan for job, one in read.items()}
    own = Beside(firm, read)
    beside = [Beside(one, read_jobs(one)) for one in (read_firm(other, now) for other in others)]
    twice = [problem for other in beside for problem in double_booked(own, other)]
    named = [problem for other in beside for problem in merely_named(own, other)]
    wrong = [
        (job, problem)
        for job, plan in plans.items()
        for project in (composed_alone(plan),)
        for problem in (*project.impossible, *project.unsafe)
    ]
    assumed = (*roads_of(firm, plans).assumptions, *firm.assumptions)
    if as_json:
        print_json(_checked(firm, wrong, twice, named, assumed))
    elif wrong or twice or not quiet:
        values = {
            "firm": firm,
            "plans": plans,
            "wrong": wrong,
            "shared": (*twice, *(() if quiet else named)),
            "assumed": () if quiet else assumed,
        }
        show_text(_printing(firm).render("text", "firm/check.txt.j2", values))
    return 1 if wrong or twice else 0


def _checked(
    firm: Firm,
    wrong: list[tuple[str, Any]],
    twice: list[Problem],
    named: list[Problem],
    assumed: tuple[Any, ...],
) -> dict[str, Any]:
    from moveplan.outputs.data.result import problem_data

    return {
        "id": firm.id,
        "title": firm.title,
        "purpose": "firm",
        "problems": [
            *({"job": job, **problem_data(problem)} for job, problem in wrong),
            *map(problem_data, twice),
        ],
        "shared_people": [problem_data(problem) for problem in named],
        "assumptions": [{"key": one.key, "value": one.value, "why": one.why} for one in assumed],
        "jobs": [{"id": job.id, "plan": str(job.plan), "promised": job.promised} for job in firm.jobs],
    }


def _print(template: str, outlook: FirmOutlook, extra: dict[str, object]) -> None:
    from moveplan.firm.quote import quotes_of
    from moveplan.firm.words import reasons_of, status_of

    firm = outlook.firm
    quotes = quotes_of(outlook)
    values = {
        "firm": firm,
        "outlook": outlook,
        "answer": outlook.answer,
        "status": status_of(outlook),
        "reasons": reasons_of(outlook),
        "quotes": quotes,
        "plans": outlook.plans,
        "names": {one.id: one.name for one in firm.people} | {one.id: one.name for one in firm.vehicles},
    }
    show_text(_printing(firm).render("text", template, values | extra))


def _printing(firm: Firm) -> Any:
    from moveplan.firm.papers.printing import Printing

    return Printing(firm.zone, firm.locale, firm.currency)


def record(path: Path, kind: str, who: str, days: str, now: str, built: Path | None = None) -> None:
    """Write down that somebody or a vehicle of a firm is not there, or is there after all."""
    import typer

    from moveplan.cli.options import moment
    from moveplan.firm.changes.record import record as written
    from moveplan.firm.file.reader import read_firm
    from moveplan.journal.taking.known import days_in

    firm = read_firm(path, moment(now))
    first, last = days_in(days)
    told = None if built is None else _told(firm, built / "result.json")
    out = written(firm, kind, who, first, last)
    until = "" if out.first == out.last else f" to {out.last}"
    word = "not there" if kind == "out" else "there after all"
    typer.echo(
        f"{out.id}: {word} on {out.first}{until}; moveplan build {path} says what follows and whom to call"
    )
    if told is not None:
        _say_what_follows(firm, told)


def drove(path: Path, job: str, distance: str, now: str) -> None:
    """Write down how far was driven for a job of a firm."""
    import typer

    from moveplan.cli.options import moment
    from moveplan.firm.changes.kept import keep_km
    from moveplan.firm.file.reader import read_firm

    km = keep_km(read_firm(path, moment(now)), job, distance)
    typer.echo(f"{job}: {km:g} km; moveplan build {path} sets it against what was quoted")


def _told(firm: Firm, path: Path) -> Mapping[str, Any]:
    """Read what was built last, before anything is written down."""
    import json

    from moveplan.errors import PlanFileError, Problem
    from moveplan.firm.changes.morning import of_this_firm

    try:
        data = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError) as error:
        problem = Problem(
            f"it cannot be read: {error}", str(path), "build the firm first, and name that folder"
        )
        raise PlanFileError((problem,), str(path)) from None
    return of_this_firm(firm, data)


def _say_what_follows(firm: Firm, built: Mapping[str, Any]) -> None:
    from moveplan.firm.changes.morning import morning_of
    from moveplan.firm.changes.record import records_of

    names = {one.id: one.name for one in firm.people} | {one.id: one.name for one in firm.vehicles}
    values = {"morning": morning_of(firm, built, records_of(firm)), "names": names}
    show_text(_printing(firm).render("text", "firm/morning.txt.j2", values))


def new_firm(path: Path, title: str) -> None:
    """Write a firm file with all plans that lie beside it as its jobs."""
    import json

    import typer

    from moveplan.errors import PlanFileError, Problem
    from moveplan.files import write_files
    from moveplan.firm.file.starter import FirmStart, plans_beside
    from moveplan.outputs.wording.templates import environment

    plans = plans_beside(path)
    if not plans:
        message = "there is no plan file beside it, nor in the folder jobs"
        remedy = "write the first one with moveplan new jobs/first.yaml"
        raise PlanFileError((Problem(message, str(path), remedy),), str(path))
    start = FirmStart.of(plans, title)
    text = environment("text").get_template("firm/new.yaml.j2").render(start=start, quoted=json.dumps)
    write_files({path: text.encode()})
    typer.echo(
        f"{path} written with {len(plans)} job{'' if len(plans) == 1 else 's'}; its people, vehicles, gear and"
    )
    typer.echo(f"rates are invented: put your own, then try moveplan check {path}")
