"""What ``build`` writes, replaces, keeps and refuses to write."""

from __future__ import annotations

import json
import os
import signal
from collections.abc import Callable
from pathlib import Path

import pytest

from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.solve import solve
from moveplan.stages import scheduled
from tests.cli.command import FOOTBRIDGE, Run
from tests.cli.contract import faults

AS_OF = ("--now", "2027-02-01T08:00+00:00")
FILES = ["calendar.ics", "checklist.md", "index.html", "result.json", "summary.md", "tasks.csv"]
FOREIGN = (
    b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//somebody else//EN\r\nUID:not-ours\r\nEND:VCALENDAR\r\n"
)


@pytest.fixture
def plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    path = Path("plan.yaml")
    path.write_text(FOOTBRIDGE, encoding="utf-8")
    return path


def names(folder: Path) -> list[str]:
    """Names of all files, hidden ones too."""
    return sorted(file.name for file in folder.iterdir()) if folder.exists() else []


def test_the_files_are_named_in_the_order_of_reading(run: Run, plan: Path) -> None:
    ran = run("build", plan, "--out", "out/deep", *AS_OF)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == (
        "Footbridge: it can be done\n"
        "Planned for Monday 1 February 2027, 08:00 (Europe/Dublin); 3 tasks; no better schedule exists\n"
        '  5 things are assumed; "moveplan check" lists them\n'
        "\n"
        "  out/deep/index.html\n"
        "  out/deep/checklist.md\n"
        "  out/deep/summary.md\n"
        "  out/deep/result.json\n"
        "  out/deep/tasks.csv\n"
        "  out/deep/calendar.ics\n"
        "  calendar.ics: 3 new\n"
    )
    assert names(Path("out/deep")) == FILES


def test_the_same_again_changes_nothing(run: Run, plan: Path) -> None:
    run("build", plan, "--out", "out", *AS_OF)
    before = {name: (Path("out") / name).read_bytes() for name in FILES}
    ran = run("build", plan, "--out", "out", *AS_OF)
    assert ran.out.endswith("  calendar.ics: 3 unchanged\n")
    assert {name: (Path("out") / name).read_bytes() for name in FILES} == before


def test_a_folder_that_cannot_be_made(run: Run, plan: Path) -> None:
    Path("taken").write_text("a file", encoding="utf-8")
    ran = run("build", plan, "--out", "taken/out", *AS_OF)
    assert (ran.status, ran.out) == (3, "")
    assert ran.err == "taken is a file, not a folder; choose another name; nothing was written\n"
    assert Path("taken").read_text("utf-8") == "a file"
    assert names(Path()) == ["plan.yaml", "taken"]


def test_a_file_that_cannot_be_replaced_leaves_everything_as_it_was(run: Run, plan: Path) -> None:
    run("build", plan, "--out", "out", *AS_OF)
    before = {name: (Path("out") / name).read_bytes() for name in FILES if name != "summary.md"}
    Path("out/summary.md").unlink()
    Path("out/summary.md").mkdir()
    plan.write_text(FOOTBRIDGE.replace("3 h  ", "5 h  "), encoding="utf-8")
    ran = run("build", plan, "--out", "out", *AS_OF)
    assert (ran.status, ran.out) == (3, "")
    assert ran.err == (
        "out/summary.md is not a plain file; move it away or choose another folder; nothing was written\n"
    )
    assert {name: (Path("out") / name).read_bytes() for name in before} == before
    assert names(Path("out")) == FILES


@pytest.mark.parametrize(
    "content", [FOREIGN, b"not a calendar", b""], ids=["foreign", "no calendar", "empty"]
)
def test_a_calendar_that_is_not_this_plans_is_never_built_upon(run: Run, plan: Path, content: bytes) -> None:
    Path("out").mkdir()
    Path("out/calendar.ics").write_bytes(content)
    ran = run("build", plan, "--out", "out", *AS_OF)
    assert (ran.status, ran.out) == (3, "")
    assert ran.err.count("\n") == 1
    assert "calendar.ics" in ran.err or "calendar" in ran.err
    assert Path("out/calendar.ics").read_bytes() == content
    assert names(Path("out")) == ["calendar.ics"]


LATE = FOOTBRIDGE.replace("finish-by: 2027-03-05 17:00", "finish-by: 2027-03-02 10:00")


