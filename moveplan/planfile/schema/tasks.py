"""Tasks of the keeper's own, as written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, ClassVar, TypeAlias

from pydantic import BeforeValidator, Field

from moveplan.plan.places import ThreePoint
from moveplan.planfile.schema.entry import Entry, ThreePointLeaf
from moveplan.planfile.schema.leaves import (
    Choice,
    Flag,
    Id,
    Leaf,
    Name,
    Names,
    Number,
    Quantity,
    Texts,
    is_id,
)
from moveplan.planfile.schema.refusals import below, each, refusal
from moveplan.planfile.schema.when import Begin, End
from moveplan.planfile.schema.words import RELATIONS
from moveplan.units import quoted

_LONGEST_MIN = 5_256_000
"""Longest duration or gap that may be written: ten years. [min]"""
_GAP = Quantity("min", -_LONGEST_MIN, _LONGEST_MIN, "30 min")
_USES = Number(0, 100_000, "1", whole=True)


@dataclass(frozen=True)
class GapLeaf(Leaf[int | None]):
    """A gap, or ``none``."""

    def read(self, text: str) -> int | None:
        """Read the gap in minutes; None where there is none."""
        return None if text.strip().casefold() == "none" else round(_GAP.read(text))

    def json(self) -> dict[str, Any]:
        """Describe the gap."""
        none = {"type": "string", "pattern": r"^\s*[nN][oO][nN][eE]\s*$"}
        return {"anyOf": [none, _GAP.json()], "examples": ["30 min", "none", "-30 min"]}


@dataclass(frozen=True)
class CrewLeaf(Leaf[int | tuple[str, ...]]):
    """How many people, or who."""

    def take(self, value: object) -> int | tuple[str, ...]:
        """Read a number, a name or a list of names."""
        if isinstance(value, str) and value.strip().isdecimal():
            return int(Number(0, 1000, "2", whole=True).read(value))
        return Names().take(value)

    def json(self) -> dict[str, Any]:
        """Describe both forms."""
        count = {"type": "integer", "minimum": 0, "maximum": 1000}
        return {"anyOf": [count, *Names().json()["anyOf"]], "examples": ["2", "[ines, tom]"]}


@dataclass(frozen=True)
class UsesLeaf(Leaf[tuple[tuple[str, int], ...]]):
    """Gear in use and how many of each: ``{pumps: 1}``; a bare name or list means one of each."""

    def take(self, value: object) -> tuple[tuple[str, int], ...]:
        """Read names and counts."""
        if not isinstance(value, dict):
            return tuple((name, 1) for name in Names().take(value))
        return each(self._use, value.items())

    def _use(self, row: tuple[str, object]) -> tuple[str, int]:
        name, count = row
        with below(name):
            if not is_id(name):
                raise refusal(f"{quoted(name)} is not an id", "use the id of a piece of gear")
            return name, int(_USES.take(count))

    def json(self) -> dict[str, Any]:
        """Describe the counts."""
        counts = {"type": "object", "additionalProperties": _USES.json()}
        return {"anyOf": [counts, *Names().json()["anyOf"]], "examples": ["{pumps: 1}"]}


class LinkEntry(Entry):
    """What a task waits for."""

    bare_key: ClassVar[str] = "task"

    task: Id = Field(description="The task before.", examples=["footing"])
    relation: Annotated[str, Choice(RELATIONS)] = Field(
        "FINISHTOSTART", description="What waits for what (RFC 9253)."
    )
    gap: Annotated[int | None, GapLeaf()] = Field(
        0, description="Least time between the two; may be negative, or none."
    )
    at_most: Annotated[int | None, GapLeaf()] = Field(None, description="Most time between the two, or none.")


def _links(value: object) -> object:
    rows = value if isinstance(value, list) else [value] if value else []
    return [{LinkEntry.bare_key: row} if isinstance(row, str) else row for row in rows]


After: TypeAlias = Annotated[tuple[LinkEntry, ...], BeforeValidator(_links)]


class TaskEntry(Entry):
    """A task of your own."""

    title: Name | None = Field(
        None, description="What to print; without it, the id.", examples=["Paint the room"]
    )
    duration: Annotated[ThreePoint, ThreePointLeaf(Quantity("min", 0, _LONGEST_MIN, "3 h"))] = Field(
        description="How long it takes by the clock: a day is 24 h, a week 7 days.", examples=["3 h"]
    )
    after: After = Field((), description="Tasks it waits for: ids, or keys as below.", examples=["[footing]"])
    people: Annotated[int | tuple[str, ...], CrewLeaf()] = Field(
        0, description="How many people it takes, or who."
    )
    vehicles: Annotated[tuple[str, ...], Names()] = Field(
        (), description="Vehicles it needs.", examples=["[van]"]
    )
    gear: Annotated[tuple[tuple[str, int], ...], UsesLeaf()] = Field((), description="Gear in use during it.")
    place: Id | None = Field(None, description="Where it is done.", examples=["new"])
    not_before: Begin | None = Field(None, description="It starts no earlier.", examples=["2027-02-20 09:00"])
    finish_by: End | None = Field(None, description="It finishes no later.", examples=["2027-02-27 18:00"])
    may_pause: Flag = Field(False, description="Whether the work may stop and go on later.")
    steps: Texts = Field((), description="What to do, one sentence each.", examples=["[Rinse the sand]"])
