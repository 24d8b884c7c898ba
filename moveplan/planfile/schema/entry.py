"""What all entries of the plan file have in common."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, ClassVar, TypeAlias, TypeVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, model_validator

from moveplan.plan.places import ThreePoint
from moveplan.planfile.schema.leaves import Leaf, Quantity
from moveplan.planfile.schema.refusals import below, each, refusal
from moveplan.units import quoted

T = TypeVar("T")
_POINTS = ("low", "likely", "high")


def _key(name: str) -> str:
    return name.rstrip("_").replace("_", "-")


class Entry(BaseModel):
    """Keys with values; keys are the field names with dashes, and no others are known."""

    bare_key: ClassVar[str] = ""
    """The key that a text alone stands for; empty where keys are wanted."""
    bare_word: ClassVar[str] = ""
    """The word that may stand in place of keys; empty where there is none."""

    model_config = ConfigDict(extra="forbid", frozen=True, alias_generator=_key, defer_build=True)

    @model_validator(mode="before")
    @classmethod
    def _nothing_is_no_keys(cls, value: object) -> object:
        return {} if value == "" else value


def _nothing_is_no_entries(value: object) -> object:
    return {} if value == "" else value


Section: TypeAlias = Annotated[dict[str, T], BeforeValidator(_nothing_is_no_entries)]


@dataclass(frozen=True)
class ThreePointLeaf(Leaf[ThreePoint]):
    """A quantity, or its low, likely and high values."""

    quantity: Quantity

    def take(self, value: object) -> ThreePoint:
        """Read one quantity or three."""
        if not isinstance(value, dict):
            only = self._read(value)
            return ThreePoint(only, only, only)
        sample = f'write for example "{self.example()}"'
        for key in value:
            if key not in _POINTS:
                raise refusal(f"{quoted(key)} is not one of low, likely, high", sample)
        missing = [key for key in _POINTS if key not in value]
        if missing:
            raise refusal(f"{missing[0]} is missing", sample)
        low, likely, high = each(lambda key: self._read(value[key], key), _POINTS)
        for first, second, order in (("low", "likely", low <= likely), ("likely", "high", likely <= high)):
            if not order:
                message = f"{first} {quoted(value[first])} is more than {second} {quoted(value[second])}"
                raise refusal(message, "put them in order: low, likely, high")
        return ThreePoint(low, likely, high)

    def _read(self, value: object, *path: str) -> float:
        with below(*path):
            return self.quantity.take(value)

    def example(self) -> str:
        """Three values in order."""
        number, unit = self.quantity.sample.split(" ", 1)
        return f"{{low: {number} {unit}, likely: {int(number) * 2} {unit}, high: {int(number) * 3} {unit}}}"

    def json(self) -> dict[str, Any]:
        """Describe both forms."""
        one = self.quantity.json()
        three = {
            "type": "object",
            "properties": {"low": one, "likely": one, "high": one},
            "required": ["low", "likely", "high"],
            "additionalProperties": False,
        }
        return {"anyOf": [one, three], "examples": [*one["examples"], self.example()]}
