"""Progress as a short text for a group chat: what phones that share no network tell each other, and the journal.

A record takes eight characters: kind; in three what it names and a number (time of recurring care, value of a
reading, temperature of a container), as the number times how many names there are, plus the index of the name; minutes
since the first record in three; and person.
Records that span more than a month stand in several blocks, each with its own first moment.  The text names the plan
and what its indices mean, and ends with a checksum.  A record that was taken back is written as taken back, so that
texts may come in any order and more than once.
"""

from __future__ import annotations

import math
import re
import zlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from moveplan.errors import PlanFileError, Problem
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.failure import PERSON, POWER, TANK, VEHICLE

KINDS: Mapping[str, str] = {
    "begun": "bc",
    "done": "de",
    "met": "mn",
    "not-met": "pq",
    "lid-on": "st",
    "lid-off": "or",
    "read": "fg",
    "failed": "hi",
    "works": "jk",
    "topped-up": "al",
    "air-on": "uv",
    "air-off": "wx",
    "moved": "yz",
    "lost": "01",
    "added": "23",
    "noted": "45",
    "read-in": "67",
}
"""Letter of each kind of record, and of one that was taken back."""
_TEXT = re.compile(r"(mp2-([0-9a-z]{7})-)((?:[0-9a-z]{1,8}-(?:[0-9a-z]{8})*-)+)")
_BLOCK = re.compile(r"([0-9a-z]{1,8})-((?:[0-9a-z]{8})*)-")
READ, FAILED, WORKS, MOVED, NOTED, READ_IN = "read", "failed", "works", "moved", "noted", "read-in"
TENDED = ("topped-up", "air-on", "air-off", MOVED)
"""What is done at a container whose lid stays as it is."""
COUNTS: Mapping[str, int] = {"lost": -1, "added": 1}
"""What becomes of a count of animals for each one that is recorded. [-]"""
TROUBLES = ("animal-gasps", "animal-missing", "container-leaks", "device-dead", "fish-not-caught")
"""What goes wrong with animals and devices, each noted of a container or of none."""
STEPS: Mapping[str, float] = {
    "temperature": 0.05,
    "salinity": 0.05,
    "ammonia": 0.01,
    "nitrite": 0.05,
    "ph": 0.01,
    "alkalinity": 0.05,
    "nitrate": 0.5,
    "oxygen": 0.05,
}
"""What phones read, each with the step in which its value is written; finer than kits show. [unit of each]"""
BACK = 36
"""Number from which a record of what failed says when it is expected back; phones count below. [-]"""
_MOST_READ = 36
"""Most kinds of readings in a slip, so that their values have room beside them. [-]"""
_DIGITS = "0123456789abcdefghijklmnopqrstuvwxyz"
_ROOM = 36**3
"""Numbers that three characters of base 36 tell apart: minutes of a block, and names times numbers. [-]"""
_MOST = 100_000
"""Most characters of a slip that are read. Chosen. [character]"""


@dataclass(frozen=True, slots=True, order=True)
class Mark:
    """One record of a phone.

    Parameters
    ----------
    at : int
        When it happened, UTC. [min]
    name : str
        Id of the task, number of the container, what was read in which water: ``temperature@reef``, what failed:
        ``vehicle:van``, ``person:tom``, which container was moved where, a place named by its power:
        ``T3@vehicle:van``, ``T3@power:home``, or animals of which group were lost or found, and from which container:
        ``T3@clowns``, or from none: ``@clowns``; or what went wrong where, or works again there: ``T3@device-dead``.
    time : int
        Which time of recurring care, the value of a reading in steps of ``STEPS``, or how many animals; else how often
        the same was taken back in that minute, or, from ``BACK`` on, in how many minutes more what failed is expected
        back.
    person : str
        Id of who recorded it.
    back : bool
        Whether it was taken back.
    """

    at: int
    kind: str
    name: str
    time: int = 0
    person: str = ""
    back: bool = False

    @property
    def key(self) -> str:
        """Names this record for ever, taken back or not."""
        return f"card {self.kind} {self.name} {self.at} {self.time} {self.person}"


@dataclass(frozen=True, slots=True)
class Index:
    """What the indices of a text mean.

    Parameters
    ----------
    tasks, containers, people : tuple of str
        Ids and numbers, sorted.
    readings : tuple of str
        What may be read in which water.
    things : tuple of str
        What may fail, and who may fall out.
    groups : tuple of str
        Animals in each container, and of each group in none.
    """

    plan_id: str
    tasks: tuple[str, ...]
    containers: tuple[str, ...]
    people: tuple[str, ...]
    readings: tuple[str, ...] = ()
    things: tuple[str, ...] = ()
    groups: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """Names this index, so that a text of another one is not misread."""
        several = (
            self.tasks,
            self.containers,
            self.people,
            self.readings,
            self.things,
            self.groups,
            TROUBLES,
        )
        return summed("\n".join((self.plan_id, *("\n".join(("", *one)) for one in several))))

    def named(self, kind: str) -> tuple[str, ...]:
        """Give what a kind of record names: containers, waters, what may fail, animals, else tasks."""
        if kind == READ:
            return self.readings
        if kind in COUNTS:
            return self.groups
        if kind in (NOTED, WORKS):
            wrong = tuple(f"{number}@{trouble}" for number in ("", *self.containers) for trouble in TROUBLES)
            return wrong if kind == NOTED else (*self.things, *wrong)
        if kind == FAILED:
            return self.things
        if kind == MOVED:
            spots = [one for one in self.things if one.startswith((f"{VEHICLE}:", f"{POWER}:"))]
            return tuple(f"{number}@{spot}" for number in self.containers for spot in spots)
        return self.containers if kind in ("lid-on", "lid-off", READ_IN, *TENDED) else self.tasks


