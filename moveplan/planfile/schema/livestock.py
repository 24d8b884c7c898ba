"""Animals, as written."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from moveplan.planfile.schema.entry import Entry
from moveplan.planfile.schema.leaves import Choice, CountOrNone, Flag, Id, Name, Number, Quantity, Text
from moveplan.planfile.schema.money import Sum
from moveplan.planfile.schema.words import CONTAINERS, TEMPERAMENTS


class LivestockEntry(Entry):
    """Animals of one kind in one system."""

    name: Name | None = Field(None, description="What to print.", examples=["Clownfish"])
    kind: Annotated[str, Text("clownfish")] = Field(description="Kind of animal.", examples=["clownfish"])
    count: Annotated[int, Number(1, 10_000, "2", whole=True)] | None = Field(
        None, description="How many live there now."
    )
    size: Annotated[float, Quantity("cm", 0.1, 300, "7 cm")] | None = Field(
        None, description="Length of one, or the width of a colony across."
    )
    mass: Annotated[float, Quantity("g", 0.001, 100_000, "12 g")] | None = Field(
        None, description="Mass of one."
    )
    temperament: Annotated[str, Choice(TEMPERAMENTS)] | None = Field(None, description="How it meets others.")
    system: Id | None = Field(None, description="The system it lives in.", examples=["reef"])
    value: Sum | None = Field(None, description="What one is worth.")
    leaves: CountOrNone | None = Field(
        None, description="How many of them find a new keeper before the move."
    )
    sick: CountOrNone | None = Field(None, description="How many are ill and must not travel.")
    boarded: Id | None = Field(
        None, description="The boarding place where they wait meanwhile.", examples=["shop"]
    )
    wished: Flag | None = Field(None, description="Not there yet: to be added after the move.")
    container: Annotated[str, Choice(CONTAINERS)] | None = Field(
        None, description="What they travel in, where you decide it; left out, it is chosen."
    )
