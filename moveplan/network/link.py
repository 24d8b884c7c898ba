"""One link: what waits for what, how long at least, how long at most, and why."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


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


@dataclass(frozen=True, slots=True)
class Link:
    """One link of the network.

    Parameters
    ----------
    before, after : str
        Ids of the predecessor and the successor. [-]
    relation : Relation
        Which ends the gap is measured between. [-]
    min_gap_min : int or None
        Least gap, may be negative; None: no least gap. [min]
    max_gap_min : int or None
        Greatest gap; None: no greatest gap. [min]
    why : str
        The reason, for people. [-]
    where : str
        The line of the plan file it comes from, for messages. [-]
    """

    before: str
    after: str
    relation: Relation = Relation.FINISHTOSTART
    min_gap_min: int | None = 0
    max_gap_min: int | None = None
    why: str = ""
    where: str = ""


@dataclass(frozen=True, slots=True)
class Hold:
    """Gear that is in use from the start of one task until the finish of another.

    Parameters
    ----------
    gear : str
        Id of the gear. [-]
    count : int
        How many of it. [-]
    from_task, until_task : str
        Ids of the tasks. [-]
    """

    gear: str
    count: int
    from_task: str
    until_task: str
