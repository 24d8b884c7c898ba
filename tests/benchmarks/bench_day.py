"""How long it takes to say what is next in the middle of a day, and which ways there are when something fails.

python -m tests.benchmarks.bench_day
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from statistics import median

from moveplan.journal.now.failure import Failed
from moveplan.journal.now.next_up import next_up
from moveplan.journal.records import Entry
from moveplan.journal.rest.promised import promise_ahead
from moveplan.journal.state import JournalState, state_of
from moveplan.pipeline import judge
from moveplan.stages.reading import Settings
from tests.examples import scheduled
from tests.journal.replay import Replay

LONGEST_S = {"forecast": 0.05, "promise": 0.05, "ways on": 1.0}
"""Bars for one asking on a machine that does nothing else. [s]"""
ASKED = 9


def main() -> int:
    """Measure the processor's time, print it, and fail where it takes too long."""
    replay = Replay(judge(*scheduled("house_move"), Settings()), (1.0, 1.3), seed=3)
    loaded = next(task.start for task in replay.snapshot.tasks if task.id == "load-animals-van")
    for now in replay.moments():
        if now >= loaded:
            break
    entries = [Entry(line, record) for line, record in enumerate(replay.records, start=1)]
    van = Failed(at=now, what="vehicle", name="van")
    states = {
        "forecast": state_of(entries),
        "promise": state_of(entries),
        "ways on": state_of([*entries, Entry(len(entries) + 1, van)]),
    }
    slow = 0
    for name, state in states.items():
        took = _asked(promise_ahead if name == "promise" else next_up, replay, state, now)
        slow += took > LONGEST_S[name]
        sys.stdout.write(f"{name}: {1000 * took:.1f} ms (bar {1000 * LONGEST_S[name]:.0f} ms)\n")
    return min(slow, 1)


def _asked(ask: Callable[..., object], replay: Replay, state: JournalState, now: int) -> float:
    took = []
    for _ in range(ASKED):
        began = time.process_time()
        ask(replay.snapshot, state, now)
        took.append(time.process_time() - began)
    return median(took)


if __name__ == "__main__":
    sys.exit(main())
