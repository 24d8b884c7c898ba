"""How soon the crew's page gives its addresses, and how soon a record that is tapped on one phone is on another.

python -m tests.benchmarks.bench_crew
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from playwright.sync_api import sync_playwright

from tests.benchmarks.bench_process import ENVIRONMENT, ROOT
from tests.browser.conftest import ARGUMENTS, chromium
from tests.browser.house import House, moment
from tests.journal.replay import outlook_of

LONGEST_START_S, LONGEST_TAP_S = 1.0, 2.0
"""Bars by the clock, on a machine that does nothing else. [s]"""
TAPS = 9


def started(folder: Path) -> float:
    """Seconds from the command to its first address."""
    plan = folder / "small_tank_move.yaml"
    shutil.copy(ROOT / "examples" / plan.name, plan)
    command = [sys.executable, "-m", "moveplan"]
    accept = [*command, "record", str(plan), "accept", "--solver-seconds", "0.2"]
    subprocess.run(accept, cwd=ROOT, env=ENVIRONMENT, check=True, capture_output=True)
    took = []
    for _ in range(3):
        began = time.perf_counter()
        serving = subprocess.Popen(
            [*command, "crew", str(plan), "--port", "0"],
            cwd=ROOT,
            env=ENVIRONMENT | {"PYTHONUNBUFFERED": "1"},
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        assert serving.stdout is not None
        while not re.search("http://", serving.stdout.readline()):
            assert serving.poll() is None
        took.append(time.perf_counter() - began)
        serving.kill()
        serving.communicate()
    return median(took)


def tapped(folder: Path) -> float:
    """Seconds from a tap on one phone until it is seen on the other."""
    start = next(
        one.start for one in outlook_of("house_move").schedule.placements if one.task == "agree-plan"
    )
    house = House(folder, start + 60)
    house.start()
    took = []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=list(ARGUMENTS))
        one, other = (browser.new_context().new_page() for _ in range(2))
        for page, person in ((one, "ines"), (other, "tomas")):
            page.clock.install(time=moment(house.now))
            page.goto(house.address(person))
        waits = other.locator("#card-waits")
        for at in range(TAPS):
            began = time.perf_counter()
            one.get_by_role("button", name="Take back" if at % 2 else "Done").click()
            while bool(waits.inner_text()) != bool(at % 2):
                assert time.perf_counter() < began + 30
            took.append(time.perf_counter() - began)
        browser.close()
    house.stop()
    return median(took)


def main() -> int:
    """Measure both, print them, and fail where they take too long."""
    slow = 0
    for name, once, bar in (
        ("addresses", started, LONGEST_START_S),
        ("tap to the other phone", tapped, LONGEST_TAP_S),
    ):
        with tempfile.TemporaryDirectory() as folder:
            took = once(Path(folder))
        slow += took > bar
        sys.stdout.write(f"{name}: {took:.2f} s (bar {bar:.1f} s)\n")
    return min(slow, 1)


if __name__ == "__main__":
    sys.exit(main())
