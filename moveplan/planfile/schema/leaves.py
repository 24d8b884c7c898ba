"""Single values of the plan file: each reads a text, and says in the keeper's words what is wrong with it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Annotated, Any, Generic, TypeAlias, TypeVar

from pydantic import GetCoreSchemaHandler
from pydantic_core import PydanticCustomError, core_schema

from moveplan.near import nearest
from moveplan.planfile.problems import listed
from moveplan.planfile.schema.refusals import RefusedError, each, refusal
from moveplan.units import Measure, QuantityError, quoted, show_number

T = TypeVar("T")

_WORDS = {"yes": True, "true": True, "on": True, "no": False, "false": False, "off": False}
_WHOLE = re.compile(r"[+-]?[0-9]{1,12}")
_DECIMAL = re.compile(r"[+-]?[0-9]{1,12}(\.[0-9]{1,12})?")
_FEW = 2
"""A number alone below it may have been meant as a share of one, above it is in percent. [-]"""
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,79}")
_EMAIL = re.compile(r"[A-Za-z0-9._+'-]{1,64}@[A-Za-z0-9-]{1,63}(\.[A-Za-z0-9-]{1,63}){1,8}")
_PLAN_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._:@-]{0,119}")


class Leaf(Generic[T]):
    """A value written as one text."""

    def read(self, text: str) -> T:
        """Turn the text into a value, or raise a refusal."""
        raise NotImplementedError

    def take(self, value: object) -> T:
        """Read a value as it came from the file."""
        if not isinstance(value, str):
            shape = "a list stands" if isinstance(value, list) else "keys with values stand"
            raise refusal(f"{shape} where one value belongs", f"write for example {quoted(self.example())}")
        return self.read(value)

    def example(self) -> str:
        """Something that could be written here."""
        shown = self.json()["examples"][0]
        return f"[{', '.join(shown)}]" if isinstance(shown, list) else str(shown)

    def json(self) -> dict[str, Any]:
        """Describe the text for an editor, as JSON Schema with at least one example."""
        return {"type": "string", "examples": ["text"]}

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(self._validated)

    def _validated(self, value: object) -> object:
        try:
            return self.take(value)
        except RefusedError as error:
            raise PydanticCustomError("refused", "refused", {"refusals": error.refusals}) from None


@dataclass(frozen=True)
class Quantity(Leaf[float]):
    """A number with a unit, kept in the program's unit."""

    unit: str
    low: float
    high: float
    sample: str

    @property
    def measure(self) -> Measure:
        """Reads it."""
        return Measure(self.unit, self.low, self.high, self.sample)

    def read(self, text: str) -> float:
        """Read number and unit."""
        try:
            return self.measure.read(text)
        except QuantityError as fault:
            raise refusal(fault.message, fault.remedy) from None

    def json(self) -> dict[str, Any]:
        """Describe the quantity."""
        kind = self.measure.kind
        name = f"signed-{kind}" if self.low < 0 else kind
        return {"$ref": f"#/$defs/{name}", "examples": [self.sample]}


@dataclass(frozen=True)
class Chance(Quantity):
    """A share of a hundred; a number alone between 0 and 1 was probably meant as a share of one."""

    unit: str = "%"
    low: float = 0
    high: float = 100
    sample: str = "90 %"

    def read(self, text: str) -> float:
        """Read number and unit."""
        shown = text.strip()
        if not _DECIMAL.fullmatch(shown) or not 0 < float(shown) < _FEW:
            return super().read(text)
        percent = f"{show_number(float(shown) * 100)} %"
        if float(shown) <= 1:
            raise refusal(f"{quoted(text)} has no unit", f'write "{percent}"')
        raise refusal(
            f"{quoted(text)} has no unit, and is more than certain", f'write "{shown} %" or "100 %"'
        )


@dataclass(frozen=True)
class Number(Leaf[float]):
    """A plain number without a unit."""

    low: float
    high: float
    sample: str
    whole: bool = False

    def read(self, text: str) -> float:
        """Read the number."""
        shown = text.strip().replace("\N{MINUS SIGN}", "-")
        if not (_WHOLE if self.whole else _DECIMAL).fullmatch(shown):
            kind = "a whole number" if self.whole else "a number"
            message = f"{quoted(text)} is not {kind}" if shown else "has no value"
            raise refusal(message, f'write for example "{self.sample}"')
        value = int(shown) if self.whole else float(shown)
        for bad, bound, word in (
            (value < self.low, self.low, "less"),
            (value > self.high, self.high, "more"),
        ):
            if bad:
                limit, way = show_number(bound), "more" if word == "less" else "less"
                raise refusal(f"{quoted(text)} is {word} than {limit}", f'write "{limit}" or {way}')
        return value

    def json(self) -> dict[str, Any]:
        """Describe the number."""
        digits = "[0-9]{1,12}" if self.whole else r"[0-9]{1,12}(\.[0-9]{1,12})?"
        sign = "[+\N{MINUS SIGN}-]?" if self.low < 0 else "[+]?"
        return {
            "type": ["integer" if self.whole else "number", "string"],
            "minimum": self.low,
            "maximum": self.high,
            "pattern": rf"^\s*{sign}{digits}\s*$",
            "examples": [self.sample],
        }


