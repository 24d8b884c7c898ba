"""An accepted schedule as plain values that turn into JSON and back.

Whatever a later version adds, an earlier one passes over.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from typing import Any

from moveplan.errors import PlanFileError, Problem
from moveplan.journal.file.coding import LineError, minute_of, stamp
from moveplan.journal.file.snapshot import PlannedStay, PlannedTask, Snapshot, Tie
from moveplan.journal.premises import premises_data, premises_of
from moveplan.journal.waters.gates import Gate
from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.times import Interval


def snapshot_data(snapshot: Snapshot) -> dict[str, Any]:
    """Write a snapshot as data that JSON can hold."""
    data = _plain(snapshot, ("tasks", "stays", "now", "gaps", "premises"))
    data["now"] = stamp(snapshot.now)
    data["tasks"] = [_task_data(task) for task in snapshot.tasks]
    data["stays"] = [_stay_data(stay) for stay in snapshot.stays]
    if snapshot.premises is not None:
        data["premises"] = premises_data(snapshot.premises)
    if snapshot.gaps:
        data["gaps"] = [[tie.before, tie.after, tie.relation.value, tie.gap_min] for tie in snapshot.gaps]
    return data


def _plain(value: Any, leave: tuple[str, ...]) -> dict[str, Any]:
    """Fields that differ from their defaults."""
    return {
        one.name: _listed(getattr(value, one.name))
        for one in fields(value)
        if one.name not in leave and getattr(value, one.name) != one.default
    }


def _listed(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _listed(one) for key, one in value.items()}
    return [_listed(one) for one in value] if isinstance(value, tuple) else value


def _task_data(task: PlannedTask) -> dict[str, Any]:
    data = _plain(task, ("segments", "gates"))
    data["segments"] = [[stamp(piece.start), stamp(piece.finish)] for piece in task.segments]
    if task.gates:
        data["gates"] = [_plain(gate, ()) for gate in task.gates]
    return data


def _stay_data(stay: PlannedStay) -> dict[str, Any]:
    return _plain(stay, ()) | {"shut": stamp(stay.shut), "opened": stamp(stay.opened)}


def snapshot_of(data: Mapping[str, Any], where: str) -> Snapshot:
    """Read a snapshot.

    Parameters
    ----------
    data : Mapping of str to object
        As it stands in the journal.
    where : str
        Where it stands, for messages.

    Raises
    ------
    PlanFileError
        Where it is not one.
    """
    try:
        return _snapshot(data)
    except (LineError, LookupError, TypeError, ValueError, AttributeError) as error:
        message = f"the accepted schedule cannot be read: {error}"
        problem = Problem(message, where, 'run "moveplan record PLAN accept" again')
        raise PlanFileError((problem,), where) from None


def _snapshot(data: Mapping[str, Any]) -> Snapshot:
    values = {one.name: data[one.name] for one in fields(Snapshot) if one.name in data}
    values["now"] = minute_of(data["now"])
    values["tasks"] = tuple(_task(row) for row in data["tasks"])
    values["stays"] = tuple(_stay(row) for row in data.get("stays", ()))
    values["gaps"] = tuple(Tie(row[0], row[1], Relation(row[2]), row[3]) for row in data.get("gaps", ()))
    values["labels"] = tuple((number, tuple(what)) for number, what in data.get("labels", ()))
    if "premises" in data:
        values["premises"] = premises_of(data["premises"])
    values["waits"] = {key: tuple(value) for key, value in data["waits"].items()}
    return Snapshot(**values)


def _task(row: Mapping[str, Any]) -> PlannedTask:
    values = {one.name: row[one.name] for one in fields(PlannedTask) if one.name in row}
    values["kind"] = Kind(row["kind"])
    values["segments"] = tuple(Interval(minute_of(begin), minute_of(end)) for begin, end in row["segments"])
    values["gates"] = tuple(_gate(gate) for gate in row.get("gates", ()))
    for name in ("people", "vehicles", "steps"):
        values[name] = tuple(row.get(name, ()))
    values["needs"] = tuple(map(tuple, row.get("needs", ())))
    if not values["segments"]:
        raise LineError(f"{row['id']} has no time")
    return PlannedTask(**values)


def _gate(row: Mapping[str, Any]) -> Gate:
    values = {one.name: row[one.name] for one in fields(Gate) if one.name in row}
    return Gate(**{"low": None, "high": None} | values)


def _stay(row: Mapping[str, Any]) -> PlannedStay:
    values = {one.name: row[one.name] for one in fields(PlannedStay) if one.name in row}
    for name in ("containers", "places"):
        values[name] = tuple(map(tuple, row.get(name, ())))
    return PlannedStay(**values | {name: minute_of(row[name]) for name in ("shut", "opened")})
