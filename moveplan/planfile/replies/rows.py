"""Answers of several parts: what is wrong is told part by part, so that the others can be kept."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from moveplan.planfile.schema.refusals import Refusal, RefusedError

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Part:
    """One part of an answer as it was written, and what is wrong with it."""

    text: str
    refusals: tuple[Refusal, ...] = ()


class RowError(RefusedError):
    """An answer of which a part cannot be read.

    Parameters
    ----------
    parts : tuple of Part
        All of its parts, in their order.
    joint : str
        What stands between two of them.
    """

    def __init__(self, parts: tuple[Part, ...], joint: str) -> None:
        super().__init__(tuple(one for part in parts for one in part.refusals))
        self.parts = parts
        self.joint = joint


def each_part(read: Callable[[str], Value], parts: Sequence[str], joint: str = ", ") -> tuple[Value, ...]:
    """Read every part of an answer, and tell which of them cannot be read.

    >>> each_part(int, ["1", "2"])
    (1, 2)
    """
    values: list[Value] = []
    tried: list[Part] = []
    for text in parts:
        try:
            values.append(read(text))
            tried.append(Part(text))
        except RefusedError as error:
            tried.append(Part(text, error.refusals))
    if any(part.refusals for part in tried):
        raise RowError(tuple(tried), joint)
    return tuple(values)