def test_what_cannot_be_done_keeps_the_old_calendar_and_names_it(run: Run, plan: Path) -> None:
    run("build", plan, "--out", "out", *AS_OF)
    calendar = Path("out/calendar.ics").read_bytes()
    plan.write_text(LATE, encoding="utf-8")
    ran = run("build", plan, "--out", "out", *AS_OF)
    assert (ran.status, ran.err) == (1, "")
    assert ran.out.startswith("Footbridge: it cannot be done as written\n")
    assert ran.out.endswith(
        "  out/calendar.ics is of an earlier build and out of date\n"
        "  out/tasks.csv is of an earlier build and out of date\n"
    )
    assert "rail" in ran.out
    assert Path("out/calendar.ics").read_bytes() == calendar
    data = json.loads(Path("out/result.json").read_text("utf-8"))
    assert (data["status"], data["solver"]["status"]) == ("cannot-be-done", "INFEASIBLE")
    assert faults(data) == []
    for name in ("index.html", "checklist.md", "summary.md"):
        assert "cannot be" in (Path("out") / name).read_text("utf-8").lower()


def test_what_cannot_be_done_writes_no_calendar(run: Run, plan: Path) -> None:
    plan.write_text(LATE, encoding="utf-8")
    ran = run("build", plan, "--out", "out", *AS_OF)
    assert ran.status == 1
    assert names(Path("out")) == [name for name in FILES if name not in ("calendar.ics", "tasks.csv")]


def struck(times: int) -> Callable[[SchedulingProblem, Effort], Schedule]:
    """Interrupt the program so many times while it begins to search."""

    def _solve(problem: SchedulingProblem, effort: Effort) -> Schedule:
        for _ in range(times):
            os.kill(os.getpid(), signal.SIGINT)
        return solve(problem, effort)

    return _solve


CROWDED = (
    "title: Crowded\npurpose: own-tasks\ntimezone: Europe/Dublin\nstart: 2027-03-01 08:00\n"
    "gear: [{id: pumps, count: 2}]\ntasks:\n"
    + "".join(
        f"  - {{id: t{n}, duration: {17 + 13 * n % 50} min, gear: {{pumps: {1 + n % 2}}}}}\n"
        for n in range(14)
    )
)


def test_the_first_interrupt_ends_the_search_and_writes_the_best_plan_found(
    run: Run, plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plan.write_text(CROWDED, encoding="utf-8")
    monkeypatch.setattr(scheduled, "solve", struck(1))
    ran = run("build", plan, "--out", "out", *AS_OF)
    assert ran.status == 0
    assert ran.err == "ending the search with the best plan found; interrupt again to stop at once\n"
    assert "The search was interrupted; this is the best plan found until then.\n" in ran.out
    assert names(Path("out")) == FILES
    assert "The search was interrupted" in Path("out/summary.md").read_text("utf-8")
    assert "The search was interrupted" in Path("out/index.html").read_text("utf-8")
    data = json.loads(Path("out/result.json").read_text("utf-8"))
    assert data["solver"]["interrupted"] is True
    assert faults(data) == []


def test_a_second_interrupt_writes_nothing(run: Run, plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(scheduled, "solve", struck(2))
    ran = run("build", plan, "--out", "out", *AS_OF)
    assert (ran.status, ran.out) == (130, "")
    assert ran.err == (
        "ending the search with the best plan found; interrupt again to stop at once\n"
        "interrupted; nothing was written\n"
    )
    assert names(Path()) == ["plan.yaml"]


def test_a_fault_of_the_program_is_one_line_and_never_passes_for_a_fault_of_the_plan(
    run: Run, plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(_problem: SchedulingProblem, _effort: Effort) -> Schedule:
        msg = "the sky fell"
        raise RuntimeError(msg)

    monkeypatch.setattr(scheduled, "solve", broken)
    monkeypatch.delenv("MOVEPLAN_DEBUG", raising=False)
    ran = run("build", plan, "--out", "out", *AS_OF)
    assert (ran.status, ran.out) == (70, "")
    assert ran.err == (
        "a fault in moveplan itself, not in your plan: RuntimeError: the sky fell. Set MOVEPLAN_DEBUG=1 and run "
        "again to see where; please tell whoever gave you the program.\n"
    )
    assert names(Path()) == ["plan.yaml"]
