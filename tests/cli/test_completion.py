"""Completion by the shell: commands, examples, and the tasks of a plan."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import CliRunner

from moveplan.cli.app import app
from tests.cli.command import ROOT

MAIN = "import sys; sys.argv[0] = 'moveplan'; from moveplan.cli.app import main; main()"


def typed(*words: str) -> dict[str, str]:
    """What bash tells of a line: all words so far, the last one begun."""
    return {
        "_MOVEPLAN_COMPLETE": "complete_bash",
        "COMP_WORDS": " ".join(("moveplan", *words)),
        "COMP_CWORD": str(len(words)),
    }


Completed = Callable[..., list[str]]
"""Takes words, and asks as bash does."""


@pytest.fixture
def completed(monkeypatch: pytest.MonkeyPatch) -> Completed:
    monkeypatch.chdir(ROOT)

    def _completed(*words: str) -> list[str]:
        ran = CliRunner().invoke(app, [], env=typed(*words), prog_name="moveplan")
        assert (ran.exit_code, ran.stderr) == (0, "")
        return ran.stdout.split()

    return _completed


def test_commands(completed: Completed) -> None:
    assert {"check", "build", "new", "schema"} <= set(completed(""))
    assert completed("sche") == ["schema"]


def test_a_process_of_its_own_completes_too() -> None:
    ran = subprocess.run(
        [sys.executable, "-c", MAIN],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), **typed("why", "examples/short_plan.yaml", "drain")},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert (ran.returncode, ran.stderr) == (0, "")
    found = ran.stdout.split()
    assert found
    assert all(task.startswith("drain") for task in found)


def test_examples(completed: Completed) -> None:
    assert completed("new", "--like", "house_move_w") == ["house_move_with_gap"]


@pytest.mark.parametrize("words", [("begin",), ("done",), ("drop",), ("--now", "2027-02-01", "done")])
def test_tasks_of_the_plan_to_log(completed: Completed, words: tuple[str, ...]) -> None:
    found = completed("log", "examples/short_plan.yaml", *words, "drain")
    assert found
    assert all(task.startswith("drain") for task in found)


@pytest.mark.parametrize(
    ("word", "begun", "found"),
    [("out", "", ["mara", "joel"]), ("met", "go", ["go-or-no-go"]), ("vehicle", "zz", [])],
)
def test_what_else_is_logged_by_its_id(completed: Completed, word: str, begun: str, found: list[str]) -> None:
    assert completed("log", "examples/short_plan.yaml", word, begun) == found


def test_groups_of_animals(completed: Completed) -> None:
    assert completed("log", "examples/short_plan.yaml", "lost", "")


@pytest.mark.parametrize("plan", ["nowhere.yaml", "README.md", "examples"])
def test_what_is_no_plan_has_no_tasks(completed: Completed, plan: str) -> None:
    assert completed("why", plan, "") == []


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish", "powershell"])
def test_completion_can_be_shown(shell: str) -> None:
    ran = subprocess.run(
        [sys.executable, "-c", f"import sys; sys.argv += ['--show-completion', '{shell}']; {MAIN}"],
        env={**os.environ, "PYTHONPATH": str(ROOT), "_TYPER_COMPLETE_TEST_DISABLE_SHELL_DETECTION": "1"},
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    assert "_MOVEPLAN_COMPLETE" in ran.stdout


def test_completion_is_installed_in_the_home_of_who_asks(tmp_path: Path) -> None:
    subprocess.run(
        [sys.executable, "-c", f"import sys; sys.argv += ['--install-completion', 'bash']; {MAIN}"],
        env={
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "HOME": str(tmp_path),
            "_TYPER_COMPLETE_TEST_DISABLE_SHELL_DETECTION": "1",
        },
        check=True,
        capture_output=True,
        timeout=60,
    )
    (script,) = (tmp_path / ".bash_completions").iterdir()
    assert "_MOVEPLAN_COMPLETE=complete_bash" in script.read_text("utf-8")
    assert str(script) in (tmp_path / ".bashrc").read_text("utf-8")