def index_of(snapshot: Snapshot, plan_id: str) -> Index:
    """Sort what a schedule names."""
    places = snapshot.premises.places if snapshot.premises else {}
    named = {PERSON: snapshot.people, VEHICLE: snapshot.vehicles, TANK: snapshot.systems, POWER: places}
    numbers = {number for stay in snapshot.stays for number, _ in stay.containers}
    groups = {f"{number}@{stay.group}" for stay in snapshot.stays for number in ("", *dict(stay.containers))}
    return Index(
        plan_id,
        tuple(sorted(task.id for task in snapshot.tasks)),
        tuple(sorted(numbers)),
        tuple(sorted(snapshot.people)),
        tuple(f"{what}@{water}" for water in sorted(snapshot.systems) for what in STEPS)[:_MOST_READ],
        tuple(f"{what}:{one}" for what, several in named.items() for one in sorted(several)),
        tuple(sorted(groups)),
    )


def summed(text: str) -> str:
    """Sum up a text: CRC-32 of its bytes, to the base of 36.

    >>> summed("123456789")
    '1kl8mjq'
    """
    return _digits(zlib.crc32(text.encode("utf-8", "surrogatepass")), 7)


def _digits(number: int, width: int) -> str:
    found = ""
    while number:
        number, digit = divmod(number, 36)
        found = _DIGITS[digit] + found
    return found.rjust(width, "0")


def slip_text(marks: Sequence[Mark], index: Index) -> str:
    """Write records as a text; an empty one where there are none.

    Parameters
    ----------
    marks : sequence of Mark
        The records.
    index : Index
        What they name.
    """
    if not marks:
        return ""
    blocks: dict[int, list[str]] = {}
    base = -math.inf
    for mark in sorted(marks):
        if mark.at - base >= _ROOM:
            base = mark.at
        blocks.setdefault(int(base), []).append(_row(mark, int(base), index))
    text = f"mp2-{index.key}-" + "".join(
        f"{_digits(base, 1)}-{''.join(sorted(rows))}-" for base, rows in blocks.items()
    )
    return text + summed(text)


def _row(mark: Mark, base: int, index: Index) -> str:
    names = index.named(mark.kind)
    return (
        KINDS[mark.kind][mark.back]
        + _digits(mark.time * len(names) + names.index(mark.name), 3)
        + _digits(mark.at - base, 3)
        + _digits(index.people.index(mark.person), 1)
    )


def can_be_written(mark: Mark, index: Index) -> bool:
    """Whether a text has room for a record, and the index knows what it names.

    Parameters
    ----------
    mark : Mark
        The record.
    index : Index
        What it would name.
    """
    if mark.kind not in KINDS or mark.person not in index.people:
        return False
    names = index.named(mark.kind)
    return mark.name in names and 0 <= mark.time * len(names) + names.index(mark.name) < _ROOM


def read_slip(text: str, indices: Sequence[Index]) -> tuple[Mark, ...]:
    """Read a text.

    Parameters
    ----------
    text : str
        As it was copied; spaces, line ends, capitals, and what a chat puts around it or before its lines do not matter.
    indices : sequence of Index
        Of every schedule that was accepted.

    Raises
    ------
    PlanFileError
        Where it is half a text, or one of another plan.
    """
    said = "".join(text[:_MOST].replace(">", " ").split()).casefold()
    found = [_whole(one, said) for one in _TEXT.finditer(said)]
    if not found:
        raise _refused("the text is not whole", "copy it again from its beginning to its end")
    return tuple(sorted({mark for key, blocks in found for mark in _marks(key, blocks, indices)}))


def _whole(found: re.Match[str], said: str) -> tuple[str, list[tuple[str, str]]]:
    """Give key and blocks of a text up to where its checksum stands; words that follow may look like more blocks."""
    blocks: list[tuple[str, str]] = []
    crc = zlib.crc32(found[1].encode())
    for block in _BLOCK.finditer(said, found.end(1), found.end()):
        blocks.append((block[1], block[2]))
        crc = zlib.crc32(block[0].encode(), crc)
        if said[block.end() : block.end() + 7] == _digits(crc, 7):
            return found[2], blocks
    raise _refused("the text is not whole", "copy it again from its beginning to its end")


def _marks(key: str, blocks: Sequence[tuple[str, str]], indices: Sequence[Index]) -> Iterator[Mark]:
    index = next((one for one in indices if one.key == key), None)
    if index is None:
        raise _refused(
            "the text belongs to another plan, or to a page that was built from another schedule",
            "copy it on a page that was built after the schedule in force was accepted",
        )
    for base, rows in blocks:
        yield from (_mark(rows[at : at + 8], int(base, 36), index) for at in range(0, len(rows), 8))


def _mark(row: str, base: int, index: Index) -> Mark:
    kind = next((name for name, letters in KINDS.items() if row[0] in letters), "")
    names = index.named(kind) if kind else ()
    person = int(row[7], 36)
    if not names or person >= len(index.people):
        raise _refused("the text names what the plan does not have", "copy it again")
    number, at = divmod(int(row[1:4], 36), len(names))
    return Mark(
        base + int(row[4:7], 36),
        kind,
        names[at],
        number,
        index.people[person],
        KINDS[kind].index(row[0]) == 1,
    )


def _refused(message: str, remedy: str) -> PlanFileError:
    return PlanFileError((Problem(f"nothing was recorded: {message}", "", remedy),))
