"""How long the accounts of a house move take to close, and to be told: a few milliseconds."""

from __future__ import annotations

from time import perf_counter

from moveplan.door.accounts import accounts_close
from moveplan.planfile import read_plan
from moveplan.practice.comfort.warmth import warmth_of
from moveplan.practice.comfort.whereabouts import standings_of
from moveplan.practice.compose import project_of
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.solve import solve
from tests.cli.command import ROOT

MOST_S = {"audit": 0.02, "warmth": 0.25}
"""Bars for this machine and slower ones. [s]"""


def test_accounts_close_fast() -> None:
    project = project_of(read_plan(ROOT / "examples" / "house_move.yaml"))
    schedule = solve(project.scheduling, Effort(seconds=0.1, engine="serial"))
    standings = standings_of(project, schedule)
    found = {}
    for name, work in (
        ("audit", lambda: accounts_close(project, schedule)),
        ("warmth", lambda: warmth_of(project, standings)),
    ):
        work()
        begin = perf_counter()
        for _ in range(5):
            work()
        found[name] = (perf_counter() - begin) / 5
        print(f"{name}: {1000 * found[name]:.1f} ms")  # noqa: T201
    assert all(found[name] < most for name, most in MOST_S.items())
