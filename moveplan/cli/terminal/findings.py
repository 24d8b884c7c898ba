"""What ``check`` shows, which needs nothing of schedules; and how JSON is printed."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

import typer

from moveplan.cli.terminal.paper import show_text
from moveplan.errors import PlanFileError
from moveplan.estimate import Estimate
from moveplan.outputs.water import choices_data, priced
from moveplan.outputs.wording.documents import printer
from moveplan.outputs.wording.facts import facts_of
from moveplan.practice.project import Project


def print_json(data: dict[str, Any] | list[dict[str, Any]]) -> None:
    """Print data, and nothing else, on standard output."""
    typer.echo(json.dumps(data, ensure_ascii=False, indent=2))


def print_checks(
    projects: Sequence[Project],
    *,
    as_json: bool,
    quiet: bool = False,
    unread: Sequence[PlanFileError] = (),
) -> None:
    """Print problems, cautions, quantities and assumptions of each plan.

    Parameters
    ----------
    projects : sequence of Project
        Those that could be read.
    as_json : bool
        As data: one object, or a list of them where there are several plans.
    quiet : bool
        Only what is wrong.
    unread : sequence of PlanFileError
        What is wrong with plans that could not be read, for the data; for people it is told as an error.
    """
    if as_json:
        data = [_check_data(project) for project in projects] + [_unread_data(error) for error in unread]
        print_json(data[0] if len(data) == 1 else data)
        return
    texts = (_check_text(project, quiet=quiet) for project in projects)
    show_text("\n".join(text for text in texts if text.strip()))


def _unread_data(error: PlanFileError) -> dict[str, Any]:
    from moveplan.outputs.data.result import problem_data

    return {"file": error.file_name, "problems": [problem_data(problem) for problem in error.problems]}


def _check_text(project: Project, *, quiet: bool) -> str:
    env = printer("text", facts_of(project))
    values = {"project": project, "plan": project.plan, "water_choices": priced(project), "quiet": quiet}
    return env.get_template("terminal/check.txt.j2").render(values)


def _check_data(project: Project) -> dict[str, Any]:
    from moveplan.outputs.data.result import problem_data

    plan = project.plan
    return {
        "id": plan.id,
        "title": plan.title,
        "purpose": plan.purpose,
        "problems": [problem_data(problem) for problem in (*project.impossible, *project.unsafe)],
        "findings": [problem_data(problem) for problem in project.findings],
        "cautions": [{"id": one.id, "text": one.text, "source": one.source} for one in project.cautions],
        "assumptions": [{"key": one.key, "value": one.value, "why": one.why} for one in project.assumptions],
        "quantities": [{"name": name, **estimate_data(value)} for name, value in project.quantities],
        "water_choices": choices_data(project),
    }


def estimate_data(value: Estimate) -> dict[str, Any]:
    """Give an estimate as data, with what it was computed from."""
    data: dict[str, Any] = {
        "low": value.low,
        "likely": value.likely,
        "high": value.high,
        "unit": value.unit,
        "basis": value.basis,
        "provenance": str(value.provenance),
        "source": value.source,
    }
    if value.inputs:
        data["inputs"] = [{"name": name, **estimate_data(one)} for name, one in value.inputs]
    return data
