"""One link: what waits for what, how long at least, how long at most, and why."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol


class Relation(StrEnum):
    """The temporal relations of RFC 9253, section 4.1."""

    FINISHTOSTART = "FINISHTOSTART"
    STARTTOSTART = "STARTTOSTART"
    FINISHTOFINISH = "FINISHTOFINISH"
    STARTTOFINISH = "STARTTOFINISH"

    @property
    def from_finish(self) -> bool:
        """Whether the gap counts from the predecessor's finish."""
        return self in (Relation.FINISHTOSTART, Relation.FINISHTOFINISH)

    @property
    def to_finish(self) -> bool:
        """Whether the gap counts to the successor's finish."""
        return self in (Relation.FINISHTOFINISH, Relation.STARTTOFINISH)


class Placed(Protocol):
    """What has a start and a finish. [min]."""

    @property
    def start(self) -> int:
        """When it begins."""

    @property
    def finish(self) -> int:
        """When it ends."""


@dataclass(frozen=True, slots=True)
class Link:
    """One link of the network.

    Parameters
    ----------
    before, after : str
        Ids of the predecessor and the successor.
    relation : Relation
        Which ends the gap is measured between.
    min_gap_min : int or None
        Least gap, may be negative; None: no least gap. [min]
    max_gap_min : int or None
        Greatest gap; None: no greatest gap. [min]
    why : str
        The reason, for people.
    where : str
        The line of the plan file it comes from, for messages.
    any_length : bool
        Whether every gap up to the greatest is as good; else a shorter one is better.
    """

    before: str
    after: str
    relation: Relation = Relation.FINISHTOSTART
    min_gap_min: int | None = 0
    max_gap_min: int | None = None
    why: str = ""
    where: str = ""
    any_length: bool = False

    def gap_between(self, before: Placed, after: Placed) -> int:
        """Give the gap that two tasks keep, between the ends that the link is measured between. [min].

        Parameters
        ----------
        before, after : Placed
            Where the predecessor and the successor stand. [min]
        """
        begin = before.finish if self.relation.from_finish else before.start
        return (after.finish if self.relation.to_finish else after.start) - begin


@dataclass(frozen=True, slots=True)
class Hold:
    """Gear that is in use from the start of one task until the finish of another.

    Parameters
    ----------
    gear : str
        Id of the gear.
    count : int
        How many of it.
    from_task, until_task : str
        Ids of the tasks.
    """

    gear: str
    count: int
    from_task: str
    until_task: str
