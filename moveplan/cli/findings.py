"""What ``check`` shows, which needs nothing of schedules; and how JSON is printed."""

from __future__ import annotations

import json
from typing import Any

import typer

from moveplan.cli.paper import show_text
from moveplan.estimate import Estimate
from moveplan.outputs.documents import printer
from moveplan.outputs.facts import facts_of
from moveplan.outputs.water import choices_data, priced
from moveplan.practice.project import Project


def print_json(data: dict[str, Any]) -> None:
    """Print data, and nothing else, on standard output."""
    typer.echo(json.dumps(data, ensure_ascii=False, indent=2))


def print_check(project: Project, *, as_json: bool) -> None:
    """Print problems, cautions, quantities and assumptions."""
    if as_json:
        print_json(_check_data(project))
        return
    env = printer("text", facts_of(project))
    values = {"project": project, "plan": project.plan, "water_choices": priced(project)}
    text = env.get_template("terminal/check.txt.j2").render(values)
    show_text(text)


def _check_data(project: Project) -> dict[str, Any]:
    from moveplan.outputs.data import problem_data

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