@dataclass(frozen=True)
class YesNo(Leaf[bool]):
    """Yes or no."""

    def read(self, text: str) -> bool:
        """Read yes or no, true or false."""
        answer = _WORDS.get(text.strip().casefold())
        if answer is None:
            message = f"{quoted(text)} is neither yes nor no" if text.strip() else "has no value"
            raise refusal(message, 'write "yes" or "no"')
        return answer

    def json(self) -> dict[str, Any]:
        """Describe the answers."""
        return {"type": ["boolean", "string"], "enum": [True, False, *_WORDS], "examples": ["yes"]}


@dataclass(frozen=True)
class Choice(Leaf[str]):
    """One of a few words."""

    words: tuple[str, ...]
    also: tuple[tuple[str, str], ...] = ()
    """Other words that are read, each with the word it stands for."""

    def read(self, text: str) -> str:
        """Read one of the words."""
        words = {word.casefold(): word for word in self.words} | dict(self.also)
        asked = text.strip().casefold()
        if asked in words:
            return words[asked]
        near = words.get(nearest(asked, words))
        remedy = f'did you mean "{near}"?' if near else f"write one of: {listed(self.words, 20)}"
        raise refusal(f"{quoted(text)} is not known here" if asked else "has no value", remedy)

    def json(self) -> dict[str, Any]:
        """Describe the words."""
        return {"type": "string", "enum": [*self.words, *dict(self.also)], "examples": [self.words[0]]}


@dataclass(frozen=True)
class Text(Leaf[str]):
    """Free text, kept as the keeper wrote it."""

    sample: str

    def read(self, text: str) -> str:
        """Take the text; nothing is not a text."""
        if not text.strip():
            raise refusal("has no value", f'write for example "{self.sample}"')
        return text.strip()

    def json(self) -> dict[str, Any]:
        """Describe the text."""
        return {"type": ["string", "number", "boolean"], "pattern": r"\S", "examples": [self.sample]}


@dataclass(frozen=True)
class Pattern(Leaf[str]):
    """A text of a certain form."""

    form: re.Pattern[str]
    what: str
    sample: str

    def read(self, text: str) -> str:
        """Take the text where it has the form."""
        if not self.form.fullmatch(text.strip()):
            message = f"{quoted(text)} is not {self.what}" if text.strip() else "has no value"
            raise refusal(message, f'write for example "{self.sample}"')
        return text.strip()

    def json(self) -> dict[str, Any]:
        """Describe the form."""
        return {
            "type": ["string", "integer"],
            "pattern": rf"^\s*({self.form.pattern})\s*$",
            "examples": [self.sample],
        }


@dataclass(frozen=True)
class Reference(Pattern):
    """The id of another entry."""

    form: re.Pattern[str] = _ID
    what: str = "an id"
    sample: str = "ines"


def is_id(text: str) -> bool:
    """Tell whether a text can name an entry: letters, digits, dots, dashes and underscores."""
    return _ID.fullmatch(text) is not None


@dataclass(frozen=True)
class Names(Leaf[tuple[str, ...]]):
    """One name, or a list of names."""

    leaf: Leaf[str] = field(default_factory=Reference)

    def take(self, value: object) -> tuple[str, ...]:
        """Read a list, or one text as a list of one."""
        rows: Sequence[object] = value if isinstance(value, list) else [value] if value else []
        return each(self.leaf.take, rows)

    def json(self) -> dict[str, Any]:
        """Describe the list."""
        one = self.leaf.json()
        return {"anyOf": [{"type": "array", "items": one}, one], "examples": [[one["examples"][0]]]}


Flag: TypeAlias = Annotated[bool, YesNo()]
Count: TypeAlias = Annotated[int, Number(1, 100_000, "2", whole=True)]
CountOrNone: TypeAlias = Annotated[int, Number(0, 100_000, "1", whole=True)]
Id: TypeAlias = Annotated[str, Reference()]
PlanId: TypeAlias = Annotated[str, Pattern(_PLAN_ID, "an id", "5d0f3a52-6b0e-4a53-9f0c-2f6f4a1c8e11")]
Email: TypeAlias = Annotated[str, Pattern(_EMAIL, "an e-mail address", "tomas@example.net")]
Name: TypeAlias = Annotated[str, Text("Display reef")]
Ids: TypeAlias = Annotated[tuple[str, ...], Names()]
Texts: TypeAlias = Annotated[tuple[str, ...], Names(Text("Rinse the sand"))]
Share: TypeAlias = Annotated[float, Chance()]
