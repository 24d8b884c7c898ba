"""What the crew shares: the accepted schedule, the journal, and an unguessable token a person."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from pathlib import Path

from moveplan.errors import MoveplanError
from moveplan.journal.file.kept import snapshot_of
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.file.store import Journal, append, journal_path, read_journal
from moveplan.journal.records import Accepted, Record
from moveplan.journal.state import effective
from moveplan.journal.taking.known import Known, known_of
from moveplan.journal.taking.marks import told_by_marks
from moveplan.journal.taking.said import all_said
from moveplan.journal.taking.slip import Index, index_of, read_slip
from moveplan.journal.taking.taken import taken
from moveplan.tokens import token_of


class NothingAcceptedError(MoveplanError):
    """The crew follows a schedule that was accepted, and none was."""


@dataclass(frozen=True, slots=True)
class Room:
    """What the crew shares.

    Parameters
    ----------
    plan : Path
        The plan file, beside which the journal lies.
    snapshot : Snapshot
        The schedule in force.
    index : Index
        What the texts of the phones name.
    tokens : Mapping of str to str
        Ids of people by token.
    secret : bytes
        What the tokens are made of.
    earlier : tuple of Snapshot
        What was accepted before: phones that show it still record what it names.
    line : int
        Where the journal says that the schedule was accepted.
    journal : Journal
        As it was last read.
    signs : tuple of (int, int)
        Size and time of its file by then. [byte, ns]
    """

    plan: Path
    plan_id: str
    snapshot: Snapshot
    index: Index
    tokens: Mapping[str, str]
    secret: bytes
    earlier: tuple[Snapshot, ...]
    line: int
    journal: Journal
    signs: tuple[int, int]

    @property
    def known(self) -> Known:
        """What a record may name."""
        return reduce(Known.joined, map(known_of, self.earlier), known_of(self.snapshot))

    @property
    def indices(self) -> tuple[Index, ...]:
        """What texts of phones may name: by the schedule in force, then by those before it."""
        return self.index, *(index_of(one, self.plan_id) for one in self.earlier)


def room_of(plan: Path, plan_id: str, secret: bytes) -> Room:
    """Open the room of a plan.

    Parameters
    ----------
    plan : Path
        The plan file.
    secret : bytes
        What the tokens are made of.

    Raises
    ------
    NothingAcceptedError
        Where no schedule was accepted.
    """
    signs = _signs(plan)
    journal = read_journal(plan, plan_id)
    line = _in_force(journal)
    if not line:
        raise NothingAcceptedError(f'no schedule was accepted yet; run "moveplan record {plan} accept" first')
    accepted = {one.line: one.record for one in journal.entries if isinstance(one.record, Accepted)}
    snapshots = {at: snapshot_of(one.schedule, journal.path.name) for at, one in accepted.items()}
    snapshot = snapshots.pop(line)
    tokens = {token_of(secret, plan_id, person): person for person in snapshot.people}
    earlier = tuple(reversed(snapshots.values()))
    return Room(
        plan, plan_id, snapshot, index_of(snapshot, plan_id), tokens, secret, earlier, line, journal, signs
    )


def renewed(room: Room) -> Room:
    """Read the journal again where it has changed; opens the room again where another schedule has come into force."""
    signs = _signs(room.plan)
    if signs == room.signs:
        return room
    journal = read_journal(room.plan, room.plan_id)
    if _in_force(journal) in (0, room.line):
        return replace(room, journal=journal, signs=signs)
    return room_of(room.plan, room.plan_id, room.secret)


def _signs(plan: Path) -> tuple[int, int]:
    path = journal_path(plan)
    found = path.stat() if path.exists() else None
    return (found.st_size, found.st_mtime_ns) if found else (0, 0)


def _in_force(journal: Journal) -> int:
    """Find where the schedule in force was accepted; 0: none is."""
    lines = [one.line for one in effective(journal.entries) if isinstance(one.record, Accepted)]
    return max(lines, default=0)


def shared(room: Room, index: Index | None = None) -> str:
    """Give all that the journal says of work and lids, as the text that phones read.

    Parameters
    ----------
    index : Index or None
        What the phone names; None: what the schedule in force does.
    """
    return all_said(renewed(room).journal.entries, room.snapshot, room.index, index or room.index)


def record(room: Room, person: str, text: str, now: int) -> tuple[str, ...]:
    """Take what a phone sends; only records of its own person count.

    Parameters
    ----------
    person : str
        Whose address it came to.
    text : str
        As the page writes it.
    now : int
        UTC. [min]

    Returns
    -------
    tuple of str
        What was left out, and why.
    """
    marks = [mark for mark in read_slip(text, room.indices) if mark.person == person] if text.strip() else []
    if not marks:
        return ()
    left: list[str] = []

    def author(journal: Journal) -> Sequence[tuple[Record, str]]:
        rows, left[:] = taken(told_by_marks(marks, room.known), journal.entries, room.known, now)
        return rows

    append(room.plan, room.plan_id, author)
    return tuple(left)
