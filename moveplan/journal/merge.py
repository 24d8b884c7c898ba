"""The progress file that the page saves, merged into the journal: nothing lost, nothing twice."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from moveplan.errors import MoveplanError, PlanFileError, Problem
from moveplan.journal.coding import LineError, minute_of
from moveplan.journal.known import Known
from moveplan.journal.records import Done, Entry, Met, Opened, Record, Shut
from moveplan.journal.state import JournalState, state_of
from moveplan.journal.vetting import vetted
from moveplan.network.task import Kind, State

_MOST_BYTES = 10_000_000
_SAME_LID_MIN = 60
"""A lid that was logged by hand less than this away is the one that was ticked; assumed. [min]"""


@dataclass(frozen=True, slots=True)
class Tick:
    """One thing that was ticked.

    Parameters
    ----------
    key : str
        Names this tick for ever, its moment included; nothing with the same key is merged twice. [-]
    at : int
        When, UTC. [min]
    task : str
        Id of the task; empty: it is about a container. [-]
    time : int or None
        Which time of recurring care. [-]
    group : str
        Id of the group whose container it is. [-]
    opened : bool
        Whether the container was opened, not closed. [-]
    """

    key: str
    at: int
    task: str = ""
    time: int | None = None
    group: str = ""
    opened: bool = False


def read_progress(path: Path, plan_id: str) -> tuple[Tick, ...]:
    """Read a progress file.

    Parameters
    ----------
    path : Path
        As the page saved it. [-]
    plan_id : str
        The plan it must belong to. [-]

    Raises
    ------
    PlanFileError
        Where it is not one, or another plan's.
    """
    try:
        with path.open("rb") as file:
            data = json.loads(file.read(_MOST_BYTES))
        if not isinstance(data, dict) or data.get("format") != 1:
            raise LineError("it is no progress file of this version")
        if data.get("plan") != plan_id:
            raise LineError(f'it belongs to the plan "{data.get("plan")}", this plan is "{plan_id}"')
        return tuple(sorted(_ticks(data), key=lambda tick: tick.at))
    except OSError as error:
        raise _refused(path, (error.strerror or str(error)).lower()) from None
    except LineError as error:
        raise _refused(path, str(error)) from None
    except (ValueError, RecursionError):
        raise _refused(path, "it is not JSON") from None


def _refused(path: Path, reason: str) -> PlanFileError:
    problem = Problem(
        f"{path} is not merged: {reason}", "", "save the progress again on the page of this plan"
    )
    return PlanFileError((problem,), str(path))


def _ticks(data: Mapping[str, Any]) -> Iterator[Tick]:
    rows, containers = data.get("records", []), data.get("containers", {})
    if not isinstance(rows, list) or not isinstance(containers, dict):
        raise LineError("it is no progress file of this version")
    yield from map(_tick, rows)
    for name, moments in containers.items():
        if not isinstance(moments, dict):
            raise LineError(f"the container {name} has no moments")
        for edge in ("closed", "opened"):
            if edge in moments:
                key = f"{name}#{edge}@{moments[edge]}"
                group = name.rpartition("/")[0] or name
                yield Tick(key, minute_of(moments[edge]), group=group, opened=edge == "opened")


def _tick(row: object) -> Tick:
    if not isinstance(row, dict) or not isinstance(row.get("task"), str):
        raise LineError("a record names no task")
    time = row.get("time")
    if time is not None and (isinstance(time, bool) or not isinstance(time, int)):
        raise LineError(f"the time of {row['task']} is no number")
    return Tick(f"{row['task']}#{time or ''}@{row.get('at')}", minute_of(row.get("at")), row["task"], time)


def merged(
    ticks: Sequence[Tick], entries: Sequence[Entry], known: Known, now: int, by: str
) -> tuple[list[tuple[Record, str]], list[str]]:
    """Turn ticks into records, leaving out what the journal has.

    Parameters
    ----------
    ticks : sequence of Tick
        In the order of time. [-]
    entries : sequence of Entry
        The journal. [-]
    known : Known
        What a record may name. [-]
    now : int
        UTC. [min]
    by : str
        Who signs the hold points that were ticked; empty: nobody yet. [-]

    Returns
    -------
    list of (Record, str)
        What is to be written, each with its key. [-]
    list of str
        What was left out, and what to do about it. [-]
    """
    seen = {entry.source for entry in entries}
    state = state_of(entries)
    rows: list[tuple[Record, str]] = []
    left: list[str] = []
    added: list[Entry] = list(entries)
    for tick in ticks:
        if tick.key in seen or _has(state, tick):
            continue
        try:
            record = vetted(_record(tick, known, by), state, known, now)
        except MoveplanError as error:
            left.append(f"left out, {tick.task or tick.group}: {error}")
            continue
        rows.append((record, tick.key))
        seen.add(tick.key)
        added.append(Entry(len(added) + 1_000_000, record, tick.key))
        state = state_of(added)
    return rows, left


def _has(state: JournalState, tick: Tick) -> bool:
    """Whether the journal says so already, by whatever way it came."""
    if tick.group:
        return any(
            isinstance(lid, Opened if tick.opened else Shut)
            and lid.group == tick.group
            and abs(lid.at - tick.at) < _SAME_LID_MIN
            for lid in state.lids
        )
    found = state.of(tick.task)
    return found.state is State.COMPLETED or (tick.time is not None and tick.time in dict(found.times))


def _record(tick: Tick, known: Known, by: str) -> Record:
    if tick.group:
        kind = Opened if tick.opened else Shut
        return kind(at=tick.at, group=tick.group)
    if known.task(tick.task).kind is Kind.HOLD_POINT and by:
        return Met(at=tick.at, task=tick.task, by=by)
    return Done(at=tick.at, task=tick.task, time=tick.time)
