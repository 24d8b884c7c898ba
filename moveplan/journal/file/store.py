"""The journal as a file: read whatever a crash left of it, and add lines that are on the disk before it is said.

A line is written in one call to a file opened for appending, under an advisory lock, and synced. Whatever a crash
cut off is at the end of the file and has no line end: the next writer ends that line first, so that nothing is
glued to it, and the half line stays where it is and is reported.
"""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from moveplan.errors import OutputError, PlanFileError, Problem
from moveplan.journal.file.coding import LineError, OtherPlanError, decoded, encoded
from moveplan.journal.file.locks import lock
from moveplan.journal.file.place import journal_path as journal_path
from moveplan.journal.records import Entry, Record

_BINARY = getattr(os, "O_BINARY", 0)


@dataclass(frozen=True, slots=True)
class Journal:
    """What stands in a journal.

    Parameters
    ----------
    path : Path
        The file.
    plan_id : str
        The plan it belongs to.
    entries : tuple of Entry
        Every record, in order, those undone included.
    faults : tuple of Problem
        Lines that are no records, such as one that a crash cut.
    """

    path: Path
    plan_id: str
    entries: tuple[Entry, ...] = ()
    faults: tuple[Problem, ...] = ()


def read_journal(plan: Path, plan_id: str) -> Journal:
    """Read the journal of a plan; an empty one where there is none yet.

    Parameters
    ----------
    plan : Path
        The plan file.

    Raises
    ------
    PlanFileError
        Where the journal belongs to another plan or cannot be read.
    """
    path = journal_path(plan)
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise _unreadable(path, "it is not a plain file")
        content = path.read_bytes()
    except FileNotFoundError:
        return Journal(path, plan_id)
    except OSError as error:
        raise _unreadable(path, (error.strerror or str(error)).lower()) from None
    return _parsed(path, plan_id, content)


def _unreadable(path: Path, reason: str) -> PlanFileError:
    problem = Problem(f"the journal cannot be read: {reason}", path.name, "look at its name and permissions")
    return PlanFileError((problem,), str(path))


@lru_cache(maxsize=1)
def _parsed(path: Path, plan_id: str, content: bytes) -> Journal:
    """Read what was written; a command that asks again, before it writes as well, has it read already."""
    entries: list[Entry] = []
    faults: list[Problem] = []
    strangers: list[tuple[int, str]] = []
    for number, line in enumerate(content.split(b"\n"), start=1):
        if not line.strip():
            continue
        try:
            record, source = decoded(line.decode("utf-8", "replace"), plan_id)
        except OtherPlanError as error:
            strangers.append((number, error.plan_id))
            faults.append(_passed_over(path, number, f'it belongs to the plan "{error.plan_id}"'))
            continue
        except LineError as error:
            faults.append(_passed_over(path, number, str(error)))
            continue
        entries.append(Entry(number, record, source))
    if strangers and len(strangers) > len(entries):
        raise _of_another(path, *strangers[0], plan_id)
    return Journal(path, plan_id, tuple(entries), tuple(faults))


def _passed_over(path: Path, line: int, reason: str) -> Problem:
    remedy = "nothing else is lost; log again what it was to say"
    return Problem(f"this line is passed over: {reason}", f"{path.name}:{line}", remedy)


def _of_another(path: Path, line: int, found: str, plan_id: str) -> PlanFileError:
    problem = Problem(
        f'the journal belongs to the plan "{found}", this plan is "{plan_id}"',
        f"{path.name}:{line}",
        f'write "id: {found}" into the plan if it is the same plan, or move the journal away; nothing was changed',
    )
    return PlanFileError((problem,), str(path))


Author = Callable[[Journal], Sequence[tuple[Record, str]]]
"""Decides what to write when nobody else can write: records, each with where it was merged from."""


def append(plan: Path, plan_id: str, author: Author) -> tuple[Journal, tuple[Entry, ...]]:
    """Add records to the journal; they are on the disk when this returns.

    Parameters
    ----------
    plan : Path
        The plan file.
    author : callable
        Given the journal as it stands, the records to add; what it raises is passed on and nothing is
        written.

    Returns
    -------
    tuple of (Journal, tuple of Entry)
        The journal with the new records, and the new records alone.

    Raises
    ------
    OutputError
        Where it cannot be written.
    PlanFileError
        Where the journal belongs to another plan.
    """
    path = journal_path(plan)
    if not path.exists():
        author(Journal(path, plan_id))  # what is refused leaves no empty file behind
    with _locked(path) as handle:
        content = path.read_bytes()
        before = _parsed(path, plan_id, content)
        added = list(author(before))
        lines = [encoded(record, plan_id, source) for record, source in added]
        first = content.count(b"\n") + 1
        torn = bool(content) and not content.endswith(b"\n")
        if lines:
            _write(handle, ("\n" if torn else "") + "".join(f"{line}\n" for line in lines))
    entries = tuple(Entry(first + torn + at, record, source) for at, (record, source) in enumerate(added))
    return Journal(path, plan_id, before.entries + entries, before.faults), entries


@contextlib.contextmanager
def _locked(path: Path) -> Iterator[int]:
    try:
        new = not path.exists()
        handle = os.open(path, os.O_RDWR | os.O_APPEND | os.O_CREAT | _BINARY, 0o644)
    except OSError as error:
        raise _not_written(path, error) from None
    try:
        lock(handle)
        yield handle
        if new:
            _sync_folder(path.parent)
    except OSError as error:
        raise _not_written(path, error) from None
    finally:
        os.close(handle)


def _not_written(path: Path, error: OSError) -> OutputError:
    reason = (error.strerror or str(error)).lower()
    return OutputError(f"{path} cannot be written: {reason}; nothing was recorded")


def _write(handle: int, text: str) -> None:
    """Write all of it; what was written of a text that did not fit is taken back."""
    data = text.encode("ascii")
    before = os.fstat(handle).st_size
    try:
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(handle, rest) :]
        os.fsync(handle)
    except OSError:
        with contextlib.suppress(OSError):
            os.ftruncate(handle, before)
        raise


def _sync_folder(folder: Path) -> None:
    """Make the new name last as well."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
