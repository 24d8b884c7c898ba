"""``python -m tests.properties.every_key``: each hostile value at each key of each example, through ``check``.

All of it takes hours in one process; ``--seconds`` ends it earlier, and ``--from`` goes on where it ended. The first
cases hold each value at each kind of key once (a tank's length, whatever the tank), the later ones the same kinds in
other places and other examples. ``--deletions`` only takes keys out, one at a time. ``--builds 300`` takes so many
through ``build`` as well, mostly with values from the ends of what a key takes, each in a process of its own.

A case is a fault where it ends otherwise than ``check`` may, takes more than ten seconds of computing on a usual
machine (bounds.py), or more than a gibibyte; its plan is left in the folder ``--keep``.
"""

from __future__ import annotations

import argparse
import os
import random
import resource
import signal
import sys
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from types import FrameType
from typing import Any

import yaml

from moveplan.planfile.shapes import field_at
from tests.properties.bounds import MOST_KIB, most_s
from tests.properties.hostile import (
    CONTENTS,
    DELETE,
    EXAMPLES,
    VALUES,
    Place,
    changed,
    check,
    extremes,
    places_in,
    written,
)

QUICK = ("--solver-seconds", "0.2", "--runs", "0", "--now", "2027-01-04T09:00")


@dataclass(frozen=True, slots=True)
class Case:
    """An example with one value in place of another."""

    example: int
    place: Place
    value: Any

    def __str__(self) -> str:
        value = "taken out" if self.value is DELETE else repr(self.value)
        return f"{EXAMPLES[self.example].stem} {'.'.join(map(str, self.place))}: {value[:80]}"

    def content(self) -> bytes:
        trial = changed(CONTENTS[self.example], self.place, self.value)
        try:
            text: str = yaml.dump(trial, allow_unicode=True, sort_keys=False, width=1000, Dumper=_DUMPER)
            return text.encode()
        except UnicodeEncodeError:
            return written(trial)


_DUMPER: Any = getattr(yaml, "CSafeDumper", yaml.SafeDumper)


class TooLongError(Exception):
    """A case has taken all the computing it may take."""


def kind(place: Place) -> Place:
    """Give the kind of a key: names of the keeper and positions of lists are left out."""
    return tuple(
        step if isinstance(step, str) and field_at(place[: at + 1]) else "*" for at, step in enumerate(place)
    )


def cases(deletions: bool) -> list[Case]:
    """All cases, those first that hold a value at a kind of key at which it was not yet."""
    values = [DELETE] if deletions else VALUES
    rounds: Counter[tuple[Place, int]] = Counter()
    found: list[tuple[int, Case]] = []
    spots = [(number, place) for number, content in enumerate(CONTENTS) for place in places_in(content)]
    random.Random(0).shuffle(spots)
    for number, place in spots:
        sort = kind(place)
        for at, value in enumerate(values):
            rounds[sort, at] += 1
            found.append((rounds[sort, at], Case(number, place, value)))
    return [case for _, case in sorted(found, key=lambda one: one[0])]


def at_the_ends(count: int) -> Iterator[Case]:
    """Draw cases most of which can be read: values from the ends of what a key takes."""
    draw = random.Random(count)
    spots = [(number, place) for number, content in enumerate(CONTENTS) for place in places_in(content)]
    for _ in range(count):
        number, place = draw.choice(spots)
        yield Case(number, place, draw.choice(draw.choice([extremes(place)] * 3 + [VALUES])))


def tried(case: Case) -> int:
    """Check a case in this process; the exit status."""

    def over(_signal: int, _frame: FrameType | None) -> None:
        raise TooLongError(f"more than {most_s():.3g} s of computing")

    peak_kib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    before = signal.signal(signal.SIGPROF, over)
    signal.setitimer(signal.ITIMER_PROF, most_s())
    try:
        status = check(case.content())
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)
    if resource.getrusage(resource.RUSAGE_SELF).ru_maxrss > max(MOST_KIB, peak_kib):
        raise MemoryError("more than a gibibyte")
    return status


def built(case: Case) -> int:
    """Build a case in a forked process; the exit status."""
    with TemporaryDirectory() as temporary:
        folder = Path(temporary)
        (folder / "plan.yaml").write_bytes(case.content())
        child = os.fork()
        if child == 0:
            _build_and_leave(folder)
        _pid, ended, used = os.wait4(child, 0)
        said = (folder / "said").read_text("utf-8")
        status = os.waitstatus_to_exitcode(ended)
        assert status in {0, 1, 2}, f"exit status {status}: {said[-3000:]}"
        assert "Traceback" not in said, said[-3000:]
        assert said.strip()
        assert used.ru_utime + used.ru_stime < most_s(), "too much computing"
        assert used.ru_maxrss < MOST_KIB, "too much memory"
        assert (folder / "out").exists() is (status != 2)
    return status


def _build_and_leave(folder: Path) -> None:
    from moveplan.cli.app import main

    os.chdir(folder)
    said = os.open("said", os.O_WRONLY | os.O_CREAT)
    os.dup2(said, 1)
    os.dup2(said, 2)
    os.environ["MOVEPLAN_DEBUG"] = "1"
    sys.argv = ["moveplan", "build", "plan.yaml", "--out", "out", *QUICK]
    code: Any = 0
    try:
        main()
    except SystemExit as end:
        code = end.code or 0
    except BaseException:
        traceback.print_exc()
        code = 99
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(code)


def campaign(
    todo: list[Case], attempt: Callable[[Case], int], seconds: float, keep: Path
) -> tuple[Counter[int], int]:
    """Try cases until the time is over; how often each status came, and how many were faults."""
    end = time.monotonic() + seconds
    statuses: Counter[int] = Counter()
    faults = 0
    for number, case in enumerate(todo):
        if time.monotonic() > end:
            break
        try:
            statuses[attempt(case)] += 1
        except Exception:
            faults += 1
            keep.mkdir(parents=True, exist_ok=True)
            (keep / f"fault{faults}.yaml").write_bytes(case.content())
            _say(f"fault {faults} at case {number}: {case}\n{traceback.format_exc()}")
        if number % 1000 == 999:
            _say(f"{number + 1} of {len(todo)}: {dict(sorted(statuses.items()))}, {faults} faults")
    return statuses, faults


def _say(text: str) -> None:
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


def main() -> None:
    """Try all cases, or as many as there is time for."""
    asked = argparse.ArgumentParser(prog="python -m tests.properties.every_key", description=__doc__)
    asked.add_argument("--seconds", type=float, default=float("inf"), help="end after so long")
    asked.add_argument("--from", type=int, default=0, dest="first", help="leave out so many cases")
    asked.add_argument("--deletions", action="store_true", help="only take keys out")
    asked.add_argument("--builds", type=int, default=0, help="take so many cases through build instead")
    asked.add_argument("--keep", type=Path, default=Path("out/faults"), help="folder of plans at fault")
    options = asked.parse_args()
    if options.builds:
        todo, attempt = list(at_the_ends(options.builds)), built
    else:
        todo, attempt = cases(options.deletions), tried
    todo = todo[options.first :]
    statuses, faults = campaign(todo, attempt, options.seconds, options.keep)
    count = sum(statuses.values()) + faults
    _say(f"{count} of {len(todo)} cases: {dict(sorted(statuses.items()))}, {faults} faults")
    sys.exit(bool(faults))


if __name__ == "__main__":
    main()
