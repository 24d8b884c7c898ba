"""What fails in the middle of a day, and works again: a vehicle, a tank, the power of a place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from moveplan.journal.records import Record

VEHICLE, TANK, POWER = "vehicle", "tank", "power"
PERSON = "person"
"""Who falls out is no failure, but pressed on a phone like one."""
LASTING = ("container-leaks", "device-dead")
"""Troubles that stand until somebody says that they are mended."""
ASSUMED_MIN = 120
"""So long after a failure the rest is planned on, where nobody has said until when; assumed. [min]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Failed(Record):
    """Something failed.

    Parameters
    ----------
    what : str
        ``vehicle``, ``tank`` or ``power``.
    name : str
        Id of the vehicle, of the water of the tank, or of the place without power.
    until : int or None
        When it is expected to work again or to be replaced, UTC; None: nobody knows. [min]
    """

    what: str
    name: str
    until: int | None = None

    @property
    def planned_on(self) -> int:
        """From when what hangs on it is planned, UTC. [min]."""
        return self.at + ASSUMED_MIN if self.until is None else self.until


@dataclass(frozen=True, slots=True, kw_only=True)
class Works(Record):
    """It works again, or something else has taken its place.

    Parameters
    ----------
    what, name : str
        As in :class:`Failed`; or the trouble of a note, and the number of its container.
    """

    what: str
    name: str


def failing(records: Iterable[Record]) -> tuple[Failed, ...]:
    """Find what has failed and does not work again; of several failures of one thing the last counts.

    Parameters
    ----------
    records : iterable of Record
        Those that count, in the order of time.

    Examples
    --------
    >>> van, more = Failed(at=0, what="vehicle", name="van"), Failed(at=9, what="vehicle", name="van", until=60)
    >>> failing([van, more]) == (more,), failing([van, Works(at=5, what="vehicle", name="van")])
    (True, ())
    """
    last: dict[tuple[str, str], Failed | Works] = {}
    for record in records:
        if isinstance(record, (Failed, Works)):
            last[record.what, record.name] = record
    return tuple(one for one in last.values() if isinstance(one, Failed))
