"""How long a calendar of a thousand events takes, the first and one over an earlier one; bar one second of processor.

Run: ``pytest tests/benchmarks/bench_calendar.py -q -s``; or ``python -m tests.benchmarks.bench_calendar``.
"""

from __future__ import annotations

import time

from moveplan.network.link import Link
from moveplan.outputs.calendar.export import CalendarExport
from moveplan.outputs.outlook import Outlook
from tests.outputs.calendar.scene import DAY, export, item, outlook

EVENTS = 1000
BAR_S = 1.0


def large(shift_min: int = 0, verb: str = "fill") -> Outlook:
    steps = tuple(f"Step {n}: {verb} the tub to 60 l, salt to 35 psu; heat to 25 °C" for n in range(6))
    first = item("task-0", "2027-03-01 08:00", 60).stretches[0].start + shift_min
    rows = [
        item(
            f"task-{n}", first + n * 90, 60, people=("ines", "tom"), place="mill", steps=steps, phase="Water"
        )
        for n in range(EVENTS)
    ]
    links = tuple(Link(f"task-{n}", f"task-{n + 1}", min_gap_min=30) for n in range(EVENTS - 1))
    return outlook(rows, links=links)


def timed(seen: Outlook, previous: CalendarExport | None) -> tuple[float, CalendarExport]:
    """The best of five: what the program takes, not what its neighbours on the machine take."""
    best = float("inf")
    for _ in range(5):
        begin = time.process_time()
        made = export(seen, previous, links=True)
        best = min(best, time.process_time() - begin)
    return best, made


def test_a_thousand_events() -> None:
    first_s, first = timed(large(), None)
    again_s, again = timed(large(), first)
    moved_s, moved = timed(large(3 * DAY), first)
    worst_s, worst = timed(large(3 * DAY, "top"), first)

    print(  # noqa: T201 - a benchmark tells what it measured
        f"{EVENTS} events, {len(first.data)} octets: first {first_s:.2f} s, "
        f"unchanged {again_s:.2f} s, all moved {moved_s:.2f} s, "
        f"all moved and reworded {worst_s:.2f} s"
    )
    assert again.data == first.data
    assert moved.counts.moved == worst.counts.moved == EVENTS
    assert max(first_s, again_s, moved_s, worst_s) < BAR_S


if __name__ == "__main__":
    test_a_thousand_events()
