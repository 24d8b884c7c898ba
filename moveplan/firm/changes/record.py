"""What was recorded of a firm, a file of lines beside the firm file; who or what is not there on which days."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from moveplan.errors import OutputError, PlanFileError, Problem
from moveplan.firm.values import Firm, Out
from moveplan.journal.file.locks import lock
from moveplan.journal.file.place import journal_path
from moveplan.planfile.problems import unknown
from moveplan.times import iso

KINDS = ("out", "back", "quoted", "drove")
"""Kinds of records of a firm, each a key of its line. [-]"""


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
    found: dict[tuple[str, date], Out] = {}
    for where, row in rows_of(firm):
        if "out" in row or "back" in row:
            kind, out = _out(where, row)
            found.pop((out.id, out.first), None)
            if kind == "out":
                found[out.id, out.first] = out
    return tuple(found.values())


def rows_of(firm: Firm) -> Iterator[tuple[str, dict[str, Any]]]:
    """Read all lines of what was recorded, each with where it stands.

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
        return
    except (OSError, UnicodeDecodeError) as error:
        problem = Problem(f"it cannot be read: {error}", str(path), "look at its name and permissions")
        raise PlanFileError((problem,), str(path)) from None
    for number, line in enumerate(lines, start=1):
        where = f"{path}:{number}"
        try:
            row = json.loads(line)
            owner, known = row["firm"], any(kind in row for kind in KINDS)
        except (ValueError, KeyError, TypeError):
            raise no_record(where) from None
        if not known:
            raise no_record(where)
        if owner != firm.id:
            problem = Problem(f"this record is of the firm {owner}, not of {firm.id}", where, "take it out")
            raise PlanFileError((problem,), str(path))
        yield where, row


def no_record(where: str) -> PlanFileError:
    """Say that a line is no record of a firm.

    Parameters
    ----------
    where : str
        The file and its line.
    """
    return PlanFileError((Problem("this line is no record of a firm", where, "take it out"),), where)


def _out(where: str, row: Mapping[str, Any]) -> tuple[str, Out]:
    kind = "out" if "out" in row else "back"
    try:
        first, last = (date.fromisoformat(row[key]) for key in ("first", "last"))
    except (ValueError, KeyError, TypeError):
        raise no_record(where) from None
    return kind, Out(str(row[kind]), first, last)


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
    append_row(firm, {kind: out.id, "first": str(first), "last": str(last)})
    return out


def append_row(firm: Firm, row: Mapping[str, Any]) -> None:
    """Write a line, with the firm and the moment; on the disk before it returns.

    Parameters
    ----------
    row : Mapping of str to anything that JSON knows
        What is recorded.

    Raises
    ------
    OutputError
        Where it cannot be written.
    """
    line = json.dumps({"firm": firm.id, "at": iso(firm.now, firm.zone), **row})
    path = journal_path(firm.path)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o666)
        with os.fdopen(handle, "ab") as file:
            lock(file.fileno())
            file.write(f"{line}\n".encode())
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        msg = f"{path} cannot be written: {(error.strerror or str(error)).lower()}; nothing was recorded"
        raise OutputError(msg) from error


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
