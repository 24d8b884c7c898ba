"""A schedule that breaks a promise leaves by no command: each late stage of the search is broken on purpose."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from moveplan import __version__
from moveplan.door import door
from moveplan.errors import Fault
from moveplan.practice import compose
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.project import Project
from moveplan.practice.under_way import renew
from moveplan.practice.ways import moves
from moveplan.scheduling.exact import later, stages
from moveplan.scheduling.improve import result
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.model import Model
from tests.cli.command import ROOT, Ran, Run

MOVE = ROOT / "examples" / "small_tank_move.yaml"
LARGE = ROOT / "examples" / "house_move_with_gap.yaml"
"""Too large to be placed anew after the heart, which would mend what is broken there."""
QUICK = ("--solver-seconds", "0.05", "--runs", "0")
NO_RUNS = ("--solver-seconds", "0.05")
OWN = """\
id: bridge-1
title: Small bridge
purpose: own-tasks
timezone: Europe/Dublin
start: 2027-03-01 08:00
as-of: 2027-03-01 08:00
gear:
  - {id: pump, count: 1}
tasks:
  - {id: dig, duration: 4 h, gear: {pump: 1}}
  - {id: pour, duration: 6 h, after: [dig], gear: {pump: 1}}
  - {id: paint, duration: 3 h, after: [{task: pour, gap: 2 h, at-most: 1 day}]}
"""
Break = Callable[[Desk], None]


def _at(desk: Desk, name: str) -> int:
    return next(at for at, job in enumerate(desk.model.jobs) if job.task.id == name)


def _put(desk: Desk, name: str, start: int, crew: tuple[int, ...] | None = None) -> None:
    """Place a task elsewhere, whatever stands there."""
    position = _at(desk, name)
    spot = desk.take(position)
    by = start - spot.start
    crews = spot.crews if crew is None else (crew,)
    pieces = tuple((begin + by, end + by) for begin, end in spot.segments)
    desk.put(position, Spot(start, spot.finish + by, pieces, crews))


def _spot(desk: Desk, name: str) -> Spot:
    spot = desk.spots[_at(desk, name)]
    assert spot is not None
    return spot


def _release_before_catch(desk: Desk) -> None:
    _put(desk, "release-fish-nano-timid", _spot(desk, "catch-fish-nano").start - 60)


def _watch_after_the_next_look(desk: Desk) -> None:
    _put(desk, "watch-evening-display", _spot(desk, "watch-evening-display").start + 1440)


def _in_two_places(desk: Desk) -> None:
    """Let who loads the car at the old home put the tank up at the new one at the same time."""
    loading = _spot(desk, "load-tank-car")
    _put(desk, "place-tank-nano", loading.start, loading.crews[0])


def _watch_the_day_after(desk: Desk) -> None:
    _put(desk, "watch-evening-nano", _spot(desk, "watch-evening-nano").start + 1440)


def _breaking_found(monkeypatch: pytest.MonkeyPatch, module: Any, stage: str, spoil: Break) -> None:
    """Let a stage that rewrites the best schedule found leave it broken."""
    whole = getattr(module, stage)

    def broken(frame: Any, found: Any, *others: Any) -> Any:
        answer = whole(frame, found, *others)
        found.desk = found.desk.copied()
        spoil(found.desk)
        return answer

    monkeypatch.setattr(module, stage, broken)


def _breaking_desk(monkeypatch: pytest.MonkeyPatch, module: Any, stage: str, spoil: Break) -> None:
    """Let a stage that gives a schedule give a broken one."""
    whole = getattr(module, stage)

    def broken(*arguments: Any) -> Desk:
        desk: Desk = whole(*arguments).copied()
        spoil(desk)
        return desk

    monkeypatch.setattr(module, stage, broken)


def _moving(monkeypatch: pytest.MonkeyPatch, name: str, by: int) -> None:
    """Let a task leave the engine as placed some minutes later than it was."""
    whole = result.placement_of

    def broken(model: Model, position: int, spot: Spot) -> Placement:
        stands = whole(model, position, spot)
        return _later(stands, by) if stands.task == name else stands

    monkeypatch.setattr(result, "placement_of", broken)


def _later(stands: Placement, by: int) -> Placement:
    pieces = tuple(replace(one, start=one.start + by, finish=one.finish + by) for one in stands.segments)
    return replace(stands, start=stands.start + by, finish=stands.finish + by, segments=pieces)


def _files(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def _refused(ran: Ran, *codes: str) -> None:
    assert (ran.status, ran.out) == (1, ""), ran
    assert ran.err.startswith(
        "this is a fault in moveplan, nothing was written; please tell whoever gave you the program\n"
    )
    assert f"version {__version__}\n" in ran.err
    for code in codes:
        assert f"  {code}: " in ran.err


LATE_STAGES = {
    "heart": (_breaking_found, stages, "_heart", _watch_after_the_next_look, "too-soon-after"),
    "thrift": (_breaking_found, later, "cheaper_hands", _watch_after_the_next_look, "too-soon-after"),
    "even": (_breaking_found, later, "evened", _watch_the_day_after, "not-on-one-day"),
    "waits": (_breaking_found, later, "begin_waits", _in_two_places, "two-at-once"),
    "daybreak": (_breaking_desk, later, "begun_early", _release_before_catch, "too-soon-after"),
}


@pytest.mark.parametrize("stage", LATE_STAGES)
def test_what_a_late_stage_breaks_is_not_built(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stage: str
) -> None:
    breaking, module, name, spoil, code = LATE_STAGES[stage]
    breaking(monkeypatch, module, name, spoil)
    move = LARGE if spoil is _watch_after_the_next_look else MOVE
    _refused(run("build", move, "--out", tmp_path / "out", *QUICK), code)
    assert _files(tmp_path) == {}


def test_water_past_its_shelf_life_is_not_poured(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Filled in from cans 20 days after it was drawn and mixed: two days are borne, and 14 and three."""
    _moving(monkeypatch, "fill-tank-nano", 20 * 1440)
    ran = run("build", MOVE, "--out", tmp_path / "out", *QUICK)
    _refused(ran, "water-stale")
    assert "days old, it keeps for 17.0" in ran.err
    assert _files(tmp_path) == {}


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "bridge.yaml"
    path.write_text(OWN, encoding="utf-8")
    return path


