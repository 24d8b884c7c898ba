"""``python -m tests.mutation``: change the code a little, one change at a time, and list what no test notices.

Changes that are known to be noticed by no test stand in ``known.toml``, each with the reason; they are tried as all
others, and told apart. What is printed as new is to be killed by a test, or to be added there.

It works on a copy in a temporary folder. Each change is tried in a process that is forked from one in which the
libraries are loaded already. Meant to run for hours at night: ``nice -n 19 python -m tests.mutation science``.
"""

from __future__ import annotations

import argparse
import contextlib
import importlib
import os
import random
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Iterable, Sequence
from pathlib import Path

import pytest

from tests.mutation.known import reason
from tests.mutation.mutants import Mutant, mutants_of

ROOT = Path(__file__).parents[2]
TESTS = {
    "science": (
        "moveplan/science tests/science tests/reference/test_science_tables.py "
        "tests/reference/test_science_published_formulas.py tests/reference/test_science_pint.py "
        "tests/reference/test_science_scipy.py tests/reference/test_science_iapws.py "
        "tests/reference/test_science_pyco2sys.py tests/reference/test_heating_first_principles.py "
        "tests/reference/test_seawater_main_job.py tests/properties/test_science_balances.py "
        "tests/properties/test_science_no_nan.py tests/properties/test_science_transit.py"
    ),
    "network": (
        "moveplan/network tests/network tests/reference/test_critical_path.py "
        "tests/scheduling/test_critical.py tests/practice/test_own_tasks.py"
    ),
    "cost": "moveplan/cost tests/cost tests/properties/test_cost.py tests/outputs/documents/test_summary.py",
}
"""Tests of each package, the nearest first; the run of a mutant ends at the first that fails."""
LIBRARIES = "numpy gsw networkx scipy.integrate scipy.optimize pint iapws PyCO2SYS pydantic yaml jinja2 babel"
MOST_S = 180


def carried_out(folder: Path, tests: Sequence[str]) -> bool:
    """Run tests in a forked process; tell whether all of them pass."""
    child = os.fork()
    if child == 0:
        _run_and_leave(folder, tests)
    end = time.monotonic() + MOST_S
    while time.monotonic() < end:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return status == 0
        time.sleep(0.05)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return False


def _run_and_leave(folder: Path, tests: Sequence[str]) -> None:
    os.setsid()
    os.chdir(folder)
    for name in [name for name in sys.modules if name.partition(".")[0] in {"moveplan", "tests"}]:
        del sys.modules[name]  # the copy's are to be imported
    sys.path[0] = str(folder)
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, 1)
    os.dup2(nothing, 2)
    code = 3
    with contextlib.suppress(BaseException):
        code = int(pytest.main(["-x", "-q", "-p", "no:benchmark", *tests]))
    os._exit(code)


def drawn(package: str, sample: int, seed: int, only: str) -> list[Mutant]:
    """Draw as many mutants of each module of a package, or take all of them."""
    chosen: list[Mutant] = []
    for file in sorted((ROOT / "moveplan" / package).glob("*.py")):
        if only in file.name:
            every = list(mutants_of(str(file.relative_to(ROOT)), ROOT))
            draw = random.Random(f"{seed} {file.name}")
            chosen += sorted(
                draw.sample(every, min(sample or len(every), len(every))), key=lambda one: one.line
            )
    return chosen


def surviving(mutants: Iterable[Mutant], folder: Path, tests: Sequence[str]) -> list[Mutant]:
    """Try mutants; print and give those that no test notices."""
    left = []
    for one in mutants:
        file = folder / one.path
        sound = file.read_bytes()
        file.write_text(one.code, "utf-8")
        try:
            if carried_out(folder, tests):
                left.append(one)
                known = reason(one)
                why = f"  known: {known}" if known else "  new"
                _say(f"{one.path}:{one.line}: {one.before}  ->  {one.after}{why}")
        finally:
            file.write_bytes(sound)
    return left


def _say(text: str) -> None:
    sys.stdout.write(text.replace("\n", " ") + "\n")
    sys.stdout.flush()


def main() -> None:
    """Try the mutants of one package."""
    asked = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    asked.add_argument("package", choices=TESTS)
    asked.add_argument("--sample", type=int, default=0, help="mutants of each module; all of them without it")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--only", default="", help="part of the name of a module")
    options = asked.parse_args()
    tests = TESTS[options.package].split()
    for name in LIBRARIES.split():
        importlib.import_module(name)
    sys.dont_write_bytecode = True
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary) / "copy"
        shutil.copytree(ROOT, folder, ignore=shutil.ignore_patterns(".*", "out", "__pycache__"))
        begun = time.monotonic()
        if not carried_out(folder, tests):
            sys.exit("the tests fail before anything is changed")
        _say(f"the tests take {time.monotonic() - begun:.1f} s")
        mutants = drawn(options.package, options.sample, options.seed, options.only)
        left = surviving(mutants, folder, tests)
        new = sum(not reason(one) for one in left)
        _say(f"{len(mutants)} mutants tried, {len(left)} left alive, {new} of them new")


if __name__ == "__main__":
    main()
