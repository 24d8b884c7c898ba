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
from moveplan.journal.now.failure import PERSON, Failed, Works
from moveplan.journal.records import (
    Accepted,
    Back,
    Begun,
    Counted,
    Done,
    Entry,
    Lid,
    Met,
    Note,
    Out,
    Reading,
    Record,
    Shut,
    Tended,
)
from moveplan.journal.state import effective
from moveplan.journal.taking.known import Known, known_of
from moveplan.journal.taking.marks import count_said, told_by_marks
from moveplan.journal.taking.slip import (
    BACK,
    FAILED,
    MOVED,
    READ,
    STEPS,
    TROUBLES,
    WORKS,
    Index,
    Mark,
    can_be_written,
    index_of,
    read_slip,
    slip_text,
)
from moveplan.journal.taking.taken import taken
from moveplan.times import to_local
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
    entries = renewed(room).journal.entries
    counting = {entry.line for entry in effective(entries)}
    marks = {mark for entry in entries for mark in _marks(entry, room, back=entry.line not in counting)}
    index = index or room.index
    return slip_text(sorted(one for one in marks if can_be_written(one, index)), index)


def _marks(entry: Entry, room: Room, *, back: bool) -> list[Mark]:
    """Say a record as phones know it; nothing where they know no such records."""
    record = entry.record
    never_counted = entry.source.startswith("back card ") and isinstance(record, Note)
    if entry.source.startswith("card ") or never_counted:
        kind, name, at, time, person = entry.source.removeprefix("back ").split(" ")[1:]
        found = [Mark(int(at), kind, name, int(time), person, back or never_counted)]
    else:
        kind, names, number = _said(record, room)
        person = _whose(record.task, room) if isinstance(record, (Begun, Done, Met)) else room.index.people[0]
        found = [Mark(record.at, kind, name, number, person, back) for name in names]
    return found


def _said(record: Record, room: Room) -> tuple[str, list[str], int]:
    """Give the kind of a record that was written at the computer, what it names, and its number."""
    if isinstance(record, (Begun, Done, Met)):
        kind = {Begun: "begun", Done: "done", Met: "met"}[type(record)]
        return kind, [record.task], (isinstance(record, Done) and record.time) or 0
    if isinstance(record, Lid):
        own = [stay for stay in room.snapshot.stays if stay.group == record.group]
        numbers = (
            {record.container} if record.container else {one for stay in own for one, _ in stay.containers}
        )
        return "lid-on" if isinstance(record, Shut) else "lid-off", sorted(numbers), 0
    if isinstance(record, Tended):
        spots = [one for one in room.index.named(MOVED) if _is_there(one, record, room.known)]
        return record.what, spots[:1] if record.where else [record.container], 0
    if isinstance(record, Reading) and record.what in STEPS:
        water = record.system or next(iter(room.snapshot.systems), "")
        return READ, [f"{record.what}@{water}"], round(record.value / STEPS[record.what])
    if isinstance(record, Counted):
        kind, name, number = count_said(record)
        return kind, [name], number
    if isinstance(record, (Failed, Works)):
        return _of_thing(record, room.index)
    if isinstance(record, (Out, Back)) and _is_that_day(record, room):
        return FAILED if isinstance(record, Out) else WORKS, [f"{PERSON}:{record.person}"], 0
    return "", [], 0


def _of_thing(record: Failed | Works, index: Index) -> tuple[str, list[str], int]:
    """Say what failed, and when it is expected back where there is room for that; or what works again."""
    broken = f"{record.name}@{record.what}" if record.what in TROUBLES else f"{record.what}:{record.name}"
    if isinstance(record, Works):
        return WORKS, [broken], 0
    back = 0 if record.until is None else BACK + record.until - record.at
    fits = can_be_written(Mark(record.at, FAILED, broken, back, index.people[0]), index)
    return FAILED, [broken], back if fits else 0


def _is_there(spot: str, record: Tended, known: Known) -> bool:
    """Whether a container that phones may name at a place is this one, moved there."""
    number, _, thing = spot.partition("@")
    one = thing.partition(":")[2]
    return (number, known.vehicles.get(one) or known.places.get(one)) == (record.container, record.where)


def _is_that_day(record: Out | Back, room: Room) -> bool:
    """Whether somebody fell out or is back for the day on which it was said; phones know no other."""
    return record.first <= to_local(record.at, room.known.zone).date() <= record.last


def _whose(task: str, room: Room) -> str:
    """Say whose record one is that was written at the computer: who leads the task."""
    planned = room.snapshot.task(task)
    return planned.people[0] if planned and planned.people else room.index.people[0]


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
