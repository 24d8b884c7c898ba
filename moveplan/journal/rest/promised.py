"""What was promised, from what is done: in how many runs of the rest nothing of it breaks any more.

What is over is past praying for: only what is still ahead counts.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from math import inf, sqrt
from typing import Any

from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.held_up import held_until
from moveplan.journal.now.standing import standing
from moveplan.journal.now.takeover import taken_over
from moveplan.journal.now.travelling import Travelling, travelling
from moveplan.journal.rest.ahead import ahead_of
from moveplan.journal.rest.luck import Column, Luck
from moveplan.journal.rest.onwards import Onwards
from moveplan.journal.rest.stretches import EPSILON, Hours
from moveplan.journal.state import JournalState
from moveplan.times import to_minutes

Key = tuple[str, str]

RUNS = 400
"""Enough for a whole part in ten: the standard error of a share is 2.5 points at most. [-]"""
SEED = 1
"""Of the draws of luck: the same journal gives the same share. [-]"""
KEYS, KEYS_BACK = "keys-back-missed", "keys-back"
"""The deadline of the model that is promised, and its id among what breaks. [-]"""


@dataclass(frozen=True, slots=True)
class Kept:
    """How often all that is promised and still ahead is kept.

    Parameters
    ----------
    confidence : float
        As the plan asks.
    kept, error : float
        Share of the runs, and its standard error.
    breaks : tuple of (str, str, float)
        What breaks, its id, and in which share of the runs; the most often first.
    helpless : int
        How many tasks those who are there cannot do: the runs count on somebody who comes for them.
    """

    confidence: float
    kept: float
    error: float
    breaks: tuple[tuple[str, str, float], ...]
    helpless: int = 0


def promise_ahead(snapshot: Snapshot, state: JournalState, now: int) -> Kept | None:
    """Run the rest, and count; None where nothing was promised, or that was not kept when it was accepted.

    Parameters
    ----------
    now : int
        UTC. [min]
    """
    model = snapshot.promise
    if not model.get("days"):
        return None
    planned = {task.id: task.minutes for task in snapshot.tasks}
    snapshot, over = taken_over(snapshot, state, now)
    slower = {row.task.id: row.task.minutes / max(planned[row.task.id], 1) for row in over}
    found = standing(snapshot, state, now)
    held = held_until(state.failures, snapshot, found)
    rest = ahead_of(found, held)
    start = to_minutes(datetime.fromisoformat(model["start"]))
    runs = Onwards(model, found, rest, held, start, Luck(RUNS, SEED), slower)
    runs.run(_wanted(runs))
    breaks = _breaks(runs, travelling(snapshot, state, found, rest))
    return _counted(model["confidence"], breaks, sum(row.cannot for row in over))


def _counted(confidence: float, breaks: Iterable[tuple[Key, set[int]]], helpless: int) -> Kept:
    broken: dict[Key, set[int]] = {}
    for key, runs in breaks:
        broken.setdefault(key, set()).update(runs)
    kept = 1 - len(set[int]().union(*broken.values())) / RUNS
    rows = [(*key, len(runs) / RUNS) for key, runs in broken.items() if runs]
    error = sqrt(max(kept * (1 - kept), 1 / RUNS) / RUNS)
    most = tuple(sorted(rows, key=lambda one: (-one[2], one[0], one[1])))
    return Kept(confidence, kept, error, most, helpless)


def _wanted(runs: Onwards) -> set[int]:
    """Tasks by which something promised can break."""
    model = runs.model
    found = {at for at, task in enumerate(runs.tasks) if task.get("runs_over")}
    for row in model["hires"]:
        found.update(row["tasks"])
    for row in model["deadlines"]:
        found.update(row["tasks"] if row["id"] == KEYS else ())
    found.update(row["task"] for row in model.get("dates", ()))
    for stay in model["stays"]:
        found |= {stay["from"][0], stay["until"][0]}
    found.update(one["task"] for one in model["mishaps"] if one["holding"] and one["task"] is not None)
    return found


def _breaks(runs: Onwards, closed: tuple[Travelling, ...]) -> Iterator[tuple[Key, set[int]]]:
    for day, slipped in zip(runs.model["days"], runs.slipped, strict=True):
        yield ("day", day["date"]), slipped
    yield from _hours(runs)
    for hire in runs.model["hires"]:
        if any(runs.is_open(at) for at in hire["tasks"]):
            yield ("hire", hire["vehicle"]), _longer(runs, hire)
    for row in runs.model["deadlines"]:
        if row["id"] == KEYS:
            yield ("keys", KEYS_BACK), _late(runs, row["tasks"], row["by"])
    for row in runs.model.get("dates", ()):  # schedules that were accepted earlier know none
        yield ("date", runs.tasks[row["task"]]["id"]), _late(runs, [row["task"]], [row["by"]])
    yield from _unsafe(runs, closed)


def _hours(runs: Onwards) -> Iterator[tuple[Key, set[int]]]:
    """Whose stated hours do not last for what is still to be done."""
    alone: dict[str, Hours] = {}
    for at, flags in runs.past_hours.items():
        for person in runs.crew(at) if flags else ():
            if person not in runs.model["hours_of"]:
                continue
            if person not in alone:
                alone[person] = Hours.read(runs.model["hours_of"][person])
            yield ("hours", person), {run for run in flags if alone[person].past(*_worked(runs, at, run))}


def _worked(runs: Onwards, at: int, run: int) -> tuple[float, float]:
    """From when until when a task is worked on, before what holds it up and the further times of recurring care."""
    later = runs.longer[at][run] if at in runs.longer else 0.0
    later += runs.tasks[at].get("tail_minutes", 0.0)
    return runs.starts[at][run], runs.finishes[at][run] - later - EPSILON


def _longer(runs: Onwards, hire: Mapping[str, Any]) -> set[int]:
    """In which runs a vehicle is used on a day that is not booked, or past the end of its hire."""
    starts = list(map(float, runs.model["day_starts"].split()))
    day = next((runs.tasks[at]["day"] for at in hire["tasks"] if runs.tasks[at]["day"] >= 0), -1)
    slipped = runs.slipped[day] if day >= 0 else set()
    found = set()
    for run in range(runs.luck.runs):
        moved = runs.model["days"][day] if run in slipped else {"slip_days": 0, "slip_minutes": 0.0}
        first, last = (one + moved["slip_days"] for one in hire["booked_days"])
        begin = min(runs.starts[at][run] for at in hire["tasks"])
        end = max(runs.finishes[at][run] for at in hire["tasks"])
        until = inf if hire["until"] is None else hire["until"] + moved["slip_minutes"]
        used = bisect_right(starts, begin), bisect_right(starts, end - EPSILON)
        if used[0] < first or used[1] > last or end > until:
            found.add(run)
    return found


def _late(runs: Onwards, tasks: Iterable[int], moments: Iterable[float | None]) -> set[int]:
    """In which runs one of the tasks that are not over ends later than it is to."""
    return {
        run
        for at, by in zip(tasks, moments, strict=True)
        if runs.is_open(at) and by is not None
        for run, finish in enumerate(runs.finishes[at])
        if finish > by + EPSILON
    }


def _unsafe(runs: Onwards, closed: tuple[Travelling, ...]) -> Iterator[tuple[Key, set[int]]]:
    """Animals that pass their safe time in stays that are not over; lids that were logged count as they were."""
    places: dict[str, Column] = {}
    for stay in runs.model["stays"]:
        group, (first, edge), (last, other) = stay["livestock"], stay["from"], stay["until"]
        if None in stay["safe"] or not runs.is_open(last):
            continue
        if group not in places:
            places[group] = runs.luck.normals()
        low, likely, high = stay["safe"]
        lasts = runs.luck.placed(low, likely, high, places[group])
        begins = (runs.starts if edge == "start" else runs.finishes)[first]
        since = _logged(runs, closed, group, runs.tasks[first]["id"])
        begins = begins if since is None else [since] * runs.luck.runs
        ends = (runs.starts if other == "start" else runs.finishes)[last]
        ends = _sheltered(runs, begins, ends)
        rows = enumerate(zip(begins, ends, lasts, strict=True))
        yield ("safe-time", group), {run for run, (begin, end, longest) in rows if end - begin > longest}


def _logged(runs: Onwards, closed: tuple[Travelling, ...], group: str, shut_task: str) -> float | None:
    """When the first container of a group was closed, where that was logged."""
    lids = [
        one.since
        for one in closed
        if one.logged and one.stay.group == group and one.stay.shut_task == shut_task
    ]
    return float(min(lids) - runs.start) if lids else None


def _sheltered(runs: Onwards, begins: Column, ends: Column) -> Column:
    """Until when animals are in their containers, where a mishap sends them to a holding place."""
    found = ends
    for mishap, struck in zip(runs.model["mishaps"], runs.happened, strict=True):
        if not mishap["holding"] or mishap["task"] is None or not struck:
            continue
        found = list(found)
        for run in struck:
            moment = runs.finishes[mishap["task"]][run] - mishap["delay_minutes"]
            if begins[run] < moment < ends[run]:
                found[run] = min(found[run], moment)
    return found
