"""Folders that cannot be written, and a kill at any moment: nothing half-written, no record lost."""

from __future__ import annotations

import os
import random
import resource
import subprocess
import sys
import time
from pathlib import Path

import pytest

from moveplan.journal.file.store import read_journal
from moveplan.journal.records import Note
from tests.properties.hostile import CASES

ROOT = Path(__file__).parents[2]
PLAN = """\
title: Footbridge
purpose: own-tasks
timezone: Europe/Dublin
start: 2027-03-01 08:00
as-of: 2027-01-04 09:00
id: footbridge
tasks: [{id: footing, duration: 3 h}, {id: deck, duration: 1 day, after: footing}]
"""
"""A plan that is built in little time; it has the same files as any other but a shopping list."""
QUICK = ("--solver-seconds", "0.1", "--runs", "0")
NAMES = ("calendar.ics", "checklist.md", "index.html", "result.json", "summary.md", "tasks.csv")
KILLS = max(6, CASES // 1000)


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("plan") / "plan.yaml"
    file.write_text(PLAN, "utf-8")
    return file


def environment() -> dict[str, str]:
    return dict(os.environ) | {"PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"}


def build(plan: Path, out: Path, most_bytes: int | None = None) -> tuple[int, str]:
    """Build a plan in a process of its own, whose files may not grow beyond a size."""

    def limited() -> None:
        if most_bytes is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, most_bytes))

    ran = subprocess.run(
        [sys.executable, "-m", "moveplan", "build", str(plan), "--out", str(out), *QUICK],
        env=environment(),
        preexec_fn=limited,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert "Traceback" not in ran.stderr
    return ran.returncode, ran.stderr


def held(folder: Path) -> dict[str, bytes]:
    return {file.name: file.read_bytes() for file in sorted(folder.iterdir())}


def held_names(folder: Path) -> list[str]:
    return sorted(file.name for file in folder.iterdir())


@pytest.fixture(scope="module")
def built(plan: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    folder = tmp_path_factory.mktemp("built") / "out"
    assert build(plan, folder)[0] == 0
    return held(folder)


@pytest.mark.parametrize("most_bytes", [0, 4096])
def test_a_full_disk(plan: Path, tmp_path: Path, built: dict[str, bytes], most_bytes: int) -> None:
    out = tmp_path / "out"
    status, said = build(plan, out, most_bytes)
    assert status == 3
    assert "cannot be written: file too large; nothing was written" in said
    assert not out.exists()
    out.mkdir()
    for name, content in built.items():
        (out / name).write_bytes(content if name == "calendar.ics" else b"of an earlier build")
    before = held(out)
    assert build(plan, out, most_bytes)[0] == 3
    assert held(out) == before


def test_a_device_that_is_full(plan: Path, tmp_path: Path) -> None:
    status, said = build(plan, Path("/dev/full/out"))
    assert status == 3
    assert "/dev/full" in said


def test_things_in_the_way(plan: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine", "utf-8")
    assert build(plan, tmp_path / "file")[0] == 3
    assert build(plan, tmp_path / "file" / "out")[0] == 3
    for number, name in enumerate(NAMES if CASES else NAMES[:1]):
        out = tmp_path / str(number)
        (out / name).mkdir(parents=True)
        status, said = build(plan, out)
        assert status == 3
        assert name in said
        assert held_names(out) == [name]


def test_symbolic_links_are_not_followed(plan: Path, tmp_path: Path) -> None:
    (tmp_path / "mine").write_text("mine", "utf-8")
    out = tmp_path / "out"
    out.mkdir()
    (out / "index.html").symlink_to(tmp_path / "mine")
    status, said = build(plan, out)
    assert status == 3
    assert "index.html is a symbolic link" in said
    assert (tmp_path / "mine").read_text("utf-8") == "mine"
    assert held_names(out) == ["index.html"]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_no_permission(plan: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir(mode=0o555)
    assert build(plan, out)[0] == 3
    assert held_names(out) == []


# --- killed at any moment -------------------------------------------------------------------------------

WRITER = """
import sys
from pathlib import Path
from moveplan.files import write_files
folder = Path(sys.argv[1])
print("ready")
for turn in range(10**9):
    write_files({folder / f"{name}.txt": f"{turn}\\n".encode() * 20_000 for name in "abcd"})
"""
KEEPER = """
import sys
from pathlib import Path
from moveplan.journal.records import Note
from moveplan.journal.file.store import append
print("ready")
for turn in range(10**9):
    append(Path(sys.argv[1]), "reef-1", lambda journal: [(Note(at=30_000_000 + turn, text=f"turn {turn}"), "")])
    print(turn)
"""


def killed(code: str, argument: Path, after_s: float) -> list[str]:
    """Run code and kill it some time after it began; the lines it had printed."""
    child = subprocess.Popen(
        [sys.executable, "-c", code, str(argument)], env=environment(), stdout=subprocess.PIPE, text=True
    )
    assert child.stdout is not None
    assert child.stdout.readline() == "ready\n"
    time.sleep(after_s)
    child.kill()
    lines = child.stdout.read().splitlines()
    child.wait()
    child.stdout.close()
    return lines


def test_a_killed_writer_leaves_whole_files(tmp_path: Path) -> None:
    draw = random.Random(CASES)
    for _kill in range(KILLS):
        killed(WRITER, tmp_path, draw.uniform(0.0, 0.25))
        for file in tmp_path.glob("*.txt"):
            lines = file.read_text("utf-8").splitlines()
            assert len(lines) == 20_000
            assert len(set(lines)) == 1


def test_a_killed_build_leaves_whole_files(plan: Path, tmp_path: Path, built: dict[str, bytes]) -> None:
    draw = random.Random(CASES)
    command = [sys.executable, "-m", "moveplan", "build", str(plan), "--out", str(tmp_path), *QUICK]
    for _kill in range(KILLS // 3):
        child = subprocess.Popen(
            command, env=environment(), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        time.sleep(draw.uniform(0.3, 1.5))
        child.kill()
        child.wait()
        for name, content in held(tmp_path).items():
            assert name.startswith(".moveplan-") or content == built[name]


def test_a_killed_journal_loses_no_record_it_had_told_of(tmp_path: Path) -> None:
    draw = random.Random(CASES)
    for kill in range(KILLS):
        plan = tmp_path / f"{kill}.yaml"
        told = killed(KEEPER, plan, draw.uniform(0.0, 0.3))
        if not told:
            continue
        journal = read_journal(plan, "reef-1")
        texts = [entry.record.text for entry in journal.entries if isinstance(entry.record, Note)]
        assert texts[: len(told)] == [f"turn {turn}" for turn in told]
        assert len(texts) <= len(told) + 1
