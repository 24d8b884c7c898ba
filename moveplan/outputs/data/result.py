"""The outlook as data: ``result.json``, format 2."""

from __future__ import annotations

import json
import re
from typing import Any

from moveplan import __version__
from moveplan.errors import Problem
from moveplan.made_with import made_with
from moveplan.outputs.data.gear import gear_data
from moveplan.outputs.data.ledger import container_data, ledger_data, system_data
from moveplan.outputs.data.network import (
    holds_data,
    likely_data,
    links_data,
    milestone_data,
    people_data,
    place_data,
    solver_data,
    tasks_data,
    vehicle_data,
)
from moveplan.outputs.data.weighing import (
    cost_data,
    drift_data,
    livestock_data,
    loads_data,
    promise_data,
    risk_data,
    water_data,
)
from moveplan.outputs.outlook import Outlook
from moveplan.times import iso

FORMAT = 2
"""Version of ``result.json``; one more where a key changes its meaning or goes. [-]"""
_SPOT = re.compile(r"(?P<line>.+:\d+) (?P<key>\S+)")


def result_json(outlook: Outlook) -> bytes:
    """Write an outlook as the text of ``result.json``.

    Returns
    -------
    bytes
        UTF-8 with a trailing newline; the same outlook gives the same bytes.
    """
    text = json.dumps(result_data(outlook), ensure_ascii=False, allow_nan=False, indent=1)
    return f"{text}\n".encode("utf-8", "replace")


def result_data(outlook: Outlook) -> dict[str, Any]:
    """Give an outlook as plain data; what was not computed is absent.

    Returns
    -------
    dict of str to anything that JSON knows
        Keys in their lasting order.
    """
    parts = {**_head(outlook), **_found(outlook), **_means(outlook), **_plan(outlook), **_weighed(outlook)}
    return {key: value for key, value in parts.items() if value is not None}


def _head(outlook: Outlook) -> dict[str, Any]:
    plan = outlook.project.plan
    return {
        "format": FORMAT,
        "moveplan_version": __version__,
        "made_with": made_with(),
        "id": plan.id,
        "title": plan.title,
        "timezone": plan.zone.key,
        "now": iso(outlook.now, plan.zone),
        "purpose": plan.purpose,
        "way": outlook.project.way,
        "other_ways": list(outlook.ways),
        "status": outlook.verdict.value,
        "promise": promise_data(outlook),
    }


def _found(outlook: Outlook) -> dict[str, Any]:
    project = outlook.project
    return {
        "problems": [problem_data(problem) for problem in outlook.problems],
        "findings": [problem_data(problem) for problem in project.findings],
        "cautions": [
            {
                "id": caution.id,
                "text": caution.text,
                "source": caution.source,
                "tasks": [task.id for task in project.network.tasks if caution.id in task.cautions],
            }
            for caution in project.cautions
        ],
        "assumptions": [{"key": one.key, "value": one.value, "why": one.why} for one in project.assumptions],
    }


def _means(outlook: Outlook) -> dict[str, Any]:
    return {
        "places": place_data(outlook),
        "people": people_data(outlook),
        "vehicles": vehicle_data(outlook),
        "gear": gear_data(outlook),
        "gear_needed": [
            {"kind": kind, "needed": needed, "there": there}
            for kind, needed, there in outlook.project.gear_needed
        ],
    }


def _plan(outlook: Outlook) -> dict[str, Any]:
    return {
        "solver": solver_data(outlook),
        "milestones": milestone_data(outlook),
        "likely": likely_data(outlook),
        "tasks": tasks_data(outlook),
        "links": links_data(outlook),
        "holds": holds_data(outlook),
        "livestock": livestock_data(outlook),
        "systems": system_data(outlook),
        "containers": container_data(outlook),
        "ledger": ledger_data(outlook),
    }


def _weighed(outlook: Outlook) -> dict[str, Any]:
    return {
        "water": water_data(outlook),
        "loads": loads_data(outlook),
        "cost": cost_data(outlook),
        "risk": risk_data(outlook),
        "drift": drift_data(outlook),
    }


def problem_data(problem: Problem) -> dict[str, str]:
    """Give a problem as data, the key of the plan file apart from its line.

    Parameters
    ----------
    problem : Problem
        Anything that is wrong.

    Examples
    --------
    >>> problem_data(Problem("too late", "plan.yaml:31 dates.keys", "ask"))["where"]
    'plan.yaml:31'
    """
    spot = _SPOT.fullmatch(problem.where)
    where = {"where": spot["line"], "key": spot["key"]} if spot else {"where": problem.where}
    return {"message": problem.message, **where, "remedy": problem.remedy}
