"""Job-shop instances with published optima: ft06 = 55, la01 = 666, ft10 = 930 (papers beside the figures).

Written as plans of somebody's own tasks: a machine is gear of which there is one, the steps of a job wait for
each other.
"""

from __future__ import annotations

import json
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from moveplan.cli.app import app
from moveplan.estimate import exactly
from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Task
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import Gear, SchedulingProblem
from moveplan.scheduling.schedule import Engine, Status
from moveplan.scheduling.solve import solve
from moveplan.scheduling.verify import verify

DATA = tomllib.loads((Path(__file__).parent / "data" / "job_shop.toml").read_text(encoding="utf-8"))
SECONDS = {"ft06": 2.0, "la01": 2.0, "ft10": 4.0}
"""Effort with which each is solved to its optimum."""


def steps(name: str) -> list[list[tuple[int, int]]]:
    """Machine and minutes of each step of each job."""
    return [
        [(int(machine), int(minutes)) for machine, minutes in (step.split(":") for step in job.split())]
        for job in DATA[name]["jobs"]
    ]


def problem_of(name: str) -> SchedulingProblem:
    jobs = steps(name)
    tasks = [
        Task(
            id=f"j{j}-{s}",
            title=f"j{j}-{s}",
            estimate=exactly(minutes, "min", "published"),
            gear=((f"m{machine}", 1),),
        )
        for j, job in enumerate(jobs)
        for s, (machine, minutes) in enumerate(job)
    ]
    links = [Link(f"j{j}-{s - 1}", f"j{j}-{s}") for j, job in enumerate(jobs) for s in range(1, len(job))]
    gear = tuple(Gear(f"m{m}", f"m{m}", 1) for m in sorted({m for job in jobs for m, _ in job}))
    horizon = sum(minutes for job in jobs for _, minutes in job)
    return SchedulingProblem(Network(tuple(tasks), tuple(links)), 0, horizon, gear=gear)


def plan_of(name: str) -> str:
    """The same as a plan file."""
    jobs = steps(name)
    machines = sorted({machine for job in jobs for machine, _ in job})
    lines = [f"title: {name}", "purpose: own-tasks", "timezone: UTC", "start: 2027-03-01 08:00", "gear:"]
    lines += [f"  - {{id: m{machine}, count: 1}}" for machine in machines]
    lines.append("tasks:")
    for j, job in enumerate(jobs):
        for s, (machine, minutes) in enumerate(job):
            after = f", after: [j{j}-{s - 1}]" if s else ""
            lines.append(f"  - {{id: j{j}-{s}, duration: {minutes} min, gear: {{m{machine}: 1}}{after}}}")
    return "\n".join(lines) + "\n"


def _busiest_min(name: str) -> int:
    """Minutes of work of the busiest machine: nothing ends earlier. 666 of la01, its optimum."""
    minutes: Counter[int] = Counter()
    for job in steps(name):
        for machine, took in job:
            minutes[machine] += took
    return max(minutes.values())


@pytest.mark.parametrize("name", ["ft06", "la01", "ft10"])
def test_the_published_optimum_is_found_and_proven(name: str) -> None:
    problem = problem_of(name)
    found = solve(problem, Effort(seconds=SECONDS[name]))
    assert verify(problem, found) == ()
    assert found.status is Status.OPTIMAL
    if _busiest_min(name) < DATA[name]["optimum_min"]:
        assert found.engine is Engine.EXACT, "only the solver proves what no machine alone does"
    assert found.makespan_min == found.bound_min == DATA[name]["optimum_min"]


@pytest.mark.parametrize("name", ["ft06", "la01"])
def test_the_serial_engine_alone_comes_near(name: str) -> None:
    problem = problem_of(name)
    found = solve(problem, Effort(seconds=0.5, engine="serial"))
    assert verify(problem, found) == ()
    assert DATA[name]["optimum_min"] <= found.makespan_min <= 1.15 * DATA[name]["optimum_min"]
    assert found.bound_min <= DATA[name]["optimum_min"]


def test_a_plan_file_is_solved_to_the_optimum_by_the_command(tmp_path: Path) -> None:
    plan = tmp_path / "ft06.yaml"
    plan.write_text(plan_of("ft06"), encoding="utf-8")
    ran = CliRunner().invoke(app, ["build", str(plan), "--out", str(tmp_path / "out"), "--runs", "0"])
    assert ran.exit_code == 0, ran.output
    result: dict[str, Any] = json.loads((tmp_path / "out" / "result.json").read_text(encoding="utf-8"))
    assert result["solver"]["status"] == "OPTIMAL"
    assert result["solver"]["makespan_minutes"] == result["solver"]["bound_minutes"] == 55
