"""What was recorded of a firm: who or what is not there on which days; a file of lines beside the firm file."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from moveplan.errors import OutputError, PlanFileError, Problem
from moveplan.firm.values import Firm, Out
from moveplan.journal.file.locks import lock
from moveplan.journal.file.place import journal_path
from moveplan.planfile.problems import unknown
from moveplan.times import iso


def records_of(firm: Firm) -> tuple[Out, ...]:
    """Read what was recorded; a later record of the same days takes the place of an earlier one.

    Parameters
    ----------
    firm : Firm
        Whose file it lies beside.

    Raises
    ------
    PlanFileError
        Where a line is no record of this firm.
    """
    path = journal_path(firm.path)
    try:
        lines = path.read_text("utf-8").splitlines()
    except FileNotFoundError:
        return ()
    except (OSError, UnicodeDecodeError) as error:
        problem = Problem(f"it cannot be read: {error}", str(path), "look at its name and permissions")
        raise PlanFileError((problem,), str(path)) from None
    found: dict[tuple[str, date], Out] = {}
    for number, line in enumerate(lines, start=1):
        kind, out = _record(firm, path, number, line)
        found.pop((out.id, out.first), None)
        if kind == "out":
            found[out.id, out.first] = out
    return tuple(found.values())


def _record(firm: Firm, path: Path, number: int, line: str) -> tuple[str, Out]:
    try:
        row = json.loads(line)
        kind = "out" if "out" in row else "back"
        out = Out(str(row[kind]), date.fromisoformat(row["first"]), date.fromisoformat(row["last"]))
        owner = row["firm"]
    except (ValueError, KeyError, TypeError):
        problem = Problem("this line is no record of a firm", f"{path}:{number}", "take it out")
        raise PlanFileError((problem,), str(path)) from None
    if owner != firm.id:
        problem = Problem(
            f"this record is of the firm {owner}, not of {firm.id}", f"{path}:{number}", "take it out"
        )
        raise PlanFileError((problem,), str(path))
    return kind, out


def record(firm: Firm, kind: str, who: str, first: date, last: date) -> Out:
    """Write down that somebody or a vehicle is not there, or is there after all; on the disk before it returns.

    Parameters
    ----------
    kind : str
        ``out`` or ``back``.
    who : str
        Id or name of a person or a vehicle.
    first, last : date
        Local days, both included.

    Raises
    ------
    PlanFileError
        Where there is nobody and nothing of that name, or the days are in the wrong order.
    OutputError
        Where it cannot be written.
    """
    out = Out(_id_of(firm, who), first, last)
    if last < first:
        problem = Problem(f"{last} is before {first}", "", "exchange the two")
        raise PlanFileError((problem,))
    row = {
        "firm": firm.id,
        "at": iso(firm.now, firm.zone),
        kind: out.id,
        "first": str(first),
        "last": str(last),
    }
    path = journal_path(firm.path)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o666)
        with os.fdopen(handle, "ab") as file:
            lock(file.fileno())
            file.write(f"{json.dumps(row)}\n".encode())
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        msg = f"{path} cannot be written: {(error.strerror or str(error)).lower()}; nothing was recorded"
        raise OutputError(msg) from error
    return out


def _id_of(firm: Firm, who: str) -> str:
    names = dict(_names(firm))
    asked = who.strip().casefold()
    if asked in names:
        return names[asked]
    first = {name for text, name in names.items() if text.split()[0] == asked}
    if len(first) == 1:
        return first.pop()
    known = sorted(set(names.values()))
    message, remedy = unknown("person or vehicle", who, known)
    problem = Problem(message.replace("the plan has", "the firm has"), str(firm.path), remedy)
    raise PlanFileError((problem,), str(firm.path))


def _names(firm: Firm) -> Iterator[tuple[str, str]]:
    people = [(one.name, one.id) for one in firm.people]
    vehicles = [(one.name, one.id) for one in firm.vehicles]
    for name, own in (*people, *vehicles):
        yield name.casefold(), own
        yield own.casefold(), own
