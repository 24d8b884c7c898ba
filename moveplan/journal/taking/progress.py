"""The progress file that the page saves, as the journal takes it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from moveplan.errors import PlanFileError, Problem
from moveplan.journal.file.coding import LineError, minute_of
from moveplan.journal.records import Done, Met, Opened, Record, Shut
from moveplan.journal.state import JournalState
from moveplan.journal.taking.known import Known
from moveplan.journal.taking.marks import told_by_marks
from moveplan.journal.taking.slip import COUNTS, Mark
from moveplan.journal.taking.taken import WHY, Told
from moveplan.network.task import Kind, State

_MOST_BYTES = 10_000_000
"""Largest file of progress that is read. Chosen. [byte]"""
_SAME_LID_MIN = 60
"""A lid that was logged by hand less than this away is the one that was ticked; assumed. [min]"""


@dataclass(frozen=True, slots=True)
class Tick:
    """One thing that was ticked.

    Parameters
    ----------
    key : str
        Names this tick for ever, its moment included; nothing with the same key is merged twice.
    at : int
        When, UTC. [min]
    task : str
        Id of the task; empty: it is about a container.
    time : int or None
        Which time of recurring care.
    group : str
        Id of the group whose container it is.
    opened : bool
        Whether the container was opened, not closed.
    mark : Mark or None
        Animals that were lost or found, as the card records them.
    """

    key: str
    at: int
    task: str = ""
    time: int | None = None
    group: str = ""
    opened: bool = False
    mark: Mark | None = None


def read_progress(path: Path, plan_id: str) -> tuple[Tick, ...]:
    """Read a progress file.

    Parameters
    ----------
    path : Path
        As the page saved it.
    plan_id : str
        The plan it must belong to.

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
    animals = data.get("animals", [])
    if not isinstance(animals, list):
        raise LineError("it is no progress file of this version")
    for row in animals:
        mark = _mark(row)
        yield Tick(mark.key, mark.at, mark=mark)
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


def _mark(row: object) -> Mark:
    """Read a record of animals: kind, group, container, how many, when, by whom, whether it was taken back."""
    words = [row.get(name) for name in ("kind", "container", "group", "by")] if isinstance(row, dict) else []
    number = row.get("count") if isinstance(row, dict) else None
    if not all(isinstance(word, str) for word in words) or type(number) is not int or number < 1:
        raise LineError("a record of animals does not say how many of which")
    kind, container, group, by = map(str, words)
    if kind not in COUNTS or not isinstance(row, dict):
        raise LineError("animals are lost or added")
    at = minute_of(row.get("at"))
    return Mark(at, kind, f"{container}@{group}", number, by, back=row.get("back") is True)


def told_by_ticks(ticks: Sequence[Tick], known: Known, by: str) -> list[Told]:
    """Make of ticks what the journal takes.

    Parameters
    ----------
    ticks : sequence of Tick
        In the order of time.
    by : str
        Who signs the hold points that were ticked; empty: nobody yet.
    """
    return [
        one
        for tick in ticks
        for one in (told_by_marks([tick.mark], known) if tick.mark else [_told(tick, known, by)])
    ]


def _told(tick: Tick, known: Known, by: str) -> Told:
    return Told(
        tick.key,
        tick.at,
        tick.task or tick.group,
        lambda at, _: _record(tick, at, known, by),
        lambda state: _has(state, tick),
        closes=bool(tick.group) and not tick.opened,
    )


def _has(state: JournalState, tick: Tick) -> bool:
    if tick.group:
        return any(
            isinstance(lid, Opened if tick.opened else Shut)
            and lid.group == tick.group
            and abs(lid.at - tick.at) < _SAME_LID_MIN
            for lid in state.lids
        )
    found = state.of(tick.task)
    return found.state is State.COMPLETED or (tick.time is not None and tick.time in dict(found.times))


def _record(tick: Tick, at: int, known: Known, by: str) -> Record:
    if tick.group:
        return Opened(at=at, group=tick.group) if tick.opened else Shut(at=at, group=tick.group, reason=WHY)
    if known.task(tick.task).kind is Kind.HOLD_POINT and by:
        return Met(at=at, task=tick.task, by=by)
    return Done(at=at, task=tick.task, time=tick.time)
