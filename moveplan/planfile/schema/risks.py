"""What the plan says about risks, as written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, ClassVar, TypeAlias

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from moveplan.near import nearest
from moveplan.planfile.schema.entry import Entry, Section
from moveplan.planfile.schema.leaves import Chance, Flag, Id, Ids, Name, Names, Quantity, Share, Text
from moveplan.planfile.schema.money import Sum
from moveplan.planfile.schema.refusals import Refusal, refusal
from moveplan.units import quoted

STRIKE = "strike"
_LONGEST_MIN = 527_040
"""Longest delay that may be written: 366 days. [min]"""

Event: TypeAlias = Annotated[str, Text("Fog on the coast road")]
Trigger: TypeAlias = Annotated[str, Text("No view of the far bank at six in the morning")]
Answer: TypeAlias = Annotated[str, Text("Leave an hour later, by the inner road")]
Delay: TypeAlias = Annotated[float, Quantity("min", 0, _LONGEST_MIN, "2 h")]


@dataclass(frozen=True)
class StruckTasksLeaf(Names):
    """Ids of tasks; at least one."""

    def take(self, value: object) -> tuple[str, ...]:
        """Read the ids."""
        found = super().take(value)
        if not found:
            raise refusal("names no task", 'write for example "[catch-fish]"')
        return found

    def json(self) -> dict[str, Any]:
        """Describe the list."""
        one = {key: value for key, value in self.leaf.json().items() if key != "examples"}
        return {"anyOf": [{"type": "array", "items": one, "minItems": 1}, one], "examples": [["catch-fish"]]}


class MeasureEntry(Entry):
    """Something that could be bought or done beforehand against a risk."""

    text: Name | None = Field(
        None, description="What to print; needed for a new one.", examples=["Fog lamps on the van"]
    )
    cost: Sum | None = Field(None, description="What it costs.", examples=["60"])
    probability_left: Share | None = Field(
        None, description="How much of the probability is left with it.", examples=["50 %"]
    )
    cost_left: Share | None = Field(
        None, description="How much of the cost of the risk is left with it.", examples=["100 %"]
    )
    delay_left: Share | None = Field(
        None, description="How much of the delay is left with it.", examples=["50 %"]
    )


class RiskEntry(Entry):
    """A risk of the list with changes, a new risk, or the word strike, which removes it."""

    bare_word: ClassVar[str] = STRIKE

    strike: Flag = Field(False, description="Whether the risk is removed from the list.")
    event: Event | None = Field(None, description="What happens; needed for a new risk.")
    trigger: Trigger | None = Field(None, description="The sign by which it is noticed.")
    probability: Annotated[float, Chance(sample="10 %")] | None = Field(
        None, description="How likely it is; needed for a new risk."
    )
    cost: Sum | None = Field(None, description="What it costs if it happens.", examples=["150"])
    delay: Delay | None = Field(None, description="How long it holds things up if it happens.")
    response: Answer | None = Field(None, description="What to do when it happens.")
    who: Id | None = Field(None, description="The person who does it.")
    tasks: Annotated[tuple[str, ...], StruckTasksLeaf()] | None = Field(
        None,
        description="Tasks it may hit, by id or start of the id; the delay hits the first. Needed for a new risk.",
    )
    possible_measures: Section[MeasureEntry] | None = Field(
        None,
        description="What could be done beforehand: measures of the list with other figures, or new ones.",
        examples=["{fog-lamps: {text: Fog lamps, cost: 60, probability-left: 50 %}}"],
    )
    measures: Ids | None = Field(
        None, description="Ids of the measures that are taken.", examples=["[dry-fit-of-seals]"]
    )

    @model_validator(mode="before")
    @classmethod
    def _struck(cls, value: object) -> object:
        """Read the word strike alone; a word that is nearly it is offered it."""
        if not isinstance(value, str) or not value.strip():
            return value
        word = value.strip().casefold()
        if word == STRIKE:
            return {STRIKE: "yes"}
        if not nearest(word, [STRIKE]):
            return value
        wrong = Refusal(f"{quoted(value)} is not known here", f'did you mean "{STRIKE}"?')
        raise PydanticCustomError("refused", "refused", {"refusals": (wrong,)})
