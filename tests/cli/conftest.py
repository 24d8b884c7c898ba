"""Runs the command line: in this process for most tests, in processes of their own where that matters."""

from __future__ import annotations

import json
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from pathlib import Path

import pytest

from moveplan.cli.app import main
from tests.cli.command import QUICK, ROOT, Ran, Run, Twice, ended, process
from tests.ledger.checker import ledger_faults


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Iterator[Run]:
    """Run ``moveplan`` with arguments; the handler of interrupts is put back afterwards."""
    before = signal.getsignal(signal.SIGINT)

    def _run(*arguments: str | Path) -> Ran:
        monkeypatch.setattr(sys, "argv", ["moveplan", *map(str, arguments)])
        capsys.readouterr()
        status = 0
        try:
            main()
        except SystemExit as end:
            status = int(end.code or 0)
        printed = capsys.readouterr()
        assert "Traceback" not in printed.err
        if arguments[0] == "build" and status in (0, 1):
            _close_accounts(arguments)
        return Ran(status, printed.out, printed.err)

    yield _run
    signal.signal(signal.SIGINT, before)


def _close_accounts(arguments: Sequence[str | Path]) -> None:
    """Whatever a test builds: its accounts close."""
    for out in (Path(folder) for option, folder in pairwise(arguments) if option == "--out"):
        written = out / "result.json"
        if written.is_file():
            assert ledger_faults(json.loads(written.read_text("utf-8"))) == []


@pytest.fixture(scope="session")
def twice(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Path], Twice]:
    """Build an example twice, once in a session."""
    kept: dict[Path, Twice] = {}

    def _twice(plan: Path) -> Twice:
        if plan not in kept:
            folders = tuple(tmp_path_factory.mktemp(plan.stem) / "plan" for _ in range(2))
            relative = plan.relative_to(ROOT)
            started = [
                process("build", relative, "--out", folder, *QUICK, hash_seed=seed)
                for folder, seed in zip(folders, ("1", "987"), strict=True)
            ]
            first, second = (ended(one) for one in started)
            kept[plan] = Twice(plan, folders[0], folders[1], (first, second))
        return kept[plan]

    return _twice