COMMANDS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "build": (("build",), ("--out", "out", *QUICK)),
    "show": (("show",), QUICK),
    "show as data": (("show",), ("--json", *QUICK)),
    "why": (("why",), ("pour", *NO_RUNS)),
    "weigh": (("weigh",), QUICK),
    "log accept": (("log",), ("accept", *NO_RUNS)),
}


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_that_schedules_refuses(
    run: Run, plan: Path, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    """Two tasks use the one pump at the same time."""
    monkeypatch.chdir(plan.parent)
    before, after = COMMANDS[command]
    assert run("build", plan, "--out", "out", *QUICK).status == 0
    files = _files(plan.parent)
    _moving(monkeypatch, "pour", -120)
    ran = run(*before, plan, *after)
    _refused(ran, "not-enough-gear", "too-soon-after")
    assert "2 of pump are in use at 30064920, there are 1\n" in ran.err
    assert "    tasks: pour, dig; ids: -; values: -120, 0\n" in ran.err
    assert _files(plan.parent) == files


@pytest.mark.parametrize(
    ("stage", "takes", "code"),
    [
        ("_restored", "4 h", "not-enough-gear"),
        ("_with_fewest_changes", "5 h", "not-enough-gear"),
        ("_restored", "5 h", "not-enough-gear"),
        ("_shown", "4 h", "shown-elsewhere"),
    ],
)
def test_a_plan_under_way_refuses_too(
    run: Run, plan: Path, monkeypatch: pytest.MonkeyPatch, stage: str, takes: str, code: str
) -> None:
    """A schedule that still holds is kept; where digging takes longer than it did, what waits for it moves."""
    assert run("log", plan, "accept", *NO_RUNS).status == 0
    plan.write_text(OWN.replace("4 h", takes), encoding="utf-8")
    whole = getattr(renew, stage)

    def broken(*arguments: Any) -> Schedule:
        found: Schedule = whole(*arguments)
        moved = (_later(one, -120) if one.task == "pour" else one for one in found.placements)
        return replace(found, placements=tuple(moved))

    monkeypatch.setattr(renew, stage, broken)
    files = _files(plan.parent)
    _refused(run("build", plan, "--out", plan.parent / "out", *QUICK), code)
    _refused(run("log", plan, "accept", *NO_RUNS), code)
    assert _files(plan.parent) == files


def _without_pours() -> Any:
    """Forget what is poured into the tank from its containers."""
    whole = moves.compose

    def broken(move: Draft) -> Any:
        answer = whole(move)
        move.pours = [pour for pour in move.pours if not pour.task.startswith("fill-tank")]
        return answer

    return broken


def _twice_in_use() -> Any:
    """Use a bag again while it is in use: bags are not counted, as tubs are before anything is dated."""
    whole = moves.compose

    def broken(move: Draft) -> Any:
        answer = whole(move)
        move.uses.append(next(one for one in move.uses if one.vessel.kind == "bag"))
        return answer

    return broken


@pytest.mark.parametrize(
    ("spoil", "code"), [(_without_pours, "tank-not-as-planned"), (_twice_in_use, "container-twice")]
)
def test_a_ledger_that_does_not_close_is_not_built(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, spoil: Any, code: str
) -> None:
    monkeypatch.setattr(compose, "compose", spoil())
    _refused(run("build", MOVE, "--out", tmp_path / "out", *QUICK), code)
    assert _files(tmp_path) == {}


def test_a_further_checker_has_its_say_with_and_without_words(
    run: Run, plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def leaks(project: Project, schedule: Schedule) -> tuple[Fault, ...]:
        return (Fault("water-lost", (project.plan.id,), (1.5, schedule.makespan_min)),)

    monkeypatch.setattr(door, "CHECKERS", (*door.CHECKERS, leaks))
    ran = run("show", plan, *QUICK)
    _refused(ran, "water-lost")
    assert "    tasks: -; ids: bridge-1; values: 1.5, 900\n" in ran.err


def test_many_faults_are_counted(run: Run, plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    many = tuple(Fault("stretches-overlap", tasks=(f"t{number}",)) for number in range(20))
    monkeypatch.setattr(door, "CHECKERS", (lambda _project, _schedule: many,))
    ran = run("show", plan, *QUICK)
    assert ran.err.count("overlap") == 24  # the code and its words, twelve times
    assert ran.err.endswith("\n  and 8 more\n")
